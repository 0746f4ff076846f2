// Questions to the director: a list to choose from, a word to type, a thing to know. The browser's own <dialog>
// keeps the keyboard inside and gives it back.

import { element } from './words.js';

function ask(title, body, buttons) {
  const id = `title-${Math.random().toString(36).slice(2)}`;
  return new Promise((done) => {
    let answer = null;
    const shut = (value) => {
      answer = value;
      dialog.close();
    };
    const form = element('form', { onsubmit: (event) => event.preventDefault() });
    const dialog = element('dialog', { 'aria-labelledby': id }, form);
    form.append(element('h2', { id }, title), ...body(shut));
    form.append(element('div', { class: 'buttons' }, ...buttons.map(({ words, value, main, first }) =>
      element('button', { type: main ? 'submit' : 'button', class: main ? 'main' : null, autofocus: first, onclick: () => shut(typeof value === 'function' ? value() : value) }, words))));
    dialog.addEventListener('close', () => {
      dialog.remove();
      done(answer);
    });
    document.body.append(dialog);
    dialog.showModal();
  });
}

/** One of several: [{ words, more, value }]. Null where none is chosen. */
export function choose(title, items, { empty = 'There is nothing here.' } = {}) {
  return ask(title, (shut) => [list(items, shut, empty)], [{ words: 'Close', value: null }]);
}

function list(items, shut, empty) {
  if (!items.length) return element('p', {}, empty);
  const buttons = items.map(({ words, more, value }) =>
    element('li', {}, element('button', { type: 'button', class: 'item', onclick: () => shut(value) }, words, more ? element('small', {}, more) : null)));
  const all = element('ul', { class: 'choices' }, ...buttons);
  arrows(all, 'button');
  return all;
}

/** The arrow keys go from one to the next. */
export function arrows(parent, what) {
  parent.addEventListener('keydown', (event) => {
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (!step) return;
    const all = [...parent.querySelectorAll(what)].filter((one) => one.offsetParent !== null);
    const to = all[all.indexOf(document.activeElement) + step];
    if (to) {
      event.preventDefault();
      to.focus();
    }
  });
}

/** A word. Null where none is given. */
export function word(title, label, value, words = 'Go on') {
  let input;
  return ask(
    title,
    () => {
      input = element('input', { type: 'text', value, autofocus: true, autocomplete: 'off', spellcheck: 'false' });
      return [element('label', {}, label, input)];
    },
    [{ words, value: () => input.value, main: true }, { words: 'Leave it', value: null }],
  );
}

/** A card by a few letters: `find` is asked at each key. */
export function search(title, label, find) {
  return ask(
    title,
    (shut) => {
      const input = element('input', { type: 'search', autofocus: true, autocomplete: 'off', spellcheck: 'false' });
      const found = element('div', { 'aria-live': 'polite' });
      const look = async () => {
        const words = input.value;
        const items = words.trim() ? await find(words) : [];
        if (words === input.value) found.replaceChildren(...(words.trim() ? [list(items, shut, 'No card is like that.')] : []));
      };
      input.addEventListener('input', look);
      input.addEventListener('keydown', (event) => {
        const first = found.querySelector('button');
        if (event.key === 'Enter' && first) {
          event.preventDefault();
          first.click();
        } else if (event.key === 'ArrowDown' && first) {
          event.preventDefault();
          first.focus();
        }
      });
      return [element('label', {}, label, input), found];
    },
    [{ words: 'Close', value: null }],
  );
}

/** Yes or no. */
export function sure(title, text, yes, no = 'Leave it') {
  return ask(title, () => [element('p', {}, text)], [{ words: yes, value: true, main: true }, { words: no, value: false, first: true }]);
}

/** Something to read. */
export function show(title, ...nodes) {
  return ask(title, () => [element('div', { class: 'reading', tabindex: 0 }, ...nodes)], [{ words: 'Close', value: null, main: true, first: true }]);
}
