// @ts-check
/**
 * Bytes packed by RFC 1951 against a text that both sides know: what stands in
 * it costs a few bits. Browsers pack by streams that take no such text, so the
 * packing is done here, with the fixed codes of section 3.2.6, which suit what is
 * short; any inflater unpacks it. Pure.
 */

const SHORTEST = 3;
const LONGEST = 258;
const WINDOW = 32_768;
/** Places with the same three bytes that are looked at. */
const TRIED = 256;
/** Longest piece of a block that is stored as it is. */
const STORED = 65_535;

/** Lengths and distances by their codes (RFC 1951, section 3.2.5): where each begins and how many bits follow. @param {number} first @param {number} count @param {(code: number) => number} extra */
function table(first, count, extra) {
  let start = first;
  return Array.from({ length: count }, (_, code) => {
    const row = { code, start, extra: extra(code) };
    start += 2 ** row.extra;
    return row;
  });
}
const LENGTHS = [...table(SHORTEST, 28, (code) => (code < 8 ? 0 : Math.floor(code / 4) - 1)), { code: 28, start: LONGEST, extra: 0 }];
const DISTANCES = table(1, 30, (code) => (code < 4 ? 0 : Math.floor(code / 2) - 1));

/** @param {{code: number, start: number, extra: number}[]} rows @param {number} value */
function rowOf(rows, value) {
  const row = rows.findLast(({ start }) => start <= value);
  if (!row) throw new RangeError(`no code for ${value}`);
  return row;
}

/** @param {number} byte */
const literalBits = (byte) => (byte < 144 ? 8 : 9);

/** What a length costs, by itself. */
const LENGTH_BITS = Array.from({ length: LONGEST + 1 }, (_, length) => {
  if (length < SHORTEST) return Infinity;
  const { code, extra } = rowOf(LENGTHS, length);
  return (code < 23 ? 7 : 8) + extra;
});
/** @param {number} distance */
const distanceBits = (distance) => 5 + rowOf(DISTANCES, distance).extra;

/**
 * Earlier places that go on alike, the nearest for each length.
 * @param {Uint8Array} all @param {number} at @param {number[]} places with the same three bytes, nearest last
 */
function matchesAt(all, at, places) {
  const most = Math.min(LONGEST, all.length - at);
  /** @type {{length: number, distance: number}[]} */
  const found = [];
  let longest = SHORTEST - 1;
  for (const place of places.slice(-TRIED).reverse()) {
    if (at - place > WINDOW || longest === most) break;
    // One that is no longer than the last is not worth a look.
    if (all[place + longest] !== all[at + longest]) continue;
    let length = 0;
    while (length < most && all[place + length] === all[at + length]) length += 1;
    if (length > longest) found.push({ length: longest = length, distance: at - place });
  }
  return found;
}

/**
 * What to say next and what it costs with all that follows: a byte, or so many
 * bytes from so far back.
 * @typedef {{bits: number, byte: number, length: number, distance: number, next?: Step}} Step
 */

/** Nothing is left to say. @type {Step} */
const END = { bits: 0, byte: 0, length: 0, distance: 0 };

/** The cheapest way to say all after `from`. @param {Uint8Array} all @param {number} from @returns {Step} */
function cheapest(all, from) {
  /** @type {Map<number, number[]>} */
  const seen = new Map();
  const matches = [];
  for (let at = 0; at < all.length; at += 1) {
    const [first = 0, second = 0, third] = all.subarray(at, at + 3);
    const key = third === undefined ? -1 : (first << 16) | (second << 8) | third;
    const places = seen.get(key) ?? [];
    if (at >= from) matches.push(key < 0 ? [] : matchesAt(all, at, places));
    if (places.push(at) === 1 && key >= 0) seen.set(key, places);
  }
  // What is best from each place on; the last is found first.
  /** @type {Step[]} */
  const best = [];
  let step = END;
  for (const [at, byte] of [...all.subarray(from).entries()].reverse()) {
    step = { bits: literalBits(byte) + step.bits, byte, length: 1, distance: 0, next: step };
    let shortest = SHORTEST;
    for (const { length: longest, distance } of matches[at] ?? []) {
      const far = distanceBits(distance);
      for (let length = shortest; length <= longest; length += 1) {
        const next = best[at + length] ?? END;
        const bits = far + (LENGTH_BITS[length] ?? Infinity) + next.bits;
        if (bits < step.bits) step = { bits, byte, length, distance, next };
      }
      shortest = longest + 1;
    }
    best[at] = step;
  }
  return step;
}

/** Bits into bytes, the first lowest. */
class Bits {
  /** @type {number[]} */
  bytes = [];
  #held = 0;
  #count = 0;

  /** @param {number} value @param {number} count lowest first */
  put(value, count) {
    for (let at = 0; at < count; at += 1) {
      this.#held |= ((value >> at) & 1) << this.#count;
      this.#count += 1;
      if (this.#count === 8) this.flush();
    }
  }

  /** A code of Huffman's, highest first. @param {number} value @param {number} count */
  code(value, count) {
    for (let at = count - 1; at >= 0; at -= 1) this.put((value >> at) & 1, 1);
  }

  flush() {
    if (this.#count > 0) this.bytes.push(this.#held);
    this.#held = 0;
    this.#count = 0;
  }
}

/** A byte, an end (256) or a length by its fixed code. @param {Bits} bits @param {number} symbol */
function putSymbol(bits, symbol) {
  if (symbol < 144) bits.code(0x30 + symbol, 8);
  else if (symbol < 256) bits.code(0x190 + symbol - 144, 9);
  else if (symbol < 280) bits.code(symbol - 256, 7);
  else bits.code(0xc0 + symbol - 280, 8);
}

/** @param {Uint8Array} known @param {Uint8Array} bytes @returns {Uint8Array<ArrayBuffer>} */
export function packedAgainst(known, bytes) {
  const all = new Uint8Array([...known, ...bytes]);
  const bits = new Bits();
  // The last block, with fixed codes.
  bits.put(1, 1);
  bits.put(1, 2);
  /** @type {Step | undefined} */
  let step = cheapest(all, known.length);
  for (; step?.next; step = step.next) {
    const { byte, length, distance } = step;
    if (distance === 0) {
      putSymbol(bits, byte);
      continue;
    }
    const long = rowOf(LENGTHS, length);
    const far = rowOf(DISTANCES, distance);
    putSymbol(bits, 257 + long.code);
    bits.put(length - long.start, long.extra);
    bits.code(far.code, 5);
    bits.put(distance - far.start, far.extra);
  }
  putSymbol(bits, 256);
  bits.flush();
  return new Uint8Array(bits.bytes);
}

/** The same as an inflater wants it: the known text first, in a block that is stored. @param {Uint8Array} known @param {Uint8Array} packed @returns {Uint8Array<ArrayBuffer>} */
export function withKnown(known, packed) {
  if (known.length > STORED) throw new RangeError("a known text that no one block holds");
  const [low, high] = [known.length & 255, known.length >> 8];
  return new Uint8Array([0, low, high, low ^ 255, high ^ 255, ...known, ...packed]);
}

/** The checksum of RFC 1950. @param {Uint8Array} bytes */
export function adler32(bytes) {
  let [a, b] = [1, 0];
  for (const byte of bytes) {
    a = (a + byte) % 65_521;
    b = (b + a) % 65_521;
  }
  return b * 65_536 + a;
}
