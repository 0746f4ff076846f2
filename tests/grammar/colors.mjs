// Says of every line of the named files what the coloring grammar took it for, as examples/boundaries.rs does.
//
// node colors.mjs FILE...

import fs from 'node:fs';
import { grammar, textmate } from './textmate.mjs';

const levare = await grammar();
const blank = '\\t\\n\\v\\f\\r \\x85\\xa0\\u1680\\u2000-\\u200a\\u2028\\u2029\\u202f\\u205f\\u3000';
const atEnd = new RegExp(`[${blank}]+$`);
const atStart = new RegExp(`^[${blank}]+`);
const bytes = (text) => Buffer.byteLength(text, 'utf8');

/** The stretch of characters that have a scope, from the first to the last before one that has not. */
function stretch(tokens, scope, text) {
  const from = tokens.findIndex((t) => t.scopes.some((s) => s === scope || s.startsWith(scope)));
  if (from < 0) return null;
  let to = from;
  while (to + 1 < tokens.length && tokens[to + 1].scopes.some((s) => s.startsWith(scope))) to++;
  return [tokens[from].startIndex, Math.min(tokens[to].endIndex, text.length)];
}

function line(tokens, text) {
  const left = text.replace(/^[ \t\xa0]+/, '');
  const begin = text.length - left.length;
  const end = begin + left.replace(atEnd, '').length;
  if (begin === end) return ['blank', begin, end];
  const scopes = tokens.find((t) => t.startIndex <= begin && begin < t.endIndex)?.scopes ?? [];
  const has = (scope) => scopes.some((s) => s.startsWith(scope));
  const words = (letter, scope) => [letter, ...stretch(tokens, scope, text)];
  if (has('invalid.illegal.conflict')) return ['conflict', begin, end];
  if (has('invalid.illegal.line')) return ['broken', begin, end];
  if (has('storage.type.entry')) {
    const kind = stretch(tokens, 'storage.type.entry', text);
    const quoted = stretch(tokens, 'entity.name.section', text);
    if (!quoted) return ['card', ...kind, kind[1], kind[1]];
    let [from, to] = [quoted[0] + 1, quoted[1]];
    if (to > from && '"“”„«»'.includes(text[to - 1])) to--;
    const inside = text.slice(from, to).replace(atStart, '');
    const name = inside.replace(atEnd, '');
    if (name) from = to - inside.length;
    return ['card', ...kind, from, from + name.length];
  }
  if (has('entity.name.tag.field') || has('keyword.control.stet')) {
    // Only a field's own line begins with these two, and a row's `stet`, which is in a row.
    if (!has('meta.row')) return words('field', has('keyword') ? 'keyword.control.stet' : 'entity.name.tag.field');
  }
  if (has('entity.name.tag.other')) return words('other', 'entity.name.tag.other');
  if (has('comment.block.remark') && !has('meta.row')) return ['remark', begin, end];
  return [has('meta.row') ? 'deeper' : 'nothing', begin, end];
}

for (const file of process.argv.slice(2)) {
  const all = fs.readFileSync(file, 'utf8');
  const out = [];
  let state = textmate.INITIAL;
  let at = 0;
  for (const [, whole, ending] of all.matchAll(/([^\r\n]*)(\r\n|\r|\n|$)/g)) {
    if (!whole && !ending) break;
    let text = whole;
    let base = at;
    if (at === 0) {
      text = text.replace(/^\ufeff+/, '');
      base += bytes(whole) - bytes(text);
    }
    at += bytes(whole) + ending.length;
    const result = levare.tokenizeLine(text, state);
    state = result.ruleStack;
    const [letter, ...places] = line(result.tokens, text);
    out.push([letter, ...places.map((i) => base + bytes(text.slice(0, i)))]);
  }
  console.log(JSON.stringify({ file, lines: out }));
}
