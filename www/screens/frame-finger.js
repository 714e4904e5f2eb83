// @ts-check
/** A finger on the picture: slides, tilts, turns or reads. */
import { all, one } from "../parts/dom.js";

/** @typedef {import("../setup.js").Setup} Setup */

/** @param {number} value @param {number} [most] */
const within = (value, most = 1) => Math.min(most, Math.max(0, value));

/**
 * @param {HTMLElement} root
 * @param {import("../app.js").App} app
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

  const follow = (/** @type {PointerEvent} */ event) => {
    if (!drag) return;
    const box = view.getBoundingClientRect();
    if (chosen() === "read") {
      picture.readAt({ across: within((event.clientX - box.left) / box.width), up: within(1 - (event.clientY - box.top) / box.height) });
      return;
    }
    drag.edit = edit((event.clientX - drag.x) / box.width, (drag.y - event.clientY) / box.height);
    const trial = structuredClone(app.setup);
    drag.edit(trial);
    preview(trial);
  };
  view.addEventListener("pointerdown", (/** @type {PointerEvent} */ event) => {
    view.setPointerCapture(event.pointerId);
    drag = { x: event.clientX, y: event.clientY, edit: () => {} };
    if (chosen() === "read") follow(event);
    event.preventDefault();
  });
  view.addEventListener("pointermove", follow);
  view.addEventListener("pointerup", () => {
    const done = drag;
    drag = undefined;
    if (done) app.change(done.edit);
  });
  view.addEventListener("pointercancel", () => {
    drag = undefined;
    preview(undefined);
  });
}
