// The page: a catalogue's files in an editor, what was found, what can be done.

import { digest } from 'levare.wasm';
import { setDiagnostics, forEachDiagnostic } from '@codemirror/lint';
import { closeHoverTooltips } from '@codemirror/view';
import { commands } from './commands.js';
import * as disk from './disk.js';
import { EditorState, EditorView, extensions, folded } from './editor.js';
import * as kept from './kept.js';
import { alike, colored, hinted, lensed } from './looks.js';
import { changes, edits, offset, place, range, span } from './places.js';
import { Room } from './room.js';
import { Sheets } from './sheets.js';
import { look as exampleLook } from './talk.js';
import { Tour } from './tour.js';
import { element, paragraphs } from './words.js';

const byId = (id) => document.getElementById(id);
/** How long a finding on the line that is being written waits, in milliseconds; the desk waits as long. */
const WAIT = 1000;
/** How long after a keystroke the whole catalogue is looked through, and kept. */
const PAUSE = 250;
/** So many ways to fix something stand below its words. */
const WAYS = 3;
/** So many findings are kept beside a catalogue, to be shown at once on the next visit. */
const MANY = 2000;
/** A file of so many lines goes without lines above its cards. */
const LONG = 20000;

const { lists } = window.early;

class Levare {
  constructor() {
    /** The open files: name to { state, ending, mark, handle, seen, whole }. */
    this.files = new Map();
    this.catalog = null;
    this.open = null;
    this.counts = new Map();
    this.version = 0;
    this.readOnly = false;
    this.room = new Room(() => this.fill(), () => this.tell('Levare tripped over this text and can say nothing more about it. Your text is safe: use "Save", then load the page again.'));
    this.extensions = extensions(this);
    this.view = new EditorView({ parent: byId('text'), state: this.empty() });
    this.keepInSight();
    this.sheets = new Sheets(this);
    this.tour = new Tour(this);
    this.do = commands(this);
    this.listen();
  }

  empty() {
    return EditorState.create({ extensions: [EditorView.editable.of(false), EditorView.contentAttributes.of({ 'aria-label': 'No file is open' })] });
  }

  /** The line that is written stays in sight where the list below grows and takes the text's room. */
  keepInSight() {
    const { scrollDOM } = this.view;
    let high = 0;
    new ResizeObserver(() => {
      const before = high;
      high = scrollDOM.clientHeight;
      const cursor = this.view.coordsAtPos(this.view.state.selection.main.head);
      const bottom = cursor ? cursor.bottom - scrollDOM.getBoundingClientRect().top : 0;
      if (bottom > high && bottom <= before) this.view.dispatch({ effects: EditorView.scrollIntoView(this.view.state.selection.main.head) });
    }).observe(scrollDOM);
  }

  // --- a catalogue and its files ---------------------------------------------------------------------------

  /** Opens a catalogue: { id, name, day, folder, files: [{ file, text, handle, seen }], open, at }. */
  async begin(catalog, at = null) {
    const free = await kept.take(catalog.id);
    this.readOnly = !free;
    this.catalog = catalog;
    this.tour.go(-1);
    this.files = new Map();
    this.counts = new Map();
    this.open = null;
    for (const one of [...catalog.files].sort((a, b) => (a.file < b.file ? -1 : 1))) this.add(one);
    this.told = null;
    // Kept as it was given, at once: whoever types and closes the tab in the same second finds it again.
    const { id, name, day, folder, files, open, unsaved, told } = catalog;
    if (free) kept.keep({ id, name, day, folder, files, open, at, changed: Date.now(), unsaved, told }).catch(() => {});
    this.fill();
    byId('catalog').textContent = catalog.name;
    document.title = `${catalog.name} - Levare`;
    byId('notice').hidden = true;
    if (!free) this.tell('This catalog is open in another tab, so here you can only read it. Close the other tab and load this page again.');
    const wanted = this.files.has(catalog.open) ? catalog.open : this.names()[0];
    if (wanted) this.show(wanted, at);
    else this.view.setState(this.empty());
    this.remember(told);
    this.drawFiles();
    this.everywhere();
    this.sheets.look();
    if (free) await this.keep();
  }

  /** Shows what was found on the last visit, until it has been looked again. */
  remember(told) {
    if (!kept.still(told, { day: this.catalog.day, open: this.open })) return;
    this.mark(told.found);
    this.list(told.files);
  }

