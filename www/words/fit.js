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

/** A size of the lists by its name. @param {import("../api/glasscall.js").UsualSizeReply} size */
const sizeText = ({ threadMm, panel }) => panel ?? `thread ${fixed(threadMm ?? 0, 1)}`;

/** What would do, or how far the lens may go. @param {FitReply} told */
export function remedies(told) {
  const texts = [];
  if (told.cleanFromLabel) texts.push(`Clear from f/${told.cleanFromLabel} on.`);
  else if (told.verdict !== "clear") texts.push("No stop clears it.");
  const clear = told.openings.filter(({ verdict }) => verdict === "clear");
  if (clear.length < told.openings.length) {
    const names = clear.map(({ name }) => name || "the ring").join(", ");
    texts.push(names ? `Still clear: ${names}.` : "None of the openings is clear.");
  }
  for (const { name, verdict, clearSize } of told.openings) {
    if (verdict !== "clear" && clearSize) texts.push(`${name || "The ring"} would be clear as ${sizeText(clearSize)}.`);
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
  const size = fit.clearSize ? `, or with ${sizeText(fit.clearSize)} there` : "";
  return `${verdictWord(fit)} at ${at}: ${roomText(fit.spareMm)}, ${loss}; ${stop}${size}.`;
}

/** Where a zoom is worst, when that is not where it stands. @param {FitReply} told @param {number} focalLengthMm */
export function zoomWorstText({ zoom }, focalLengthMm) {
  if (!zoom || zoom.worst.spareMm === undefined || Math.abs(zoom.worst.focalLengthMm - focalLengthMm) < 0.05) return "";
  const { worst } = zoom;
  const look = worst.trust === "look" ? ": look through the lens" : "";
  return `Zoomed to ${fixed(worst.focalLengthMm, 1)} mm, its worst: ${verdictWord(worst).toLowerCase()}, ${roomText(worst.spareMm ?? 0)}${look}.`;
}

/** What a place of the picture loses. @param {number | undefined} stops @param {string} where */
export function pointText(stops, where) {
  if (stops === undefined) return `Black at ${where}.`;
  return `${stopsText(stops)} lost at ${where}.`;
}

/** @param {{acrossFrame?: number, atFrameHeight: number}} point */
export function placeText({ acrossFrame = 0.5, atFrameHeight }) {
  return `${fixed(100 * acrossFrame, 0)} % across, ${fixed(100 * atFrameHeight, 0)} % up`;
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
  touch: "Touch the picture to read a place.",
  noSize: "no opening known",
};
