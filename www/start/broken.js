// @ts-check
/** Says when the calculation breaks off. */
import { WORDS } from "../language/words/shared.js";
import { notify } from "./notice.js";

// The core never breaks off as far as anyone knows. If it does, it cannot be
// asked again before the page starts anew, and everything is kept.
const broken = (/** @type {unknown} */ reason) => {
  if (reason instanceof WebAssembly.RuntimeError) notify(WORDS.broken, WORDS.startAnew, () => location.reload(), true);
};

export function watchForBreaks() {
  window.addEventListener("error", (event) => broken(event.error));
  window.addEventListener("unhandledrejection", (event) => broken(event.reason));
}
