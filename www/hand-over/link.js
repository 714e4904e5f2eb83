// @ts-check
/**
 * A set-up as a short text for the fragment of a link: a version, a dot, then
 * JSON, compressed, in base64url (RFC 4648). A fragment is never sent to a server.
 *
 * Form 1: zlib (RFC 1950, which carries a checksum). Form 2: deflate (RFC 1951)
 * against the text of link-known.js, then the same checksum; a set-up is some 200
 * characters instead of 1200, which makes a code that any phone's camera reads.
 */
import { adler32, packedAgainst, withKnown } from "./deflate.js";
import { KNOWN } from "./link-known.js";

/** What is written; form 1 where what is sent is long, and always read. */
const VERSION = "2";
const OLDER = "1";
/** Above this the browser's own packing is shorter and quicker, bytes. */
const LONGEST_AGAINST_KNOWN = 8_192;
const CHECKSUM = 4;

/** How much is read, in characters packed and bytes unpacked. @typedef {{text: number, bytes: number}} Limits */
/** Longer than any set-up; keeps a hostile link from filling the memory. @type {Limits} */
const OF_A_LINK = { text: 16_384, bytes: 65_536 };
/** Lists in lists deeper than any set-up's, and a longer text than anybody writes. */
const DEEPEST = 16;
const LONGEST_STRING = 4_000;
/**
 * What is not seen, or turns the direction of what is read: two texts that look
 * the same must be the same. Control characters, what Unicode lets a reader pass
 * over (DerivedCoreProperties, Default_Ignorable_Code_Point), line and paragraph
 * separators, annotation marks, the blank of Braille, halves of a pair.
 */
