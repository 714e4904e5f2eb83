// @ts-check
/** The button that opens how something beside the answer is worked out; what it shows comes when it is tapped. */
import { say } from "../../language/say.js";
import { el } from "../../parts/dom.js";

/** @param {string} name @param {(worked: typeof import("./worked.js"), opener: HTMLElement) => void} open */
export const workButton = (name, open) => el("button", {
  type: "button", "data-do": `work-${name}`, "data-opens": `work ${name}`,
  onclick: async (/** @type {Event} */ event) => {
    const opener = /** @type {HTMLElement} */ (event.currentTarget);
    open(await import("./worked.js"), opener);
  },
}, say("How it is worked out"));
