// @ts-check
/** Sentences about lens, depth, colour, infrared and ramps. */

/** What these fields are called in a sentence. @type {[RegExp, string][]} */
export const OTHER_FIELD_NAMES = [
  [/^lens\.focalLengthMm$/, "The focal length"],
  [/^lens\.lossStops$/, "The light lost in the lens"],
  [/^lens\.extender$/, "The extender"],
  [/^lens\.pupilRatio$/, "The pupil ratio"],
  [/^lens\.nearMm$/, "The closest focus"],
  [/^focus\.onMm$/, "The focus"],
  [/^focus\.backgroundMm$/, "The background"],
  [/^focus\.circleMm$/, "The circle of confusion"],
  [/^focus\.diagonalParts$/, "The part of the diagonal"],
  [/^sensor\.widthMm$/, "The picture’s width"],
  [/^sensor\.heightMm$/, "The picture’s height"],
  [/^wish\.depthMm$/, "The wanted depth"],
  [/^wish\.nearMm$/, "The nearest sharp place"],
  [/^wish\.farMm$/, "The farthest sharp place"],
  [/^wish\.(blurMm|share)$/, "The wanted blur"],
  [/Kelvin$/, "The colour temperature"],
  [/^infrared\./, "The limit"],
  [/^behind\.refractiveIndex$/, "The refractive index"],
  [/^behind\./, "The thickness"],
  [/dioptres$/, "The power"],
  [/^ramp\.aperture$/, "The stop at the end"],
];

/** Side effects of a ramp. @type {Record<string, string>} */
export const RAMP_EFFECTS = {
  depthOfField: "depth of field changes",
  motionBlur: "motion blur changes",
  flicker: "the exposure time changes: lamps may begin to pulse",
  variableDensity: "variable density turns: reflections and sky change, wide frames may darken unevenly",
};

/** @type {Record<string, string>} */
export const INFRARED = {
  fine: "",
  watch: "Infrared may show in dark fabrics and leaves: look at a picture.",
  cutNeeded: "This much needs an infrared cut, or pieces that stop infrared too.",
};

/** @type {Record<string, string>} */
export const LEAN = { warm: "a warm picture", cool: "a cool picture", even: "an even picture" };

export const MIXED_INFRARED =
  "Glass that stops infrared stands with glass that does not: the first does nothing for the second.";
