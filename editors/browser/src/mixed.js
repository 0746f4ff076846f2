// A second way to pack a stream, for the one of the code's instructions: what follows is expected from what followed the
// same one, two, three and five bytes before, and what the longest such stretch went on with; how far each of these is
// believed is learned on the way (context mixing, as the PAQ family of programs does it). It takes a tenth less than
// LZMA there and some five times as long. Only sums, products, quotients and roundings of 64-bit numbers are used, so
// that every browser comes to the same bits.

/** How many bytes before the next are looked at, by memory. */
const ORDERS = [1, 2, 3, 5];
/** All that expects something of the next bit: nothing before it, the orders, the longest stretch. */
const ALL = ORDERS.length + 2;
const ROOM = 1 << 22;
/** How soon a memory changes its mind, at the latest, and how soon it is believed more or less (our own figures). */
const [SLOWEST, LEARNS] = [60, 0.008];
const [LONGEST, FURTHEST] = [63, 12];
/** A chance of one half, in 22 bits, met never so far, in 10. */
const UNKNOWN = 0x80000000;

/** A power of e, near enough, in operations that are exact everywhere. */
function power(x) {
  const eighths = Math.round(x * 8);
  const rest = x - eighths / 8;
  let found = 1 + rest * (1 + (rest / 2) * (1 + (rest / 3) * (1 + (rest / 4) * (1 + rest / 5))));
  let factor = eighths < 0 ? 1 / 1.1331484530668263 : 1.1331484530668263;
  for (let left = Math.abs(eighths); left > 0; left >>= 1) {
    if (left & 1) found *= factor;
    factor *= factor;
  }
  return found;
}

const chanceOf = (x) => 1 / (1 + power(-x));
const CHANCES = Float64Array.from({ length: 4096 }, (_, n) => chanceOf(((n - 2048) * FURTHEST) / 2048));
/** The inverse, by halving. */
const WEIGHTS = Float64Array.from({ length: 4096 }, (_, n) => {
  let [low, high] = [-FURTHEST, FURTHEST];
  for (let step = 0; step < 50; step += 1) {
    const middle = (low + high) / 2;
    if (chanceOf(middle) < (n + 0.5) / 4096) low = middle;
    else high = middle;
  }
  return low;
});
const RATES = Float64Array.from({ length: SLOWEST + 1 }, (_, n) => 1 / (n + 1.5));

