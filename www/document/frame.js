// @ts-check
/** The part of the set-up that the Frame screen is a view of. */
import { say } from "../language/say.js";
import { given } from "./document.js";

/** From clear to dense where nobody says how an edge runs; the core advises about the same. Common practice, no source. */
export const SOFT_RAMP_MM = 30;

const HARD_9 = say("id|0.9 hard");
const SOFT_6 = say("id|0.6 soft");
const SOFT_9 = say("id|0.9 soft");

/**
 * @typedef {import("../api/glasscall.js").PieceRequest} Piece
 * @typedef {import("../api/glasscall.js").ProfileRequest} Profile
 */

/**
 * The bright one, the sky say. The dark one, the land, is the reading itself.
 * @typedef {object} Spot
 * @property {number} [aperture] the stop read there; absent: nothing was
 * @property {number} at its height in the frame, 0 to 1
 * @property {string[]} [through] pieces it was read through; absent: bare
 * @property {number} [wheelDensity] of the wheel's position it was read through
 */

/**
 * How a graduated filter is held.
 * @typedef {object} HeldLine
 * @property {number} line height of the frame its line crosses
 * @property {number} rotationDeg
 * @property {boolean} invert
 * @property {number} [fromRimMm] from the rim to it; absent: as its slot stands
 */

/**
 * @typedef {object} FrameItself
 * @property {string} grad the piece of the case that is in hand, whose line this is; empty for none
 * @property {(HeldLine & {piece: string})[]} [lines] of the other filters that are in a rig, where said
 * @property {number} horizon height of the frame the horizon crosses
 * @property {number} skyline how uneven it is, share of the frame's height
 * @property {{polarized: boolean, turnDeg?: number}} sky a polarizer looked through; without a turn the darkest
 * @property {Spot} bright
 * @property {{at: number}} dark where in the frame the reading was taken
 * @property {number} allowedStops
 * @property {number} subject height of what must keep its light
 * @property {{tiltToDeg: number, panToDeg: number, focalLengthToMm?: number}} move
 */

/** @typedef {FrameItself & HeldLine} Frame */

/**
 * With that filter in hand and the line of the one before remembered. Where its
 * own was never said it is held like that one; two that are in stand apart.
 * @param {Frame} frame @param {string} piece @param {boolean} [staysIn] whether the one before does @returns {Frame}
 */
export function inHand(frame, piece, staysIn = true) {
  const { grad, line, rotationDeg, invert, fromRimMm, lines = [], ...others } = frame;
  if (grad === piece) return frame;
  const was = { line, rotationDeg, invert, fromRimMm };
  const own = lines.find((one) => one.piece === piece) ?? (staysIn ? { ...was, fromRimMm: undefined } : was);
  const left = [...lines, given({ piece: grad, ...was })].filter((one) => one.piece !== piece);
  return given({ ...others, ...own, piece: undefined, grad: piece, lines: left });
}

/** A graduated piece. @param {string} id @param {number | undefined} density @param {Profile} profile @returns {Piece} */
export const gradPiece = (id, density, profile) =>
  ({ id, kind: "grad", ...(density === undefined ? {} : { density }), size: "", count: 1, profile });

/** The invented crew's graduated filters. @returns {Piece[]} */
export const demoGrads = () => [
  gradPiece(HARD_9, 0.9, { kind: "hard" }),
  gradPiece(SOFT_6, 0.6, { kind: "soft", rampMm: 30 }),
  gradPiece(SOFT_9, 0.9, { kind: "soft", rampMm: 30 }),
].map((piece) => ({ ...piece, size: "4x5.65" }));

/** The invented crew's evening on the estuary. @returns {Frame} */
export function demoFrame() {
  return {
    grad: SOFT_9,
    line: 0.5,
    rotationDeg: 0,
    invert: false,
    horizon: 0.45,
    skyline: 0.1,
    sky: { polarized: false },
    bright: { aperture: 45.254833995939045, at: 0.9 },
    dark: { at: 0.1 },
    allowedStops: 1,
    subject: 0.35,
    move: { tiltToDeg: -4, panToDeg: 0 },
  };
}
