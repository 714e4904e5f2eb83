// @ts-check
/**
 * The scripts this page starts beside itself, by name. Where the browser knows
 * trusted types the page's policy lets nothing else name a script or put markup
 * in, so that no text of a user or a file can become code.
 */

/** @typedef {"sw.js" | "worker.js"} Script */

const NAMES = ["sw.js", "worker.js"];

/** @param {string} name */
function checked(name) {
  if (!NAMES.includes(name)) throw new TypeError(`no script ${name}`);
  return new URL(name, document.baseURI).href;
}

const { trustedTypes } = /** @type {any} */ (window);
const policy = trustedTypes?.createPolicy("glasscall", { createScriptURL: checked });

/** @param {Script} name @returns {string} */
export function scriptUrl(name) {
  return policy ? policy.createScriptURL(name) : checked(name);
}
