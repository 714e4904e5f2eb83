// @ts-check
/** What opens from below over the screen and goes at a tap beside it. */
import { say } from "../language/say.js";
import { all, el, one } from "./dom.js";

/** Drawers that stand in the page as `details`: their summary opens them. @param {HTMLElement} root */
export function mountDrawers(root) {
  for (const drawer of all(root, "details.drawer")) {
    const close = () => {
      drawer.removeAttribute("open");
      one(drawer, "summary").focus();
    };
    for (const done of all(drawer, "[data-do=close-drawer]")) done.addEventListener("click", close);
    drawer.addEventListener("keydown", (event) => {
      if (event.key === "Escape" && drawer.hasAttribute("open")) close();
    });
    document.addEventListener("pointerdown", ({ target }) => {
      if (!drawer.contains(/** @type {Node} */ (target))) drawer.removeAttribute("open");
    });
  }
}

/** The one that is open, and what closes it. @type {() => void} */
let closeOpen = () => {};

/**
 * A drawer made for one choice; it goes when the choice is made.
 * @param {HTMLElement} opener takes the focus back
 * @param {string} title
 * @param {(close: () => void) => Node[]} inside
 */
export function openDrawer(opener, title, inside) {
  closeOpen();
  const close = () => {
    closeOpen = () => {};
    document.removeEventListener("pointerdown", beside);
    drawer.remove();
    // What opened it may have been drawn anew.
    const again = opener.isConnected ? opener : document.querySelector(`[data-opens="${CSS.escape(opener.dataset.opens ?? "")}"]`);
    if (again instanceof HTMLElement) again.focus({ preventScroll: true });
  };
  const head = el("h3", { class: "drawer-title", tabindex: "-1", text: title });
  const drawer = el("section", { class: "drawer-body drawer-made", role: "dialog", "aria-label": title },
    el("div", { class: "drawer-head" }, head, el("button", { type: "button", onclick: close }, say("Done"))),
    ...inside(close));
  const beside = (/** @type {PointerEvent} */ { target }) => {
    if (!drawer.contains(/** @type {Node} */ (target))) close();
  };
  drawer.addEventListener("keydown", (event) => {
    if (event.key === "Escape") close();
  });
  // A link leads to what it would cover.
  drawer.addEventListener("click", ({ target }) => {
    if (/** @type {Element} */ (target).closest("a[href^='#']")) close();
  });
  document.body.append(drawer);
  closeOpen = close;
  document.addEventListener("pointerdown", beside);
  head.focus({ preventScroll: true });
}
