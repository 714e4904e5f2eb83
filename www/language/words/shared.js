// @ts-check
/** Every sentence that is made while the page runs. */
import { say } from "../say.js";
import { distanceText, fixed, lengthText } from "../numbers.js";
import { fieldName, labelled } from "./fields.js";

/** What a text should look like, by kind of field. @type {Record<string, string> & {number: string}} */
const EXAMPLES = {
  aperture: say("T11⅔, 5.6 or 2.8"),
  engravedAperture: say("T11⅔, 5.6 or 2.8"),
  density: say("0.9, ND64 or 3 stops"),
  shutter: say("172.8 or 1/50"),
  stops: say("1⅔"),
  length: say("35 mm or 4 in"),
  rigLength: say("35 mm or 4 in"),
  distance: say("3 m, 10 ft or infinity"),
  share: say("2 %"),
  angle: say("30 or 2 o’clock"),
  number: say("a number"),
  place: say("51.5, 3.5 or 51°30′N 3°30′E"),
};

/** Numbers of a range in the unit the field is typed in. @type {Record<string, (value: number) => string>} */
const SHOWN_AS = {
  distance: (millimetres) => distanceText(millimetres, 3),
  rigLength: (millimetres) => lengthText(millimetres, 3),
  share: (share) => `${fixed(share * 100, 2)} %`,
};

/** @param {string} path @param {string} [as] @returns {(value: number) => string} */
function shownBy(path, as = "") {
  // Whatever the reader counts in, this is what the number means.
  const plain = (/** @type {number} */ value) => `${fixed(value, 3)}${path.endsWith("Mm") ? " mm" : ""}`;
  return SHOWN_AS[as] ?? plain;
}

/**
 * A refusal as a sentence that says what would do.
 * @param {import("../../api/glasscall.js").Refusal} refusal
 * @param {{as?: string, path?: string, label?: string | null}} [about] the field it is told beside
 */
export function refusalSentence(refusal, about = {}) {
  const path = about.path ?? refusal.field;
  const name = about.label ? labelled(about.label) : fieldName(path);
  const show = shownBy(path, about.as);
  const given = typeof refusal.given === "number" ? show(refusal.given) : String(refusal.given);
  const least = show(refusal.min ?? 0);
  const example = EXAMPLES[about.as ?? ""] ?? EXAMPLES.number;
  switch (/** @type {string} */ (refusal.code)) {
    case "outOfRange":
      return refusal.max === undefined
        ? say("{name} cannot be {given}; it goes from {least} up.", { name, given, least })
        : say("{name} cannot be {given}; it goes from {least} to {most}.", { name, given, least, most: show(refusal.max) });
    case "tooMany":
      return say("{name} has {given}; at most {most} go.", { name, given, most: String(refusal.max) });
    case "empty":
      return say("{name} is empty. Try {example}.", { name, example });
    case "notUnderstood":
    case "wrongType":
      return say("“{given}” is not understood. Try {example}.", { given, example });
    case "ambiguous":
      return say("“{given}” can mean more than one thing:", { given });
    case "duplicate":
      return say("{name} “{given}” is used twice.", { name, given });
    case "missing":
      if (/^reading\.aperture$|\.bright\.aperture$/.test(path)) return WORDS.unread;
      return say("{name} is missing. Try {example}.", { name, example });
    case "unknownName":
      return say("{name} “{given}” is not in the case.", { name, given });
    case "unknownField":
      return say("“{field}” is no field of a case.", { field: refusal.field.split(".").pop() ?? "" });
    case "elsewhere":
      return say("Clashes with the rest: {why}", { why: given });
    case "noRoom":
      return say("No room for the pieces that must be in: too few slots, another size, or a polarizer without a slot that rotates.");
    default:
      return `${name}: ${refusal.code}.`;
  }
}

