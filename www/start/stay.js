// @ts-check
/** Asks the browser once not to throw out what is kept. */

let asked = false;
/** A case of one's own should not be thrown out when the device runs full. */
export function askToStay() {
  if (asked || window.top !== window) return;
  asked = true;
  // Where it is not offered, or not granted, what is kept is kept as before.
  navigator.storage?.persist?.().catch(() => {});
}
