// @ts-check
/** Terms of a working in words, their values and the signs of formulas. */
import { say } from "../say.js";
import { fixed, stopLabel } from "../numbers.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";

/** @typedef {import("../../api/glasscall.js").TermReply} Term */

/** @type {Record<Term["what"], string>} */
const TERMS = {
  readAperture: say("term|Stop read"),
  readIndex: say("term|EI of the reading"),
  readRate: say("term|Frame rate of the reading"),
  readAngle: say("term|Shutter of the reading"),
  readTime: say("term|Exposure time of the reading"),
  readThrough: say("term|Read through"),
  shotAperture: say("term|Stop wanted"),
  shotIndex: say("term|EI of the shot"),
  shotRate: say("term|Frame rate of the shot"),
  shotAngle: say("term|Shutter of the shot"),
  shotTime: say("term|Exposure time of the shot"),
  settings: say("term|What the other settings add"),
  density: say("term|Density"),
  loss: say("term|Takes"),
  need: say("term|Need"),
  leftOver: say("term|Left over"),
  apertureToSet: say("term|Stop to set"),
  readingUnsure: say("term|± of the reading"),
  lossUnsure: say("term|± of"),
  unsure: say("term|± of what is left"),
  focalLength: say("term|Focal length"),
  fNumber: say("term|f-number"),
  pupil: say("term|Pupil, across"),
  pupilBehind: say("term|Pupil behind the rim"),
  distance: say("term|Ahead of the rim"),
  fromPupil: say("term|From the pupil"),
  sensorWidth: say("term|Picture, width"),
  sensorHeight: say("term|Picture, height"),
  squeeze: say("term|Squeeze"),
  chiefAcross: say("term|Corner’s ray, across"),
  chiefUp: say("term|Corner’s ray, up"),
  openingDiameter: say("term|Opening, diameter"),
  openingWidth: say("term|Opening, width"),
  openingHeight: say("term|Opening, height"),
  room: say("term|Room"),
};

/** @param {Term} term */
export const termName = ({ what, piece }) => (piece ? `${TERMS[what]} (${piece})` : TERMS[what]);

/** @type {Record<Term["unit"], (value: number) => string>} */
const UNITS = {
  stops: (value) => say("{stops} stops", { stops: fixed(value, 3) }),
  density: (value) => `D ${fixed(value, 3)}`,
  aperture: (value) => KINDS_OF_FIELD.aperture.show(value),
  seconds: (value) => KINDS_OF_FIELD.shutter.show({ shutterSeconds: value }),
  deg: (value) => `${fixed(value, 2)}°`,
  perSecond: (value) => say("{rate} fps", { rate: fixed(value, 3) }),
  index: (value) => say("EI {index}", { index: fixed(value, 0) }),
  mm: (value) => `${fixed(value, 3)} mm`,
  fNumber: (value) => KINDS_OF_FIELD.fNumber.show(value),
  number: (value) => fixed(value, 3),
};

/** @param {Term} term */
export const termValue = ({ unit, value }) => stopLabel(UNITS[unit](value));

/** @type {[string, string][]} */
export const FORMULA_SIGNS = [
  [" ^ 2", "²"], [" * ", " · "], [" - ", " − "], ["-log", "−log"], ["log2", "log₂"], ["log10", "log₁₀"], ["sqrt(", "√("], [" ^ ", "^"],
];
