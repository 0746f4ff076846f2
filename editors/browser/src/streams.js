// The catalogue's code taken apart before it is packed, and put together after: what its instructions are goes into one
// stream, and what they are of (variables, constants, places in memory, ...) into others, each with its own kind. Packed
// one by one, these take a tenth less than the code as it is. Nothing is lost: `join(split(code))` is the very same code.
// The form of the code is that of the WebAssembly core specification 2.0, "Binary Format".

const CODE_SECTION = 10;
/** Instructions whose numbers are not only ones written as LEB128, or not a fixed count of them. */
const [BR_TABLE, SELECT, F32, F64, MISC] = [0x0e, 0x1c, 0x43, 0x44, 0xfc];
/** How many numbers follow an instruction of the prefix 0xfc; the first eight have none. */
const AFTER_MISC = [0, 0, 0, 0, 0, 0, 0, 0, 2, 1, 2, 1, 2, 1, 2, 1, 1, 1];

/** The streams: `rest` is what is no function, `size` and `variables` begin one, `what` are its instructions. */
export const NAMES = ['rest', 'size', 'variables', 'what', 'type', 'depth', 'call', 'indirect', 'global', 'place', 'far', 'long', 'other'];
const at = (name) => NAMES.indexOf(name);
/** Of a place in memory only the first byte stands in its own stream; what makes it a far one says little of the next. */
const [PLACE, FAR] = [at('place'), at('far')];
/**
 * Constants have a stream for each sort of instruction that comes after them, and variables one for each that is done
 * with them besides.
 */
const SORTS = 5;
const CONSTANT = NAMES.length;
const VARIABLE = [0x20, 0x21, 0x22].map((_, which) => CONSTANT + (which + 1) * SORTS);
/** How a place in memory is aligned has a stream for each instruction, of which nearly all have one way alone. */
const [ALIGN, FIRST, LAST] = [CONSTANT + 4 * SORTS, 0x28, 0x3e];
export const COUNT = ALIGN + LAST - FIRST + 1;

/** The sort of the instruction that takes a value. */
function sort(what) {
  if (what === 0x6a || what === 0x6b) return 0; // a sum, a difference
  if (what === 0x41) return 1; // a constant
  if (what === 0x20) return 2; // a variable
  return what >= 0x28 && what <= 0x35 ? 3 : 4; // a look into memory; anything else
}

/** The streams of the numbers behind an instruction; none where it has none. */
const NUMBERS = Array.from({ length: 256 }, (_, what) => {
  if (what >= 0x02 && what <= 0x04) return [at('type')];
  if (what === 0x0c || what === 0x0d) return [at('depth')];
  if (what === 0x10 || what === 0x12) return [at('call')];
  if (what === 0x11 || what === 0x13) return [at('indirect'), at('indirect')];
  if (what >= 0x20 && what <= 0x22) return [VARIABLE[what - 0x20]];
  if (what === 0x23 || what === 0x24) return [at('global')];
  if (what >= FIRST && what <= LAST) return [ALIGN + what - FIRST, PLACE];
  if (what === 0x41) return [CONSTANT];
  if (what === 0x42) return [at('long')];
  return [0x25, 0x26, 0x3f, 0x40, 0xd0, 0xd2].includes(what) ? [at('other')] : [];
});

/** The instructions that are known here. */
const KNOWN = (what) => what <= 0x05 || (what >= 0x0b && what <= 0x13) || (what >= 0x1a && what <= 0x1c) || (what >= 0x20 && what <= 0xc4) || [0xd0, 0xd1, 0xd2, MISC].includes(what);

/** A number as LEB128 at a place: its value, and where it ends. */
function number(bytes, from) {
  let value = 0;
  let end = from;
  for (let shift = 0; ; shift += 7) {
    value |= (bytes[end] & 127) << shift;
    if (bytes[end++] < 128) return [value >>> 0, end];
  }
}

/**
 * Goes through a function's instructions, the same way when they are taken apart and when they are put together.
 * `next` gives the next instruction; `move` moves a number from or into a stream, or into the one for what comes after it
 * where there are several, and gives its value; `copy` moves bytes; `more` says whether there are more.
 */
function walk({ more, next, move, copy }) {
  while (more()) {
    const what = next();
    const streams = NUMBERS[what];
    for (const stream of streams) {
      move(stream, stream >= CONSTANT && stream < ALIGN);
    }
    if (streams.length) continue;
    if (what === F32) copy(at('other'), 4);
    else if (what === F64) copy(at('other'), 8);
    else if (what === BR_TABLE) for (let left = move(at('other')); left >= 0; left -= 1) move(at('depth'));
    else if (what === SELECT) copy(at('other'), move(at('other')));
    else if (what === MISC) for (let left = AFTER_MISC[move(at('other'))]; left > 0; left -= 1) move(at('other'));
  }
}

