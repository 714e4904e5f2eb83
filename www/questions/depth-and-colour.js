// @ts-check
/**
 * The other glass of the set-up: lens and focus, the wish for depth or blur,
 * colour, infrared, glass behind the lens, ramps. What each asks of the core.
 */

import { openingsOf, pupilOf } from "./fit.js";
import { question } from "./question.js";
import { focusOf, LENS, piecesOf } from "./stack.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../engine/ask.js").Refusal} Refusal
 * @typedef {import("../api/glasscall.js").Place} Place
 * @typedef {import("../api/glasscall.js").DepthRequest} DepthRequest
 * @typedef {import("../api/glasscall.js").SettingsRequest} SettingsRequest
 * @typedef {import("../api/glasscall.js").OfferReply} Offer
 */

/**
 * @typedef {object} Lens
 * @property {number} [widestAperture]
 * @property {number} [focalLengthMm]
 * @property {number} [lossStops] T-number above the f-number; absent: taken alike
 * @property {number} [extender]
 * @property {number} [pupilRatio]
 * @property {boolean} [movesOut] whether it focuses near by moving out as a whole
 * @property {number} [nearMm] closest setting, for close-up lenses
 */

/**
 * @typedef {object} OtherGlass
 * @property {{widthMm: number, heightMm: number}} sensor
 * @property {{onMm?: Place, backgroundMm?: Place, circleMm?: number, diagonalParts?: number}} focus from the sensor
 * @property {Wish} wish
 * @property {{lightKelvin?: number, balanceKelvin?: number, otherBalanceKelvin?: number}} colour
 * @property {{watchFromDensity?: number, cutFromDensity?: number}} infrared
 * @property {{nowMm?: number, setForMm?: number, frontMm?: number, refractiveIndex?: number, wheelMm: number[]}} behind
 * @property {{by: "angle" | "iris" | "turn", frameRate?: number, aperture?: number, shutterAngleDeg?: number}} ramp
 */

/**
 * @typedef {object} Wish
 * @property {"none" | "depth" | "places" | "blur" | "share"} kind
 * @property {Place} depthMm
 * @property {number} nearMm
 * @property {Place} farMm
 * @property {number} blurMm
 * @property {number} share of the picture's height
 */

/** The fields of depth, wish and glass behind the lens. @type {import("./paths.js").Paths} */
const PATHS = {
  lensLossStops: "lens.lossStops",
  lensNearMm: "lens.nearMm",
  backgroundMm: "focus.backgroundMm",
  circleMm: "focus.circleMm",
  diagonalParts: "focus.diagonalParts",
  wantedDepthMm: "wish.depthMm",
  wantedNearMm: "wish.nearMm",
  wantedFarMm: "wish.farMm",
  wantedBlurMm: "wish.blurMm",
  wantedBlurOfFrame: "wish.share",
  "behind[0].thicknessMm": "behind.nowMm",
  "inFront[0].thicknessMm": "behind.frontMm",
  "setFor[0].thicknessMm": "behind.setForMm",
  "wheel[].thicknessMm": "behind.wheelMm",
  "behind[].refractiveIndex": "behind.refractiveIndex",
  "setFor[].refractiveIndex": "behind.refractiveIndex",
  "inFront[].refractiveIndex": "behind.refractiveIndex",
  "wheel[].refractiveIndex": "behind.refractiveIndex",
};

export const DEPTH = question("depth", depthRequest, LENS, PATHS);
/** The stop for the wish. */
export const WISH = question("depth", wishRequest, LENS, PATHS);
export const COLOUR = question("colour", colourRequest, { "": "colour" });
/** Whether the colour temperatures are possible at all. */
export const TEMPERATURES = question("colour", temperaturesRequest, { "": "colour" });
/** Whether the limits of infrared by themselves are possible. */
export const INFRARED_LIMITS = question("infrared", (/** @type {Setup} */ { infrared }) => ({ pieces: [], ...infrared }), { "": "infrared" });
/** Glass behind the lens, where there is some. */
export const BEHIND_LENS = question("behindLens", behindLensRequest, LENS, PATHS);
/** Close-up lenses among the pieces of a stack. */
export const CLOSE_UP = question("closeUp", closeUpRequest, LENS, PATHS);
/** Whether a close-up lens does anything at the closest focus that is typed. */
export const CLOSE_FOCUS = question("closeUp", closeFocusRequest, PATHS);
export const RAMP = question("ramp", rampRequest, { to: "ramp" });
/** A shutter under lamps on the mains. */
export const LAMPS = question("flicker", lampsRequest);

/**
 * Everything but the stop; distances count from the sensor, as tapes do.
 * @param {Setup} setup
 * @param {number} focalLengthMm extender included
 * @returns {DepthRequest}
 */
function sceneRequest({ lens, focus, sensor }, focalLengthMm) {
  return {
    focalLengthMm,
    lensLossStops: lens.lossStops,
    sensor,
    measuredFrom: "sensor",
    backgroundMm: focus.backgroundMm,
    ...(focus.circleMm === undefined ? { diagonalParts: focus.diagonalParts } : { circleMm: focus.circleMm }),
  };
}

/** @param {Setup} setup @param {number} focalLengthMm @param {number} tNumber @returns {DepthRequest} */
function depthRequest(setup, focalLengthMm, tNumber) {
  return { ...sceneRequest(setup, focalLengthMm), focusMm: focusOf(setup), tNumber, neighbourStops: 1 };
}