  /** The day on which the catalogue is read. */
  today() {
    return kept.dayOf(this.catalog);
  }

  names() {
    return [...this.files.keys()].filter((name) => name !== disk.KNOWN);
  }

  add({ file, text, handle, seen }) {
    const mark = text.startsWith('\uFEFF') ? '\uFEFF' : '';
    const whole = text.slice(mark.length);
    const ending = /\r\n|\r|\n/.exec(whole)?.[0] ?? '\n';
    const state = EditorState.create({ doc: whole, extensions: [this.extensions, EditorState.readOnly.of(this.readOnly)] });
    // As long as nothing is typed, the text is what was read, to the byte.
    this.files.set(file, { state, ending, mark, handle, seen, whole });
  }

  /** Gives the catalogue's worker all that it must know. */
  fill() {
    this.room.ask({ ask: 'begin', today: this.today() });
    const files = [...this.files].map(([file, one]) => ({ file, text: one.whole ?? this.text(file) }));
    this.room.ask({ ask: 'put', files }).then((answer) => answer?.amiss && this.tell(answer.amiss));
    this.version += 1;
    if (this.open) this.look();
  }

  /** A file's text with its own line ends, as far as this side knows. */
  text(file) {
    const { state, ending } = this.files.get(file);
    const doc = file === this.open ? this.view.state.doc : state.doc;
    return doc.sliceString(0, doc.length, ending);
  }

  /** Every file as it would be saved. */
  async texts() {
    const all = [];
    for (const [file, one] of this.files) {
      const answer = file === disk.KNOWN ? null : await this.room.ask({ ask: 'text', file });
      all.push({ file, text: one.mark + (one.whole ?? answer?.text ?? this.text(file)), handle: one.handle, seen: one.seen });
    }
    return all;
  }

  /** Keeps the catalogue in the browser. */
  async keep() {
    if (!this.catalog || this.readOnly) return;
    const { id, name, day, folder } = this.catalog;
    const texts = await this.texts();
    if (this.catalog?.id !== id) return;
    const files = texts.map(({ file, text, handle, seen }) => ({ file, text, ...(handle ? { handle, seen } : {}) }));
    const at = this.open ? place(this.view.state.doc, this.view.state.selection.main.head) : null;
    const told = this.told?.version === this.version && this.told.found && this.told.files ? this.told : undefined;
    const catalog = { id, name, day, folder, told, files, open: this.open, at, changed: Date.now(), unsaved: this.unsaved() };
    try {
      await kept.keep(catalog);
      byId('kept').textContent = this.unsaved() ? 'Kept in this browser. Not saved to a file yet.' : '';
      this.cannotKeep = false;
    } catch {
      this.cannotKeep = true;
      byId('kept').textContent = 'This browser does not let Levare keep your catalog. Save it to a file before you leave.';
    }
  }

  unsaved() {
    return this.changed ?? false;
  }

  /** Shows a file, with the cursor at a place. */
  show(file, at = null, { focus = true } = {}) {
    const next = this.files.get(file);
    if (!next) return;
    if (this.open && this.open !== file) this.files.get(this.open).state = this.view.state;
    if (this.open !== file) {
      this.open = file;
      this.version += 1;
      this.view.setState(next.state);
      this.drawFiles();
      this.look();
      this.later();
    }
    if (at) {
      const { from, to } = at.length === 4 ? span(this.view.state.doc, at) : { from: offset(this.view.state.doc, at), to: undefined };
      this.view.dispatch({ selection: { anchor: from, head: to ?? from }, effects: EditorView.scrollIntoView(from, { y: 'center' }) });
    }
    if (focus) this.view.focus();
  }

  go({ file, at }) {
    this.show(file, at.slice(0, 2));
  }

  drawFiles() {
    lists.files(this.names(), this.open, this.counts, (file) => this.show(file));
  }

  // --- edits ------------------------------------------------------------------------------------------------

  /** After each change of the editor. */
  updated(update) {
    if (update.docChanged) {
      const file = this.files.get(this.open);
      file.whole = null;
      this.send(this.open, update.startState.doc, update.changes, file.ending);
      this.written = update.transactions.some((one) => one.isUserEvent('input') || one.isUserEvent('delete'))
        ? update.state.selection.main.head
        : null;
      this.typed(update);
    }
    if (update.docChanged) this.look();
    else if (update.selectionSet) this.moved();
    if (update.viewportChanged && !update.docChanged) this.paint();
  }

