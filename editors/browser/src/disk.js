// Files of the machine: opened, dropped, saved, as they are or in one .zip.

import { element } from './words.js';
import { unzip, zip } from './zip.js';

/** A file of a catalogue; nothing else is read. */
export const KNOWN = 'known-findings.json';
export const is = (name) => /\.levare$/i.test(name) || name === KNOWN || name.endsWith(`/${KNOWN}`);
/** The most bytes that a file may have. */
const LARGEST = 16 << 20;

function text(bytes, name, amiss) {
  if (!bytes || bytes.length > LARGEST) {
    amiss.push(`"${name}" is larger than a catalog's file can be, so it was left out.`);
    return null;
  }
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    amiss.push(`"${name}" was not saved as UTF-8, so it was left out. Open it in the program that made it and save it as UTF-8.`);
    return null;
  }
}

/** Names below the folder that all of them lie in, with its name. */
function shortened(files) {
  const [name, ...rest] = files[0]?.file.split('/') ?? [];
  if (!rest.length || !files.every(({ file }) => file.startsWith(`${name}/`))) return { files };
  return { name, files: files.map((one) => ({ ...one, file: one.file.slice(name.length + 1) })) };
}

async function unpacked(blob, amiss) {
  const wanted = (name) => is(name) && !name.split('/').some((part) => part === '..' || part === '__MACOSX');
  try {
    const entries = await unzip(await blob.arrayBuffer(), wanted, LARGEST);
    return entries.map(({ file, bytes }) => ({ file, text: text(bytes, file, amiss) }));
  } catch (error) {
    amiss.push(`"${blob.name}" could not be unpacked: ${error.message}.`);
    return [];
  }
}

/** The catalogue in some files of the machine: { name, files, amiss }. */
export async function read(chosen) {
  const amiss = [];
  const found = [];
  let name;
  for (const { path, blob, handle } of chosen) {
    if (/\.zip$/i.test(path)) {
      name = path.replace(/^.*\/|\.zip$/gi, '');
      found.push(...(await unpacked(blob, amiss)));
    } else if (is(path)) {
      found.push({ file: path, text: text(new Uint8Array(await blob.arrayBuffer()), path, amiss), handle });
    }
  }
  const good = found.filter((one) => one.text !== null);
  const short = shortened(good);
  return { name: short.name ?? name ?? good[0]?.file.replace(/\.levare$/i, ''), files: short.files, amiss };
}

async function walk(handle, path, all) {
  for await (const [name, inner] of handle.entries()) {
    if (name.startsWith('.')) continue;
    if (inner.kind === 'directory') await walk(inner, `${path}${name}/`, all);
    else if (is(name)) all.push({ path: `${path}${name}`, blob: await inner.getFile(), handle: inner });
  }
  return all;
}

/** A folder that is chosen; null where none is. */
export async function folder() {
  if (window.showDirectoryPicker) {
    try {
      const handle = await window.showDirectoryPicker({ mode: 'readwrite' });
      return walk(handle, `${handle.name}/`, []);
    } catch (error) {
      if (error.name === 'AbortError') return null;
    }
  }
  return choose({ webkitdirectory: true });
}

/** Files that are chosen. */
export function choose(given = { multiple: true, accept: '.levare,.zip,.json' }) {
  return new Promise((good) => {
    const input = element('input', { type: 'file', ...given, hidden: true, 'aria-hidden': 'true' });
    input.addEventListener('change', () => good([...input.files].map((blob) => ({ path: blob.webkitRelativePath || blob.name, blob }))));
    input.addEventListener('cancel', () => good(null));
    document.body.append(input);
    input.click();
    setTimeout(() => input.remove(), 0);
  });
}

/** What was dropped. */
export async function dropped(transfer) {
  const entries = [...transfer.items].map((item) => item.webkitGetAsEntry?.()).filter(Boolean);
  const all = [];
  const take = async (entry, path) => {
    if (entry.isFile) {
      const blob = await new Promise((good, bad) => entry.file(good, bad));
      all.push({ path: path + entry.name, blob });
      return;
    }
    const reader = entry.createReader();
    for (;;) {
      const some = await new Promise((good, bad) => reader.readEntries(good, bad));
      if (!some.length) break;
      for (const inner of some) if (!inner.name.startsWith('.')) await take(inner, `${path}${entry.name}/`);
    }
  };
  for (const entry of entries) await take(entry, '');
  return all;
}

function download(name, bytes, type) {
  const address = URL.createObjectURL(new Blob([bytes], { type }));
  const link = element('a', { href: address, download: name, hidden: true });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 10000);
}

export const saveOne = (name, text) => download(name.split('/').pop(), text, 'text/plain');
export const savePage = (name, html) => download(name, html, 'text/html');

/** All files in one .zip. */
export function saveAll(name, files) {
  const entries = files.map(({ file, text }) => ({ file: `${name}/${file}`, bytes: new TextEncoder().encode(text) }));
  download(`${name}.zip`, zip(entries), 'application/zip');
}

/** Writes back where the files came from. False where there is no such place. */
export async function writeBack(files) {
  if (!files.length || files.some((one) => !one.handle)) return false;
  for (const { handle } of files) {
    if ((await handle.requestPermission?.({ mode: 'readwrite' })) === 'denied') return false;
  }
  for (const { handle, text } of files) {
    const out = await handle.createWritable();
    await out.write(text);
    await out.close();
  }
  return true;
}

