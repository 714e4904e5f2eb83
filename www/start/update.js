// @ts-check
/** The service worker: makes the page work with no signal, updates when asked. */
import { scriptUrl } from "../engine/script-address.js";

/** How long a new version may take to begin before it is asked again. */
const AGAIN_MS = 2000;

/**
 * Registers the worker where there can be one.
 * @param {(takeOver: () => void) => void} onReady a new version waits
 */
export async function watchForUpdate(onReady) {
  // From disk there is nothing to cache; in a frame the host page decides, and
  // a sandboxed frame may not even ask.
  if (!location.protocol.startsWith("http") || window.top !== window) return;
  if (!("serviceWorker" in navigator)) return;
  let accepted = false;
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    // Another window took the update. This page still runs the old version and
    // what it has not loaded yet would come from the new one.
    if (accepted || document.hidden) location.reload();
    else onReady(() => location.reload());
  });
  try {
    const registration = await navigator.serviceWorker.register(scriptUrl("sw.js"), { updateViaCache: "none" });
    const offer = () => {
      if (!registration.waiting || !navigator.serviceWorker.controller) return;
      onReady(() => {
        accepted = true;
        // Said again until it is heard: a worker that is being stopped hears nothing.
        const ask = () => registration.waiting?.postMessage("take over");
        ask();
        setInterval(ask, AGAIN_MS);
      });
    };
    offer();
    registration.addEventListener("updatefound", () => {
      registration.installing?.addEventListener("statechange", offer);
    });
  } catch {
    // No worker, no offline copy; the page itself works on.
  }
}
