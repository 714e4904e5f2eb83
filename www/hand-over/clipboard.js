// @ts-check
/** Copying, where the browser lets us. */
import { DAY_WORDS } from "../language/words/day.js";

/**
 * Copies and says so on the button itself.
 * @param {string} text
 * @param {HTMLElement} button
 * @returns {Promise<boolean>}
 */
export async function copyText(text, button) {
  const name = button.textContent ?? "";
  const copied = await tryCopy(text);
  button.textContent = copied ? DAY_WORDS.copied : DAY_WORDS.copyByHand;
  setTimeout(() => {
    button.textContent = name;
  }, 2000);
  return copied;
}

/** @param {string} text */
export async function tryCopy(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    // From disk without permission, or in a sandboxed frame.
    return false;
  }
}
