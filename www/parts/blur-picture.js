// @ts-check
/** A background point as each stop draws it, on a strip of the picture. */
import { say } from "../language/say.js";
import { fixed, stopLabel } from "../language/numbers.js";

const SVG = "http://www.w3.org/2000/svg";
const WIDTH = 320;
const HEIGHT = 64;
/** A strip is the whole picture's height or one of these shares of it. */
const STRIPS = [0.02, 0.05, 0.1, 0.25, 0.5, 1];

/** @param {string} tag @param {Record<string, string | number>} attributes */
function svg(tag, attributes) {
  const made = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
  return made;
}

/**
 * @param {{label: string, share: number, chosen: boolean}[]} stops discs as shares of the picture's height
 * @returns {{picture: SVGElement, strip: number}} the strip, and what share of the picture’s height it is
 */
export function blurPicture(stops) {
  const largest = Math.max(...stops.map(({ share }) => share));
  const strip = STRIPS.find((share) => share >= largest * 1.1) ?? 1;
  const picture = /** @type {SVGElement} */ (svg("svg", {
    class: "blur-picture",
    viewBox: `0 0 ${WIDTH} ${HEIGHT}`,
    role: "img",
    "aria-label": say("A background point: {discs} of the picture’s height.", {
      discs: stops.map(({ label, share }) => `${stopLabel(label)} ${fixed(share * 100, 1)} %`).join(", "),
    }),
  }));
  picture.append(svg("rect", { class: "blur-frame", x: 0.5, y: 0.5, width: WIDTH - 1, height: HEIGHT - 1 }));
  stops.forEach(({ share, chosen }, nth) => {
    picture.append(svg("circle", {
      class: chosen ? "blur-disc blur-disc-chosen" : "blur-disc",
      cx: (WIDTH * (nth + 0.5)) / stops.length,
      cy: HEIGHT / 2,
      // Larger than the strip it is only cut off.
      r: Math.max(0.6, Math.min(share / strip, 4) * (HEIGHT / 2)),
    }));
  });
  return { picture, strip };
}
