// @ts-check
/** The one module that imports the WebAssembly package. */
import begin, * as engine from "../api/engine.js";
import { wasmBytes } from "./bytes.js";
import { memory } from "./memory.js";

/**
 * @typedef {import("../api/glasscall.js").Refusal} Refusal
 * @typedef {Omit<typeof import("../api/glasscall.js"), "version">} Glass
 * @typedef {keyof Glass} Name
 */

/**
 * Fulfilled when what Now asks may be asked (`FIRST` in the build). Nothing here
 * waits for it, so that database, words and all else that a page starts with
 * start beside it.
 */
export const ready = begin({ module_or_path: wasmBytes("first.wasm") }).then((first) => {
  answered = first;
  // In Node the whole module stands for its first half.
  joinedNow = "frameMap" in first;
});

/** What the first half answers, by name. @type {object} */
let answered = {};

/** Asked of the first half what only the whole module knows: no refusal, and no fault of what was asked. */
export class NotThere extends Error {}

/** @type {Promise<void> | undefined} */
let joined;
let joinedNow = false;

/** Fulfilled when anything may be asked; what fails is tried again by the next who wants it. */
export function whole() {
  joined ??= join().catch((error) => {
    joined = undefined;
    throw error;
  });
  return joined;
}

async function join() {
  const rest = wasmBytes("rest.wasm");
  // One that fails while the first half is on its way is heard below.
  rest.catch(() => {});
  await ready;
  if (!joinedNow) await engine.join(await rest);
  joinedNow = true;
}

/** A part of the page that asks more than the first half answers, once both are there. @template T @param {Promise<T>} part @returns {Promise<T>} */
export const withWhole = async (part) => (await Promise.all([part, whole()]))[0];

/** Does it once the module is whole; where that does not come, whoever asks next tries again. @param {() => void} act @returns {() => void} */
export function onceWhole(act) {
  /** @type {Promise<void> | undefined} */
  let waits;
  const ended = () => (waits = undefined);
  return () => {
    waits ??= whole().then(act, console.warn).finally(ended);
  };
}

/** Whether anything may be asked now. */
export const isWhole = () => joinedNow;

const glass = /** @type {Glass} */ (/** @type {unknown} */ (engine));
const remembered = memory();

/**
 * Asks one question of the core, which answers the same question always the
 * same: one just asked is answered from memory.
 * @template {Name} N
 * @param {N} name
 * @param {Parameters<Glass[N]>[0]} request
 * @param {...unknown} more arrays to read from and write into, for pictures
 * @returns {{reply: ReturnType<Glass[N]>, refusal?: undefined} | {reply?: undefined, refusal: Refusal}}
 * @throws {NotThere} before the module is whole
 */
export function ask(name, request, ...more) {
  // What is written into an array must be written each time.
  if (more.length > 0) return asked(name, request, more);
  return remembered(name, request, () => asked(name, request, more));
}

/** @param {Name} name @param {unknown} request @param {unknown[]} more @returns {any} */
function asked(name, request, more) {
  if (!joinedNow && !(name in answered)) throw new NotThere(name);
  try {
    const call = /** @type {(...given: unknown[]) => any} */ (glass[name]);
    return { reply: call(request, ...more) };
  } catch (error) {
    if (error instanceof Error && error.name === "Refusal") {
      return { refusal: /** @type {any} */ (error) };
    }
    throw error;
  }
}