  send(file, before, changed, ending) {
    this.version += 1;
    this.changed = true;
    this.room.ask({ ask: 'edit', file, edits: edits(before, changed, ending) });
    this.later();
  }

  /** Once nothing has happened for a moment, the whole catalogue is looked through and kept. */
  later() {
    clearTimeout(this.pause);
    this.pause = setTimeout(() => this.paused(), PAUSE);
  }

  async paused() {
    await this.everywhere();
    await this.keep();
  }

  /** What is put right while typing: a line that was left, a word that ended, a name that was quoted. */
  async typed(update) {
    const one = update.transactions.find((each) => each.isUserEvent('input.type') || each.isUserEvent('input.newline'));
    if (!one) return;
    const { state } = update;
    const at = state.selection.main.head;
    let typed = state.doc.sliceString(at - 1, at);
    if (one.isUserEvent('input.newline')) typed = '\n';
    if (!['\n', ' ', '"'].includes(typed)) return;
    const version = this.version;
    const tidied = await this.asked({ ask: 'tidied', at: place(state.doc, at), words: typed });
    if (!Array.isArray(tidied) || !tidied.length || version !== this.version) return;
    const made = state.changes(changes(state.doc, tidied));
    // Blanks that are put in at the cursor stand before it.
    this.view.dispatch({ changes: made, selection: state.selection.map(made, 1), userEvent: 'tidy' });
  }

  /** Makes edits in files: [{ file, edits }]. */
  make(all, userEvent = 'input.fix') {
    if (this.readOnly) return;
    for (const { file, edits: list } of all) {
      if (file === this.open) {
        this.view.dispatch({ changes: changes(this.view.state.doc, list), userEvent });
        continue;
      }
      const one = this.files.get(file);
      if (!one) continue;
      const done = one.state.update({ changes: changes(one.state.doc, list), userEvent });
      one.whole = null;
      this.send(file, one.state.doc, done.changes, one.ending);
      one.state = done.state;
    }
  }

  /** Puts a new file into the catalogue. */
  make_file(file, text) {
    this.add({ file, text });
    this.files = new Map([...this.files].sort(([a], [b]) => (a < b ? -1 : 1)));
    this.changed = true;
    this.room.ask({ ask: 'put', files: [{ file, text }] });
    this.drawFiles();
    this.paused();
  }

  // --- answers ----------------------------------------------------------------------------------------------

  /** Asks about the open file; null where the text has moved on meanwhile, so that no answer is used for another text. */
  async asked(question) {
    const { version, open } = this;
    if (!open) return null;
    const answer = await this.room.ask({ file: open, ...question });
    return version === this.version ? answer : null;
  }

  /** Looks at the open file anew. One look at a time; what is typed meanwhile is seen by the next. */
  look() {
    this.again = true;
    this.looking ??= (async () => {
      try {
        while (this.again) {
          this.again = false;
          await this.looked();
        }
      } finally {
        this.looking = null;
      }
    })();
    return this.looking;
  }

  /** Where the last edit ended, while that line is still being written. */
  half() {
    const { doc } = this.view.state;
    return !this.open || this.written === null || this.written === undefined ? null : place(doc, Math.min(this.written, doc.length));
  }

  async looked() {
    clearTimeout(this.wait);
    const found = await this.asked({ ask: 'found', written: this.half() });
    if (!found?.found) return;
    this.mark(found);
    if (!found.waiting) this.tell_of({ found, open: this.open });
    if (found.waiting) {
      this.wait = setTimeout(() => {
        this.written = null;
        this.look();
        this.paused();
      }, WAIT);
    }
    await this.paint();
    // The lines above thousands of cards take longer than they are worth.
    const long = this.view.state.doc.lines > LONG;
    const [lenses, folds] = await Promise.all([long ? [] : this.asked({ ask: 'lenses' }), this.asked({ ask: 'folds' })]);
    if (lenses && folds) this.view.dispatch({ effects: [lensed.of(lenses), folded.of(folds)] });
    const outline = await this.asked({ ask: 'outline' });
    if (Array.isArray(outline)) lists.outline(outline, (at) => this.show(this.open, at.slice(0, 2)));
    this.moved();
  }

