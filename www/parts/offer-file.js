// @ts-check
/** A text as a file to keep. */
import { el } from "./dom.js";

/** The browser has taken the file long before this. */
const TAKEN_MS = 10_000;

/** @param {string} text @param {string} name @param {string} type */
export function offerFile(text, name, type) {
  const url = URL.createObjectURL(new Blob([text], { type }));
  const link = el("a", { href: url, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), TAKEN_MS);
}
