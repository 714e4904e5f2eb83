// @ts-check
/** The stops at each pixel of the frame, and the picture that the core paints of them. */
import { ask } from "../../engine/ask.js";
import { askMap } from "../../questions/frame.js";

/**
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("./picture.js").Light} Light
 * @typedef {{across: number, up: number}} Place
 */

/** @param {HTMLCanvasElement} canvas */
export function pixelsOf(canvas) {
  const context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  /** @type {Float32Array | undefined} */
  let stops;
  let image = context.createImageData(1, 1);
  let size = { columns: 0, rows: 0 };

  const rowOf = (/** @type {number} */ up) => Math.min(size.rows - 1, Math.floor((1 - up) * size.rows));

  /** @param {Place} place */
  const at = ({ across, up }) => {
    const column = Math.min(size.columns - 1, Math.floor(across * size.columns));
    return stops?.[rowOf(up) * size.columns + column];
  };

  return {
    at,
    /** What is read is the middle of a pixel: how far up that is. @param {Place} place */
    middle: ({ up }) => 1 - (rowOf(up) + 0.5) / size.rows,
    /** Gives the stops, or the core's refusal. @param {Setup} setup @param {Light} light @param {{columns: number, rows: number}} wanted */
    map(setup, light, wanted) {
      if (wanted.columns !== size.columns || wanted.rows !== size.rows) {
        size = wanted;
        Object.assign(canvas, { width: size.columns, height: size.rows });
        image = context.createImageData(size.columns, size.rows);
      }
      const map = askMap(setup, size, light.uniform, stops);
      stops = map.reply ?? stops;
      return map;
    },
    /** @param {Setup} setup @param {Light} light @param {number} shape @param {{sky: string, ground: string, line: string}} colours */
    paint({ frame, light: { aim } }, light, shape, colours) {
      const ground = at({ across: 0.5, up: frame.dark.at });
      ask("paintFrame", {
        ...size,
        shape,
        horizonAtFrameHeight: frame.horizon,
        rollDeg: aim.rollDeg,
        skyStops: light.skyStops,
        exposedStops: ground === undefined || Number.isNaN(ground) ? light.uniform : ground,
        colours,
      }, /** @type {Float32Array} */ (stops), image.data);
      context.putImageData(image, 0, 0);
    },
  };
}
