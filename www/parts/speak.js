// @ts-check
/** The one place that is read out: what a tap has changed, in few words. */
import { all, one } from "./dom.js";

let last = "";

/** More than this is not listened to while a hand works. */
const MOST_WORDS = 12;

/** @param {string} told */
export function speak(told) {
  const text = told.split(/\s+/).slice(0, MOST_WORDS).join(" ");
  if (text === last) return;
  last = text;
  one(document, "#spoken").textContent = text;
}

/** Answers that are written anew, tables and all: the first line of them is read out. @param {HTMLElement} root */
export function speakAnswers(root) {
  const watch = new MutationObserver((changes) => {
    const box = /** @type {HTMLElement | undefined} */ (changes.at(-1)?.target);
    if (box?.checkVisibility()) speak((box.querySelector("p, li, caption") ?? box).textContent ?? "");
  });
  for (const box of all(root, "[data-speaks]")) watch.observe(box, { childList: true });
}
