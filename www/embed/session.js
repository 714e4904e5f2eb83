// @ts-check
/**
 * What was typed into an element outlives a reload, where the host lets anything
 * be kept: in this tab only, until it is closed, and only for what the host
 * presets now.
 */
import { PRESETS } from "./presets.js";

/** @param {HTMLElement} element */
function nameOf(element) {
  const others = [...document.querySelectorAll(element.localName)];
  const preset = PRESETS.map((name) => element.getAttribute(name) ?? "").join("\n");
  return `glasscall-setup\n${location.pathname}\n${others.indexOf(element)}\n${preset}`;
}

/** @param {HTMLElement} element @returns {string | null} the text of a link */
export function keptFor(element) {
  try {
    return sessionStorage.getItem(nameOf(element));
  } catch {
    return null; // A sandboxed page has no storage; reading it throws.
  }
}

/** @param {HTMLElement} element @param {string} link */
export function keepFor(element, link) {
  try {
    sessionStorage.setItem(nameOf(element), link);
  } catch {
    // As above, or there is no room left.
  }
}
