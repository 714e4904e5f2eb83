// @ts-check
/**
 * A set-up as a short text for the fragment of a link: a version, a dot, then
 * JSON compressed by zlib (RFC 1950, which carries a checksum) in base64url
 * (RFC 4648). A fragment is never sent to a server.
 */

const VERSION = "1";
/** Longer than any set-up; keeps a hostile link from filling the memory. */
const LONGEST_TEXT = 16_384;
const LARGEST_BYTES = 65_536;

/** A link that cannot be read, and why. */
export class BadLink extends Error {
  /** @param {"version" | "damaged" | "tooLong"} code */
  constructor(code) {
    super(code);
    this.code = code;
  }
}

/** @param {unknown} value @returns {Promise<string>} */
export async function writeLink(value) {
  const bytes = new TextEncoder().encode(JSON.stringify(value));
  if (bytes.length > LARGEST_BYTES) throw new BadLink("tooLong");
  const packed = await through(bytes, new CompressionStream("deflate"), Infinity);
  const text = `${VERSION}.${btoa(String.fromCharCode(...packed)).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "")}`;
  if (text.length > LONGEST_TEXT) throw new BadLink("tooLong");
  return text;
}

/** @param {string} text @returns {Promise<any>} */
export async function readLink(text) {
  if (text.length > LONGEST_TEXT) throw new BadLink("tooLong");
  const [version, body, ...more] = text.split(".");
  if (version !== VERSION) throw new BadLink("version");
  try {
    if (more.length > 0 || !/^[\w-]+$/.test(body)) throw new BadLink("damaged");
    const packed = Uint8Array.from(atob(body.replaceAll("-", "+").replaceAll("_", "/")), (sign) => sign.charCodeAt(0));
    const bytes = await through(packed, new DecompressionStream("deflate"), LARGEST_BYTES);
    return JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(bytes));
  } catch (error) {
    throw error instanceof BadLink ? error : new BadLink("damaged");
  }
}

/**
 * Bytes sent through a stream, stopped as soon as more come out than may.
 * @param {Uint8Array<ArrayBuffer>} bytes
 * @param {CompressionStream | DecompressionStream} stream
 * @param {number} most
 */
async function through(bytes, stream, most) {
  const out = new Blob([bytes]).stream().pipeThrough(stream).getReader();
  /** @type {number[]} */
  const all = [];
  for (;;) {
    const { done, value } = await out.read();
    if (done) return Uint8Array.from(all);
    if (all.length + value.length > most) {
      await out.cancel();
      throw new BadLink("tooLong");
    }
    for (const byte of value) all.push(byte);
  }
}

/** The text a fragment carries after `s=`, if any. @param {string} hash */
export function linkIn(hash) {
  const query = hash.split("?")[1];
  return (query && new URLSearchParams(query).get("s")) || undefined;
}
