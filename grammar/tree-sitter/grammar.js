// The notation for tree-sitter: lines, and what stands on them.
//
// Which line starts a card, a field or a row depends on the columns before it, on the kind of card and
// on the lines above, so the scanner in `src/scanner.c` decides that, one line at a time, as the
// program's own reader does. It gives an answer for every line whatever, so no text has an error in it.
// What is left for this file is how lines make fields and cards, and what the words of a value are.

/// <reference types="tree-sitter-cli/dsl" />

// The characters that Unicode calls white space, but for the ends of lines.
const space = '\\t\\u000b\\u000c \\u0085\\u00a0\\u1680\\u2000-\\u200a\\u2028\\u2029\\u202f\\u205f\\u3000';
const pitch = /[A-G](bb|##|[b#♭♯x𝄫𝄪])?-?[0-9]/.source;
const dash = '[ ]?[-–][ ]?';
const re = (source) => new RegExp(source, 'u');

module.exports = grammar({
  name: 'levare',

  externals: ($) => [
    $._card_start,
    $.kind,
    $._field_start,
    $.field_name,
    $._other_start,
    $.other_name,
    $._row_start,
    $._deeper_start,
    $._deepest_start,
    $.row_name,
    $._broken_start,
    $._line_end,
    $.text,
    $.because,
    $.remark,
    $.conflict_mark,
    $.quoted,
    $.odd,
    $._recovering,
  ],

  extras: ($) => [re(`[${space}\\r\\n]`), $.remark, $.conflict_mark],

  rules: {
    catalogue: ($) => seq(repeat($.broken_line), repeat($.card)),

    card: ($) => seq($.head, repeat(choice($.field, $.broken_line))),

    head: ($) =>
      // The first quoted name is the card's own.
      prec(1, seq($._card_start, $.kind, optional(field('name', alias($.quoted, $.name))), repeat($._value), $._line_end)),

    field: ($) =>
      seq(
        choice(seq($._field_start, field('name', $.field_name)), seq($._other_start, field('name', $.other_name))),
        optional($.value),
        $._line_end,
        repeat($.row),
      ),

    row: ($) => seq($._row_start, $._row_line, repeat(alias($._deeper_row, $.row))),
    _deeper_row: ($) => seq($._deeper_start, $._row_line, repeat(alias($._deepest_row, $.row))),
    _deepest_row: ($) => seq($._deepest_start, $._row_line),
    _row_line: ($) => seq(optional(choice($.row_name, $.field_name)), optional($.value), $._line_end),

    // A line at the margin that starts no card, or one above the first card, with what hangs under it.
    broken_line: ($) => seq($._broken_start, optional($.value), $._line_end, repeat($.row)),

    value: ($) => prec.right(repeat1($._value)),
    _value: ($) =>
      choice(
        $.text,
        $.quoted,
        $.because,
        $.range,
        $.pitch,
        $.meter,
        $.date,
        $.time,
        $.money,
        $.measures,
        $.key,
        $.number,
        $.keyword,
        $.about,
        $.doubt,
        $.comma,
        $.word,
        $.odd,
      ),

    range: () => token(re(`${pitch}${dash}${pitch}`)),
    pitch: () => token(re(pitch)),
    meter: () => token(/[0-9]+(\+[0-9]+)*\/[0-9]+/),
    date: () => token(/[0-9]{4}-[0-9]{2}(-[0-9]{2})?/),
    time: () => token(/[0-9]+:[0-9]{2}/),
    money: () => token(choice(/\$[0-9]+([.,][0-9]+)*/, /[0-9]+([.,][0-9]+)* [A-Z]{3}/)),
    measures: () => token(choice(/[0-9]+[-–][0-9]+/, 'throughout')),
    key: () => token(/[A-G][b#♭♯]? +(major|minor|ionian|dorian|phrygian|lydian|mixolydian|aeolian|locrian)/),
    number: () => token(/[0-9]+(\.[0-9]+)?/),
    keyword: () =>
      token(
        choice(
          'same as', 'instead of', 'cued in', 'over the break', 'one player', 'with', 'solo', 'optional', 'tacet',
          'then', 'at', 'by', 'at least', 'at most', 'up to', 'every', 'never', 'not', 'or',
        ),
      ),
    about: () => 'about',
    doubt: () => '?',
    comma: () => ',',
    // Last, so that a word of the same length is anything above before it is only a word.
    word: () => token(choice(re(`[^${space}\\r\\n,?()"“”„«»\\u0000]+`), ')')),
  },
});
