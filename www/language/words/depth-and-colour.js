// @ts-check
/** Sentences about lens, depth, colour, infrared and ramps. */
import { say } from "../say.js";

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
