// @ts-check
/** The buttons that open how something beside the answer is worked out, and its figures asked back; what they show comes when one is tapped. */
import { say } from "../../language/say.js";
import { askedWords } from "../../parts/asked-words.js";
import { el } from "../../parts/dom.js";

/** @param {string} name @param {(worked: typeof import("./worked.js"), opener: HTMLElement) => void} open */
export const workButton = (name, open) => el("button", {
  type: "button", "data-do": `work-${name}`, "data-opens": `work ${name}`,
  onclick: async (/** @type {Event} */ event) => {
    const opener = /** @type {HTMLElement} */ (event.currentTarget);
    open(await import("./worked.js"), opener);
  },
}, say("How it is worked out"));

/** @param {string} text @param {string} name @param {(figures: typeof import("./figures.js"), opener: HTMLElement) => void} open */
export const figureWords = (text, name, open) => askedWords(text, name, async (opener) => open(await import("./figures.js"), opener));
