// @ts-check
/** Sentences about lens, depth, colour, infrared and ramps. */
import { say } from "../say.js";

/** What these fields are called in a sentence. @type {[RegExp, string][]} */
export const OTHER_FIELD_NAMES = [
  [/^lens\.focalLengthMm$/, say("The focal length")],
  [/^lens\.lossStops$/, say("The light lost in the lens")],
  [/^lens\.extender$/, say("The extender")],
  [/^lens\.pupilRatio$/, say("The pupil ratio")],
  [/^lens\.nearMm$/, say("The closest focus")],
  [/^focus\.onMm$/, say("The focus")],
  [/^focus\.backgroundMm$/, say("The background")],
  [/^focus\.circleMm$/, say("The circle of confusion")],
  [/^focus\.diagonalParts$/, say("The part of the diagonal")],
  [/^sensor\.widthMm$/, say("The picture’s width")],
  [/^sensor\.heightMm$/, say("The picture’s height")],
  [/^wish\.depthMm$/, say("The wanted depth")],
  [/^wish\.nearMm$/, say("The nearest sharp place")],
  [/^wish\.farMm$/, say("The farthest sharp place")],
  [/^wish\.(blurMm|share)$/, say("The wanted blur")],
  [/Kelvin$/, say("The colour temperature")],
  [/^infrared\./, say("The limit")],
  [/^behind\.refractiveIndex$/, say("The refractive index")],
  [/^behind\./, say("The thickness")],
  [/dioptres$/, say("The power")],
  [/^ramp\.aperture$/, say("The stop at the end")],
];

/** Side effects of a ramp. @type {Record<import("../../api/glasscall.js").RampEffect, string>} */
export const RAMP_EFFECTS = {
  depthOfField: say("depth of field changes"),
  motionBlur: say("motion blur changes"),
  flicker: say("the exposure time changes: lamps may begin to pulse"),
  variableDensity: say("the variable ND turns: reflections and sky change, wide frames may darken unevenly"),
};

/** @type {Record<import("../../api/glasscall.js").InfraredVerdict, string>} */
export const INFRARED = {
  fine: "",
  watch: say("Infrared may show in dark fabrics and leaves: look at a picture."),
  cutNeeded: say("This much needs an infrared cut, or pieces that stop infrared too."),
};

/** @type {Record<import("../../api/glasscall.js").Lean, string>} */
export const LEAN = { warm: say("a warm picture"), cool: say("a cool picture"), even: say("an even picture") };

/** What the usual conversion glass is called by. @type {Record<import("../../api/glasscall.js").FilterColour, string>} */
export const CONVERSIONS = { amber: say("amber"), blue: say("blue") };

export const MIXED_INFRARED =
  say("Glass that stops infrared stands with glass that does not: the first does nothing for the second.");
