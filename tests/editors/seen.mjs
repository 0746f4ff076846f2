// Compares what a driver saw with an expectations page, for drivers that only look.
//
// node seen.mjs EXPECTATIONS SEEN.json        prints { seen, wrong }, leaves with 1 when anything differs
//
// An editor that cannot show a thing says so in `cannot`: a list of `code`, `severity`, `hover`,
// `suggest`, `fix`, `recopy`. Those are left out here, and the editor's page says that it cannot.
//
// `miscounts` names the characters after which the editor's columns are not what the protocol says
// (`beyond ASCII`, `beyond 16 bits`); columns are then compared only on lines that have none of them,
// for which the driver gives the whole `page` as it was at first.

import fs from 'node:fs';
import { compare } from './compare.mjs';

const [expectations, file] = process.argv.slice(2);
const want = JSON.parse(fs.readFileSync(expectations, 'utf8'));
let seen;
try {
  seen = JSON.parse(fs.readFileSync(file, 'utf8'));
} catch {
  seen = { problem: 'the editor printed nothing that can be read' };
}
const cannot = seen.cannot ?? [];
for (const what of cannot) {
  delete want[what];
  for (const mark of [...want.marks, ...(want.fix?.marks ?? [])]) delete mark[what];
}
const miscounted = { 'beyond ASCII': /[^\x00-\x7f]/, 'beyond 16 bits': /[\u{10000}-\u{10ffff}]/u }[seen.miscounts];
for (const mark of [...want.marks, ...(want.fix?.marks ?? [])]) {
  if (miscounted?.test(seen.page?.[mark.line - 1] ?? '')) {
    delete mark.from;
    delete mark.to;
  }
}
const wrong = compare(want, seen);
console.log(JSON.stringify({ seen, wrong }, null, 1));
process.exit(wrong.length ? 1 : 0);
