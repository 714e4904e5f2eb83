// @ts-check
/** Light or dark, as the host page is. */

const DARK = matchMedia("(prefers-color-scheme: dark)");

/**
 * The look that suits what lies behind an element: a host's own dark theme says
 * nothing to the browser, so its background is asked first.
 * @param {Element} element
 * @returns {"day" | "dark"}
 */
export function lookOf(element) {
  for (let at = /** @type {Element | null} */ (element); at; at = parentOf(at)) {
    const parts = getComputedStyle(at).backgroundColor.match(/^rgba?\((\d+), (\d+), (\d+)(?:, ([\d.]+))?\)$/);
    if (!parts || Number(parts[4] ?? 1) < 0.5) continue;
    const [red = 0, green = 0, blue = 0] = parts.slice(1, 4).map(Number);
    return 0.299 * red + 0.587 * green + 0.114 * blue < 128 ? "dark" : "day";
  }
  return DARK.matches ? "dark" : "day";
}

/** @param {Element} element */
function parentOf(element) {
  const root = element.getRootNode();
  return element.parentElement ?? (root instanceof ShadowRoot ? root.host : null);
}

/** Tells when the host may have changed its look. @param {() => void} changed @returns {() => void} stops it */
export function watchLook(changed) {
  const marks = new MutationObserver(changed);
  for (const element of [document.documentElement, document.body]) marks.observe(element, { attributes: true });
  DARK.addEventListener("change", changed);
  return () => {
    marks.disconnect();
    DARK.removeEventListener("change", changed);
  };
}
