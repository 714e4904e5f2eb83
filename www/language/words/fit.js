// @ts-check
/** What the fit says. */
import { say } from "../say.js";
import { fixed, lengthNumber, lengthText, stopLabel, stopsText } from "../numbers.js";
import { lossText, roomText, sizeText } from "./stack-fit.js";

/**
 * @typedef {import("../../api/glasscall.js").FitReply} FitReply
 * @typedef {import("../../api/glasscall.js").OpeningReply} OpeningReply
 */

/** The verdict within a sentence, without its trust. @type {Record<import("../../api/glasscall.js").FitVerdictName, string>} */
export const VERDICTS = { clear: say("verdict|clear"), shades: say("verdict|shades"), clips: say("verdict|clips"), unknown: say("verdict|not known") };

/** The same with its trust. @param {{verdict: import("../../api/glasscall.js").FitVerdictName, trust: string}} told */
function verdictWithin({ verdict, trust }) {
  if (trust !== "look" || verdict === "unknown") return VERDICTS[verdict];
  if (verdict === "clear") return say("verdict|clear, barely");
  return verdict === "shades" ? say("verdict|may shade") : say("verdict|may clip");
}

export const LOOK = say("Too close to call from figures: look through the lens, wide open and at the stop, and say what you saw.");

/** From which stop it is clear; a stop wider than the lens opens is none to say. @param {FitReply} told @param {number} widest */
function clearFromText({ cleanFromFNumber = Infinity, cleanFromLabel = "", trust }, widest) {
  if (cleanFromFNumber > widest) return say("Clear from f/{number} on.", { number: stopLabel(cleanFromLabel) });
  return trust === "look" ? say("Clear at every stop, by the figures.") : say("Clear at every stop.");
}

/** What would do. @param {FitReply} told @param {number} [widest] how far the lens opens; few open wider than 1 */
export function remedies(told, widest = 1) {
  const texts = [];
  if (told.cleanFromLabel) texts.push(clearFromText(told, widest));
  else if (told.verdict !== "clear") texts.push(say("No stop clears it."));
  const clear = told.openings.filter(({ verdict }) => verdict === "clear");
  if (clear.length < told.openings.length) {
    const names = clear.map(({ name }) => name || say("the ring")).join(", ");
    texts.push(names ? say("Still clear: {names}.", { names }) : say("None of the openings is clear."));
  }
  for (const { name, verdict, clearSize } of told.openings) {
    if (verdict === "clear" || !clearSize) continue;
    texts.push(say("{name} would be clear as {size}.", { name: name || say("The ring"), size: sizeText(clearSize) }));
  }
  return texts;
}

/** How far the lens may go. @param {FitReply} told @returns {string[]} none where no lens is clear */
export const widestText = ({ widestFocalLengthMm }) => (widestFocalLengthMm === undefined ? [] : [
  say("Widest clear lens about {focal} mm, if its pupil lay in the same place.", { focal: fixed(widestFocalLengthMm, 1) }),
]);

/** The whole of what is in front, at its narrowest. @param {OpeningReply} worst */
export const worstText = ({ spareMm, name }) =>
  say("{room} at {place}, everything in", { room: roomText(spareMm ?? 0), place: name || say("at|the ring") });

/** Where a zoom is worst, when that is not where it stands. @param {FitReply} told @param {number} focalLengthMm */
export function zoomWorstText({ zoom }, focalLengthMm) {
  if (!zoom || zoom.worst.spareMm === undefined || Math.abs(zoom.worst.focalLengthMm - focalLengthMm) < 0.05) return "";
  const { worst } = zoom;
  const values = { focal: fixed(worst.focalLengthMm, 1), verdict: verdictWithin(worst), room: roomText(worst.spareMm ?? 0) };
  return worst.trust === "look"
    ? say("Zoomed to {focal} mm, its worst: {verdict}, {room}: look through the lens.", values)
    : say("Zoomed to {focal} mm, its worst: {verdict}, {room}.", values);
}

/** Both ends and the worst of a zoom. @param {FitReply["zoom"]} zoom */
export function zoomText(zoom) {
  if (!zoom || zoom.worst.spareMm === undefined || zoom.other.spareMm === undefined) return "";
  const at = (/** @type {import("../../api/glasscall.js").ZoomReading} */ { focalLengthMm, verdict, spareMm = 0 }) =>
    ({ focal: fixed(focalLengthMm, 1), verdict: VERDICTS[verdict], room: roomText(spareMm) });
  return [
    say("Other end, {focal} mm: {verdict}, {room}.", at(zoom.other)),
    say("Worst of the zoom, {focal} mm: {verdict}, {room}.", at(zoom.worst)),
  ].join(" ");
}

/** What the picture of the loss shows. @param {FitReply} told */
export function mapText({ cornerLossStops }) {
  if (cornerLossStops === undefined) return say("The picture of a plain card, everything in: a corner goes black.");
  if (cornerLossStops < 0.005) return say("The picture of a plain card, everything in: nothing is lost anywhere.");
  return say("The picture of a plain card, everything in: {loss}.", { loss: lossText(cornerLossStops) });
}

