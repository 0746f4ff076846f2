// The catalogue, in a thread of its own, so that typing never waits. Questions come as { id, ask } and are
// answered in their order as { id, answer }.

import { size, packed } from 'levare.wasm';
import { unpack } from './unpack.js';

const write = new TextEncoder();
const read = new TextDecoder();

const raw = atob(packed);
const bytes = unpack(Uint8Array.from(raw, (one) => one.charCodeAt(0)), size);
// Nothing is lent to the catalogue: no clock, no files, no network.
const ready = WebAssembly.instantiate(bytes, {}).then(({ instance }) => instance.exports);

function answer(levare, ask) {
  const question = write.encode(JSON.stringify(ask));
  const room = levare.room(question.length);
  new Uint8Array(levare.memory.buffer, room, question.length).set(question);
  const at = levare.ask();
  return JSON.parse(read.decode(new Uint8Array(levare.memory.buffer, at, levare.length())));
}

let stumbled = false;
onmessage = async ({ data: { id, ask } }) => {
  const levare = await ready;
  // After a stumble its memory cannot be trusted; the page begins a new one.
  if (stumbled) return;
  try {
    postMessage({ id, answer: answer(levare, ask) });
  } catch (error) {
    stumbled = true;
    postMessage({ id, stumbled: String(error) });
  }
};
