// @ts-check
/** The one place that is read out: what a tap has changed, in few words. */
import { one } from "./dom.js";

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