/** What is expected of the bytes of `out`, which is known as far as it was gone through. */
function memory(out) {
  const table = new Uint32Array(ROOM).fill(UNKNOWN);
  const stretches = new Uint32Array(2 * LONGEST + 2).fill(UNKNOWN);
  const beliefs = new Float64Array(3 * 256 * ALL).fill(0.3);
  const base = new Int32Array(ALL);
  const places = new Int32Array(ALL);
  const said = new Float64Array(ALL);
  const last = new Int32Array(1 << 18);
  let [like, long, next, bits, belief, expected, chance] = [0, 0, 0, 1, 0, -1, 0];

  function learn(all, place, bit) {
    const was = all[place] >>> 10;
    const met = all[place] & 1023;
    const now = was + (((bit ? 4194303 - was : -was) * RATES[met]) | 0);
    all[place] = (now << 10) | (met < SLOWEST ? met + 1 : met);
  }
  return {
    /** Before the byte at a place. */
    begin(at) {
      let hash = 0;
      for (let back = 1, order = 0; order < ORDERS.length; back += 1) {
        hash = Math.imul(hash + (at >= back ? out[at - back] : 0) + 1, 0x2f0b4c47) ^ (hash >>> 15);
        if (ORDERS[order] === back) {
          order += 1;
          base[order] = Math.imul(hash ^ back, 0x9e3779b1);
        }
      }
      if (long > 0 && out[like] === out[at - 1]) {
        like += 1;
        if (long < LONGEST) long += 1;
      } else long = 0;
      // The last order reaches as far as a stretch has to be the same.
      const place = hash >>> 14;
      if (long === 0) {
        like = last[place];
        while (long < 32 && long < like && out[like - 1 - long] === out[at - 1 - long]) long += 1;
      }
      last[place] = at;
      next = out[like] | 256;
      bits = 1;
    },
    /** The chance, in 16 bits, that the next bit is a one. */
    chance(left) {
      belief = (((long === 0 ? 0 : long < 16 ? 1 : 2) << 8) | bits) * ALL;
      const own = Math.imul(bits, 0x3d4d51cb);
      let sum = 0;
      for (let n = 0; n < ALL - 1; n += 1) {
        const mixed = base[n] + own;
        places[n] = n === 0 ? bits : (mixed ^ (mixed >>> 9)) & (ROOM - 1);
        said[n] = WEIGHTS[table[places[n]] >>> 20];
        sum += said[n] * beliefs[belief + n];
      }
      expected = long > 0 && next >> (left + 1) === bits ? (next >> left) & 1 : -1;
      said[ALL - 1] = expected < 0 ? 0 : WEIGHTS[stretches[2 * long + expected] >>> 20];
      sum += said[ALL - 1] * beliefs[belief + ALL - 1];
      chance = CHANCES[Math.floor((Math.min(Math.max(sum, -11.99), 11.99) + FURTHEST) * (2048 / FURTHEST))];
      return Math.min(Math.max(Math.floor(chance * 65536), 1), 65535);
    },
    /** What the bit was. */
    was(bit) {
      const off = (bit - chance) * LEARNS;
      for (let n = 0; n < ALL; n += 1) beliefs[belief + n] += off * said[n];
      for (let n = 0; n < ALL - 1; n += 1) learn(table, places[n], bit);
      if (expected >= 0) {
        learn(stretches, 2 * long + expected, bit);
        if (bit !== expected) long = 0;
      }
      bits = (bits << 1) | bit;
    },
    byte: () => bits & 255,
  };
}

/** Where a range is cut for a chance in 16 bits. */
const cut = (low, high, chance) => low + Math.floor(((high - low) * chance) / 65536);

/** The bytes that `packed` stands for from a place on; `size` of them. */
export function unpackMixed(packed, at, size) {
  const out = new Uint8Array(size);
  const all = memory(out);
  let [low, high, code] = [0, 0xffffffff, 0];
  for (let n = 0; n < 4; n += 1) code = ((code << 8) | packed[at++]) >>> 0;
  for (let done = 0; done < size; done += 1) {
    all.begin(done);
    for (let left = 7; left >= 0; left -= 1) {
      const middle = cut(low, high, all.chance(left));
      const bit = code <= middle ? 1 : 0;
      if (bit) high = middle;
      else low = middle + 1;
      while (((low ^ high) & 0xff000000) === 0) {
        code = ((code << 8) | packed[at++]) >>> 0;
        [low, high] = [(low << 8) >>> 0, ((high << 8) | 255) >>> 0];
      }
      all.was(bit);
    }
    out[done] = all.byte();
  }
  return out;
}

/** Packs what `unpackMixed` unpacks; only the build does. */
export function packMixed(bytes) {
  const packed = [];
  const all = memory(bytes);
  let [low, high] = [0, 0xffffffff];
  bytes.forEach((byte, at) => {
    all.begin(at);
    for (let left = 7; left >= 0; left -= 1) {
      const middle = cut(low, high, all.chance(left));
      const bit = (byte >> left) & 1;
      if (bit) high = middle;
      else low = middle + 1;
      while (((low ^ high) & 0xff000000) === 0) {
        packed.push(high >>> 24);
        [low, high] = [(low << 8) >>> 0, ((high << 8) | 255) >>> 0];
      }
      all.was(bit);
    }
  });
  for (let shift = 24; shift >= 0; shift -= 8) packed.push((high >>> shift) & 255);
  return Uint8Array.from(packed);
}
