// The catalogue's code: unpacked at the first visit, which takes a moment, and kept for the next ones. What was kept
// is used only if it is the very same, by its digest: other pages of this machine may write there too.

import { before, digest, pairs, parts, size } from 'levare.wasm';
import { join } from './streams.js';
import { unpack } from './unpack.js';

const hex = (bytes) => [...new Uint8Array(bytes)].map((one) => one.toString(16).padStart(2, '0')).join('');
const is = async (bytes) => bytes?.byteLength === size && hex(await crypto.subtle.digest('SHA-256', bytes)) === digest;

function store(mode) {
  return new Promise((good, bad) => {
    const request = indexedDB.open('levare-code', 1);
    request.onupgradeneeded = () => request.result.createObjectStore('code');
    request.onerror = () => bad(request.error);
    request.onsuccess = () => good(request.result.transaction('code', mode).objectStore('code'));
  });
}

async function kept() {
  const all = await store('readonly');
  const bytes = await new Promise((good, bad) => {
    const request = all.get('code');
    request.onsuccess = () => good(request.result);
    request.onerror = () => bad(request.error);
  });
  return (await is(bytes)) ? bytes : null;
}

/** The bytes of the code. What is packed is asked of the page only where nothing was kept. */
export async function code(given) {
  const last = await kept().catch(() => null);
  if (last) return last;
  const packed = await given();
  const all = Uint8Array.from(atob(packed), (one) => one.charCodeAt(0));
  let at = 0;
  const streams = parts.map(([length, size]) => unpack(all.subarray(at, (at += length)), size));
  const bytes = join({ streams, before, pairs }, size);
  // A browser that keeps nothing unpacks it each time.
  store('readwrite').then((all) => all.put(bytes, 'code'), () => {});
  return bytes;
}
