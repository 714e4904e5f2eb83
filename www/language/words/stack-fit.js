// @ts-check
/** What the fit of a stack says beside the answer. */
import { say } from "../say.js";
import { fixed, lengthText, stopLabel, stopsText } from "../numbers.js";
import { panelName } from "./sizes.js";

/** @typedef {import("../../api/glasscall.js").StackFitReply} StackFitReply */

/** The verdict alone, with the trust that belongs to it. @param {{verdict: string, trust: string}} told */
export function verdictWord({ verdict, trust }) {
  if (verdict === "unknown") return say("verdict|Not known");
  if (verdict === "clear") return trust === "look" ? say("verdict|Clear, barely") : say("verdict|Clear");
  if (trust === "look") return verdict === "shades" ? say("verdict|May shade") : say("verdict|May clip");
  return verdict === "shades" ? say("verdict|Shades") : say("verdict|Clips");
}

/** Room that is left or missing. @param {number} mm */
export function roomText(mm) {
  return mm < 0 ? say("{length} too narrow", { length: lengthText(-mm, 1) }) : say("{length} to spare", { length: lengthText(mm, 1) });
}

/** @param {number | undefined} stops */
export function lossText(stops) {
  if (stops === undefined) return say("the corner goes black");
  if (stops < 0.005) return say("nothing lost in the corner");
  return say("{stops} lost in the corner", { stops: stopsText(stops) });
}

/** A size of the lists by its name. @param {import("../../api/glasscall.js").UsualSizeReply} size */
export const sizeText = ({ threadMm, panel }) =>
  (panel ? panelName(panel) : say("thread {diameter}", { diameter: fixed(threadMm ?? 0, 1) }));

/** One word beside an answer. @param {StackFitReply | undefined} fit */
export function fitWord(fit) {
  if (!fit || fit.verdict === "unknown") return say("fit not known");
  if (fit.trust === "look") return say("fit|look");
  return { clear: say("fit|clear"), shades: say("fit|shades"), clips: say("fit|clips") }[fit.verdict];
}

/** Whether something is known against it. @param {StackFitReply | undefined} fit */
export const isGrave = (fit) => fit !== undefined && (fit.verdict === "shades" || fit.verdict === "clips");

/** One line for a stack in the list. @param {StackFitReply} fit */
export function stackFitText(fit) {
  if (fit.verdict === "unknown") return say("Whether it shades is not known: say the pupil or the front of the lens.");
  if (fit.spareMm === undefined) return "";
  const place = fit.worstSlot ?? fit.worstAlways ?? say("at|the front");
  const room = roomText(fit.spareMm);
  if (fit.verdict !== fit.computed) {
    return fit.verdict === "clear"
      ? say("Clear of the picture, as seen through the lens.")
      : say("{verdict} at {place}, as seen through the lens.", { verdict: verdictWord(fit), place });
  }
  if (fit.verdict === "clear") {
    return fit.trust === "look"
      ? say("Clear of the picture, {room} at {place}: look through the lens.", { room, place })
      : say("Clear of the picture, {room} at {place}.", { room, place });
  }
  const told = {
    verdict: verdictWord(fit),
    place,
    room,
    loss: lossText(fit.cornerLossStops),
    stop: fit.cleanFromLabel ? say("clear from f/{number}", { number: stopLabel(fit.cleanFromLabel) }) : say("no stop clears it"),
  };
  return fit.clearSize
    ? say("{verdict} at {place}: {room}, {loss}; {stop}, or with {size} there.", { ...told, size: sizeText(fit.clearSize) })
    : say("{verdict} at {place}: {room}, {loss}; {stop}.", told);
}
