// @ts-check
/** A figure of an answer that can be tapped: what would make it so, and how it is worked out. */
import { el } from "./dom.js";

/** @param {string} text @param {string} name @param {(opener: HTMLElement) => void} open */
export const askedBack = (text, name, open) => el("button", {
  type: "button", class: "plan-stop asked-back", "data-do": name, "data-opens": name.replace("-", " "),
  onclick: (/** @type {Event} */ event) => open(/** @type {HTMLElement} */ (event.currentTarget)),
}, text);
