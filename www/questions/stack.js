// @ts-check
/** What is asked of the core about a stack and the lens behind it, besides the answer itself. */
import { uncertaintyOf } from "./known.js";
import { question } from "./question.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../api/glasscall.js").Place} Place
 * @typedef {import("../api/glasscall.js").OfferReply} Offer
 */

/** What depth is counted with where nobody said what is in focus; told beside it. Common practice, no source. */
const ASSUMED_FOCUS_MM = 3000;

/** Where the lens is focused, said or assumed. @param {Pick<Setup, "focus">} setup @returns {Place} */
export const focusOf = ({ focus }) => focus.onMm ?? ASSUMED_FOCUS_MM;

/** Where the lens and its focus stand. @type {import("./paths.js").Paths} */
export const LENS = {
  focalLengthMm: "lens.focalLengthMm",
  extender: "lens.extender",
  pupilRatio: "lens.pupilRatio",
  focusMm: "focus.onMm",
};

/** The lens as it works for a stop the sensor must see. */
export const WORKING_STOP = question("workingStop", workingStopRequest, LENS);

/** @param {Setup} setup @param {number} aperture @param {boolean} movesOut */
function workingStopRequest({ lens, focus }, aperture, movesOut) {
  return {
    focalLengthMm: lens.focalLengthMm ?? 50,
    aperture,
    extender: lens.extender,
    pupilRatio: lens.pupilRatio,
    ...(movesOut ? { focusMm: focusOf({ focus }), measuredFrom: /** @type {const} */ ("sensor") } : {}),
  };
}

/** Pieces of a stack, in its order. @param {Setup} setup @param {Offer} stack */
export function piecesOf(setup, stack) {
  return stack.slots.flatMap(({ piece }) => setup.kit.filter(({ id }) => id === piece));
}

export const STACK_INFRARED = question("infrared", infraredRequest);

/** @param {Setup} setup @param {Offer} stack */
function infraredRequest(setup, stack) {
  // A stack may hold two of one piece; the core counts each.
  const wheelInfraredDensity = setup.wheelInfrared[setup.wheel.indexOf(stack.wheel ?? NaN)] ?? undefined;
  return {
    pieces: piecesOf(setup, stack),
    ...(stack.wheel ? { wheelDensity: stack.wheel, ...(wheelInfraredDensity === undefined ? {} : { wheelInfraredDensity }) } : {}),
    ...setup.infrared,
    ...uncertaintyOf(setup),
  };
}