/** Between which limits the darkest corner lies, as far as the lens is known; nothing where that is told by its loss. @param {FitReply} told */
export function cornerRangeText({ cornerLossLeastStops: least, cornerLossMostStops: most, openings }) {
  if (least === undefined || openings.length === 0 || (most !== undefined && most - least < 0.05)) return "";
  const limits = { least: fixed(least, 1), most: most === undefined ? "" : stopsText(most) };
  return most === undefined
    ? say("As far as this lens is known the corner may lose {least} stops or go black.", limits)
    : say("As far as this lens is known the corner loses {least} to {most}.", limits);
}

/** What a place of the picture loses. @param {number | undefined} stops @param {string} place */
export function pointText(stops, place) {
  if (stops === undefined) return say("Black at {place}.", { place });
  return say("{stops} lost at {place}.", { stops: stopsText(stops), place });
}

/** @param {{acrossFrame?: number, atFrameHeight: number}} point */
export function placeText({ acrossFrame = 0.5, atFrameHeight }) {
  return say("{across} % across, {up} % up", { across: fixed(100 * acrossFrame, 0), up: fixed(100 * atFrameHeight, 0) });
}

/** @param {OpeningReply} opening */
export function reachText(opening) {
  if (opening.clearAnywhere) return say("Clear at any distance.");
  if (opening.clearToMm === undefined) return say("Clear nowhere in front of this lens.");
  return say("Clear up to {length} ahead of the rim.", { length: lengthText(opening.clearToMm, 1) });
}

/** @param {OpeningReply} opening */
export function arcsText({ shadingArcs, clearTurn }) {
  if (shadingArcs.length === 0) return say("Clear at every turn, by the figures.");
  if (!clearTurn) return say("Shades at every turn.");
  const degrees = fixed(Math.floor(clearTurn.byDeg), 0);
  return clearTurn.upright
    ? say("Turn it within {degrees}° of upright.", { degrees })
    : say("Turned, it is clear only at {middle}°, give or take {degrees}°.", { middle: fixed(clearTurn.middleDeg, 0), degrees });
}

/** @param {import("../../api/glasscall.js").PupilPlace} place @param {number} [spreadMm] */
export function pupilText(place, spreadMm) {
  if (typeof place === "number") {
    const length = lengthText(place, 1);
    return spreadMm === undefined
      ? say("Pupil {length} behind the rim.", { length })
      : say("Pupil {length} behind the rim, give or take {spread}.", { length, spread: lengthNumber(spreadMm, 1) });
  }
  if ("nearestMm" in place) {
    const ends = { nearest: lengthNumber(place.nearestMm, 1), farthest: lengthText(place.farthestMm, 1) };
    return say("Pupil between {nearest} and {farthest} behind the rim; every figure is for the worse.", ends);
  }
  const both = { across: lengthText(place.horizontalMm, 1), up: lengthNumber(place.verticalMm, 1) };
  return say("Pupil {across} behind the rim across, {up} up and down.", both);
}

/** How far the model can be trusted, against the lenses it was traced with. */
export const marginText = () => say("A lens nobody measured may bend its picture, its pupil may grow towards the corner, and rims inside may take light. Every verdict holds for all of that, or asks for a look: against thirty ray-traced lenses none that was sure was wrong. Two cards or one look make wide lenses sure.");

/** Which one look tells most. @param {FitReply} told */
export function settlesText({ settles, openings, worst }) {
  if (!settles) return "";
  const place = settles.name || say("at|the ring");
  const narrowest = worst === undefined ? undefined : openings[worst];
  if (settles.opening !== worst && narrowest?.trust === "look") {
    return say("Look through the lens with {place} in: that tells more than a look at {worst}.", { place, worst: narrowest.name || say("at|the ring") });
  }
  return settles.leaves > 0 || openings.filter(({ trust }) => trust === "look").length < 2
    ? say("Look through the lens with {place} in: that tells most.", { place })
    : say("Look through the lens with {place} in: that settles all.", { place });
}

/** Between which limits the room lies. @param {OpeningReply} told */
export function roomRangeText({ spareLeastMm, spareMostMm }) {
  if (spareLeastMm === undefined || spareMostMm === undefined) return "";
  return say("Room between {least} and {most}.", { least: lengthNumber(spareLeastMm, 1), most: lengthText(spareMostMm, 1) });
}

export const FIT_WORDS = {
  unsaid: {
    lens: say("The focal length is not said yet."),
    sensor: say("How large the picture is has not been said: choose a format below, or a body under Case."),
    pupil: say("Where the pupil of this lens lies is not said yet: see “Lens and pupil”."),
  },
  noOpenings: say("No opening is known yet. Give each slot its size below."),
  stale: say("The figures are the last good ones."),
  asSeen: say("as seen through the lens, everything in"),
  touch: say("Touch the picture to read a place."),
  noSize: say("give its size"),
};
