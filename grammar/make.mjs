// Writes what the two grammars for editors need to know of the fields, from the tables in the manual
// (which a test holds against the program's own):
//
//   tree-sitter/src/fields.h    the fields of every kind of card
//   tree-sitter/src/letters.h   which characters Unicode calls letters and figures
//   levare.tmLanguage.json      the rules that find cards, fields and the lines below them
//
// node grammar/make.mjs           writes them
// node grammar/make.mjs --check   says which of them is out of date, and leaves with 1

import fs from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const here = path.dirname(fileURLToPath(import.meta.url));
const at = (name) => path.join(here, name);

/** The tables of the manual: for each kind (and for what stands under `library`), its fields. */
function tables() {
  const manual = fs.readFileSync(at('manual.md'), 'utf8');
  const part = /<!-- fields -->\n([^]*)<!-- end of fields -->/.exec(manual)[1];
  const kinds = {};
  let now;
  for (const line of part.split('\n')) {
    const head = /^## (\w+)$/.exec(line) ?? /^Under `(\w+)`:$/.exec(line);
    if (head) now = kinds[head[1]] = [];
    const row = /^\| `([^`]+)` \| ([^|]*) \| ([^|]*) \|/.exec(line);
    if (!row) continue;
    const [, name, also, holds] = row;
    now.push({ names: [name, ...[...also.matchAll(/`([^`]+)`/g)].map((m) => m[1])], shape: shape(holds.trim()) });
  }
  return kinds;
}

function shape(holds) {
  if (holds === 'text') return 'RUNNING';
  if (holds === 'fields of its own') return 'LIBRARY';
  if (holds === 'table: movements') return 'MOVEMENTS';
  if (holds.startsWith('table: ')) return 'TABLE';
  if (holds === 'list: phrase and reason') return 'STET';
  if (/^(list|value): /.test(holds)) return 'PLAIN';
  throw new Error(`grammar/make.mjs does not know what a field that holds "${holds}" looks like`);
}

const { library, ...kinds } = tables();
if (!library || Object.keys(kinds).length !== 9) throw new Error('the tables of the manual were not found');

function fieldsHeader() {
  const table = (name, fields) =>
    `static const Field ${name}[] = {\n` +
    fields.flatMap((f) => f.names.map((n) => `  {"${n}", ${f.shape}},\n`)).join('') +
    '  {0, PLAIN},\n};\n\n';
  let out = '// Written by grammar/make.mjs from the tables in the manual.\n\n';
  out += 'enum Shape { PLAIN, RUNNING, STET, TABLE, MOVEMENTS, LIBRARY };\n\n';
  out += 'typedef struct {\n  const char *words;\n  uint8_t shape;\n} Field;\n\n';
  for (const [kind, fields] of Object.entries(kinds)) out += table(`${kind.toUpperCase()}_FIELDS`, fields);
  out += table('LIBRARY_FIELDS', library);
  out += 'static const struct {\n  const char *word;\n  const Field *fields;\n} KINDS[] = {\n';
  for (const kind of Object.keys(kinds)) out += `  {"${kind}", ${kind.toUpperCase()}_FIELDS},\n`;
  return `${out}};\n`;
}

function lettersHeader() {
  const stretches = (pattern) => {
    const found = [];
    for (let c = 0; c <= 0x10ffff; c++) {
      if ((c >= 0xd800 && c <= 0xdfff) || !pattern.test(String.fromCodePoint(c))) continue;
      if (found.at(-1)?.[1] === c - 1) found.at(-1)[1] = c;
      else found.push([c, c]);
    }
    return found.map(([a, b]) => `{${a}, ${b}},`);
  };
  const table = (name, pattern) => {
    let out = `static const Stretch ${name}[] = {\n`;
    const all = stretches(pattern);
    for (let i = 0; i < all.length; i += 8) out += `  ${all.slice(i, i + 8).join(' ')}\n`;
    return `${out}};\n\n`;
  };
  return (
    '// Written by grammar/make.mjs: the characters with the Unicode property Alphabetic, and those of the\n' +
    '// general category Number.\n\ntypedef struct {\n  int32_t first, last;\n} Stretch;\n\n' +
    table('LETTERS', /\p{Alphabetic}/u) +
    table('FIGURES', /\p{N}/u)
  );
}

// ---- The coloring grammar ------------------------------------------------------------------------
//
// A rule of such a grammar sees one line and the rules that are open. Cards and fields are rules that
// stay open while the next line still belongs to them. Whether it does is a matter of columns, where a
// tab goes to the next multiple of four, so there is a rule for each column that a field may stand at.

