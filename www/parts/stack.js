// @ts-check
/** A stack of pieces in a few words. */
import { say, sayCount } from "../language/say.js";
import { WORDS } from "../language/words/shared.js";

/** @typedef {import("../api/glasscall.js").OfferReply} Offer */

/** @param {Offer} stack */
export function pieces(stack) {
  const ids = stack.slots.map((placed) => placed.piece);
  if (stack.wheel) ids.unshift(WORDS.wheelAt(stack.wheel));
  return ids.join(" + ") || say("nothing");
}

/** @param {Offer} stack */
export function movesText(stack) {
  return stack.moves === 0 ? say("it is in") : sayCount(stack.moves, "{count} move", "{count} moves");
}
