// @ts-check
/** The picture of the frame: drawn by the core, labelled, read and dragged. */
import { ask } from "../../engine/ask.js";
import { askMap } from "../../questions/frame.js";
import { readoutText, thirdsLabel } from "../../language/words/frame.js";
import { el, one } from "../../parts/dom.js";

/**
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {{across: number, up: number}} Place
 */

/** More pixels than this a hand cannot tell from a smooth picture. */
const MOST_COLUMNS = 480;
/** Labels nearer to each other than this would cover each other, in pixels. */
const LABEL_ROOM = 20;
/** Stops that rounding may differ by on even glass. */
const LEVEL_NOISE = 1e-4;
/** Where lines are labelled, as shares of the width and of the height. */
const LABEL_COLUMNS = [0.5, 0.14, 0.86];
const LABEL_ROW = 0.5;

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
  const canvas = /** @type {HTMLCanvasElement} */ (one(view, "canvas"));
  const labels = one(view, ".frame-labels");
  const cross = one(view, ".frame-cross");
  const context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  /** @type {Place} */
  let reading = { across: 0.5, up: 0.75 };
  /** @type {Float32Array | undefined} */
  let stops;
  /** @type {ImageData | undefined} */
  let image;
  let size = { columns: 0, rows: 0 };

  /** @param {Setup} setup */
  const shapeOf = ({ sensor, lens }) => (sensor.widthMm * (lens.squeeze ?? 1)) / sensor.heightMm;

  /** @param {Place} place */
  const at = ({ across, up }) => {
    const column = Math.min(size.columns - 1, Math.floor(across * size.columns));
    const row = Math.min(size.rows - 1, Math.floor((1 - up) * size.rows));
    return stops?.[row * size.columns + column];
  };

  const read = () => {
    cross.style.left = `${reading.across * 100}%`;
    cross.style.top = `${(1 - reading.up) * 100}%`;
    one(root, ".frame-readout").textContent = readoutText(at(reading), reading);
  };

  /**
   * Draws at once. Gives the core's refusal, if it has one.
   * @param {Setup} setup
   * @param {Light} light
   */
  const draw = (setup, light) => {
    const started = performance.now();
    const shape = shapeOf(setup);
    view.style.aspectRatio = String(shape);
    view.style.setProperty("--frame-shape", String(shape));
    const wide = Math.max(1, Math.round(view.clientWidth * Math.min(2, devicePixelRatio)));
    const columns = Math.min(MOST_COLUMNS, wide);
    const rows = Math.max(1, Math.round(columns / shape));
    if (columns !== size.columns || rows !== size.rows || !image) {
      size = { columns, rows };
      Object.assign(canvas, { width: columns, height: rows });
      image = context.createImageData(columns, rows);
    }
    const map = askMap(setup, size, light.uniform, stops);
    if (!map.reply) return map;
    stops = map.reply;
    const { frame } = setup;
    const ground = at({ across: 0.5, up: frame.dark.at });
    const style = getComputedStyle(view);
    const colour = (/** @type {string} */ role) => style.getPropertyValue(role).trim();
    ask("paintFrame", {
      ...size,
      shape,
      horizonAtFrameHeight: frame.horizon,
      rollDeg: setup.light.aim.rollDeg,
      skyStops: light.skyStops,
      exposedStops: ground === undefined || Number.isNaN(ground) ? light.uniform : ground,
      colours: { sky: colour("--frame-sky"), ground: colour("--frame-ground"), line: colour("--frame-line") },
    }, /** @type {Float32Array} */ (stops), image.data);
    context.putImageData(image, 0, 0);
    label(labels, stops, size);
    read();
    view.dataset.drawnIn = (performance.now() - started).toFixed(1);
    return {};
  };

  return {
    draw,
    at,
    /** What is read is the middle of a pixel: how far up that is. @param {Place} place */
    middle: ({ up }) => 1 - (Math.min(size.rows - 1, Math.floor((1 - up) * size.rows)) + 0.5) / size.rows,
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

/**
 * Names the lines where they cross three columns and one row of the picture.
 * @param {HTMLElement} root
 * @param {Float32Array | undefined} stops
 * @param {{columns: number, rows: number}} size
 */
function label(root, stops, { columns, rows }) {
  if (!stops) return;
  const scale = root.clientWidth / columns;
  /** @type {{x: number, y: number, text: string}[]} */
  const found = [];
  const put = (/** @type {number} */ column, /** @type {number} */ row, /** @type {string} */ text) => {
    const x = column * scale;
    const y = row * scale;
    const free = found.every((other) => Math.abs(other.x - x) > 2 * LABEL_ROOM || Math.abs(other.y - y) > LABEL_ROOM);
    if (free) found.push({ x, y, text });
  };
  const along = (/** @type {number} */ from, /** @type {number} */ step, /** @type {number} */ count, /** @type {(nth: number) => [number, number]} */ place) => {
    for (let nth = 1; nth < count; nth += 1) {
      const before = stops[from + (nth - 1) * step] ?? NaN;
      const here = stops[from + nth * step] ?? NaN;
      const [was, is] = [Math.floor(3 * before), Math.floor(3 * here)];
      // More than one at once is the horizon, which is no line of its own.
      const crossed = Math.abs(was - is) === 1 && Math.abs(before - here) > LEVEL_NOISE;
      if (crossed) put(...place(nth), thirdsLabel(Math.max(was, is)));
    }
  };
  for (const share of LABEL_COLUMNS) {
    const column = Math.floor(share * columns);
    along(column, columns, rows, (row) => [column, row]);
  }
  const row = Math.floor(LABEL_ROW * rows);
  along(row * columns, 1, columns, (column) => [column, row]);
  while (root.children.length < found.length) root.append(el("span", { class: "frame-label" }));
  [...root.children].forEach((child, nth) => {
    const made = /** @type {HTMLElement} */ (child);
    const told = found[nth];
    made.hidden = !told;
    if (!told) return;
    const { x, y, text } = told;
    made.textContent = text;
    made.style.transform = `translate(${x.toFixed(0)}px, ${y.toFixed(0)}px) translate(-50%, -50%)`;
  });
}
