// @ts-check
/** Sentences of lenses, rings, packing and the order of the day. */
import { locale, say, sayCount } from "../say.js";
import { fixed, lengthNumber, lengthText } from "../numbers.js";
import { VERDICTS } from "./fit.js";

/** How sure an answer is. @param {import("../../engine/long-question.js").Progress} progress @param {string} least what is not ruled out */
export function proofText({ busy, stopped, alone, reply }, least) {
  if (!reply) return busy ? say("Looking…") : stopped ? say("Stopped before anything was found.") : "";
  if (reply.proven) return say("Proven: nothing better exists.");
  if (busy) return say("Best so far; {least} is not ruled out. Still looking…", { least });
  if (alone) return say("The search beside the page could not start, so only a short one was made: best found; {least} is not ruled out.", { least });
  return stopped
    ? say("Stopped: best found; {least} is not ruled out.", { least })
    : say("Not proven: best found; {least} is not ruled out.", { least });
}

/** @param {number} count */
export const movesText = (count) => sayCount(count, "{count} move", "{count} moves");
/** @param {number} count */
export const needsText = (count) => sayCount(count, "{count} need", "{count} needs");
/** @param {number} count */
export const slotsText = (count) => sayCount(count, "{count} slot", "{count} slots");
/** @param {number} count */
const piecesText = (count) => sayCount(count, "{count} piece", "{count} pieces");

/** Some names and how many more there are. @param {string[]} names @param {number} [most] that are all named */
export const fewNames = (names, most = 4) => (names.length <= most
  ? names.join("; ")
  : say("{names} and {more} more", { names: names.slice(0, most - 1).join("; "), more: names.length - most + 1 }));

/** A name and how many of it. @param {string} name @param {number} count */
export const timesText = (name, count) => (count > 1 ? `${count} × ${name}` : name);

/** @param {{fromMm: number, toMm: number, clamp: boolean}} ring */
export function ringText({ fromMm, toMm, clamp }) {
  const ends = { from: fixed(fromMm, 1), to: fixed(toMm, 1) };
  return clamp ? say("clamp {from} → {to}", ends) : say("{from} → {to}", ends);
}

/** @param {import("../../api/glasscall.js").RingPathReply} path */
export function pathText({ reaches, rings, depthMm, spareMm }) {
  if (!reaches) return say("no way with these rings");
  if (rings.length === 0) return say("straight on");
  const values = {
    rings: rings.map(ringText).reduce((before, next) => say("{before}, then {next}", { before, next })),
    depth: lengthText(depthMm, 1),
    room: lengthText(Math.abs(spareMm ?? 0), 1),
  };
  if (spareMm === undefined) return say("{rings}; {depth} deep", values);
  if (spareMm < 0) return say("{rings}; {depth} deep, shades by {room} wide open: look through the lens", values);
  return say("{rings}; {depth} deep, {room} to spare wide open, by the figures", values);
}

/** How many more pieces of the filter's size screw on one another. @param {import("../../api/glasscall.js").RingPathReply} path */
export function stackText({ stackable, surelyStackable }) {
  if (stackable === undefined) return "";
  return say("Screwed one on the other: up to {count}, by the figures; {sure} of them with 3 mm to spare.", { count: String(stackable), sure: String(surelyStackable ?? 0) });
}

/** @param {import("../../api/glasscall.js").OpeningRequest | undefined} opening */
export function openingText(opening) {
  if (!opening) return "";
  const { shape, diameterMm = 0, widthMm = 0, heightMm = 0, distanceFromRimMm } = opening;
  const size = shape === "circle" ? `⌀ ${lengthText(diameterMm, 1)}` : `${lengthNumber(widthMm, 1)} × ${lengthText(heightMm, 1)}`;
  return say("{size} at {distance}", { size, distance: lengthText(distanceFromRimMm, 1) });
}

/** How a pupil's place was got. @type {Record<"twoCards" | "ring" | "front" | "stated", string>} */
export const PUPIL_BY = {
  twoCards: say("pupil|two cards"), ring: say("pupil|a ring at the corners"), front: say("pupil|the front of the lens"), stated: say("pupil|a data sheet"),
};

