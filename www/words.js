// @ts-check
/** Every sentence that is made while the page runs. */
import { distanceText, fixed } from "./show.js";
import { PLAN_FIELDS } from "./words/plan-fields.js";
import { LIGHT_FIELDS } from "./words/light.js";
import { OTHER_FIELD_NAMES } from "./words/other-glass.js";

/** What fields are called in a sentence. @type {[RegExp, string][]} */
const FIELD_NAMES = [
  [/^reading\.aperture$/, "The stop you read"],
  [/^shot\.aperture$/, "The stop you want"],
  [/exposureIndex$/, "The exposure index"],
  [/frameRate$/, "The frame rate"],
  [/shutter(AngleDeg)?$/, "The shutter"],
  [/shutterSeconds$/, "The exposure time"],
  [/widestAperture$/, "The widest stop"],
  ...OTHER_FIELD_NAMES,
  [/measuredDensity$/, "The measured density"],
  [/infraredDensity$/, "The infrared density"],
  [/density$/, "The density"],
  [/lossStops$/, "The loss"],
  [/miredShift$/, "The mired shift"],
  [/count$/, "The count"],
  [/^wheel/, "The wheel"],
  [/^kit$/, "The case"],
  [/^rig\.slots$/, "The rig"],
  [/^frame\.fromRimMm$/, "The filter’s distance from the rim"],
  [/^frame\.allowedStops$/, "What may stay"],
  [/^frame\.move\.tilt/, "The tilt"],
  [/^frame\.move\.pan/, "The pan"],
  [/^frame\.move\.focal/, "The zoom"],
  [/^frame\.(bright|dark)\.aperture$/, "The stop"],
  [/rampMm$/, "The ramp"],
  [/\.id$/, "The name"],
  [/^text$/, "This"],
  [/focalLengthMm$/i, "The focal length"],
  [/fNumber$/i, "The f-number"],
  [/squeeze$/, "The squeeze"],
  [/shift[XY]Mm$/, "The shift"],
  [/distanceFromRimMm$/, "The distance ahead of the rim"],
  [/offset[XY]Mm$/, "The offset"],
  [/depthMm$/, "The depth"],
  [/rotationDeg$/, "The turn"],
  [/diameterMm$/i, "The diameter"],
  [/widthMm$/, "The width"],
  [/pupil\.(near|far)HeightMm$/, "The height"],
  [/heightMm$/, "The height"],
  [/pupil\.(nearMm|farMm|darkensFromMm)$/, "The distance ahead of the rim"],
  [/pupil/i, "The pupil"],
  ...LIGHT_FIELDS,
  ...PLAN_FIELDS,
];

/** @param {string} path */
function fieldName(path) {
  return FIELD_NAMES.find(([pattern]) => pattern.test(path))?.[1] ?? path;
}

/** What a text should look like, by kind of field. @type {Record<string, string>} */
const EXAMPLES = {
  aperture: "T11⅔, 5.6 or 2.8",
  density: "0.9, ND64 or 3 stops",
  shutter: "172.8 or 1/50",
  stops: "1⅔",
  length: "35 mm or 4 in",
  distance: "3 m, 10 ft or infinity",
  share: "2 %",
  angle: "30 or 2 o’clock",
  number: "a number",
  place: "51.5, 3.5 or 51°30′N 3°30′E",
};

/** Numbers of a range in the unit the field is typed in. @type {Record<string, (value: number) => string>} */
const SHOWN_AS = {
  distance: (millimetres) => distanceText(millimetres, 3),
  share: (share) => `${fixed(share * 100, 2)} %`,
};

/**
 * A refusal as a sentence that says what would do.
 * @param {import("./api/glasscall.js").Refusal} refusal
 * @param {{as?: string, path?: string}} [about]
 */
