// @ts-check
/** A finger on the picture: a tap reads, the handle at the line slides it; all else scrolls. */
import { one } from "../../parts/dom.js";

/** @typedef {import("../../document/setup.js").Setup} Setup */

/** A finger that moves less than this, in pixels, has tapped. */
const TAP = 8;

/** @param {number} value */
const within = (value) => Math.min(1, Math.max(0, value));

/**
 * @param {HTMLElement} root
 * @param {import("../../start/start.js").App} app
 * @param {{readAt: (place: {across: number, up: number}) => void}} picture
 * @param {(trial: Setup | undefined) => void} preview
 * @param {{lineNow: () => number, slides: (line: number) => void}} answer
 */
export function mountFinger(root, app, picture, preview, answer) {
  const view = one(root, ".frame-view");
  const handle = one(root, ".frame-handle");
  /** @type {{x: number, y: number, slides: boolean, to: number} | undefined} */
  let drag;

  const readUnder = (/** @type {PointerEvent} */ { clientX, clientY }) => {
    const box = view.getBoundingClientRect();
    picture.readAt({ across: within((clientX - box.left) / box.width), up: within(1 - (clientY - box.top) / box.height) });
  };
  const slid = (/** @type {PointerEvent} */ { clientY }) =>
    within(answer.lineNow() + ((drag?.y ?? 0) - clientY) / view.getBoundingClientRect().height);

  view.addEventListener("pointerdown", (/** @type {PointerEvent} */ event) => {
    // The name of another line is a button.
    if (/** @type {Element} */ (event.target).closest(".frame-other")) return;
    // A mouse has a wheel to scroll with: it slides the line from anywhere.
    const slides = event.pointerType === "mouse" || handle.contains(/** @type {Node} */ (event.target));
    drag = { x: event.clientX, y: event.clientY, slides, to: answer.lineNow() };
    if (!slides) return;
    view.setPointerCapture(event.pointerId);
    event.preventDefault();
  });
  view.addEventListener("pointermove", (/** @type {PointerEvent} */ event) => {
    if (!drag?.slides) return;
    drag.to = slid(event);
    const trial = structuredClone(app.setup);
    trial.frame.line = drag.to;
    preview(trial);
  });
  view.addEventListener("pointerup", (/** @type {PointerEvent} */ event) => {
    const done = drag;
    drag = undefined;
    if (!done) return;
    if (Math.hypot(event.clientX - done.x, event.clientY - done.y) < TAP) {
      readUnder(event);
      preview(undefined);
    } else if (done.slides) {
      answer.slides(done.to);
      app.change((setup) => {
        setup.frame.line = done.to;
      });
    }
  });
  view.addEventListener("pointercancel", () => {
    drag = undefined;
    preview(undefined);
  });
}
