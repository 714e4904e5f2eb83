// @ts-check
/** What is lost over the picture, as a plain card would look through the glass. */

/** Light as a display shows it. */
const DISPLAY_GAMMA = 2.2;

/**
 * @param {HTMLCanvasElement} canvas
 * @param {(number | undefined)[]} stops row by row from the top; undefined where nothing passes
 * @param {{columns: number, rows: number}} size
 * @param {number} shape width over height of the picture as it is seen
 */
export function showLossMap(canvas, stops, { columns, rows }, shape) {
  canvas.width = columns;
  canvas.height = rows;
  canvas.style.aspectRatio = String(shape);
  const context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  context.fillStyle = "#000";
  context.fillRect(0, 0, columns, rows);
  // The ink of the night look is red; so is its card.
  context.fillStyle = getComputedStyle(canvas).getPropertyValue("--map-light");
  stops.forEach((loss, at) => {
    if (loss === undefined) return;
    context.globalAlpha = 2 ** (-loss / DISPLAY_GAMMA);
    context.fillRect(at % columns, Math.floor(at / columns), 1, 1);
  });
}