  /** Draws lines under what was found. */
  mark({ found, more }) {
    const { doc } = this.view.state;
    const marks = found.map((one) => {
      let { from, to } = span(doc, one.at);
      // An empty stretch cannot be seen.
      if (from === to) from = Math.max(doc.lineAt(to).from, from - 1);
      return {
        from,
        to,
        severity: one.severity === 'information' ? 'info' : one.severity,
        markClass: one.idle ? 'is-idle' : undefined,
        message: one.says,
        renderMessage: () => this.finding(one),
      };
    });
    if (more) marks.push({ from: 0, to: 0, severity: 'info', message: more });
    this.view.dispatch(setDiagnostics(this.view.state, marks));
  }

  /** A finding's words, where it leads, and its fixes, which are worked out when it is shown. */
  finding(one) {
    const shown = element('div', {}, ...paragraphs(one.says));
    for (const { says, leads } of one.related) {
      shown.append(element('p', {}, element('button', { type: 'button', onclick: () => this.go(leads) }, says)));
    }
    const fixes = element('div', { class: 'fixes' });
    shown.append(fixes);
    this.asked({ ask: 'fixes', within: one.at }).then((all) => {
      const own = (all ?? []).filter((fix) => fix.phrase === one.phrase && String(fix.at) === String(one.at));
      // A dozen ways would push the text out of sight; all of them are in the list of what can be done here.
      fixes.append(...own.slice(0, WAYS).map((fix) => element('button', { type: 'button', onclick: () => this.fix(fix) }, fix.title)));
      if (own.length > WAYS) {
        const others = () => {
          this.show(this.open, one.at.slice(0, 2));
          this.do.works();
        };
        fixes.append(element('button', { type: 'button', onclick: others }, 'Other ways'));
      }
      fixes.append(element('button', { type: 'button', onclick: () => this.do.reason(one.phrase) }, 'Why?'));
    });
    return shown;
  }

  fix(fix) {
    this.view.dispatch({ effects: closeHoverTooltips });
    this.make(fix.files);
    this.written = null;
    if (fix.goes_on) this.show(this.open, fix.goes_on);
    this.view.focus();
  }

  /** Colors and hints of what can be seen. */
  async paint() {
    const { state, viewport } = this.view;
    const within = range(state.doc, viewport.from, viewport.to);
    const [colors, hints] = await Promise.all([this.asked({ ask: 'colors', within }), this.asked({ ask: 'hints', within })]);
    if (Array.isArray(colors) && Array.isArray(hints)) this.view.dispatch({ effects: [colored.of(colors), hinted.of(hints)] });
  }

  /** After the cursor has moved. */
  moved() {
    clearTimeout(this.move);
    this.move = setTimeout(async () => {
      const { state } = this.view;
      const at = place(state.doc, state.selection.main.head);
      const likes = state.selection.main.empty ? await this.asked({ ask: 'alike', at }) : [];
      if (Array.isArray(likes) && this.view.state.doc === state.doc) this.view.dispatch({ effects: alike.of(likes.length > 1 ? likes : []) });
      await exampleLook(this, this.view);
      this.sheets.look();
      this.tour.look();
    }, 80);
  }

  /** Looks through the whole catalogue. */
  async everywhere() {
    const { version } = this;
    const answer = await this.room.ask({ ask: 'everywhere', file: this.open ?? undefined, written: this.half() });
    if (!answer?.files || version !== this.version) return;
    this.list(answer.files);
    this.drawFiles();
    const few = answer.files.reduce((sum, { found }) => sum + found.length, 0) <= MANY;
    // Where a finding of the open file still waits, this is not all.
    if (few && this.told?.version === version && this.told.found) this.tell_of({ files: answer.files });
    document.body.dataset.looked = String(version);
  }

  /** Lists what was found in all files. */
  list(files) {
    this.counts = new Map(files.map(({ file, found }) => [file, found.filter((one) => one.severity !== 'hint').length]));
    lists.findings(files, (file, at) => this.show(file, at.slice(0, 2)));
  }

  /** What was told of the text as it is, to be kept with it. */
  tell_of(what) {
    const { version } = this;
    const same = this.told?.version === version ? this.told : { version, form: kept.FORM, digest, day: this.today() };
    this.told = { ...same, ...what };
  }

  // --- the page ---------------------------------------------------------------------------------------------

  /** One of several places. */
  choosePlace(leads) {
    return leads.length === 1 ? this.go(leads[0]) : this.do.places(leads);
  }

