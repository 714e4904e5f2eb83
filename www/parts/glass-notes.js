// @ts-check
/** What close-up lenses of a stack and flat glass do to focus. */
import { BEHIND_LENS, CLOSE_UP } from "../questions/depth-and-colour.js";
import { focusOf } from "../questions/stack.js";
import { answerTo } from "../questions/question.js";
import { say } from "../language/say.js";
import { distanceText, fixed } from "../language/numbers.js";
import { refusalSentence } from "../language/words/shared.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../api/glasscall.js").OfferReply} Offer
 * @typedef {import("../api/glasscall.js").DepthReply} Depth
 */

/** Each with the glass whose figures it tells. @param {Setup} setup @param {Depth} depth @param {Offer} stack @returns {[string, "close-up" | "flat-glass"][]} */
export function glassNotes(setup, depth, stack) {
  return [
    ...told(answerTo(CLOSE_UP, setup, stack), (reply) => closeUpNotes(setup, reply)).map((text) => /** @type {[string, "close-up"]} */ ([text, "close-up"])),
    ...told(answerTo(BEHIND_LENS, setup, depth.fNumber, depth.circleMm, stack), (reply) => flatGlassNotes(setup, reply)).map((text) => /** @type {[string, "flat-glass"]} */ ([text, "flat-glass"])),
  ];
}

/** @param {{reply?: any, refusal?: any}} answer @param {(reply: any) => string[]} notes */
const told = ({ reply, refusal }, notes) => (refusal ? [refusalSentence(refusal)] : reply ? notes(reply) : []);

/** @param {Setup} setup @param {import("../api/glasscall.js").CloseUpReply} reply */
function closeUpNotes(setup, reply) {
  const place = (/** @type {import("../api/glasscall.js").Place} */ distance, /** @type {number | undefined} */ magnification) =>
    magnification === undefined
      ? distanceText(distance)
      : say("{distance} ({share} of life size)", { distance: distanceText(distance), share: fixed(magnification, 2) });
  const reach = {
    dioptres: fixed(reply.dioptres, 2),
    near: place(reply.nearMm, reply.nearMagnification),
    far: place(reply.farMm, reply.farMagnification),
  };
  const focuses = reply.at?.fieldWidthMm === undefined
    ? say("With {dioptres} dioptres the lens focuses from {near} to {far}, counted from the close-up lens.", reach)
    : say("With {dioptres} dioptres the lens focuses from {near} to {far}, counted from the close-up lens; at its nearest it takes in {width} × {height} mm.", {
        ...reach, width: fixed(reply.at.fieldWidthMm, 0), height: fixed(reply.at.fieldHeightMm ?? 0, 0),
      });
  const assumed = setup.lens.nearMm === undefined
    ? ` ${say("Close focus taken as {distance}: give yours above.", { distance: distanceText(1000) })}` : "";
  return [
    focuses + assumed,
    reply.fieldFactor === undefined ? "" : say("Where it stands it narrows the field in front to {percent} %; what its rim shades is told with the fit.", { percent: fixed(reply.fieldFactor * 100, 0) }),
    reply.gap ? say("Out of reach: {from} to {to}, with it on or off.", { from: distanceText(reply.gap.fromMm), to: distanceText(reply.gap.toMm) }) : "",
    reply.beside ? say("Beside the split lens the scale holds as it is: {near} to infinity.", { near: distanceText(reply.beside.nearMm) }) : "",
    say("The table above leaves the close-up lens out."),
  ].filter(Boolean);
}

/** @param {Setup} setup @param {import("../api/glasscall.js").BehindLensReply} reply */
function flatGlassNotes({ focus }, reply) {
  const on = distanceText(focusOf({ focus }));
  const shift = { shift: fixed(reply.shiftMm, 3), depth: fixed(reply.depthOfFocusMm, 3) };
  const mark = (/** @type {import("../api/glasscall.js").Mark} */ place) =>
    place === "beyondInfinity" ? say("beyond its infinity mark") : distanceText(place);
  const behind = reply.verdict === "within"
    ? say("Glass behind the lens moves focus {shift} mm, within the depth of focus (± {depth} mm).", shift)
    : say("Glass behind the lens moves focus {shift} mm, beyond the depth of focus (± {depth} mm): focus by eye. Infinity reads {infinity}, {distance} reads {mark}.", {
        ...shift, infinity: mark(reply.infinityReadsMm), distance: on, mark: mark(reply.scaleReadsMm),
      });
  const inFront = focus.onMm === "infinity"
    ? say("Flat glass in front moves nothing at infinity.")
    : say("Through the flat glass in front things seem {shift} mm nearer: {distance} reads {mark}. None at infinity.", {
        shift: fixed(reply.inFrontShiftMm, 2), distance: distanceText(focusOf({ focus }), 3), mark: distanceText(reply.inFrontReadsMm, 3),
      });
  const moved = reply.wheel.filter(({ verdict }) => verdict === "beyond").length;
  return [
    reply.shiftMm === 0 ? "" : behind,
    reply.inFrontShiftMm > 0 ? inFront : "",
    moved > 0 ? say("{moved} of {all} wheel positions move focus beyond the depth of focus at this stop.", { moved, all: reply.wheel.length }) : "",
  ].filter(Boolean);
}
