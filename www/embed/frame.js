// @ts-check
/**
 * The page inside a frame. It may be sandboxed: no storage, no worker, no
 * origin. The fragment says what to show, messages tell the host how tall.
 *
 * Fragment: `s` the set-up, or `reading`, `want`, `kit`, `slots` in words;
 * `screen`, `mode` `live`, `look` `day`, `sun`, `night`, `dark`, `lang` `en`, `de`.
 * To the host: `{type: "glasscall:height", height}` and, when something was typed,
 * `{type: "glasscall:change", setup, reading, want, needStops, pieces}`. From the
 * host: `{type: "glasscall:look", look}`.
 */
import { onLook } from "./messages.js";
import { PRESETS } from "./presets.js";

/** Starts it, once the element is defined. */
export function startFrame() {
  const shown = /** @type {HTMLElement} */ (document.querySelector("glasscall-setup"));
  /** @param {string} name @param {string | null} value */
  const set = (name, value) => {
    if (value === null) shown.removeAttribute(name);
    else if (shown.getAttribute(name) !== value) shown.setAttribute(name, value);
  };
  const takeFragment = () => {
    const asked = new URLSearchParams(location.hash.slice(1));
    for (const name of ["look", "screen", "mode", ...PRESETS.filter((one) => one !== "setup")]) set(name, asked.get(name));
    set("setup", asked.get("s"));
  };
  // Whoever holds the frame may know how tall it is and what is typed into it.
  const tell = (/** @type {object} */ message) => {
    if (window.parent !== window) window.parent.postMessage(message, "*");
  };
  shown.toggleAttribute("framed", true);
  takeFragment();
  window.addEventListener("hashchange", takeFragment);
  onLook((look) => set("look", look));
  shown.addEventListener("glasscall-change", (event) => {
    const { detail } = /** @type {CustomEvent} */ (event);
    tell({ type: "glasscall:change", ...detail });
    // A browser that restores frames when the host is loaded again finds what was typed.
    const kept = new URLSearchParams(location.hash.slice(1));
    for (const name of PRESETS) kept.delete(name);
    kept.set("s", detail.setup);
    history.replaceState(null, "", `#${kept}`);
  });
  new ResizeObserver(() => {
    const height = Math.ceil(document.documentElement.getBoundingClientRect().height);
    tell({ type: "glasscall:height", height });
  }).observe(document.documentElement);
  document.documentElement.dataset.ready = "yes";
}
