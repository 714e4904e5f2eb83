// @ts-check
/** The part of a case that phones share: what is in it, not what is in use now. */
import { forgetWhatIsGone } from "./case-content.js";

/** @typedef {import("./setup.js").Setup} Setup */
/** @typedef {import("../api/glasscall.js").CaseContent} CaseContent */

/** @param {Setup} setup @returns {CaseContent} */
export function caseToSend(setup) {
  return { ...setup.stock, pieces: setup.kit };
}

/** Puts the shared part in place; lists it does not hold stay. @param {Setup} setup @param {CaseContent} content */
export function takeShared(setup, { pieces, ...lists }) {
  setup.kit = pieces ?? setup.kit;
  const stock = /** @type {any} */ (setup.stock);
  for (const [name, list] of Object.entries(lists)) if (name in stock) stock[name] = list;
  setup.demo = false;
  forgetWhatIsGone(setup);
}