export function refusalSentence(refusal, about = {}) {
  const name = fieldName(about.path ?? refusal.field);
  const show = SHOWN_AS[about.as ?? ""] ?? ((value) => fixed(value, 3));
  const given = typeof refusal.given === "number" ? show(refusal.given) : refusal.given;
  const range = refusal.max === undefined ? `${show(refusal.min ?? 0)} up` : `${show(refusal.min ?? 0)} to ${show(refusal.max)}`;
  const example = EXAMPLES[about.as ?? ""] ?? "a number";
  switch (/** @type {string} */ (refusal.code)) {
    case "outOfRange":
      return `${name} cannot be ${given}; it goes from ${range}.`;
    case "tooMany":
      return `${name} has ${given}; at most ${refusal.max} go.`;
    case "empty":
      return `${name} is empty. Try ${example}.`;
    case "notUnderstood":
    case "wrongType":
      return `“${given}” is not understood. Try ${example}.`;
    case "ambiguous":
      return `“${given}” can mean more than one thing:`;
    case "duplicate":
      return `${name} “${given}” is used twice.`;
    case "missing":
      return `${name} is missing. Try ${example}.`;
    case "unknownName":
      return `${name} “${given}” is not in the case.`;
    case "unknownField":
      return `“${refusal.field.split(".").pop()}” is no field of a case.`;
    case "elsewhere":
      return `Not with what is there: ${given}`;
    case "noRoom":
      return "The pieces that must be in find no room: too few slots, another size, or a polarizer without a slot that rotates.";
    default:
      return `${name}: ${refusal.code}.`;
  }
}

/** Notes beside a stack. @type {Record<string, string>} */
export const NOTES = {
  leftOverSmall: "What is left over is too small to act on.",
  stillOver: "Still over-exposed: close the iris by what is left over, or trim.",
  stillUnder: "Too dark: open the iris by what is left over, or trim.",
  widerThanLens: "The stop to set is wider than the lens opens.",
  polarizerAssumed: "The polarizer is taken to cost 1⅔ stops. Measure yours and enter it in the case.",
  markedDensity: "Marked densities are taken at their word. Measured ones replace them.",
  infraredWatch: "This much ordinary density can let infrared show. Check dark fabrics.",
  infraredCutNeeded: "This much ordinary density needs an infrared cut, or pieces that stop infrared too.",
};

/** Trims and what else they change. @type {Record<string, string>} */
export const SIDE_EFFECTS = {
  depthOfField: "depth of field changes",
  motionBlur: "motion blur changes; lamps may flicker",
  noise: "noise and highlight room change",
};

/** Kinds of pieces. @type {Record<string, string>} */
export const KINDS = {
  nd: "neutral density",
  grad: "graduated",
  polarizer: "polarizer",
  infraredCut: "infrared cut",
  colour: "colour",
  closeUp: "close-up",
  effect: "effect",
  clear: "clear",
};

/** How a loss is known. @type {Record<string, string>} */
export const KNOWN_BY = { measured: "measured", stated: "stated", marked: "as marked", assumed: "assumed" };

export const WORDS = {
  notEyeProtection: "Photographic density is not eye protection.",
  cautions: "Never look at the sun through a lens or a viewfinder, whatever glass is in. Tether glass and boxes over people, vehicles and cranes. Local rules and the licensed people on site decide.",
  notKept: "This window keeps nothing: note what you need.",
  damaged: "What was kept here could not be read. It is put aside untouched; this is the demo case.",
  backup: "What was kept last could not be read. It is put aside untouched; this is the state before it.",
  newer: "A newer Glasscall has kept its case here. This older one leaves it alone and keeps its own beside it.",
  saveAside: "Save what was put aside",
  broken: "The calculation broke off. Everything you entered is kept.",
  startAnew: "Start anew",
  update: "A new version is ready.",
  updateNow: "Use it now",
  noPieces: "No pieces yet: add them in the case.",
  noSlot: (/** @type {string} */ id, /** @type {number} */ slots) =>
    `No slot takes ${id}: ${slots === 0 ? "the rig has none" : `${slots} in the rig, full or of another size or unable to turn`}.`,
  nothingFits: "No stack in these slots leaves the picture of this lens clear: try a longer lens, a closed stop or larger glass (under Fit).",
  wheelAt: (/** @type {number} */ density) => (density === 0 ? "wheel clear" : `wheel ${fixed(density, 2)}`),
};