/** Fields that stand farther right than this are held by the very blanks before them. */
const COLUMNS = 8;

const B = '[ \\t\\x{a0}]';
const S = '[\\x{9}-\\x{d} \\x{85}\\x{a0}\\x{1680}\\x{2000}-\\x{200a}\\x{2028}\\x{2029}\\x{202f}\\x{205f}\\x{3000}]';
const Q = '["“”„«»]';
const FOUR = '(?:[ \\x{a0}]{0,3}\\t|[ \\x{a0}]{4})';
const WORD_END = "(?![\\p{Alphabetic}\\p{N}'’])";
const FIELD_END = "(?![\\p{Alphabetic}\\p{N}'-])";

const exactly = (n) => `${FOUR}{${Math.floor(n / 4)}}[ \\x{a0}]{${n % 4}}(?!${B})`;
const deeper = (n) => {
  const [fours, ones] = [Math.floor(n / 4), n % 4];
  const within = ones === 3 ? '' : `|${FOUR}{${fours}}[ \\x{a0}]{${ones + 1},3}(?!${B})`;
  return `(?:${FOUR}{${fours + 1}}${within})`;
};

// The group that calls itself is the first of its pattern; `first` says which number it has there.
const remark = (first) =>
  `(?=\\()(?>(?:(\\((?>[^()]+|\\g<${first}>)*\\))|[)]|${B})*)(?:\\(.*)?${S}*$`;
const CONFLICT = `(?:<{7}|\\|{7}|={7}|>{7})(?: .*|${S}*)$`;
const BLANK = `${S}*$`;
const any = (words) => `(?i:${words})`;
const named = Object.keys(kinds).filter((kind) => kind !== 'handbook').join('|');
const HEAD = `(?:${any(named)}${WORD_END}${B}*(?=${Q})|${any('handbook')}${WORD_END}(?=${BLANK}|${B}*\\())`;

/** Words that begin like a field and are none: the first word, then what may follow it. */
const NO_FIELDS = {
  key: 'changes?', tempo: 'changes?', meter: 'changes?', metre: 'changes?', time: 'changes?', speed: 'changes?',
  style: 'period', parts: 'missing', score: 'order', price: 'range',
};

/** Names of fields as one pattern, the longest first because the longest that fits is the field. */
function words(fields) {
  const names = fields.flatMap((f) => f.names).sort((a, b) => b.length - a.length || (a < b ? -1 : 1));
  const other = (name) => (NO_FIELDS[name] ? `(?!${B}+(?:${NO_FIELDS[name]})${FIELD_END})` : '');
  const one = (name) => name.replace(/[.\\+*?^$()[\]{}|]/g, '\\$&').replaceAll(' ', `${B}+`) + other(name);
  return names.length ? `${any(names.map(one).join('|'))}${FIELD_END}` : '(?!)';
}

const include = (name) => ({ include: `#${name}` });
/** Stays open over what never ends anything, and over lines that `also` describes. */
const stays = (also) => `^(?:(?=${BLANK})|(?=${CONFLICT})|(?=${B}*${remark(1)})|(?=${also}))`;

