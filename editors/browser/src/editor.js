// The editor, put together from small parts.

import { closeBrackets, closeBracketsKeymap, acceptCompletion } from '@codemirror/autocomplete';
import { defaultKeymap, history, historyKeymap } from '@codemirror/commands';
import { codeFolding, foldGutter, foldKeymap, foldService, indentUnit } from '@codemirror/language';
import { lintGutter, linter } from '@codemirror/lint';
import { highlightSelectionMatches, search, searchKeymap } from '@codemirror/search';
import { EditorSelection, EditorState, Prec, StateEffect, StateField } from '@codemirror/state';
import {
  EditorView, drawSelection, dropCursor, highlightActiveLine, highlightActiveLineGutter, highlightSpecialChars, keymap,
  lineNumbers, rectangularSelection,
} from '@codemirror/view';
import { looks } from './looks.js';
import { examples, hovers, offers } from './talk.js';

/** The lines that can be folded: pairs, replaced by each look. */
export const folded = StateEffect.define();
const folds = StateField.define({
  create: () => new Map(),
  update(old, change) {
    for (const one of change.effects) if (one.is(folded)) return new Map(one.value);
    return change.docChanged ? new Map() : old;
  },
});
const folding = foldService.of((state, from) => {
  const line = state.doc.lineAt(from);
  const last = state.field(folds).get(line.number - 1);
  return last === undefined || last + 1 > state.doc.lines ? null : { from: line.to, to: state.doc.line(last + 1).to };
});

/** As deep as the line before; one step deeper behind a card's head or a word that has rows. */
const deeper = /^(?:handbook\s*(?:\(.*)?|(?:ensemble|piece|concert|criteria|bundle|list|skill|instrument)\s+["“].*|\s+(?:parts|winds|percussion|perc\.?|players|percussionists|percussion players|rows|seating|pages|printed pages|books|library|lib\.?|program|programme|pieces|movements|mvts|movts)\s*(?:\(.*\))?)$/;
function newLine(view) {
  const { state } = view;
  if (state.readOnly) return false;
  view.dispatch(state.update(state.changeByRange((range) => {
    const line = state.doc.lineAt(range.from);
    const before = line.text.slice(0, range.from - line.from);
    const blank = /^\s*$/.test(before);
    let indent = /^\s*/.exec(before)[0];
    // A second Enter goes back by a step.
    if (blank && before && /^\s*$/.test(line.text)) {
      const less = indent.slice(2);
      return { changes: { from: line.from, to: line.to, insert: less }, range: cursor(line.from + less.length) };
    }
    if (deeper.test(before)) indent += '  ';
    const insert = `\n${indent}`;
    return { changes: { from: range.from, to: range.to, insert }, range: cursor(range.from + insert.length) };
  }), { scrollIntoView: true, userEvent: 'input.newline' }));
  return true;
}
const cursor = (at) => EditorSelection.cursor(at);

const labels = EditorView.contentAttributes.of({
  'aria-label': 'The cards of this file. F6 goes to the next part of the page, F8 to the next finding.',
  tabindex: '0',
  spellcheck: 'false',
  autocapitalize: 'off',
  autocorrect: 'off',
});

/** Everything of an editor's state but the text. */
export function extensions(levare) {
  return [
    lineNumbers(),
    linter(null),
    lintGutter(),
    foldGutter(),
    codeFolding(),
    folds,
    folding,
    highlightSpecialChars(),
    highlightActiveLine(),
    highlightActiveLineGutter(),
    highlightSelectionMatches(),
    history(),
    drawSelection(),
    dropCursor(),
    rectangularSelection(),
    closeBrackets(),
    EditorState.languageData.of(() => [{ closeBrackets: { brackets: ['(', '"', '“'], before: ' \t\n,)?"”' } }]),
    EditorState.tabSize.of(2),
    indentUnit.of('  '),
    EditorView.lineWrapping,
    search({ top: true }),
    offers(levare),
    hovers(levare),
    examples,
    looks((leads) => levare.choosePlace(leads)),
    labels,
    Prec.high(keymap.of([
      { key: 'Enter', run: newLine },
      { key: 'Tab', run: acceptCompletion },
      { key: 'F12', run: () => levare.command('card') },
      { key: 'Shift-F12', run: () => levare.command('uses') },
      { key: 'F2', run: () => levare.command('rename') },
      { key: 'Mod-.', run: () => levare.command('works') },
      { key: 'F8', run: () => levare.command('next') },
      { key: 'Shift-F8', run: () => levare.command('previous') },
    ])),
    keymap.of([...closeBracketsKeymap, ...defaultKeymap, ...searchKeymap, ...historyKeymap, ...foldKeymap]),
    EditorView.updateListener.of((update) => levare.updated(update)),
    EditorView.domEventHandlers({
      mousedown(event, view) {
        if (!(event.ctrlKey || event.metaKey) || event.button !== 0) return false;
        const at = view.posAtCoords({ x: event.clientX, y: event.clientY });
        if (at === null) return false;
        view.dispatch({ selection: { anchor: at } });
        levare.command('card');
        return true;
      },
    }),
  ];
}

export { EditorState, EditorView };
