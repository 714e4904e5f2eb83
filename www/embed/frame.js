// @ts-check
/**
 * The page inside a frame. It may be sandboxed: no storage, no worker, no
 * origin. The fragment says what to show, messages tell the host how tall.
 *
 * Fragment: `s` the set-up, `mode` `live`, `look` `day`, `sun`, `night`, `dark`,
 * `lang` `en`, `de`.
 * To the host: `{type: "glasscall:height", height}`. From the host:
 * `{type: "glasscall:look", look}`.
 */
import { onLook } from "./messages.js";
import { GlasscallSetup } from "./element.js";

const shown = /** @type {GlasscallSetup} */ (document.querySelector("glasscall-setup"));

/** @param {string} name @param {string | null} value */
function set(name, value) {
  if (value === null) shown.removeAttribute(name);
  else shown.setAttribute(name, value);
}

function takeFragment() {
  const asked = new URLSearchParams(location.hash.slice(1));
  set("look", asked.get("look"));
  set("mode", asked.get("mode"));
  set("setup", asked.get("s"));
}

takeFragment();
window.addEventListener("hashchange", takeFragment);
onLook((look) => set("look", look));
new ResizeObserver(() => {
  const height = Math.ceil(document.documentElement.getBoundingClientRect().height);
  // Any host may know how tall it is; nothing else is told.
  if (window.parent !== window) window.parent.postMessage({ type: "glasscall:height", height }, "*");
}).observe(document.documentElement);
document.documentElement.dataset.ready = "yes";
