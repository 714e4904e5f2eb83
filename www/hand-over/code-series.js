// @ts-check
/**
 * What is too long for one square code, as numbered frames: `GC1`, the name of
 * the series, the number and how many, then a piece of the packed text. Frames
 * are read in any order, some of them twice. Pure.
 */
import { BadLink, readLink, writeLink } from "./link.js";

const MARK = "GC1";
/** Characters of one frame: fine enough for a case, coarse enough for a phone held in the hand. */
const CHUNK = 480;
const MOST = 400;
/** A case with some hundred pieces, a log of some hundred records. */
const LIMITS = { text: CHUNK * MOST, bytes: 4_000_000 };
/** Series that are followed at once. */
const MOST_SERIES = 4;
const FRAME = /^GC1:([0-9a-f]{8}):(\d{1,3})\/(\d{1,3}):([\w.-]{1,480})$/;

/** @param {unknown} value @returns {Promise<string[]>} */
export async function writeFrames(value) {
  const text = await writeLink(value, LIMITS);
  const count = Math.ceil(text.length / CHUNK);
  const name = nameOf(text);
  return Array.from({ length: count }, (_, at) =>
    `${MARK}:${name}:${at + 1}/${count}:${text.slice(at * CHUNK, (at + 1) * CHUNK)}`);
}

/** Tells two series apart; damage is found by zlib's own checksum. FNV-1a, 32 bit. @param {string} text */
function nameOf(text) {
  let name = 0x811c9dc5;
  for (let at = 0; at < text.length; at += 1) name = Math.imul(name ^ text.charCodeAt(at), 0x01000193);
  return (name >>> 0).toString(16).padStart(8, "0");
}

/**
 * @typedef {object} Seen
 * @property {string} name of the series
 * @property {number} count frames of it
 * @property {number[]} missing numbers still to come
 * @property {boolean} isNew whether this frame had not been seen
 */

/** Gathers frames until a series is whole. */
export class FrameCollector {
  /** @type {Map<string, {count: number, chunks: Map<number, string>}>} */
  #series = new Map();

  /**
   * Takes one text; nothing where it is no frame.
   * @param {string} text
   * @returns {Seen | undefined}
   * @throws {BadLink} where it contradicts what was seen
   */
  take(text) {
    const parts = text.match(FRAME);
    if (!parts) {
      if (text.startsWith("GC") && /^GC\d+:/.test(text)) throw new BadLink(text.startsWith(`${MARK}:`) ? "damaged" : "version");
      return undefined;
    }
    const [, name = "", nth, of, chunk = ""] = parts;
    const [at, count] = [Number(nth), Number(of)];
    if (at < 1 || at > count) throw new BadLink("damaged");
    if (count > MOST) throw new BadLink("tooLong");
    const series = this.#series.get(name) ?? this.#begin(name, count);
    const seen = series.chunks.get(at);
    if (series.count !== count || (seen !== undefined && seen !== chunk)) {
      this.#series.delete(name);
      throw new BadLink("damaged");
    }
    series.chunks.set(at, chunk);
    const missing = Array.from({ length: count }, (_, nth_) => nth_ + 1).filter((number) => !series.chunks.has(number));
    return { name, count, missing, isNew: seen === undefined };
  }

  /** @param {string} name @param {number} count */
  #begin(name, count) {
    const [oldest] = this.#series.keys();
    if (oldest !== undefined && this.#series.size >= MOST_SERIES) this.#series.delete(oldest);
    const series = { count, chunks: new Map() };
    this.#series.set(name, series);
    return series;
  }

  /** What a whole series says. @param {string} name @returns {Promise<any>} */
  async read(name) {
    const series = this.#series.get(name);
    this.#series.delete(name);
    if (!series) throw new BadLink("damaged");
    const text = Array.from({ length: series.count }, (_, at) => series.chunks.get(at + 1) ?? "").join("");
    if (nameOf(text) !== name) throw new BadLink("damaged");
    return readLink(text, LIMITS);
  }
}
