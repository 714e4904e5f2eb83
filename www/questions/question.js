// @ts-check
/** What a question of the page is, and its answer in the page's own fields. */
import { ask } from "../engine/ask.js";
import { refusedOnPage } from "./paths.js";

/**
 * @typedef {import("../engine/ask.js").Glass} Glass
 * @typedef {import("../engine/ask.js").Name} Name
 * @typedef {import("../engine/ask.js").Refusal} Refusal
 * @typedef {import("./paths.js").Paths} Paths
 */

/**
 * @template {Name} N
 * @template {any[]} G
 * @template R
 * @typedef {object} Question
 * @property {N} name in the module
 * @property {(...given: G) => R} request made of the set-up; nothing where that does not say enough
 * @property {Paths} paths where the fields of that request stand on the page
 */

/**
 * @template {Name} N
 * @template {any[]} G
 * @template R
 * @param {N} name
 * @param {(...given: G) => R} request
 * @param {Paths[]} paths with none the page calls them the same
 * @returns {Question<N, G, R>}
 */
export const question = (name, request, ...paths) => ({ name, request, paths: Object.assign({}, ...paths) });

/**
 * @template {Name} N
 * @template R
 * @typedef {{reply: ReturnType<Glass[N]>, refusal?: undefined} | {reply?: undefined, refusal: Refusal} | (undefined extends R ? {reply?: undefined, refusal?: undefined} : never)} Answer
 */

/**
 * @template {Name} N
 * @template {any[]} G
 * @template R
 * @param {Question<N, G, R>} question
 * @param {G} given what the request is made of
 * @returns {Answer<N, R>}
 */
export const answerTo = (question, ...given) => answerInto(question, given);

/**
 * The same, with arrays to read from and write into.
 * @template {Name} N
 * @template {any[]} G
 * @template R
 * @param {Question<N, G, R>} question
 * @param {G} given
 * @param {unknown[]} arrays
 * @returns {Answer<N, R>}
 */
export function answerInto({ name, request, paths }, given, ...arrays) {
  const wanted = request(...given);
  if (wanted === undefined) return /** @type {any} */ ({});
  const { reply, refusal } = ask(name, /** @type {any} */ (wanted), ...arrays);
  return /** @type {any} */ (refusal ? { refusal: refusedOnPage(refusal, paths, ...given) } : { reply });
}
