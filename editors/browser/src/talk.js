// What is said at the cursor or the mouse: findings with their fixes, what a word means, what could come next,
// what a value looks like.

import { autocompletion, snippet, startCompletion } from '@codemirror/autocomplete';
import { StateEffect, StateField } from '@codemirror/state';
import { hoverTooltip, showPanel } from '@codemirror/view';
import { place, span } from './places.js';
import { element, markdown } from './words.js';

/** Hovers: what a word means. */
export function hovers(levare) {
  return hoverTooltip(async (view, at) => {
    const answer = await levare.asked({ ask: 'hover', at: place(view.state.doc, at) });
    if (!answer?.text) return null;
    const { from, to } = span(view.state.doc, answer.at);
    return { pos: from, end: to, above: true, create: () => ({ dom: element('div', { class: 'hover' }, markdown(answer.text)) }) };
  }, { hideOnChange: true });
}

/** A draft in the editor's own way of writing blanks. */
function template(draft) {
  return draft.map((bit) => (bit === null ? '${}' : bit.replace(/[{}]/g, '\\$&'))).join('');
}

function write(offer) {
  return (view, completion) => {
    const { from, to } = span(view.state.doc, offer.at);
    const line = view.state.doc.lineAt(from);
    const indented = /^\s/.test(line.text);
    // The lines of a draft stand as deep as they are meant to; the editor would set them deeper below an indented line.
    if (offer.draft && !(indented && offer.text.includes('\n'))) {
      snippet(template(offer.draft))(view, completion, from, to);
      return;
    }
    let cursor = offer.text.length;
    if (offer.draft) {
      const blank = offer.draft.indexOf(null);
      if (blank >= 0) cursor = offer.draft.slice(0, blank).join('').length;
    }
    view.dispatch({
      changes: { from, to, insert: offer.text },
      selection: { anchor: from + cursor },
      userEvent: 'input.complete',
      scrollIntoView: true,
    });
  };
}

/** Offers while typing. Nothing is chosen beforehand, so that the Enter key only ends the line. */
export function offers(levare) {
  const source = async (context) => {
    const { doc } = context.state;
    const at = place(doc, context.pos);
    const before = doc.sliceString(Math.max(0, context.pos - 1), context.pos);
    if (!context.explicit && !before.trim() && before !== ' ') return null;
    // What is typed while an answer is under way asks anew. Otherwise the answer, which is of another text and so not
    // used, would be taken for "nothing to offer" by the editor, which would not ask again before the next key.
    context.addEventListener('abort', () => {}, { onDocChange: true });
    const all = await levare.asked({ ask: 'offers', at, blank: !context.explicit && before === ' ' });
    if (!Array.isArray(all) || !all.length || context.aborted) return null;
    const from = Math.min(context.pos, ...all.map((offer) => span(doc, offer.at).from));
    return {
      from,
      filter: false,
      options: all.map((offer) => ({
        label: offer.label,
        detail: offer.detail,
        type: offer.kind,
        apply: write(offer),
        info: async () => {
          const more = await levare.asked({ ask: 'offer', at, words: offer.label });
          return more?.text ? element('div', { class: 'hover' }, markdown(more.text)) : null;
        },
      })),
    };
  };
  return autocompletion({ override: [source], selectOnOpen: false, icons: false, activateOnTypingDelay: 60, maxRenderedOptions: 60 });
}

/** What the value at the cursor looks like, in a line below the text. */
const exampled = StateEffect.define();
const example = StateField.define({
  create: () => null,
  update(old, change) {
    for (const one of change.effects) if (one.is(exampled)) return one.value;
    return old;
  },
  provide: (field) => showPanel.from(field, (value) => value && (() => ({ dom: shown(value) }))),
});

function shown({ label, slots, active, says }) {
  const line = element('div', { class: 'example' });
  const slot = active === null ? null : slots[active];
  if (slot) {
    line.append(label.slice(0, slot.from), element('strong', {}, label.slice(slot.from, slot.to)), label.slice(slot.to));
    line.append(element('span', { class: 'says' }, slot.says));
  } else line.append(label, element('span', { class: 'says' }, says));
  return line;
}

export const examples = example;

/** Looks for the example anew. */
export async function look(levare, view) {
  const { state } = view;
  const value = await levare.asked({ ask: 'example', at: place(state.doc, state.selection.main.head) });
  if (view.state.doc !== state.doc) return;
  const before = view.state.field(example, false);
  if (JSON.stringify(before ?? null) !== JSON.stringify(value ?? null)) view.dispatch({ effects: exampled.of(value ?? null) });
}

export { startCompletion };
