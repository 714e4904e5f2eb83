// @ts-check
/** The names of the lines of equal stops in the picture of the frame. */
import { thirdsLabel } from "../../language/words/frame.js";
import { el } from "../../parts/dom.js";

/** Labels nearer to each other than this would cover each other, in pixels. */
const LABEL_ROOM = 20;
/** Stops that rounding may differ by on even glass. */
const LEVEL_NOISE = 1e-4;
/** Where lines are labelled, as shares of the width and of the height. */
const LABEL_COLUMNS = [0.5, 0.14, 0.86];
const LABEL_ROW = 0.5;

/**
 * Names the lines where they cross three columns and one row of the picture.
 * @param {HTMLElement} root
 * @param {Float32Array} stops
 * @param {{columns: number, rows: number}} size
 */
export function labelLines(root, stops, { columns, rows }) {
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
