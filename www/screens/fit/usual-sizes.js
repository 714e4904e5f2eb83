// @ts-check
/** The sizes of the trade, by name. */
import { ask } from "../../engine/ask.js";
import { say } from "../../language/say.js";
import { fixed } from "../../language/numbers.js";
import { panelName, sourceText } from "../../language/words/sizes.js";

/** @typedef {Partial<import("../../api/glasscall.js").OpeningRequest>} Shape */
/** @typedef {{name: string, source: string, shape: Shape}} Size */

/** @returns {Size[]} */
export function usualSizes() {
  const { threads = [], panels = [] } = ask("sizes", {}).reply ?? {};
  return [
    ...panels.map((panel) => ({
      name: say("{size}, clear {clear}", {
        size: panelName(panel.name),
        clear: `${fixed(panel.clearWidthMm, 1)}${panel.round ? "" : ` × ${fixed(panel.clearHeightMm, 1)}`}`,
      }),
      source: sourceText(panel.source),
      shape: panel.round ? circle(panel.clearWidthMm) : /** @type {Shape} */ ({ shape: "rectangle", widthMm: panel.clearWidthMm, heightMm: panel.clearHeightMm }),
    })),
    ...threads.map((thread) => ({
      name: say("{size}, clear {clear}", {
        size: say("thread {diameter}", { diameter: fixed(thread.threadMm, 1) }),
        clear: fixed(thread.clearDiameterMm, 1),
      }),
      source: sourceText(thread.source),
      shape: circle(thread.clearDiameterMm),
    })),
  ];
}

/** @param {number} diameterMm @returns {Shape} */
const circle = (diameterMm) => ({ shape: "circle", diameterMm });