  command(name) {
    this.do[name]();
    return true;
  }

  /** The finding after the cursor, or before it. */
  async next(step) {
    // Whoever asks does not write on.
    this.written = null;
    await this.look();
    const all = [];
    forEachDiagnostic(this.view.state, (one, from, to) => all.push({ from, to, one }));
    all.sort((a, b) => a.from - b.from);
    const { from } = this.view.state.selection.main;
    const to = step > 0 ? all.find((one) => one.from > from) ?? all[0] : all.filter((one) => one.from < from).pop() ?? all[all.length - 1];
    if (!to) return this.say('Nothing to fix in this file.');
    this.view.dispatch({ selection: { anchor: to.from }, effects: EditorView.scrollIntoView(to.from, { y: 'center' }) });
    this.view.focus();
    this.tour.note('seen');
    return this.spoken(to.one);
  }

  /** Shows a finding above the text, for those who do not use a mouse; read aloud by screen readers. */
  spoken(one) {
    const shown = one.renderMessage ? one.renderMessage() : element('p', {}, one.message);
    this.tell(shown);
  }

  say(words) {
    byId('kept').textContent = words.split('\n\n')[0];
  }

  /** Tells something until it is put away. */
  tell(what) {
    const shut = () => {
      byId('notice').hidden = true;
      this.view.focus();
    };
    const notice = byId('notice');
    notice.replaceChildren(typeof what === 'string' ? element('p', {}, what) : what, element('button', { type: 'button', onclick: shut }, 'Close'));
    notice.hidden = false;
    notice.onkeydown = (event) => event.key === 'Escape' && shut();
  }

  listen() {
    document.addEventListener('click', (event) => {
      const name = event.target.closest?.('[data-do]')?.dataset.do;
      if (name) this.command(name);
    });
    document.addEventListener('keydown', (event) => {
      const control = event.ctrlKey || event.metaKey;
      const name = control && !event.altKey && { s: 'save', k: 'find', o: 'catalogs' }[event.key.toLowerCase()];
      if (event.key === 'F6') this.around(event.shiftKey ? -1 : 1);
      else if (event.key === 'F8' && !event.defaultPrevented) this.next(event.shiftKey ? -1 : 1);
      else if (name) this.command(name);
      else return;
      event.preventDefault();
    });
    document.addEventListener('dragover', (event) => {
      if (!event.dataTransfer.types.includes('Files')) return;
      event.preventDefault();
      document.body.classList.add('dropping');
    });
    document.addEventListener('dragleave', (event) => event.relatedTarget || document.body.classList.remove('dropping'));
    document.addEventListener('drop', (event) => {
      document.body.classList.remove('dropping');
      if (!event.dataTransfer.files.length) return;
      event.preventDefault();
      event.stopPropagation();
      disk.dropped(event.dataTransfer).then((chosen) => this.do.take(chosen))
        .catch((error) => this.tell(`What you dropped could not be read: ${error.message}`));
    }, true);
    // What was typed a moment ago is not in the browser's keeping yet.
    window.addEventListener('pagehide', () => {
      if (this.open && this.changed && !this.readOnly) {
        const { mark } = this.files.get(this.open);
        const at = place(this.view.state.doc, this.view.state.selection.main.head);
        kept.note(this.catalog.id, this.open, mark + this.text(this.open), at);
      }
    });
    window.addEventListener('beforeunload', (event) => {
      if (this.cannotKeep && this.changed) event.preventDefault();
    });
    document.addEventListener('visibilitychange', () => document.hidden && this.keep());
  }

  /** From one part of the page to the next. */
  around(step) {
    const parts = ['nav', '#shelf', '#tour', '#text', '#found', '#beside'].map((one) => document.querySelector(one)).filter((one) => one && !one.hidden);
    const here = parts.findIndex((part) => part.contains(document.activeElement));
    const to = parts[(here + step + parts.length) % parts.length];
    if (to.id === 'text') this.view.focus();
    else to.querySelector('button:not(:disabled), input, [tabindex="0"]')?.focus();
  }
}

const levare = new Levare();
// For tests and for the curious; there is nothing secret in a page.
window.levare = levare;

/** Goes on with the catalogue of the last visit; asks for one at the first. */
async function visit() {
  const last = await window.early.last;
  if (!last) return levare.do.catalogs();
  levare.changed = last.unsaved;
  return levare.begin(last, last.at);
}
visit();