/** How filters go in. @type {Record<import("../../api/glasscall.js").MountName, string>} */
export const MOUNTS = { screwIn: say("screwed in"), snapOn: say("snapped on"), matteBox: say("trays of a matte box") };


/** What a lens makes of a rig, in a cell. @param {import("../../questions/rig-compare.js").LensFit} told */
export function fitWord({ fit, why }) {
  if (!fit) return why === "noRing" ? say("no ring") : "?";
  const verdict = VERDICTS[fit.verdict];
  return fit.trust === "look" ? say("{verdict}, look", { verdict }) : verdict;
}

export const FITS = {
  /** What the cells leave unsaid. @param {import("../../questions/rig-compare.js").LensFit[]} fits */
  notes(fits) {
    const has = (/** @type {string} */ why) => fits.some((told) => told.why === why);
    return [
      ...(fits.some(({ fit }) => fit?.trust === "look") ? [say("“look”: too close for figures; look through the lens.")] : []),
      ...(has("noPupil") ? [say("“?”: give the lens its focal length, widest stop and pupil under Lenses.")] : []),
      ...(has("noOpening") ? [say("“?”: give each slot of the rig its clear opening, under Pieces or Fit.")] : []),
      ...(has("noRing") ? [say("“no ring”: no ring joins that lens to the rig’s thread; see Lenses.")] : []),
    ];
  },
};

export const PLAN_WORDS = {
  partly: say("+ more than that: some weight is not known. A piece weighs what is entered, or what its size, thickness and material make."),
  moment: say("Moment is about the rim, camera level, with the heaviest stack of the day on the deepest rings. Minutes and weights are starting values from common practice: put in your own under Pieces, Rig."),
  noSetUps: say("No set-ups yet. Add the need of each, as you expect or read it."),
  noMinutes: say("How many minutes a move takes is not said yet: under Pieces, “Rig: type, weight, thread”."),
  noLenses: say("No lenses yet."),
  noNeeds: say("No needs yet: list set-ups under Day order, or say above what light you expect."),
  tooDark: (/** @type {number} */ count) =>
    sayCount(count, "{count} need left out: too dark there even without glass.", "{count} needs left out: too dark there even without glass."),
  noFront: say("has neither thread nor outside diameter"),
  narrow: say("A ring that narrows is used only where the picture is known to pass it: give the lens its pupil and widest stop, or the clear diameter it needs."),
  ringPrices: say("No prices yet: any single ring is taken to be on offer, all at one price."),
  cannot: (/** @type {string[]} */ ids) =>
    say("No stack serves {names}: other pieces, more slots, or a slot that rotates.", { names: fewNames(ids) }),
  imported: (/** @type {number} */ count) =>
    sayCount(count, "Read: {count} piece. Undo brings the old case back.", "Read: {count} pieces. Undo brings the old case back."),
  skipped: (/** @type {number} */ count) => sayCount(count, "{count} line left out:", "{count} lines left out:"),
  fileBad: (/** @type {number | undefined} */ line, /** @type {string} */ why) =>
    say("Nothing was read. Line {line}: {why}", { line: line ?? "?", why }),
  fileTooLarge: say("Nothing was read: a case file has at most 4 MB."),
  unsaved: (/** @type {number} */ count) => sayCount(count,
    "{count} change since this case was last saved as a file. A file survives a lost phone.",
    "{count} changes since this case was last saved as a file. A file survives a lost phone."),
  earlier: (/** @type {string | undefined} */ at, /** @type {number} */ count) => {
    const pieces = piecesText(count);
    if (at === undefined) return say("{pieces}, kept before", { pieces });
    const time = new Date(at).toLocaleString(locale, { dateStyle: "medium", timeStyle: "short" });
    return say("{pieces}, as opened {time}", { pieces, time });
  },
  noEarlier: say("None is kept yet."),
  damagedText: say("the text is broken off or is no case file."),
};
