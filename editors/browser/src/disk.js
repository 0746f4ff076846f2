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

/**
 * The catalogue in some files of the machine: { name, files, amiss, folder }. Where it is a folder that can be written,
 * `folder` is its handle, and each file has its own with the time of its last change.
 */
export async function read(chosen) {
  const amiss = [];
  const found = [];
  let name;
  for (const { path, blob, handle } of chosen) {
    if (/\.zip$/i.test(path)) {
      name = path.replace(/^.*\/|\.zip$/gi, '');
      found.push(...(await unpacked(blob, amiss)));
    } else if (is(path)) {
      found.push({ file: path, text: text(new Uint8Array(await blob.arrayBuffer()), path, amiss), handle, seen: handle && blob.lastModified });
    }
  }
  const good = found.filter((one) => one.text !== null);
  const short = shortened(good);
  return { name: short.name ?? name ?? good[0]?.file.replace(/\.levare$/i, ''), files: short.files, amiss, folder: short.name ? chosen.folder : undefined };
}

async function walk(handle, path, all) {
  for await (const [name, inner] of handle.entries()) {
    if (name.startsWith('.')) continue;
    if (inner.kind === 'directory') await walk(inner, `${path}${name}/`, all);
    else if (is(name)) all.push({ path: `${path}${name}`, blob: await inner.getFile(), handle: inner });
  }
  return all;
}

/** The files of a folder, with its handle. */
const inside = async (handle) => Object.assign(await walk(handle, `${handle.name}/`, []), { folder: handle });

/** A folder that is chosen; null where none is. */
export async function folder() {
  if (window.showDirectoryPicker) {
    try {
      return await inside(await window.showDirectoryPicker({ mode: 'readwrite' }));
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

/** The files below an entry of a drop, for browsers that give no handles. */
async function below(entry, path, all) {
  if (entry.isFile) {
    all.push({ path: path + entry.name, blob: await new Promise((good, bad) => entry.file(good, bad)) });
    return all;
  }
  const reader = entry.createReader();
  for (;;) {
    const some = await new Promise((good, bad) => reader.readEntries(good, bad));
    if (!some.length) return all;
    for (const inner of some) if (!inner.name.startsWith('.')) await below(inner, `${path}${entry.name}/`, all);
  }
}

/** What was dropped: files, folders, or one folder that can be written back where the browser lets a page write. */
export async function dropped(transfer) {
  // Everything is asked for before the first wait: what was dropped is gone after it. A file is taken as it is: on a
  // page that was opened from the disk, Chromium gives no file of an entry.
  const items = [...transfer.items].filter((item) => item.kind === 'file').map((item) => ({
    entry: item.webkitGetAsEntry?.(),
    blob: item.getAsFile(),
    handle: Promise.resolve(item.getAsFileSystemHandle?.()).catch(() => null),
  }));
  const all = [];
  for (const { entry, blob, handle } of items) {
    const folder = entry?.isDirectory ? await handle : null;
    if (folder && items.length === 1) return inside(folder);
    if (folder) await walk(folder, `${folder.name}/`, all);
    else if (entry?.isDirectory) await below(entry, '', all);
    else if (blob) all.push({ path: blob.name, blob });
  }
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

/** The place of a file in a folder, made where it is not there. */
async function made(folder, file) {
  const parts = file.split('/');
  const name = parts.pop();
  let at = folder;
  for (const part of parts) at = await at.getDirectoryHandle(part, { create: true });
  return at.getFileHandle(name, { create: true });
}

/**
 * Writes files back where they came from: only those whose bytes are others there. A file that somebody else has
 * changed since it was read is written over only where `over(names)` says so. Answers what is known of the files now,
 * name to { handle, seen }; 'kept' where nothing was written over; null where there is no place to write to.
 */
export async function writeBack(folder, files, over) {
  if (!files.length || files.some((one) => !one.handle && !folder)) return null;
  if ((await (folder ?? files[0].handle).requestPermission?.({ mode: 'readwrite' })) === 'denied') return null;
  const known = new Map();
  const changed = [];
  const strange = [];
  for (const one of files) {
    const handle = one.handle ?? (await made(folder, one.file));
    const there = await handle.getFile();
    const bytes = new TextEncoder().encode(one.text);
    known.set(one.file, { handle, seen: there.lastModified });
    const before = new Uint8Array(await there.arrayBuffer());
    if (before.length === bytes.length && before.every((byte, at) => byte === bytes[at])) continue;
    // A file that was made a moment ago is empty and nobody else's.
    if (one.handle ? one.seen !== there.lastModified : before.length) strange.push(one.file);
    changed.push({ file: one.file, handle, bytes });
  }
  if (strange.length && !(await over(strange))) return 'kept';
  for (const { file, handle, bytes } of changed) {
    const out = await handle.createWritable();
    await out.write(bytes);
    await out.close();
    known.set(file, { handle, seen: (await handle.getFile()).lastModified });
  }
  return known;
}
