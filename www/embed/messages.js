// @ts-check
/** What the host tells the frame, before the calculator has started too (before-paint.js). */

/** @param {(look: string | null) => void} tell */
export function onLook(tell) {
  const hear = (/** @type {MessageEvent} */ { source, data }) => {
    if (source !== window.parent || data?.type !== "glasscall:look") return;
    tell(typeof data.look === "string" ? data.look : null);
  };
  const before = /** @type {any} */ (window).glasscallHeard;
  if (before) hear(before);
  window.addEventListener("message", hear);
}