/** Notes beside a stack. @type {Record<string, string>} */
export const NOTES = {
  leftOverSmall: say("What is left over is too small to act on."),
  withinUncertainty: say("What is left over lies within what is known: nothing to do."),
  stillOver: say("Over-exposed at the stop you want."),
  stillUnder: say("Too dark at the stop you want."),
  stopTakesItUp: say("The stop to set has that in it: turn no further."),
  widerThanLens: say("The stop to set is wider than the lens opens."),
  takePolarizerOut: say("Without the polarizer this lens could expose it: take it out."),
  polarizersPassInfrared: say("Two polarizers stop visible light only: put an infrared cut in."),
  polarizerAssumed: say("The polarizer is taken to cost 1⅔ stops. Measure yours and enter it in the case."),
  markedDensity: say("Marked densities are taken at their word. Measured ones replace them."),
  infraredWatch: say("This much ordinary density can let infrared show. Check dark fabrics."),
  infraredCutNeeded: say("This much ordinary density needs an infrared cut, or pieces that stop infrared too."),
};

/** Trims and what else they change. @type {Record<import("../../api/glasscall.js").SideEffect, string>} */
export const SIDE_EFFECTS = {
  depthOfField: say("depth of field changes"),
  motionBlur: say("motion blur changes; lamps may flicker"),
  noise: say("noise and highlight room change"),
};

/** Kinds of pieces. @type {Record<string, string> & Record<import("../../api/glasscall.js").PieceKindName, string>} */
export const KINDS = {
  nd: say("neutral density"),
  grad: say("graduated"),
  polarizer: say("polarizer"),
  infraredCut: say("infrared cut"),
  colour: say("colour"),
  closeUp: say("close-up"),
  effect: say("effect"),
  clear: say("piece|clear"),
};

/** How a loss is known. @type {Record<import("../../api/glasscall.js").KnownBy, string>} */
export const KNOWN_BY = { measured: say("measured"), stated: say("stated"), marked: say("as marked"), assumed: say("assumed") };

/** The density that counts, with its letter. @param {{density?: number, measuredDensity?: number}} glass */
export function densityText({ density, measuredDensity }) {
  if (measuredDensity !== undefined) return say("D {density} measured", { density: fixed(measuredDensity, 3) });
  return density === undefined ? "" : `D ${fixed(density, 3)}`;
}

export const WORDS = {
  notEyeProtection: say("Photographic density is not eye protection."),
  cautions: say("Never look at the sun through a lens or a viewfinder, whatever glass is in. Tether glass and boxes over people, vehicles and cranes. Local rules and the licensed people on site decide."),
  notKept: say("This window keeps nothing: note what you need."),
  onItsWay: say("The rest of this page is on its way."),
  damaged: say("What was kept here could not be read. It is put aside untouched; this is the demo case."),
  backup: say("What was kept last could not be read. It is put aside untouched; this is the state before it."),
  fork: say("Two windows had changed the case and were cut off before they met. This is the newer one; the other is under Case, file, earlier states."),
  lateState: say("The device was slow to answer and held a newer case than this one. It is under Case, file, earlier states."),
  lateTaken: say("The device was slow to answer and held a newer case: it is here now, with what was just done. The one before is under Case, file, earlier states."),
  newer: say("A newer Glasscall has kept its case here. This older one leaves it alone and keeps its own beside it."),
  saveAside: say("Save what was put aside"),
  broken: say("The calculation broke off. Everything you entered is kept."),
  startAnew: say("Start again"),
  update: say("A new version is ready."),
  updateNow: say("Use it now"),
  unread: say("Nothing is read yet: type the stop that the meter gives."),
  noPieces: say("No pieces yet: add them in the case."),
  screenFailed: (/** @type {string} */ name) => say("“{screen}” cannot show what is here. The rest works, and nothing is lost.", { screen: name }),
  retaken: (/** @type {string[]} */ names) => (names.length === 0
    ? say("Glass was swapped since: this reading counts as bare, for nothing is in now.")
    : say("Glass was swapped since: this reading counts through what is in now, {pieces}.", { pieces: names.join(" + ") })),
  wheelAt: (/** @type {number} */ density) => (density === 0 ? say("wheel clear") : say("wheel {density}", { density: fixed(density, 2) })),
};