/** @param {Setup} setup @param {number} focalLengthMm @returns {DepthRequest} */
function wishRequest(setup, focalLengthMm) {
  const { wish } = setup;
  const scene = sceneRequest(setup, focalLengthMm);
  const focused = { ...scene, focusMm: focusOf(setup) };
  switch (wish.kind) {
    case "depth": return { ...focused, wantedDepthMm: wish.depthMm };
    case "places": return { ...scene, wantedNearMm: wish.nearMm, wantedFarMm: wish.farMm };
    case "blur": return { ...focused, wantedBlurMm: wish.blurMm };
    default: return { ...focused, wantedBlurOfFrame: wish.share };
  }
}

/** @param {Setup} setup @param {Offer} stack @param {number[]} [ownShiftsMired] of the pieces of the case */
function colourRequest({ colour, ...setup }, stack, ownShiftsMired) {
  const shifts = piecesOf(/** @type {Setup} */ ({ colour, ...setup }), stack).map((piece) => piece.miredShift ?? 0);
  return { lightKelvin: colour.lightKelvin ?? 5600, ...colour, shiftsMired: shifts, ...(ownShiftsMired ? { ownShiftsMired } : {}) };
}

/** @param {Setup} setup */
function temperaturesRequest({ colour: { lightKelvin = 5600, balanceKelvin = 5600, otherBalanceKelvin } }) {
  return { lightKelvin, balanceKelvin, otherBalanceKelvin };
}

/** @param {Setup} setup @param {number} fNumber @param {number} circleMm @param {Offer} stack */
function behindLensRequest({ behind, lens, focus, wheel }, fNumber, circleMm, stack) {
  const plate = (/** @type {number | undefined} */ thicknessMm) =>
    thicknessMm === undefined ? [] : [{ thicknessMm, refractiveIndex: behind.refractiveIndex }];
  const none = [behind.nowMm, behind.setForMm, behind.frontMm].every((mm) => mm === undefined) && behind.wheelMm.length === 0;
  if (none) return undefined;
  const at = wheel.indexOf(stack.wheel ?? NaN);
  const wheelGlass = behind.wheelMm.flatMap(plate);
  return {
    focalLengthMm: lens.focalLengthMm ?? 50,
    fNumber,
    circleMm,
    focusMm: focusOf({ focus }),
    measuredFrom: /** @type {const} */ ("sensor"),
    behind: plate(behind.nowMm),
    setFor: plate(behind.setForMm),
    inFront: plate(behind.frontMm),
    wheel: wheelGlass,
    ...(at >= 0 && at < wheelGlass.length ? { wheelAt: at } : {}),
  };
}

/** @param {Setup} setup @param {Offer} stack */
function closeUpRequest(setup, stack) {
  const lenses = piecesOf(setup, stack).filter((piece) => piece.kind === "closeUp" && piece.dioptres !== undefined);
  if (lenses.length === 0) return undefined;
  const slot = stack.slots.find(({ piece }) => piece === lenses[0]?.id)?.slot;
  const glass = openingsOf(setup).find((found) => found.slot === slot)?.opening.distanceFromRimMm;
  const { place } = pupilOf(setup);
  const known = glass !== undefined && typeof place === "number";
  return {
    ...(known ? { pupilBehindRimMm: place, distanceFromRimMm: glass } : {}),
    dioptres: lenses.map((piece) => piece.dioptres ?? 0),
    lensNearMm: setup.lens.nearMm ?? 1000,
    ...(setup.lens.focalLengthMm === undefined ? {} : { settingMm: setup.lens.nearMm ?? 1000 }),
    split: lenses.some((piece) => piece.split),
    focalLengthMm: setup.lens.focalLengthMm,
    sensor: setup.sensor,
  };
}

/** @param {Setup} setup */
function closeFocusRequest({ lens: { nearMm } }) {
  return nearMm === undefined ? undefined : { dioptres: [1], lensNearMm: nearMm };
}

/** @param {Setup} setup @param {SettingsRequest} from the shot's settings */
function rampRequest({ ramp, lens }, from) {
  const { by, frameRate, aperture, shutterAngleDeg } = ramp;
  const to = {
    frameRate,
    ...(by === "iris" ? {} : { aperture }),
    ...(by === "angle" ? {} : { shutterAngleDeg }),
  };
  return { from, to, by, steps: 5, widestAperture: lens.widestAperture };
}

/** @typedef {{shutterAngleDeg?: number, shutterSeconds?: number}} Shutter */

/** @param {number} frameRate @param {Shutter} shutter */
function lampsRequest(frameRate, { shutterAngleDeg, shutterSeconds }) {
  return { frameRate, ...(shutterSeconds === undefined ? { shutterAngleDeg } : { shutterSeconds }) };
}

/** Whether flat glass about the lens is possible at all, whatever the shot. */
export const ANY_BEHIND = question("behindLens", anyBehindRequest, LENS, PATHS);

/** @param {Setup} setup */
function anyBehindRequest({ behind }) {
  const plate = (/** @type {number | undefined} */ thicknessMm) => [{ thicknessMm: thicknessMm ?? 0, refractiveIndex: behind.refractiveIndex }];
  return {
    focalLengthMm: 50,
    fNumber: 8,
    circleMm: 0.02,
    behind: plate(behind.nowMm),
    setFor: plate(behind.setForMm),
    inFront: plate(behind.frontMm),
    wheel: behind.wheelMm.flatMap(plate),
  };
}
