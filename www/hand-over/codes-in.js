// @ts-check
/** The texts of the square codes in a picture. */
import { ask } from "../engine/ask.js";

/** Pixels a side that are looked at; more only takes time. */
const LONGEST_SIDE = 1_280;
const MIDDLE_SIDE = 640;

/** @param {File} file */
export async function textsInFile(file) {
  try {
    const picture = await createImageBitmap(file);
    const texts = textsIn(picture, picture.width, picture.height);
    picture.close();
    return texts;
  } catch (error) {
    // Not a picture, or one the browser cannot open.
    if (error instanceof DOMException) return [];
    throw error;
  }
}

/**
 * A picture from a file is looked at in every way. Of the camera's, of which there
 * is soon another, all is looked at once, then the middle twice: a phone must not
 * stand still for it.
 * @param {CanvasImageSource} source @param {number} width @param {number} height @param {boolean} [closer] the middle of the camera's
 */
export function textsIn(source, width, height, closer) {
  const part = closer ? 0.6 : 1;
  const scale = Math.min(1, (closer ? MIDDLE_SIDE : LONGEST_SIDE) / (part * Math.max(width, height)));
  const shrunk = (/** @type {number} */ side) => Math.max(1, Math.round(side * part * scale));
  const [columns, rows] = [shrunk(width), shrunk(height)];
  const canvas = new OffscreenCanvas(columns, rows);
  const paper = canvas.getContext("2d", { willReadFrequently: true });
  if (!paper) return [];
  const rest = (1 - part) / 2;
  paper.drawImage(source, rest * width, rest * height, part * width, part * height, 0, 0, columns, rows);
  const { data } = paper.getImageData(0, 0, columns, rows);
  const tries = closer === undefined ? {} : { tries: closer ? 2 : 1 };
  return ask("readCode", { columns, rows, ...tries }, data).reply?.texts ?? [];
}
