// @ts-check
/** What the fit says. */
import { fixed, stopsText } from "../show.js";

/**
 * @typedef {import("../api/glasscall.js").FitReply} FitReply
 * @typedef {import("../api/glasscall.js").StackFitReply} StackFitReply
 * @typedef {import("../api/glasscall.js").OpeningReply} OpeningReply
 */

/** The verdict in one word, with the trust that belongs to it. @param {{verdict: string, trust: string}} told */
export function verdictWord({ verdict, trust }) {
  if (verdict === "clear") return trust === "look" ? "Clear, barely" : "Clear";
  if (trust === "look") return verdict === "shades" ? "May shade" : "May clip";
  return verdict === "shades" ? "Shades" : "Clips";
}

/** Room that is left or missing. @param {number} mm */
export function roomText(mm) {
  return mm < 0 ? `${fixed(-mm, 1)} mm too narrow` : `${fixed(mm, 1)} mm to spare`;
}

/** @param {number | undefined} stops */
export function lossText(stops) {
  if (stops === undefined) return "the corner goes black";
  if (stops < 0.005) return "nothing lost in the corner";
  return `${stopsText(stops)} lost in the corner`;
}

export const LOOK = "Too close to call from figures: look through the lens, wide open and at the stop, and say what you saw.";

/** What would do, when a stop or a lens would. @param {{cleanFromLabel?: string, cleanFromFNumber?: number, verdict: string, widestFocalLengthMm?: number}} told */
export function remedies(told) {
  const texts = [];
  if (told.verdict !== "clear") {
    texts.push(told.cleanFromLabel ? `Clear from f/${told.cleanFromLabel} on.` : "No stop clears it.");
  }
  if (told.widestFocalLengthMm !== undefined) {
    texts.push(`Widest clear lens about ${fixed(told.widestFocalLengthMm, 1)} mm, if its pupil lay in the same place.`);
  }
  return texts;
}

/** One line for a stack in the list. @param {StackFitReply} fit */
export function stackFitText(fit) {
  if (fit.spareMm === undefined) return "";
  const at = fit.worstSlot ?? fit.worstAlways ?? "the front";
  if (fit.verdict === "clear" && fit.spareMm < 0) return "Clear of the picture, as seen through the lens.";
  if (fit.verdict === "clear") {
    const look = fit.trust === "look" ? ": look through the lens" : "";
    return `Clear of the picture, ${roomText(fit.spareMm)} at ${at}${look}.`;
  }
  const loss = lossText(fit.cornerLossStops);
  const stop = fit.cleanFromLabel ? `clear from f/${fit.cleanFromLabel}` : "no stop clears it";
  return `${verdictWord(fit)} at ${at}: ${roomText(fit.spareMm)}, ${loss}; ${stop}.`;
}

/** @param {OpeningReply} opening */
export function reachText(opening) {
  if (opening.clearAnywhere) return "Clear at any distance.";
  if (opening.clearToMm === undefined) return "Clear nowhere in front of this lens.";
  return `Clear up to ${fixed(opening.clearToMm, 1)} mm ahead of the rim.`;
}

/** @param {OpeningReply} opening */
export function arcsText({ shadingArcs }) {
  if (shadingArcs.length === 0) return "Clear at every turn.";
  if (shadingArcs.some((arc) => arc.toDeg - arc.fromDeg >= 360)) return "Shades at every turn.";
  const arcs = shadingArcs.map((arc) => `${fixed(arc.fromDeg, 1)}–${fixed(arc.toDeg % 360, 1)}°`);
  return `Turned, it shades at ${arcs.join(", ")}.`;
}

/** @param {import("../api/glasscall.js").PupilPlace} place @param {number} [spreadMm] */
export function pupilText(place, spreadMm) {
  if (typeof place === "number") {
    return `Pupil ${fixed(place, 1)} mm behind the rim${spreadMm === undefined ? "" : `, give or take ${fixed(spreadMm, 1)}`}.`;
  }
  if ("nearestMm" in place) {
    return `Pupil between ${fixed(place.nearestMm, 1)} and ${fixed(place.farthestMm, 1)} mm behind the rim; every figure is for the worse.`;
  }
  return `Pupil ${fixed(place.horizontalMm, 1)} mm behind the rim across, ${fixed(place.verticalMm, 1)} up and down.`;
}

export const FIT_WORDS = {
  noLens: "The focal length is not said yet.",
  noPupil: "Where the pupil of this lens lies is not said yet: see “Lens and pupil”.",
  noOpenings: "No opening is known yet. Give each slot its size below.",
  stale: " The figures are the last good ones.",
  asSeen: "as seen through the lens, everything in",
  noSize: "no opening known",
};
