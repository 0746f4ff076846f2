// Compares what a driver saw with an expectations page, for drivers that only look.
//
// node seen.mjs EXPECTATIONS SEEN.json        prints { seen, wrong }, leaves with 1 when anything differs
//
// An editor that cannot show a thing says so in `cannot`: a list of `code`, `severity`, `hover`,
// `suggest`, `fix`, `recopy`. Those are left out here, and the editor's page says that it cannot.

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
const wrong = compare(want, seen);
console.log(JSON.stringify({ seen, wrong }, null, 1));
process.exit(wrong.length ? 1 : 0);
