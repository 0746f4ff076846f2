// Unpacks the streams of the catalogue's code. Packed with LZMA (the ".lzma" form of Igor Pavlov's LZMA SDK, any lc,
// lp 0, any pb) they are a quarter smaller than what browsers unpack by themselves.

import { unpackMixed } from './mixed.js';

/** The first byte of what is packed the other way; no stream of LZMA begins with it. */
export const MIXED = 255;
const STATES = 12;
/** Bits of the lengths of matches: three trees behind two choices. */
const lengths = () => ({ choice: probabilities(2), low: trees(16, 8), mid: trees(16, 8), high: probabilities(256) });
const probabilities = (count) => new Uint16Array(count).fill(1024);
const trees = (count, size) => Array.from({ length: count }, () => probabilities(size));

/** The bytes that `packed` stands for; `size` of them. */
export function unpack(packed, size) {
  if (packed[0] === MIXED) return unpackMixed(packed, 1, size);
  const out = new Uint8Array(size);
  const literalContext = packed[0] % 9;
  const positionMask = (1 << Math.floor(packed[0] / 45)) - 1;
  // Of the header only its first byte is kept, and the coder's first byte is always zero.
  let at = 2;
  let range = 0xffffffff;
  let code = 0;
  for (let n = 0; n < 4; n += 1) code = ((code << 8) | packed[at++]) >>> 0;

  function bit(all, index) {
    const chance = all[index];
    const bound = (range >>> 11) * chance;
    let one = 0;
    if (code < bound) {
      range = bound;
      all[index] = chance + ((2048 - chance) >> 5);
    } else {
      one = 1;
      range = (range - bound) >>> 0;
      code = (code - bound) >>> 0;
      all[index] = chance - (chance >> 5);
    }
    if (range < 0x1000000) {
      range = (range << 8) >>> 0;
      code = ((code << 8) | packed[at++]) >>> 0;
    }
    return one;
  }
  /** Bits of even chances. */
  function even(count) {
    let value = 0;
    for (let n = 0; n < count; n += 1) {
      range >>>= 1;
      const one = code >= range ? 1 : 0;
      if (one) code = (code - range) >>> 0;
      value = (value << 1) | one;
      if (range < 0x1000000) {
        range = (range << 8) >>> 0;
        code = ((code << 8) | packed[at++]) >>> 0;
      }
    }
    return value;
  }
  function tree(all, bits) {
    let index = 1;
    for (let n = 0; n < bits; n += 1) index = (index << 1) | bit(all, index);
    return index - (1 << bits);
  }
  function backwards(all, offset, bits) {
    let index = 1;
    let value = 0;
    for (let n = 0; n < bits; n += 1) {
      const one = bit(all, offset + index);
      index = (index << 1) | one;
      value |= one << n;
    }
    return value;
  }
  function length(all, position) {
    if (!bit(all.choice, 0)) return 2 + tree(all.low[position], 3);
    if (!bit(all.choice, 1)) return 10 + tree(all.mid[position], 3);
    return 18 + tree(all.high, 8);
  }

  const literals = probabilities(0x300 << literalContext);
  const isMatch = probabilities(STATES << 4);
  const isRepeat = probabilities(STATES);
  const isFirst = probabilities(STATES);
  const isSecond = probabilities(STATES);
  const isThird = probabilities(STATES);
  const isLong = probabilities(STATES << 4);
  const slots = trees(4, 64);
  const special = probabilities(128);
  const aligned = probabilities(16);
  const fresh = lengths();
  const repeated = lengths();
  let [a, b, c, d] = [0, 0, 0, 0];
  let state = 0;
  let done = 0;
  while (done < size) {
    const position = done & positionMask;
    if (!bit(isMatch, (state << 4) + position)) {
      const before = done ? out[done - 1] : 0;
      const base = 0x300 * (before >> (8 - literalContext));
      let index = 1;
      if (state >= 7) {
        let like = out[done - a - 1];
        do {
          const one = (like >> 7) & 1;
          like <<= 1;
          const now = bit(literals, base + ((1 + one) << 8) + index);
          index = (index << 1) | now;
          if (one !== now) break;
        } while (index < 0x100);
      }
      while (index < 0x100) index = (index << 1) | bit(literals, base + index);
      out[done++] = index;
      state = state < 4 ? 0 : state < 10 ? state - 3 : state - 6;
      continue;
    }
    let long;
    if (bit(isRepeat, state)) {
      if (!bit(isFirst, state)) {
        if (!bit(isLong, (state << 4) + position)) {
          state = state < 7 ? 9 : 11;
          out[done] = out[done - a - 1];
          done += 1;
          continue;
        }
      } else {
        let distance;
        if (!bit(isSecond, state)) distance = b;
        else {
          if (!bit(isThird, state)) distance = c;
          else [distance, d] = [d, c];
          c = b;
        }
        b = a;
        a = distance;
      }
      long = length(repeated, position);
      state = state < 7 ? 8 : 11;
    } else {
      [d, c, b] = [c, b, a];
      long = length(fresh, position);
      state = state < 7 ? 7 : 10;
      const slot = tree(slots[Math.min(long - 2, 3)], 6);
      if (slot < 4) a = slot;
      else {
        const bits = (slot >> 1) - 1;
        a = (2 | (slot & 1)) << bits;
        if (slot < 14) a += backwards(special, a - slot, bits);
        else a += (even(bits - 4) << 4) + backwards(aligned, 0, 4);
      }
    }
    if (a >= done || done + long > size) throw new Error('what was packed is torn');
    for (let n = 0; n < long; n += 1, done += 1) out[done] = out[done - a - 1];
  }
  return out;
}