function cardRules() {
  const rules = {};
  const wide = '(?: {2}|\\t).*[^\\s]';
  const near = `(?:(?! {2}|\\t)${S})`;
  rules['line-of-remarks'] = { match: `^${B}*(${remark(2)})`, name: 'comment.block.remark.levare' };
  rules.conflict = { match: `^${CONFLICT}`, name: 'invalid.illegal.conflict.levare' };
  const quoted = `(${Q}[^"“”„«»]*${Q}?)`;
  rules['row-line'] = {
    begin: `^(?!${BLANK})`, end: '$', name: 'meta.row.levare', patterns: [include('row'), include('stet'), include('facts')],
  };
  rules['text-line'] = { match: '^.*[^\\s]', name: 'meta.row.levare meta.running-text.levare' };
  // `stet`, the words of a finding, and from `because` on a reason, which is text.
  rules['stet-words'] = {
    patterns: [
      {
        match: `(?<=${B})\\G(${any('stet')})${FIELD_END}${S}+([^(]*?)${S}+(because)(?=${S}|$)(.*)`,
        captures: {
          1: { name: 'keyword.control.stet.levare' },
          2: { name: 'string.unquoted.rule.levare' },
          3: { name: 'keyword.control.because.levare' },
          4: { name: 'meta.running-text.levare' },
        },
      },
      {
        begin: `(?<=${B})\\G(${any('stet')})${FIELD_END}`, end: '$',
        beginCaptures: { 1: { name: 'keyword.control.stet.levare' } },
        patterns: [include('remark'), { match: '[^\\s(](?:[^(]*[^\\s(])?', name: 'string.unquoted.rule.levare' }],
      },
    ],
  };
  const lost = (begin) => ({
    begin: `^(?=${begin})`, while: stays(`${B}`), name: 'meta.broken.levare',
    patterns: [include('conflict'), include('line-of-remarks'), include('lost-line'), include('row-line')],
  });
  rules['lost-line'] = {
    begin: `^(?!${B})(?!${BLANK})`, end: '$', name: 'meta.row.levare invalid.illegal.line.levare', patterns: [include('facts')],
  };
  const nameForgotten = (no) =>
    `${no}(?:${any(named)}${WORD_END}(?=.*[^\\s])(?!${S}*$)|[\\p{Alphabetic}]+${B}${S}*${Q}[^"“”„«»]*${Q}?${S}*(?:$|${remark(1)}))`;

  const kindNames = Object.keys(kinds);
  for (const kind of kindNames) {
    const fields = kinds[kind];
    const is = (shape) => fields.filter((f) => f.shape === shape);
    const all = words(fields);
    const running = words(is('RUNNING'));
    rules[kind] = {
      begin: `^(${any(kind)})${WORD_END}${kind === 'handbook' ? `(?=${BLANK}|${B}*\\()` : `${B}*${quoted}`}`,
      while: `^(?!${HEAD})`,
      beginCaptures: {
        1: { name: 'storage.type.entry.levare' },
        2: { name: 'entity.name.section.entry.levare markup.heading.levare' },
      },
      name: 'meta.entry.levare',
      patterns: [include('conflict'), include('line-of-remarks'), include(`${kind}-lines`), include('facts')],
    };
    const levels = (name) => Array.from({ length: COLUMNS + 1 }, (_, i) => include(`${name}-${i + 1}`));
    // Under `library` and under a movement stand fields again.
    const inner = kind === 'piece' ? { library: words(library), movements: all } : {};
    const tables = Object.keys(inner);
    const indented = ['reason', `${kind}-text`, ...tables, `${kind}-field`].flatMap(levels);
    for (const name of tables) {
      rules[`${name}-line`] = {
        begin: `^${B}+(${inner[name]})`, end: '$', name: 'meta.row.levare',
        beginCaptures: { 1: { name: 'entity.name.tag.field.levare' } }, patterns: [include('facts')],
      };
    }
    // A card's first line with blanks before it: what follows up to the margin is not this card's.
    rules[`${kind}-slipped`] = {
      begin: `^${B}+(?!${all})(?=${any(named)}${WORD_END}${B}*${Q}[^"“”„«»]+${Q}${S}*(?:$|${remark(1)}))`, while: stays(B), name: 'meta.field.levare',
      patterns: [include('conflict'), include(`${kind}-name`), include('line-of-remarks'), include('row-line'), include('facts')],
    };
    rules[`${kind}-lines`] = { patterns: [include(`${kind}-margin`), include(`${kind}-slipped`), ...indented] };
    rules[`${kind}-name`] = {
      patterns: [
        include('stet-words'),
        { match: `(?<=${B})\\G(?:${all})`, name: 'entity.name.tag.field.levare' },
        // A field that the card does not have: one or two words up to a wide gap, else the first word.
        {
          match: `(?<=${B})\\G(?:${near}*[^\\s]+(?:${near}+[^\\s]+)?(?=${near}*${wide})|[^ \\t\\x{a0}]+)`,
          name: 'entity.name.tag.other.levare',
        },
      ],
    };
    const inside = [include('conflict'), include(`${kind}-name`), include('line-of-remarks'), include('row-line'), include('stet'), include('facts')];
    for (let n = 1; n <= COLUMNS + 1; n++) {
      const beyond = n > COLUMNS;
      const begin = beyond ? `^(${deeper(COLUMNS)}${B}*)` : `^${exactly(n)}`;
      const below = beyond ? `\\1${B}` : deeper(n);
      const open = stays(below);
      for (const name of tables) {
        const field = words(fields.filter((f) => f.names[0] === name));
        rules[`${name}-${n}`] = {
          begin: `${begin}(?=${field})`, while: open, name: 'meta.field.levare',
          patterns: [include('conflict'), include(`${kind}-name`), include('line-of-remarks'), include(`${name}-line`), include('row-line'), include('facts')],
        };
      }
      rules[`reason-${n}`] = {
        begin: `${begin}(?=${any('stet')}${FIELD_END}.*${S}because(?:${S}|$))`, while: open, name: 'meta.field.levare',
        patterns: [include('conflict'), include('stet-words'), include('line-of-remarks'), include('text-line')],
      };
      rules[`${kind}-field-${n}`] = { begin: `${begin}(?!${BLANK})`, while: open, name: 'meta.field.levare', patterns: inside };
      rules[`${kind}-text-${n}`] = {
        begin: `${begin}(?=${running})`, while: open, name: 'meta.field.levare',
        patterns: [
          include('conflict'),
          include(`${kind}-name`),
          ...(beyond ? [] : [{ match: `^(?!${deeper(n)})${B}*(${remark(2)})`, name: 'comment.block.remark.levare' }]),
          include('text-line'),
          { match: `(?<=[^\\s])${B}+.*`, name: 'meta.running-text.levare' },
        ],
      };
    }
    // At the margin: a field by a slip of the hand, or a line that belongs to nothing.
    const slip = (begin, text) => ({
      begin: `^(${begin})`, while: stays(B), name: 'meta.field.levare',
      beginCaptures: { 1: { name: 'entity.name.tag.field.levare' } },
      patterns: [
        include('conflict'),
        text ? { match: `^(${remark(2)})`, name: 'comment.block.remark.levare' } : include('line-of-remarks'),
        {
          begin: `^(?=${B}+(?:${all}))`, while: stays(B),
          patterns: [include('conflict'), include('line-of-remarks'), include(`${kind}-slipped`), ...indented],
        },
        ...(text ? [include('text-line'), { match: `.+`, name: 'meta.running-text.levare' }] : [...levels('row-at'), include('facts')]),
      ],
    });
    rules[`${kind}-margin`] = {
      patterns: [
        slip(running, true),
        slip(all, false),
        lost(nameForgotten('')),
        include('lost-line'),
      ],
    };
  }
  for (let n = 1; n <= COLUMNS + 1; n++) {
    const beyond = n > COLUMNS;
    rules[`row-at-${n}`] = {
      begin: `^(?=${beyond ? `(${deeper(COLUMNS)}${B}*)` : exactly(n)}(?!${BLANK}))`,
      while: stays(beyond ? `\\1${B}` : deeper(n)),
      patterns: [include('conflict'), include('line-of-remarks'), include('row-line'), include('row'), include('stet'), include('facts')],
    };
  }
  rules.outside = {
    patterns: [
      include('conflict'),
      include('line-of-remarks'),
      ...kindNames.map(include),
      lost(nameForgotten('')),
      { begin: `^(?!${BLANK})`, end: '$', name: 'meta.broken.levare invalid.illegal.line.levare', patterns: [include('facts')] },
    ],
  };
  return rules;
}

function coloring() {
  const whole = JSON.parse(fs.readFileSync(at('levare.tmLanguage.json'), 'utf8'));
  const kept = {};
  // What colors the words of a line is written by hand, in the same file.
  const hand = ['row', 'stet', 'facts', 'remark', 'name', 'because', 'doubt', 'nearly', 'condition', 'relation', 'date',
    'money', 'time', 'key', 'signature', 'range', 'pitch', 'meter', 'tempo', 'directions', 'measures', 'number'];
  for (const name of hand) {
    if (!whole.repository[name]) throw new Error(`the coloring grammar has no ${name}`);
    kept[name] = whole.repository[name];
  }
  return `${JSON.stringify({ ...whole, patterns: [include('outside')], repository: { ...kept, ...cardRules() } }, null, 1)}\n`;
}

const wanted = {
  'tree-sitter/src/fields.h': fieldsHeader(),
  'tree-sitter/src/letters.h': lettersHeader(),
  'levare.tmLanguage.json': coloring(),
};
let old = 0;
for (const [name, text] of Object.entries(wanted)) {
  if (fs.existsSync(at(name)) && fs.readFileSync(at(name), 'utf8') === text) continue;
  if (process.argv[2] === '--check') {
    console.error(`grammar/${name} is out of date: run node grammar/make.mjs`);
    old++;
  } else {
    fs.writeFileSync(at(name), text);
  }
}
process.exit(old ? 1 : 0);
