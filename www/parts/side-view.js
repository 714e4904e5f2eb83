// @ts-check
/**
 * Lens and rig from the side, to scale: the light of the picture's height on
 * its way out, the slots where they stand, the glass that is in them.
 */
import { isWhole } from "../engine/ask.js";
import { askFit, openingsOf, pupilOf } from "../questions/fit.js";
import { say } from "../language/say.js";
import { lengthText } from "../language/numbers.js";

/** @typedef {import("../document/setup.js").Setup} Setup */

const NS = "http://www.w3.org/2000/svg";
const WIDTH = 200;
const HEIGHT = 190;
/** Where nobody has said how far a slot stands out. */
const GAP_MM = 12;
/** How much of the lens is seen behind its rim at least. */
const BODY_MM = 34;

/** @param {string} tag @param {Record<string, string | number>} attributes @param {...(Node | string)} inside */
function svg(tag, attributes, ...inside) {
  const made = document.createElementNS(NS, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
  made.append(...inside);
  return made;
}

/** Half the clear height of an opening. @param {import("../api/glasscall.js").OpeningRequest} opening */
const halfHeight = ({ diameterMm, heightMm }) => (diameterMm ?? heightMm ?? 0) / 2;

/** @param {Setup} setup */
export function sideView(setup) {
  const { slots } = setup.rig;
  const found = openingsOf(setup);
  const places = slots.map((slot, at) => {
    const opening = found.find((one) => one.slot === slot.id)?.opening;
    return {
      id: slot.id,
      z: opening?.distanceFromRimMm ?? (at + 1) * GAP_MM,
      known: opening !== undefined,
      half: opening ? halfHeight(opening) : undefined,
      piece: setup.inPlace.find((placed) => placed.slot === slot.id)?.piece,
    };
  });
  const { place } = pupilOf(setup);
  const depth = typeof place === "number" ? place : undefined;
  const { focalLengthMm, widestAperture } = setup.lens;
  const slope = focalLengthMm === undefined ? undefined : setup.sensor.heightMm / 2 / focalLengthMm;
  const pupil = focalLengthMm === undefined ? undefined : focalLengthMm / setup.shot.aperture / 2;
  const far = Math.max(GAP_MM, ...places.map(({ z }) => z)) + GAP_MM;
  const back = Math.max(BODY_MM, depth ?? 0) + 6;
  const front = Math.max(24, focalLengthMm === undefined ? 0 : focalLengthMm / (widestAperture ?? setup.shot.aperture) / 2 + 6);
  const lightAt = (/** @type {number} */ z) =>
    (slope === undefined || pupil === undefined || depth === undefined ? undefined : pupil + slope * (z + depth));
  const high = Math.max(front, lightAt(far) ?? 0, ...places.map(({ half = 40 }) => half + 8));
  const scale = Math.min((WIDTH - 8) / (far + back), (HEIGHT - 26) / (2 * high));
  const x = (/** @type {number} */ z) => 4 + ((WIDTH - 8) - scale * (far + back)) / 2 + scale * (back + z);
  const y = (/** @type {number} */ up) => (HEIGHT - 22) / 2 - scale * up;
  // The first answer does not wait for what shades; the next time it is known.
  const reply = isWhole() ? askFit(setup).reply : undefined;

  const picture = svg("svg", { viewBox: `0 0 ${WIDTH} ${HEIGHT}`, class: "side-picture", role: "img", "aria-label": told(setup, places) });
  const lit = lightAt(far);
  if (lit !== undefined && pupil !== undefined && depth !== undefined) {
    picture.append(svg("path", { class: "side-light", d: `M${x(-depth)} ${y(pupil)}L${x(far)} ${y(lit)}V${y(-lit)}L${x(-depth)} ${y(-pupil)}Z` }));
  }
  picture.append(svg("g", { "data-part": "lens", class: "side-lens" },
    svg("rect", { class: "side-body", x: x(-back + 4), y: y(front), width: scale * (back - 4), height: scale * 2 * front, rx: 4 }),
    svg("path", { class: "side-rim", d: `M${x(0)} ${y(front)}V${y(-front)}` }),
    ...(depth === undefined || pupil === undefined ? [] : [svg("path", { class: "side-pupil", d: `M${x(-depth)} ${y(front - 3)}V${y(pupil)}M${x(-depth)} ${y(-pupil)}V${y(-front + 3)}` })])));
  const gaps = places.slice(1).map(({ z }, at) => Math.abs(z - (places[at]?.z ?? z)));
  const apart = gaps.length > 0 ? Math.min(...gaps) : GAP_MM;
  for (const { id, z, known, half = 40, piece } of places) {
    const verdict = reply?.openings.find(({ name }) => name === id)?.verdict;
    const edge = high - 2;
    const part = svg("g", { "data-part": `slot ${id}`, class: verdict === "shades" || verdict === "clips" ? "side-slot side-slot-bad" : "side-slot" });
    part.append(
      // As wide as there is room for a finger.
      svg("rect", { class: "side-hit", x: x(z) - Math.max(8, scale * apart / 2), y: 0, width: Math.max(16, scale * apart), height: HEIGHT }),
      svg("path", { class: known ? "side-edge" : "side-edge side-unknown", d: `M${x(z)} ${y(edge)}V${y(half)}M${x(z)} ${y(-half)}V${y(-edge)}` }),
      piece === undefined
        ? svg("path", { class: "side-open", d: `M${x(z)} ${y(half)}V${y(-half)}` })
        : svg("rect", { class: `side-glass side-${kindOf(setup, piece)}`, x: x(z) - 3, y: y(half), width: 6, height: scale * 2 * half, rx: 1.5, "fill-opacity": darkness(setup, piece) }),
      svg("text", { class: "side-mm", x: x(z), y: HEIGHT - 6 }, known ? lengthText(z, 0).replace(" mm", "") : "?"));
    picture.append(part);
  }
  return picture;
}

/** @param {Setup} setup @param {string} id */
const kindOf = ({ kit }, id) => kit.find((piece) => piece.id === id)?.kind ?? "nd";

/** The denser the darker. @param {Setup} setup @param {string} id */
function darkness({ kit }, id) {
  const piece = kit.find((one) => one.id === id);
  return Math.min(1, 0.35 + 0.35 * (piece?.measuredDensity ?? piece?.density ?? 0.5)).toFixed(2);
}

/** @param {Setup} setup @param {{id: string, piece?: string}[]} places */
function told({ inPlace }, places) {
  if (inPlace.length === 0) return say("From the side: lens, then {count} empty slots.", { count: places.length });
  return say("From the side: lens, then {slots}.", {
    slots: places.map(({ id, piece }) => (piece === undefined ? say("{slot} empty", { slot: id }) : say("{piece} in {slot}", { piece, slot: id }))).join(", "),
  });
}
