// @ts-check
/** The picture of the frame: drawn by the core, labelled, read and dragged. */
import { readoutText } from "../../language/words/frame.js";
import { one } from "../../parts/dom.js";
import { labelLines } from "./line-labels.js";
import { pixelsOf } from "./pixels.js";

/**
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("./pixels.js").Place} Place
 */

/** More pixels than this a hand cannot tell from a smooth picture. */
const MOST_COLUMNS = 480;

/**
 * @typedef {object} Light
 * @property {number} uniform stops of the even glass
 * @property {number} skyStops how much brighter the sky is than the ground
 */

/**
 * @param {HTMLElement} root the screen
 * @returns what draws the picture of a set-up and reads it
 */
export function mountPicture(root) {
  const view = one(root, ".frame-view");
  const cross = one(view, ".frame-cross");
  const pixels = pixelsOf(/** @type {HTMLCanvasElement} */ (one(view, "canvas")));
  /** @type {Place} */
  let reading = { across: 0.5, up: 0.75 };

  const read = () => {
    cross.style.left = `${reading.across * 100}%`;
    cross.style.top = `${(1 - reading.up) * 100}%`;
    one(root, ".frame-readout").textContent = readoutText(pixels.at(reading), reading);
  };

  /**
   * Draws at once. Gives the core's refusal, if it has one.
   * @param {Setup} setup
   * @param {Light} light
   */
  const draw = (setup, light) => {
    const started = performance.now();
    const { sensor, lens } = setup;
    const shape = (sensor.widthMm * (lens.squeeze ?? 1)) / sensor.heightMm;
    view.style.aspectRatio = String(shape);
    view.style.setProperty("--frame-shape", String(shape));
    const wide = Math.max(1, Math.round(view.clientWidth * Math.min(2, devicePixelRatio)));
    const columns = Math.min(MOST_COLUMNS, wide);
    const size = { columns, rows: Math.max(1, Math.round(columns / shape)) };
    const map = pixels.map(setup, light, size);
    if (!map.reply) return map;
    const style = getComputedStyle(view);
    const colour = (/** @type {string} */ role) => style.getPropertyValue(role).trim();
    pixels.paint(setup, light, shape, { sky: colour("--frame-sky"), ground: colour("--frame-ground"), line: colour("--frame-line") });
    labelLines(one(view, ".frame-labels"), map.reply, size);
    read();
    view.dataset.drawnIn = (performance.now() - started).toFixed(1);
    return {};
  };

  return {
    draw,
    at: pixels.at,
    middle: pixels.middle,
    /** @param {Place} place */
    readAt(place) {
      reading = place;
      read();
    },
    get reading() {
      return reading;
    },
  };
}
