// @ts-check
/** Named edits that Frame alone makes: graduated filters put in and pulled. */
import { pull, putInForPicture } from "./edits.js";
import { inHand } from "./frame.js";
import { frameInUse, gradsAmong } from "./resolve.js";

/**
 * @typedef {import("./document.js").Document} Document
 * @typedef {import("./document.js").InPlace} InPlace
 */

/**
 * A graduated filter into the rig and in hand, dense side up or down, its line at that height of the frame.
 * @param {Document} document @param {InPlace[]} inPlace all that is in then @param {string} piece @param {boolean} invert @param {number} line @returns {Document}
 */
export function putInGrad(document, inPlace, piece, invert, line) {
  const gone = gradsAmong(document, inPlaceOf(document)).filter((id) => !inPlace.some((placed) => placed.piece === id));
  const next = putInForPicture(document, inPlace, piece);
  return { ...next, keep: next.keep.filter((id) => !gone.includes(id)), frame: { ...inHand(next.frame, piece), invert, line } };
}

/** The graduated filter in hand is out; one that stays is in hand then, else none is looked through. @param {Document} document @returns {Document} */
export function pullGrad(document) {
  const { grad } = frameInUse(document, inPlaceOf(document));
  const next = pull(document, grad);
  return next.frame.grad === grad ? { ...next, frame: { ...next.frame, grad: "" } } : next;
}

/** @param {Document} document @returns {InPlace[]} */
const inPlaceOf = ({ today, inUse }) => today.rigs[inUse.rig ?? ""]?.inPlace ?? [];
