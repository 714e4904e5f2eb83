// @ts-check
/** What stands around the screens and belongs to none. */
import { bringWhatOpens } from "../parts/bring.js";
import { one } from "../parts/dom.js";

/** How far a key scrolls, in heights of what is seen. @type {Record<string, number>} */
const KEYS = { PageDown: 0.9, PageUp: -0.9, " ": 0.9, ArrowDown: 0.1, ArrowUp: -0.1, End: 1e6, Home: -1e6 };

export function mountShell() {
  const page = one(document, ".page");
  const bar = one(document, ".bar");
  new ResizeObserver(() => document.documentElement.style.setProperty("--bar", `${bar.offsetHeight}px`)).observe(bar);
  one(document, "[data-do=skip]").addEventListener("click", (/** @type {Event} */ event) => {
    event.preventDefault();
    const answer = document.querySelector(".screen:not([hidden]) [data-answer]") ?? document.querySelector(".screen:not([hidden])");
    if (!(answer instanceof HTMLElement)) return;
    answer.tabIndex = -1;
    answer.focus();
  });
  bringWhatOpens(page);
  // The page scrolls inside the window: keys that nothing else wants are its own.
  document.addEventListener("keydown", ({ key, defaultPrevented, altKey, ctrlKey, metaKey }) => {
    if (defaultPrevented || altKey || ctrlKey || metaKey || document.activeElement !== document.body) return;
    const pages = KEYS[key];
    if (pages !== undefined) page.scrollBy({ top: pages * page.clientHeight });
  });
}
