// @ts-check
/** Whether there is a signal, and whether the page can do without: said, never announced. */
import { say } from "../language/say.js";
import { one } from "../parts/dom.js";

export function mountSignal() {
  const mark = one(document, "#signal");
  const show = () => (mark.textContent = navigator.onLine ? "" : say("no signal"));
  for (const kind of ["online", "offline"]) window.addEventListener(kind, show);
  show();
  const copy = one(document, "#offline-copy");
  if (!location.protocol.startsWith("http")) copy.textContent = say("This file is the whole tool.");
  // In a frame the host page decides, and a sandboxed one may not even ask.
  else if (window.top === window && "serviceWorker" in navigator) {
    copy.textContent = say("Not kept for use with no signal yet: leave this page open for a moment.");
    navigator.serviceWorker.ready.then(() => {
      copy.textContent = say("This device keeps the whole tool: it opens with no signal.");
    });
  }
}
