// @ts-check
/** A finger on the picture: slides, tilts, turns or reads. */
import { all, one } from "../../parts/dom.js";

/** @typedef {import("../../document/setup.js").Setup} Setup */

/** A finger that moves less than this, in pixels, has tapped. */
const TAP = 4;

/** @param {number} value */
const within = (value) => Math.min(1, Math.max(0, value));

/**
 * @param {HTMLElement} root
 * @param {import("../../start/start.js").App} app
 * @param {{readAt: (place: {across: number, up: number}) => void}} picture
 * @param {(trial: Setup | undefined) => void} preview
 */
export function mountFinger(root, app, picture, preview) {
  const view = one(root, ".frame-view");
  const chosen = () => all(root, "[name=finger]").map((radio) => /** @type {HTMLInputElement} */ (radio)).find((radio) => radio.checked)?.value;
  /** @type {{x: number, y: number, edit: (setup: Setup) => void} | undefined} */
  let drag;

  /** What moving so far from where the finger came down does. @param {number} across @param {number} up @returns {(setup: Setup) => void} */
  const edit = (across, up) => {
    const { frame } = app.setup;
    switch (chosen()) {
      case "line":
        return (setup) => {
          setup.frame.line = within(frame.line + up);
        };
      case "horizon":
        return (setup) => {
          setup.frame.horizon = within(frame.horizon + up);
        };
      case "turn":
        return (setup) => {
          const turned = ((frame.sky.turnDeg ?? 0) + 180 * across + 180) % 180;
          setup.frame.sky.turnDeg = Number(turned.toFixed(1));
        };
      default:
        return () => {};
    }
  };

  const readUnder = (/** @type {PointerEvent} */ { clientX, clientY }) => {
    const box = view.getBoundingClientRect();
    picture.readAt({ across: within((clientX - box.left) / box.width), up: within(1 - (clientY - box.top) / box.height) });
  };

  const follow = (/** @type {PointerEvent} */ event) => {
    if (!drag) return;
    const box = view.getBoundingClientRect();
    if (chosen() === "read") return readUnder(event);
    drag.edit = edit((event.clientX - drag.x) / box.width, (drag.y - event.clientY) / box.height);
    const trial = structuredClone(app.setup);
    drag.edit(trial);
    preview(trial);
    return undefined;
  };
  view.addEventListener("pointerdown", (/** @type {PointerEvent} */ event) => {
    view.setPointerCapture(event.pointerId);
    drag = { x: event.clientX, y: event.clientY, edit: () => {} };
    if (chosen() === "read") follow(event);
    event.preventDefault();
  });
  view.addEventListener("pointermove", follow);
  view.addEventListener("pointerup", (/** @type {PointerEvent} */ event) => {
    const done = drag;
    drag = undefined;
    if (!done) return;
    // A tap reads, whatever a drag would do.
    if (Math.hypot(event.clientX - done.x, event.clientY - done.y) < TAP) {
      readUnder(event);
      preview(undefined);
    } else app.change(done.edit);
  });
  view.addEventListener("pointercancel", () => {
    drag = undefined;
    preview(undefined);
  });
}
