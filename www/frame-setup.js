// @ts-check
/** The part of the set-up that the Frame screen is a view of. */

/**
 * @typedef {import("./api/glasscall.js").NamedGrad} NamedGrad
 * @typedef {import("./api/glasscall.js").ProfileRequest} Profile
 */

/**
 * @typedef {object} Spot
 * @property {number} aperture the stop read there
 * @property {number} at its height in the frame, 0 to 1
 */

/**
 * @typedef {object} Frame
 * @property {NamedGrad[]} grads graduated filters of the case
 * @property {string} grad the one that is in; empty for none
 * @property {number} fromRimMm from the rim to the filter
 * @property {number} line height of the frame its line crosses
 * @property {number} rotationDeg
 * @property {boolean} invert
 * @property {number} horizon height of the frame the horizon crosses
 * @property {number} skyline how uneven it is, share of the frame's height
 * @property {{polarized: boolean, turnDeg?: number}} sky a polarizer looked through; without a turn the darkest
 * @property {Spot} bright
 * @property {Spot} dark
 * @property {number} allowedStops
 * @property {number} subject height of what must keep its light
 * @property {{tiltToDeg: number, panToDeg: number, focalLengthToMm?: number}} move
 */

/** The invented crew's filters and their evening on the estuary. @returns {Frame} */
export function demoFrame() {
  /** @param {Profile["kind"]} kind @param {number} density @param {number} [rampMm] @returns {NamedGrad} */
  const grad = (kind, density, rampMm) =>
    ({ id: `${density} ${kind}`, profile: { kind, density, ...(rampMm ? { rampMm } : {}) } });
  return {
    grads: [grad("hard", 0.6), grad("hard", 0.9), grad("soft", 0.6, 30), grad("soft", 0.9, 30), grad("reverse", 0.9, 30)],
    grad: "0.9 soft",
    fromRimMm: 36,
    line: 0.5,
    rotationDeg: 0,
    invert: false,
    horizon: 0.45,
    skyline: 0.1,
    sky: { polarized: false },
    bright: { aperture: 16, at: 0.9 },
    dark: { aperture: 5.6568542494923806, at: 0.1 },
    allowedStops: 1,
    subject: 0.35,
    move: { tiltToDeg: -4, panToDeg: 0 },
  };
}
