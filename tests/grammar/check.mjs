// Reads cards with marks under them and checks that the coloring grammar gives each marked
// stretch the scope its mark names.
//
//   piece "Lanterns on the Weir"
//   ^^^^^ storage.type.entry
//         ^^^^^^^^^^^^^^^^^^^^^^ entity.name.section.entry
//
// A mark is a line of carets followed by one scope, without its closing `.levare`. It holds when
// every character over a caret has that scope and neither neighbor has it, so a scope that
// reaches too far fails as one that falls short. `!scope` holds when no marked character has it.
//
// node check.mjs [--all-wrong] FILE...
// With --all-wrong the marks in the files are mistakes made on purpose, and each must be caught.

import fs from 'node:fs';
import { grammar, textmate } from './textmate.mjs';

const mark = /^(\s*)(\^+)\s+(!?)([a-z][a-z.-]*)\s*$/;

/** The cards of a file, each line with the marks that stand under it. */
function read(file) {
  const lines = [];
  fs.readFileSync(file, 'utf8').split(/\r?\n/).forEach((text, i) => {
    const m = mark.exec(text);
    if (!m) {
      lines.push({ text, at: i + 1, marks: [] });
    } else if (lines.length === 0) {
      throw new Error(`${file}:${i + 1}: a mark with no text above it`);
    } else {
      const from = m[1].length;
      lines.at(-1).marks.push({ from, to: from + m[2].length, not: m[3] === '!', scope: m[4], at: i + 1 });
    }
  });
  return lines;
}

/** What is wrong with one mark, or nothing. `at(i)` gives the scopes of character i. */
function complaint(m, line, at) {
  if (m.to > line.length) return 'the mark reaches past the end of its line';
  const has = (i) =>
    i >= 0 && i < line.length && at(i).some((s) => s === `${m.scope}.levare` || s.startsWith(`${m.scope}.`));
  for (let i = m.from; i < m.to; i++) {
    if (has(i) === m.not) return `"${line[i]}" at ${i + 1} has ${at(i).slice(1).join(' ') || 'no scope of its own'}`;
  }
  if (!m.not && has(m.from - 1)) return `the scope already holds one character before the mark`;
  if (!m.not && has(m.to)) return `the scope still holds one character after the mark`;
  return null;
}

const args = process.argv.slice(2);
const allWrong = args[0] === '--all-wrong';
const files = allWrong ? args.slice(1) : args;
if (files.length === 0) throw new Error('name at least one file');

const levare = await grammar();
let passed = 0;
let failed = 0;
for (const file of files) {
  let state = textmate.INITIAL;
  let marks = 0;
  for (const { text, at: number, marks: under } of read(file)) {
    const result = levare.tokenizeLine(text, state);
    state = result.ruleStack;
    if (result.stoppedEarly) throw new Error(`${file}:${number}: the grammar gave up on this line`);
    const scopes = (i) => result.tokens.find((t) => t.startIndex <= i && i < t.endIndex)?.scopes ?? [];
    for (const m of under) {
      marks++;
      const wrong = complaint(m, text, scopes);
      if (Boolean(wrong) === allWrong) {
        passed++;
      } else {
        failed++;
        const why = wrong ?? 'a planted mistake was not caught';
        console.log(`${file}:${m.at}: ${m.not ? 'not ' : ''}${m.scope}: ${why}\n    ${text}`);
      }
    }
  }
  if (marks === 0) throw new Error(`${file} has no marks, so it checks nothing`);
}
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed === 0 ? 0 : 1);
