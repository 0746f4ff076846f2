// What the browser keeps between visits, on this machine alone: catalogues with their files. Nothing is sent
// anywhere; the page's own rules (its Content-Security-Policy) forbid every connection.

import { digest } from 'levare.wasm';

const NAME = 'levare';
const LAST = 'levare.last';

function done(request) {
  return new Promise((good, bad) => {
    request.onsuccess = () => good(request.result);
    request.onerror = () => bad(request.error);
  });
}

let opened = null;
function database() {
  opened ??= new Promise((good, bad) => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => request.result.createObjectStore('catalogs', { keyPath: 'id' });
    request.onsuccess = () => good(request.result);
    request.onerror = () => bad(request.error);
  });
  return opened;
}

async function store(mode) {
  return (await database()).transaction('catalogs', mode).objectStore('catalogs');
}

/** All catalogues that are kept, the newest first. */
export async function all() {
  const found = await done((await store('readonly')).getAll());
  return found.sort((a, b) => b.changed - a.changed);
}

/**
 * Keeps a catalogue: { id, name, day, folder, files: [{ file, text, handle, seen }], open, at, changed, unsaved, told },
 * `told` being what was found in just these texts.
 */
export async function keep(catalog) {
  await done((await store('readwrite')).put(catalog));
  // Browsers may clear what was not asked to stay.
  navigator.storage?.persist?.().catch(() => {});
}

export async function forget(id) {
  await done((await store('readwrite')).delete(id));
}

/** What was typed last, at once: for a page that is closed or reloaded in mid-word. */
export function note(id, file, text, at) {
  try {
    localStorage.setItem(LAST, JSON.stringify({ id, file, text, at, when: Date.now() }));
  } catch {
    // There is little room there; the catalogue itself was kept a moment ago.
  }
}

/** The catalogue of the last visit, as it was left; null where there is none. */
export async function last() {
  const [newest] = await all();
  return newest ? recalled(newest) : null;
}

const today = () => {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((n) => String(n).padStart(2, '0')).join('-');
};

/** The day on which a catalogue is read. */
export const dayOf = (catalog) => catalog.day ?? today();

/** The form in which findings are kept; another number wherever an earlier page's could not be shown any more. */
export const FORM = 1;

/** Whether what was found on the last visit was found in the same texts, and can be shown. */
export const same = (told, catalog) => told?.form === FORM && told.open === catalog.open;

/** Whether it holds still: found on the same day, by the same code. */
export const still = (told, catalog) => same(told, catalog) && told.digest === digest && told.day === dayOf(catalog);

/** Puts what was typed last into the catalogue that it belongs to, if it is newer. */
function recalled(catalog) {
  try {
    const last = JSON.parse(localStorage.getItem(LAST) ?? 'null');
    localStorage.removeItem(LAST);
    const file = last?.id === catalog.id && last.when > catalog.changed && catalog.files.find((one) => one.file === last.file);
    if (file) {
      file.text = last.text;
      Object.assign(catalog, { open: last.file, at: last.at, unsaved: true, told: undefined });
    }
  } catch {
    // Nothing was noted.
  }
  return catalog;
}

/**
 * Takes the catalogue for this tab; false where another tab has it. It is let go of when the tab is closed or
 * `release` is called.
 */
let release = () => {};
export function take(id) {
  release();
  if (!navigator.locks) return Promise.resolve(true);
  return new Promise((taken) => {
    const held = navigator.locks.request(`levare ${id}`, { ifAvailable: true }, (lock) => {
      taken(Boolean(lock));
      return lock ? new Promise((go) => (release = go)) : undefined;
    });
    held.catch(() => taken(true));
  });
}
