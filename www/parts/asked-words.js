// @ts-check
/** A sentence of an answer that can be tapped for the figures in it. */
import { askedBack } from "./asked-back.js";

/** @param {string} text @param {string} name @param {(opener: HTMLElement) => void} open */
export function askedWords(text, name, open) {
  const words = askedBack(text, name, open);
  words.className = "asked-back asked-words";
  return words;
}
