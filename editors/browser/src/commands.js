// What can be done, by a button, a key or the list of all of it.

import * as ask from './dialog.js';
import * as disk from './disk.js';
import * as kept from './kept.js';
import { place } from './places.js';
import { element, markdown } from './words.js';

const fresh = () => `${Date.now().toString(36)}-${Math.random().toString(36).slice(2, 8)}`;
const day = (when) => new Date(when).toLocaleString(undefined, { dateStyle: 'medium', timeStyle: 'short' });

export function commands(levare) {
  const at = () => place(levare.view.state.doc, levare.view.state.selection.main.head);
  const within = () => {
    const { doc, selection } = levare.view.state;
    const from = doc.lineAt(selection.main.from).from;
    return [...place(doc, from), ...place(doc, doc.lineAt(selection.main.to).to)];
  };
  const amiss = (answer) => {
    if (answer?.amiss) levare.tell(answer.amiss);
    return Boolean(answer?.amiss);
  };

  const all = {
    // --- catalogues ---
    async catalogs() {
      const known = await kept.all().catch(() => []);
      const items = [
        { words: 'Take the five-minute tour', more: 'Type five lines and read your first finding.', value: 'tour' },
        { words: 'Look at an invented year', more: 'Four bands, their pieces and concerts, read as on October 20, 2026.', value: 'demo' },
        { words: 'Start a catalog of your own', more: 'A band, a piece and a concert to write over.', value: 'starter' },
        { words: 'Start with nothing', more: 'One empty file.', value: 'empty' },
        { words: 'Open a folder', more: 'A catalog on this computer.', value: 'folder' },
        { words: 'Open files or a .zip', more: 'Or drop them anywhere on this page.', value: 'files' },
        ...known.map((one) => ({
          words: `Go on with "${one.name}"`,
          more: `Kept in this browser, changed ${day(one.changed)}${one.unsaved ? ', not saved to a file yet' : ''}.`,
          value: one,
        })),
      ];
      if (known.length) items.push({ words: 'Take a catalog out of this browser', more: 'Save it to a file first, if you still need it.', value: 'out' });
      const chosen = await ask.choose('Which catalog?', items);
      if (!chosen) return;
      await levare.keep();
      if (typeof chosen === 'object') {
        levare.changed = chosen.unsaved;
        await levare.begin(chosen, chosen.at);
      } else if (chosen === 'out') await all.takeOut(known);
      else if (chosen === 'folder') await all.take(await disk.folder());
      else if (chosen === 'files') await all.take(await disk.choose());
      else await all.ready(chosen);
    },
    async ready(which) {
      levare.changed = false;
      if (which === 'empty') {
        await levare.begin({ id: fresh(), name: 'New catalog', files: [{ file: 'pieces.levare', text: '' }] });
        return;
      }
      const { files, day: on } = await levare.room.ask({ ask: 'ready', which: which === 'demo' ? 'demo' : 'starter' });
      const name = { demo: 'An invented year', starter: 'My catalog', tour: 'Tour' }[which];
      await levare.begin({ id: fresh(), name, day: on ?? undefined, files, open: which === 'demo' ? 'concerts.levare' : 'pieces.levare' });
      if (which === 'tour') levare.tour.begin();
    },
    async takeOut(known) {
      const chosen = await ask.choose('Which one do you want to take out?', known.map((one) => ({ words: one.name, more: `changed ${day(one.changed)}`, value: one })));
      if (!chosen) return;
      const sure = await ask.sure(`Take "${chosen.name}" out?`, chosen.unsaved
        ? 'It has changes that are not saved to a file yet. They would be gone for good.'
        : 'It will be gone from this browser. Files on your computer stay as they are.', 'Take it out');
      if (!sure) return;
      await kept.forget(chosen.id);
      if (chosen.id === levare.catalog?.id) location.reload();
    },
    /** Opens what was chosen or dropped. */
    async take(chosen) {
      if (!chosen?.length) return;
      const { name, files, amiss: told, folder } = await disk.read(chosen);
      if (!files.length) {
        levare.tell(told[0] ?? 'There are no cards in there. Files with cards end in .levare.');
        return;
      }
      await levare.keep();
      levare.changed = false;
      await levare.begin({ id: fresh(), name, files, folder });
      if (told.length) levare.tell(told.join(' '));
    },
    async save() {
      if (!levare.catalog) return;
      const texts = await levare.texts();
      try {
        const over = (names) => ask.sure('Write over it?', `Somebody has changed ${names.map((one) => `"${one}"`).join(', ')} since Levare read it. If you write over it, what they changed is gone. "Save as one .zip" under "More" keeps both.`, 'Write over it');
        const known = await disk.writeBack(levare.catalog.folder, texts, over);
        if (known === 'kept') return;
        known?.forEach((now, file) => Object.assign(levare.files.get(file) ?? {}, now));
        if (!known) disk.saveAll(levare.catalog.name.replace(/[\\/:*?"<>|]/g, ' '), texts);
      } catch (error) {
        levare.tell(`The files could not be written: ${error.message} Nothing is lost; use "More", then "Save as one .zip".`);
        return;
      }
      levare.changed = false;
      await levare.keep();
      levare.say('Saved.');
    },
    async zip() {
      disk.saveAll(levare.catalog.name.replace(/[\\/:*?"<>|]/g, ' '), await levare.texts());
      levare.changed = false;
      await levare.keep();
    },
    async one() {
      const text = (await levare.texts()).find((each) => each.file === levare.open);
      if (text) disk.saveOne(text.file, text.text);
    },
    async call() {
      const name = await ask.word('Another name for this catalog', 'Name', levare.catalog.name);
      if (!name?.trim()) return;
      levare.catalog.name = name.trim();
      document.getElementById('catalog').textContent = name.trim();
      await levare.keep();
    },
    async newFile() {
      if (!levare.catalog || levare.readOnly) return;
      const name = (await ask.word('A new file', 'What is it called?', 'more pieces'))?.trim().replace(/[\\:*?"<>|]/g, ' ');
      if (!name) return;
      const file = /\.levare$/i.test(name) ? name : `${name}.levare`;
      if (levare.files.has(file)) levare.tell(`There is a file "${file}" already.`);
      else levare.make_file(file, '');
      levare.show(file);
    },

    // --- going about ---
    async find() {
      const chosen = await ask.search('Find a card', 'A few letters of its name, or what it must be, such as "a march, up to 3 flats"', async (words) => {
        const found = await levare.room.ask({ ask: 'find', words });
        return (found ?? []).map(({ name, kind, leads }) => ({ words: name, more: `${kind} in ${leads.file}`, value: leads }));
      });
      if (chosen) levare.go(chosen);
    },
    async card() {
      all.lead(await levare.asked({ ask: 'card', at: at() }), 'No card is named here. Put the cursor into the name of a piece, a band or a skill.');
    },
    async uses() {
      all.lead(await levare.asked({ ask: 'uses', at: at() }), 'No other card uses this one.');
    },
    lead(found, none) {
      if (!found?.length) levare.tell(none);
      else levare.choosePlace(found);
    },
    async places(leads) {
      const chosen = await ask.choose('Where to?', leads.map((one) => ({
        words: one.name ? `${one.kind} "${one.name}"` : one.file,
        more: `${one.file}, line ${one.at[0] + 1}`,
        value: one,
      })));
      if (chosen) levare.go(chosen);
    },
    next: () => levare.next(1),
    previous: () => levare.next(-1),

    // --- changing ---
    async works() {
      const where = at();
      const { view } = levare;
      const [fixes, works, links] = await Promise.all([
        levare.asked({ ask: 'fixes', within: within() }),
        levare.asked({ ask: 'works', at: where }),
        levare.asked({ ask: 'links' }),
      ]);
      if (!fixes || !works) return;
      const here = view.state.doc.lineAt(view.state.selection.main.head).number - 1;
      const items = [
        ...fixes.map((fix) => ({ words: fix.title, more: fix.phrase, value: () => levare.fix(fix) })),
        ...works.map((title) => ({ words: title, value: () => all.work(where, title) })),
        ...(links ?? []).filter((link) => link.at[0] === here && /^https?:/.test(link.address)).map((link) => ({
          words: `Open ${link.address}`,
          more: 'in a new tab; this is another site',
          value: () => window.open(link.address, '_blank', 'noopener,noreferrer'),
        })),
        { words: 'Fix everything in this file that needs no decision', value: () => all.fixAll() },
      ];
      (await ask.choose('On this line', items))?.();
    },
    async work(where, title) {
      const made = await levare.asked({ ask: 'work', at: where, words: title });
      if (!made || amiss(made)) return;
      for (const { file, text } of made.made) levare.make_file(file, text);
      levare.make(made.files);
      levare.view.focus();
    },
    async fixAll() {
      const edits = await levare.asked({ ask: 'fix_all' });
      if (edits?.length) levare.make([{ file: levare.open, edits }]);
      else levare.tell('There is nothing in this file to fix without a decision from you.');
    },
    async rename() {
      const where = at();
      const found = await levare.asked({ ask: 'name', at: where });
      if (!found || amiss(found)) return;
      const name = await ask.word(`Another name for "${found.name}"`, 'It is changed wherever it stands.', found.name, 'Rename');
      if (!name || name === found.name) return;
      const made = await levare.asked({ ask: 'rename', at: where, words: name });
      if (!made || amiss(made)) return;
      levare.make(made.files);
      levare.view.focus();
    },
    async recopy() {
      const edits = await levare.asked({ ask: 'recopy' });
      if (edits?.length) levare.make([{ file: levare.open, edits }]);
      else levare.tell('This file is recopied already.');
    },

    // --- the page ---
    async reason(phrase) {
      const { text } = await levare.room.ask({ ask: 'reason', words: phrase });
      if (text) await ask.show(phrase, markdown(text.replace(/^# .*\n/, '')));
    },
    beside() {
      const beside = document.getElementById('beside');
      beside.hidden = !beside.hidden;
      document.querySelector('main').classList.toggle('alone', beside.hidden);
      document.getElementById('show-beside').setAttribute('aria-expanded', String(!beside.hidden));
      if (!beside.hidden) levare.sheets.look();
    },
    showBeside() {
      if (document.getElementById('beside').hidden) all.beside();
      document.getElementById('beside').scrollIntoView({ block: 'nearest' });
      document.querySelector('[name=which]:checked').focus();
    },
    async more() {
      const chosen = await ask.choose('What else?', [
        { words: 'Recopy this file neatly', value: 'recopy' },
        { words: 'Rename what is at the cursor', more: 'F2', value: 'rename' },
        { words: 'Go to the card that is named at the cursor', more: 'F12', value: 'card' },
        { words: 'Where is this card used?', more: 'Shift+F12', value: 'uses' },
        { words: 'The next finding', more: 'F8', value: 'next' },
        { words: 'Save this file alone', value: 'one' },
        { words: 'Save as one .zip', value: 'zip' },
        { words: 'Call this catalog something else', value: 'call' },
        { words: 'The keys', value: 'keys' },
      ]);
      if (chosen) all[chosen]();
    },
    keys() {
      const keys = [
        ['F8, Shift+F8', 'the next finding, the one before'],
        ['Ctrl+. (period)', 'fix or change what is on this line'],
        ['Ctrl+Space', 'what could be written here'],
        ['F12, Shift+F12', 'go to the card that is named here; where it is used'],
        ['F2', 'rename'],
        ['Ctrl+K', 'find a card'],
        ['Ctrl+F', 'find words in this file'],
        ['Ctrl+S', 'save'],
        ['F6, Shift+F6', 'the next part of the page, the one before'],
        ['Tab', 'takes what is offered; otherwise goes on to the next part of the page'],
      ];
      return ask.show('The keys', element('table', {}, ...keys.map(([key, what]) => element('tr', {}, element('th', { scope: 'row' }, key), element('td', {}, what)))));
    },
  };
  return all;
}
