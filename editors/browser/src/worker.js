// The catalogue, in a thread of its own, so that typing never waits. Questions come as { id, ask } and are
// answered in their order as { id, answer }.

import { code } from './code.js';

const write = new TextEncoder();
const read = new TextDecoder();

// Nothing is lent to the catalogue: no clock, no files, no network.
let packed;
const given = () => new Promise((done) => {
  packed = done;
  postMessage({ needs: 'code' });
});
const ready = code(given).then((bytes) => WebAssembly.instantiate(bytes, {})).then(({ instance }) => instance.exports);

function answer(levare, ask) {
  const question = write.encode(JSON.stringify(ask));
  const room = levare.room(question.length);
  new Uint8Array(levare.memory.buffer, room, question.length).set(question);
  const at = levare.ask();
  return JSON.parse(read.decode(new Uint8Array(levare.memory.buffer, at, levare.length())));
}

let stumbled = false;
onmessage = async ({ data: { id, ask, packed: came } }) => {
  if (came) return packed(came);
  try {
    const levare = await ready;
    // After a stumble its memory cannot be trusted; the page begins a new one.
    if (stumbled) return undefined;
    return postMessage({ id, answer: answer(levare, ask) });
  } catch (error) {
    stumbled = true;
    return postMessage({ id, stumbled: String(error) });
  }
};
