// @ts-check
/** The one module that imports the WebAssembly package. */
import * as glass from "../api/glasscall.js";
import { memory } from "./memory.js";

/**
 * @typedef {import("../api/glasscall.js").Refusal} Refusal
 * @typedef {keyof typeof glass} Name
 */

const remembered = memory();

/**
 * Asks one question of the core, which answers the same question always the
 * same: one just asked is answered from memory.
 * @template {Name} N
 * @param {N} name
 * @param {Parameters<typeof glass[N]>[0]} request
 * @param {...unknown} more arrays to read from and write into, for pictures
 * @returns {{reply: ReturnType<typeof glass[N]>, refusal?: undefined} | {reply?: undefined, refusal: Refusal}}
 */
export function ask(name, request, ...more) {
  // What is written into an array must be written each time.
  if (more.length > 0) return asked(name, request, more);
  return remembered(name, request, () => asked(name, request, more));
}

/** @param {Name} name @param {unknown} request @param {unknown[]} more @returns {any} */
function asked(name, request, more) {
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