const UNSEEN = /[\p{Default_Ignorable_Code_Point}\p{Surrogate}\u0000-\u0008\u000b-\u001f\u007f-\u009f\u2028\u2029\u2800\ufff9-\ufffb]/u;
/** Signs that need an unseen one: pictures (of flags made of tags the three that Unicode lists, since others hide a text), and letters that it joins or parts. */
const SEEN_BY = /\u{1f3f4}\u{e0067}\u{e0062}(?:\u{e0065}\u{e006e}\u{e0067}|\u{e0073}\u{e0063}\u{e0074}|\u{e0077}\u{e006c}\u{e0073})\u{e007f}|\p{Extended_Pictographic}[\ufe0f\p{Emoji_Modifier}]?(?:\u200d\p{Extended_Pictographic}[\ufe0f\p{Emoji_Modifier}]?)*|[0-9#*]\ufe0f\u20e3/gu;
const JOINED = /([\p{Script=Arabic}\p{Script=Syriac}\p{Script=Devanagari}\p{Script=Bengali}\p{Script=Gurmukhi}\p{Script=Gujarati}\p{Script=Oriya}\p{Script=Tamil}\p{Script=Telugu}\p{Script=Kannada}\p{Script=Malayalam}\p{Script=Sinhala}])[\u200c\u200d](?=\p{L})/gu;

/** A link that cannot be read, and why. */
export class BadLink extends Error {
  /** @param {"version" | "damaged" | "tooLong" | "tooDeep" | "strange" | "unseen" | "longText" | "noAddress"} code @param {string} [why] in a sentence, where more is known @param {string} [about] the text it is about */
  constructor(code, why, about = "") {
    super(code);
    this.code = code;
    this.why = why;
    this.about = about;
  }
}

/** @param {unknown} value @param {Limits} [limits] @returns {Promise<string>} */
export async function writeLink(value, limits = OF_A_LINK) {
  // What the reader would refuse is said here, where it can be mended.
  const bad = firstNotPlain(value);
  if (bad !== undefined) throw new BadLink(bad.length > LONGEST_STRING ? "longText" : "unseen", undefined, bad);
  const bytes = new TextEncoder().encode(JSON.stringify(value));
  if (bytes.length > limits.bytes) throw new BadLink("tooLong");
  const text = bytes.length <= LONGEST_AGAINST_KNOWN
    ? `${VERSION}.${base64url(againstKnown(bytes))}`
    : `${OLDER}.${base64url(await through(bytes, new CompressionStream("deflate"), Infinity))}`;
  if (text.length > limits.text) throw new BadLink("tooLong");
  return text;
}

const known = () => new TextEncoder().encode(KNOWN);

/** @param {Uint8Array} bytes */
function againstKnown(bytes) {
  const packed = packedAgainst(known(), bytes);
  const made = new Uint8Array(packed.length + CHECKSUM);
  made.set(packed);
  new DataView(made.buffer).setUint32(packed.length, adler32(bytes));
  return made;
}

/** @param {Uint8Array<ArrayBuffer>} made @param {number} most */
async function fromKnown(made, most) {
  const before = known();
  const all = await through(withKnown(before, made.subarray(0, -CHECKSUM)), new DecompressionStream("deflate-raw"), before.length + most);
  const bytes = all.slice(before.length);
  const sum = new DataView(made.buffer).getUint32(made.length - CHECKSUM);
  if (adler32(bytes) !== sum) throw new BadLink("damaged");
  return bytes;
}

/** @param {Uint8Array} bytes */
function base64url(bytes) {
  // Spread by parts: an argument list has an end.
  const binary = Array.from({ length: Math.ceil(bytes.length / 8192) }, (_, part) =>
    String.fromCharCode(...bytes.subarray(part * 8192, (part + 1) * 8192))).join("");
  return btoa(binary).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

/** @param {string} text @param {Limits} [limits] @returns {Promise<any>} */
export async function readLink(text, limits = OF_A_LINK) {
  if (text.length > limits.text) throw new BadLink("tooLong");
  const [version, body = "", ...more] = text.split(".");
  if (version !== VERSION && version !== OLDER) throw new BadLink("version");
  try {
    if (more.length > 0 || !/^[\w-]+$/.test(body)) throw new BadLink("damaged");
    const packed = Uint8Array.from(atob(body.replaceAll("-", "+").replaceAll("_", "/")), (sign) => sign.charCodeAt(0));
    const bytes = version === OLDER
      ? await through(packed, new DecompressionStream("deflate"), limits.bytes)
      : await fromKnown(packed, limits.bytes);
    return readWritten(new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes));
  } catch (error) {
    throw error instanceof BadLink ? error : new BadLink("damaged");
  }
}

/**
 * JSON exactly as `writeLink` writes it. What comes out differently when it is
 * written again was not written here: a key twice, a number that no number is.
 * @param {string} text
 */
function readWritten(text) {
  if (depthOf(text) > DEEPEST) throw new BadLink("tooDeep");
  const value = JSON.parse(text);
  if (JSON.stringify(value) !== text || firstNotPlain(value) !== undefined) throw new BadLink("strange");
  return value;
}

/** How deep brackets go, those inside strings left out; needs no recursion. @param {string} text */
function depthOf(text) {
  let [depth, deepest, inString] = [0, 0, false];
  for (let at = 0; at < text.length; at += 1) {
    const sign = text[at];
    if (inString) {
      if (sign === "\\") at += 1;
      else if (sign === '"') inString = false;
    } else if (sign === '"') inString = true;
    else if (sign === "[" || sign === "{") deepest = Math.max(deepest, (depth += 1));
    else if (sign === "]" || sign === "}") depth -= 1;
  }
  return deepest;
}

/** Whether a text hides nothing. @param {string} text */
const isPlain = (text) =>
  text.length <= LONGEST_STRING && !UNSEEN.test(text.replace(SEEN_BY, "").replace(JOINED, "$1"));

/** The first text that hides something, or key that reaches beyond its object. @param {unknown} value @returns {string | undefined} */
function firstNotPlain(value) {
  if (typeof value === "string") return isPlain(value) ? undefined : value;
  if (typeof value !== "object" || value === null) return undefined;
  for (const [key, inner] of Object.entries(value)) {
    const bad = key === "__proto__" ? key : firstNotPlain(key) ?? firstNotPlain(inner);
    if (bad !== undefined) return bad;
  }
  return undefined;
}

/**
 * Bytes sent through a stream, stopped as soon as more come out than may.
 * @param {Uint8Array<ArrayBuffer>} bytes
 * @param {CompressionStream | DecompressionStream} stream
 * @param {number} most
 */
async function through(bytes, stream, most) {
  const out = new Blob([bytes]).stream().pipeThrough(stream).getReader();
  /** @type {Uint8Array[]} */
  const parts = [];
  let length = 0;
  for (;;) {
    const { done, value } = await out.read();
    if (done) break;
    length += value.length;
    if (length > most) {
      await out.cancel();
      throw new BadLink("tooLong");
    }
    parts.push(value);
  }
  const all = new Uint8Array(length);
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

/** The text a fragment carries after `s=`, if any. @param {string} hash */
export function linkIn(hash) {
  const query = hash.split("?")[1];
  return (query && new URLSearchParams(query).get("s")) || undefined;
}
