// @ts-check
/** The one module that imports the WebAssembly package. */
import * as glass from "../api/glasscall.js";

/**
 * @typedef {import("../api/glasscall.js").Refusal} Refusal
 * @typedef {keyof typeof glass} Name
 */

/**
 * Asks one question of the core.
 * @template {Name} N
 * @param {N} name
 * @param {Parameters<typeof glass[N]>[0]} request
 * @param {...unknown} more arrays to read from and write into, for pictures
 * @returns {{reply: ReturnType<typeof glass[N]>, refusal?: undefined} | {reply?: undefined, refusal: Refusal}}
 */
export function ask(name, request, ...more) {
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
