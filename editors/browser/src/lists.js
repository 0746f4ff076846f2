// The lists beside the text: files, the outline of the one that is open, what was found.

import { arrows } from './dialog.js';
import { element } from './words.js';

const ONE = { error: 'error', warning: 'warning', information: 'note', hint: 'hint' };
const byId = (id) => document.getElementById(id);

document.addEventListener('DOMContentLoaded', () => {
  for (const id of ['files', 'outline', 'findings']) arrows(byId(id), 'button, summary');
});

/** Exchanges a list's lines and leaves the keyboard where it was. */
function put(id, nodes) {
  const list = byId(id);
  const had = list.contains(document.activeElement) ? [...list.querySelectorAll('button, summary')].indexOf(document.activeElement) : -1;
  list.replaceChildren(...nodes);
  if (had >= 0) {
    const all = list.querySelectorAll('button, summary');
    (all[had] ?? all[all.length - 1])?.focus();
  }
}

/** The files, with how much was found in each. */
export function files(names, open, counts, pick) {
  put('files', names.map((name) => {
    const count = counts.get(name) ?? 0;
    const told = count ? `${count} ${count === 1 ? 'finding' : 'findings'}` : '';
    return element('li', {}, element(
      'button',
      { type: 'button', class: 'item', 'aria-current': name === open ? 'true' : null, onclick: () => pick(name) },
      element('span', {}, name.replace(/\.levare$/, '')),
      count ? element('span', { class: 'count', title: told, 'aria-label': told }, String(count)) : null,
    ));
  }));
}

/** The most cards of an outline; among more, a card is looked for by its name. */
const CARDS = 400;

/** The cards of the open file, each with its fields. */
export function outline(all, go) {
  const line = (one) => element('button', { type: 'button', class: 'item', onclick: () => go(one.at) }, one.name, one.detail ? element('small', {}, one.detail) : null);
  const opened = new Set([...document.querySelectorAll('#outline details[open]')].map((one) => one.dataset.name));
  const more = all.length - CARDS;
  const rest = more > 0 ? [element('li', { class: 'quiet' }, `${more} more cards: use "Find a card".`)] : [];
  put('outline', [...all.slice(0, CARDS).map((card) => {
    const kind = card.detail === card.name ? '' : card.detail;
    const head = element('summary', {}, element('span', {}, card.name), element('small', {}, kind));
    head.addEventListener('click', () => go(card.at));
    const rows = card.inside.flatMap((field) => [field, ...field.inside]);
    return element('li', {}, element('details', { 'data-name': card.name, open: opened.has(card.name) }, head,
      element('ul', {}, ...rows.map((row) => element('li', { class: row.sort }, line(row))))));
  }), ...rest]);
}

/** The most lines of the list. */
const MOST = 400;

/** What was found in all files: [{ file, found, more }]. */
export function findings(all, pick) {
  const count = { error: 0, warning: 0, information: 0, hint: 0 };
  const lines = [];
  let more = 0;
  for (const { file, found, more: hidden } of all) {
    more += hidden;
    for (const one of found) {
      count[one.severity] += 1;
      // Hints stand in the text; a list of hundreds would bury the rest.
      if (one.severity === 'hint') continue;
      if (lines.length >= MOST) {
        more += 1;
        continue;
      }
      const [says, ...rest] = one.says.split('\n\n');
      lines.push(element('li', {}, element(
        'button',
        { type: 'button', class: `item finding ${one.severity}`, onclick: () => pick(file, one.at) },
        element('span', { class: 'sort' }, ONE[one.severity]),
        element('span', { class: 'says' }, says),
        element('small', {}, `${file.replace(/\.levare$/, '')}, line ${one.at[0] + 1}`),
        element('span', { class: 'rest' }, rest.join(' ')),
      )));
    }
  }
  if (more) lines.push(element('li', {}, `${more} more are not shown. Fix some of these and the others appear.`));
  put('findings', lines.length ? lines : [element('li', { class: 'quiet' }, 'Nothing to fix.')]);
  const told = [[count.error, 'error', 'errors'], [count.warning, 'warning', 'warnings'], [count.information, 'note', 'notes'], [count.hint, 'hint in the text', 'hints in the text']];
  const words = told.filter(([n]) => n).map(([n, one, many]) => `${n} ${n === 1 ? one : many}`).join(', ');
  byId('told').textContent = words || 'no findings';
}

/** Says something more about the findings, until there are others. */
export const said = (words) => byId('told').append(`, ${words}`);
