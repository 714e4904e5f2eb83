// @ts-check
/** A figure of an answer that can be tapped: what would make it so, and how it is worked out. */
import { el } from "./dom.js";

/** @param {string} text @param {string} name @param {(opener: HTMLElement) => void} open */
export const askedBack = (text, name, open) => el("button", {
  type: "button", class: "plan-stop asked-back", "data-do": name, "data-opens": name.replace("-", " "),
  onclick: (/** @type {Event} */ event) => open(/** @type {HTMLElement} */ (event.currentTarget)),
}, text);

/** The same for a sentence that holds figures. @param {string} text @param {string} name @param {(opener: HTMLElement) => void} open */
export function askedWords(text, name, open) {
  const words = askedBack(text, name, open);
  words.className = "asked-back asked-words";
  return words;
}
