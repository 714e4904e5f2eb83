// @ts-check
/** What the host tells the frame; heard from before the calculator has started. */

/** @type {{look: string | null} | undefined} */
let waiting;
/** @type {((look: string | null) => void) | undefined} */
let listener;

window.addEventListener("message", ({ source, data }) => {
  if (source !== window.parent || data?.type !== "glasscall:look") return;
  const look = typeof data.look === "string" ? data.look : null;
  if (listener) listener(look);
  else waiting = { look };
});

/** @param {(look: string | null) => void} tell */
export function onLook(tell) {
  listener = tell;
  if (waiting) tell(waiting.look);
}