/** Takes code apart: the streams, and how many bytes of the first stand before the functions. */
export function split(code) {
  const streams = Array.from({ length: COUNT }, () => []);
  let from = 8;
  let end = 0;
  while (code[from] !== CODE_SECTION) {
    const [size, start] = number(code, from + 1);
    from = start + size;
  }
  [end, from] = number(code, from + 1);
  end += from;
  let count;
  [count, from] = number(code, from);
  const before = from;
  const take = (stream, to) => {
    while (from < to) {
      streams[stream].push(code[from++]);
      if (stream === PLACE) stream = FAR;
    }
  };
  for (; count > 0; count -= 1) {
    const [size, start] = number(code, from);
    take(at('size'), start);
    const over = start + size;
    let [groups, to] = number(code, from);
    for (; groups > 0; groups -= 1) to = number(code, to)[1] + 1;
    take(at('variables'), to);
    walk({
      more: () => from < over,
      next: () => {
        const what = code[from++];
        if (!KNOWN(what)) throw new Error(`the instruction ${what.toString(16)} is not known here`);
        streams[at('what')].push(what);
        return what;
      },
      move: (stream, sorted) => {
        const [value, to] = number(code, from);
        take(sorted ? stream + sort(code[to]) : stream, to);
        return value;
      },
      copy: (stream, bytes) => take(stream, from + bytes),
    });
    if (from !== over) throw new Error('a function does not end where it should');
  }
  if (from !== end) throw new Error('the functions do not end where they should');
  streams[0] = [...code.subarray(0, before), ...code.subarray(end)];
  const pairs = pair(streams, at('what'));
  return { streams: streams.map((one) => Uint8Array.from(one)), before, pairs };
}

/** A pair that is met less often is not worth a byte of its own. */
const OFTEN = 500;

/** Gives the instructions that follow each other most often a byte of their own, which no instruction has; the pairs. */
function pair(streams, stream) {
  const pairs = [];
  const met = new Set(streams[stream]);
  for (let one = 0; one < 256; one += 1) {
    if (met.has(one)) continue;
    const all = streams[stream];
    const counts = new Uint32Array(1 << 16);
    for (let n = 1; n < all.length; n += 1) counts[(all[n - 1] << 8) | all[n]] += 1;
    const most = counts.reduce((best, count, which) => (count > counts[best] ? which : best), 0);
    if (counts[most] < OFTEN) break;
    const [a, b] = [most >> 8, most & 255];
    const fewer = [];
    for (let n = 0; n < all.length; n += 1) {
      const both = all[n] === a && all[n + 1] === b;
      fewer.push(both ? one : all[n]);
      if (both) n += 1;
    }
    streams[stream] = fewer;
    pairs.push([one, a, b]);
  }
  return pairs;
}

/** The instructions again, of which some were written as pairs; no more of them than the code has bytes. */
function apart(paired, pairs, size) {
  const all = new Uint8Array(size);
  const pairOf = new Map(pairs.map(([one, ...two]) => [one, two]));
  let to = 0;
  const put = (one) => {
    const two = pairOf.get(one);
    if (two) two.forEach(put);
    else all[to++] = one;
  };
  paired.forEach(put);
  return all;
}

/** Puts code of `size` bytes together. */
export function join({ streams, before, pairs }, size) {
  const code = new Uint8Array(size);
  const places = new Uint32Array(COUNT);
  const whats = apart(streams[at('what')], pairs, size);
  const rest = streams[0];
  code.set(rest.subarray(0, before));
  code.set(rest.subarray(before), size - (rest.length - before));
  let to = before;
  const move = (stream) => {
    let value = 0;
    for (let shift = 0; ; shift += 7) {
      const byte = streams[stream][places[stream]++];
      code[to++] = byte;
      if (stream === PLACE) stream = FAR;
      value |= (byte & 127) << shift;
      if (!(byte >= 128)) return value >>> 0;
    }
  };
  const copy = (stream, bytes) => {
    for (let left = bytes; left > 0; left -= 1) code[to++] = streams[stream][places[stream]++];
  };
  let over = 0;
  const way = {
    more: () => to < over,
    next: () => (code[to++] = whats[places[at('what')]++]),
    move: (stream, sorted) => move(sorted ? stream + sort(whats[places[at('what')]]) : stream),
    copy,
  };
  const last = size - (rest.length - before);
  while (to < last) {
    const long = move(at('size'));
    over = to + long;
    for (let groups = move(at('variables')); groups > 0; groups -= 1) {
      move(at('variables'));
      copy(at('variables'), 1);
    }
    walk(way);
  }
  return code;
}
