// What is drawn into the text: colors, the line above a card, facts at the ends of lines.

import { StateEffect, StateField } from '@codemirror/state';
import { Decoration, EditorView, WidgetType } from '@codemirror/view';
import { offset, span } from './places.js';
import { element } from './words.js';

/** New colors, lenses, hints: each replaces those before. */
export const colored = StateEffect.define();
export const lensed = StateEffect.define();
export const hinted = StateEffect.define();
export const alike = StateEffect.define();

function drawn(effect, make) {
  return StateField.define({
    create: () => Decoration.none,
    update(old, change) {
      let now = old.map(change.changes);
      for (const one of change.effects) if (one.is(effect)) now = make(change.state.doc, one.value);
      return now;
    },
    provide: (field) => EditorView.decorations.from(field),
  });
}

const marks = {};
const mark = (sort) => (marks[sort] ??= Decoration.mark({ class: `is-${sort}` }));

const colors = drawn(colored, (doc, flat) => {
  const all = [];
  for (let at = 0; at + 3 < flat.length; at += 4) {
    const [line, column, length, sort] = flat.slice(at, at + 4);
    const { from, to } = span(doc, [line, column, line, column + length]);
    if (from < to) all.push(mark(sort).range(from, to));
  }
  return Decoration.set(all, true);
});

const same = Decoration.mark({ class: 'is-alike' });
const likes = drawn(alike, (doc, ranges) => {
  const all = ranges.map((one) => span(doc, one)).filter(({ from, to }) => from < to);
  return Decoration.set(all.map(({ from, to }) => same.range(from, to)), true);
});

class Lens extends WidgetType {
  constructor(lens, go) {
    super();
    this.lens = lens;
    this.go = go;
  }

  eq(other) {
    return other.lens.title === this.lens.title && JSON.stringify(other.lens.leads) === JSON.stringify(this.lens.leads);
  }

  toDOM() {
    const { title, leads } = this.lens;
    const inside = leads.length
      ? element('button', { type: 'button', tabindex: -1, onclick: () => this.go(leads) }, title)
      : title;
    return element('div', { class: 'lens' }, inside);
  }

  ignoreEvent() {
    return true;
  }
}

class Hint extends WidgetType {
  constructor(text) {
    super();
    this.text = text;
  }

  eq(other) {
    return other.text === this.text;
  }

  toDOM() {
    return element('span', { class: 'hint' }, this.text);
  }
}

/** All of it; `go` is given the places that a lens leads to. */
export function looks(go) {
  const lenses = drawn(lensed, (doc, all) =>
    Decoration.set(
      all.map((lens) => {
        const line = doc.lineAt(offset(doc, lens.at));
        return Decoration.widget({ widget: new Lens(lens, go), block: true, side: -1 }).range(line.from);
      }),
      true,
    ));
  const hints = drawn(hinted, (doc, all) =>
    Decoration.set(
      all.map((hint) => Decoration.widget({ widget: new Hint(hint.text), side: 1 }).range(offset(doc, hint.at))),
      true,
    ));
  return [colors, likes, lenses, hints];
}
