// @ts-check
/** Sentences of the day and of what leaves the phone. */
import { say, sayCount } from "../say.js";
import { even, fixed, lengthText, lengthUnit, unitName } from "../numbers.js";
import { WORDS } from "./shared.js";

/** Headings and words of tables that people read; files have the English ones. @type {Record<string, string>} */
export const TABLE_WORDS = {
  "upside down": say("upside down"),
  "Day log": say("Day log"),
  Time: say("Time"),
  Zone: say("Zone"),
  Scene: say("Scene"),
  "Set-up, slate": say("Set-up, slate"),
  Camera: say("Camera"),
  "Sensor mode": say("Sensor mode"),
  Lens: say("Lens"),
  Focus: say("Focus"),
  "Read at": say("Read at"),
  "Turn (clock)": say("Turn (clock)"),
  "Line height": say("Line height"),
  Flags: say("Flags"),
  "Seen in the lens": say("Seen in the lens"),
  Note: say("Note"),
  "Focal length, mm": say("Focal length, mm"),
  "Lens on": say("Lens on"),
  Extender: say("Extender"),
  "Focused at": say("Focused at"),
  "Sensor, mm": say("Sensor, mm"),
  "Stop to set": say("Stop to set"),
  "Stop wanted": say("Stop wanted"),
  EI: say("EI"),
  "Frames a second": say("Frames a second"),
  Shutter: say("Shutter"),
  "Stop read": say("Stop read"),
  "Read through": say("Read through"),
  bare: say("bare"),
  "Pieces, lens outward": say("Pieces, lens outward"),
  "Marked densities": say("Marked densities"),
  "Measured densities": say("Measured densities"),
  "Wheel, density": say("Wheel, density"),
  "Taken, stops": say("Taken, stops"),
  "Taken, density": say("Taken, density"),
  "Left over, stops": say("Left over, stops"),
  "Sun azimuth, deg": say("Sun azimuth, deg"),
  "Sun elevation, deg": say("Sun elevation, deg"),
  "Fit, computed": say("Fit, computed"),
  "Corner loss, stops": say("Corner loss, stops"),
  "Drift, stops an hour": say("Drift, stops an hour"),
  "Line, share of the frame from below": say("Line, share of the frame from below"),
  "Line above the axis, mm": say("Line above the axis"),
  "Line turned, deg": say("Line turned, deg"),
  Amended: say("Amended"),
  Record: say("Record"),
  Kit: say("Kit"),
  Piece: say("Piece"),
  Kind: say("Kind"),
  Size: say("Size"),
  Count: say("Count"),
  "Marked density": say("Marked density"),
  "Measured density": say("Measured density"),
  "Loss, stops": say("Loss, stops"),
  "Infrared density": say("Infrared density"),
  "Mired shift": say("Mired shift"),
};

/** Why a link or a code cannot be read or written. @param {import("../../hand-over/link.js").BadLink} error */
export function badLinkText({ code, about }) {
  if (code !== "unseen" && code !== "longText") return DAY_WORDS.badLink[code];
  const text = `${about.slice(0, 40)}${about.length > 40 ? "…" : ""}`;
  return code === "unseen"
    ? say("Not written: “{text}” holds a sign that cannot be seen, and two texts could look the same. Type it again, then it goes.", { text })
    : say("Not written: “{text}” has {count} signs; at most 4000 go into a link or a code. Make it shorter, or send a file.", { text, count: about.length });
}

/** What a part of the slate is called, and what it says. @param {string} part its heading @param {string} text */
export const slateText = (part, text) => say("{part} “{text}”", { part: TABLE_WORDS[part] ?? part, text });

/** @param {{wasDeg: number, wasStops: number, isDeg: number, isStops: number}} turn */
function turnText({ wasDeg, wasStops, isDeg, isStops }) {
  return say("Turn the polarizer to {angle}° from upright, clockwise seen from behind: it darkens this sky by {stops} stop; logged {stopsThen} at {angleThen}°.", {
    angle: fixed(isDeg, 0), stops: even(isStops, 2), stopsThen: even(wasStops, 2), angleThen: fixed(wasDeg, 0),
  });
}

/** @typedef {{lineHeightMm: number, blendOfFrame: number}} Line */

/** @param {import("../../document/frame.js").Frame} frame as it was held @param {Line} is @param {Line} was @param {boolean} several whether it must be named */
function lineText({ grad, line: at, rotationDeg, invert }, is, was, several) {
  const percent = (/** @type {number} */ share) => `${fixed(share * 100, 0)} %`;
  const slide = say("Slide the graduated filter until its line is {height} above the axis (logged {heightThen}): {place} of the frame from below. It blends over {blend} of the frame, logged {blendThen}.", {
    height: lengthText(is.lineHeightMm, 1), heightThen: lengthText(was.lineHeightMm, 1), place: percent(at),
    blend: percent(is.blendOfFrame), blendThen: percent(was.blendOfFrame),
  });
  return [
    several ? `${grad}:` : "",
    slide,
    rotationDeg === 0 ? "" : say("It is turned {degrees}° counter-clockwise, seen from behind.", { degrees: fixed(rotationDeg, 1) }),
    invert ? say("Its dense side is below the line.") : "",
  ].filter(Boolean).join(" ");
}

export const DAY_WORDS = {
  log: {
    unread: say("Part of the log kept here could not be read. It stays where it is, untouched; the rest is here."),
    newer: say("A newer Glasscall wrote part of the log. It is left as it is, and this one shows what it can read."),
    notKept: say("This entry could not be kept: the device is full or keeps nothing. It is here until this window closes. Save the log as a file."),
    deleted: say("What was kept on this device was deleted while this page was open. What is shown here has been kept again."),
  },
  unread: (/** @type {number} */ count) => sayCount(count, "{count} entry cannot be read here. It is kept as it is.", "{count} entries cannot be read here. They are kept as they are."),
  saveUnread: say("Save what cannot be read"),
  leftOut: (/** @type {number} */ count) => sayCount(count, "{count} cannot be read and was left out.", "{count} cannot be read and were left out."),
  arrived: (/** @type {string} */ sentence) => say("A set-up has come. {sentence} Yours is still here.", { sentence }),
  takeIt: say("Use it"),
  taken: say("Now in use."),
  badLink: {
    version: say("This was made by a newer version. Update, then open it again."),
    damaged: say("This link or code is damaged: part of it is missing or changed. Ask for it again."),
    tooLong: say("This is longer than any set-up and was not opened."),
    tooDeep: say("This is nested deeper than any set-up and was not opened."),
    noAddress: say("This page is a file on this device, and no other phone or page can open its address. Show a code, or save the case as a file."),
    strange: say("This was not written by this page: it holds hidden signs or the same name twice. It was not opened."),
  },
  notLogged: say("The set-up is not possible yet, so there is nothing to log."),
  empty: say("Nothing logged yet. “Put in” on Now becomes “Log”, and one tap keeps the set-up with date, time and zone."),
  otherRig: (/** @type {string} */ rig) => say("On {rig}, as it was logged.", { rig }),
  nothingFound: say("No record has all of these words."),
  nothingSaid: say("nothing yet"),
  copied: say("Copied."),
  copyByHand: say("Copying is blocked here: the text is selected, copy it by hand."),
  notShared: say("Sharing is blocked here."),
  saved: (/** @type {string} */ name) => say("Saved as {name}.", { name }),
  added: (/** @type {number} */ added, /** @type {number} */ disputed) => disputed === 0
    ? sayCount(added, "{count} record added.", "{count} records added.")
    : sayCount(added, "{count} record added, {disputed} beside a different one of the same id.", "{count} records added, {disputed} beside a different one of the same id.", { disputed }),
  notALog: say("This file holds no log that can be read."),
  disputed: (/** @type {string[]} */ parts) =>
    say("Amended more than once: {parts}. The latest stands above.", { parts: parts.map((part) => TABLE_WORDS[part] ?? part).join(", ") }),
  code: say("This set-up as a code"),
  frame: (/** @type {number} */ at, /** @type {number} */ count) => say("Frame {at} of {count}", { at, count }),
  scanned: say("A set-up was read: see the notice above."),
  foreignCode: say("This code is none of Glasscall’s."),
  frames: (/** @type {number} */ have, /** @type {number} */ count, /** @type {number[]} */ missing) =>
    say("{have} of {count} frames read. Still to come: {missing}.", { have, count, missing: [...missing.slice(0, 12), ...(missing.length > 12 ? ["…"] : [])].join(", ") }),
  noCamera: say("No camera can be used here. Take a picture of the code and read that."),
  lookForCode: say("Hold the code in the picture, all four corners."),
  noCode: (/** @type {string} */ name) => say("{name}: no code found. All four corners must be in the picture, sharp, and not small.", { name }),
  caseMerged: (/** @type {number} */ added, /** @type {number} */ same, /** @type {number} */ conflicts) => conflicts === 0
    ? say("Case read: {added} new, {same} the same, 0 different.", { added, same })
    : say("Case read: {added} new, {same} the same, {conflicts} different: choose below, nothing is overwritten.", { added, same, conflicts }),
  unsettled: (/** @type {number} */ count) => say("Not the same on both phones: {count}", { count }),
  timeUnknown: say("edit time not known"),
  nothingIn: say("nothing in"),
  noStop: say("no stop of this lens"),
  notSaid: say("not said"),
  matchSet: (/** @type {string} */ stop) => say("Set {stop}.", { stop }),
  matchIn: (/** @type {string} */ glass, /** @type {string} */ stops, /** @type {string} */ left) => say("In: {glass}. Takes {stops}, {left} left over.", { glass, stops, left }),
  matchNone: (/** @type {string} */ stops) => say("No glass of this case takes {stops} here.", { stops }),
  matchOr: (/** @type {string} */ stacks) => say("Or {stacks}.", { stacks }),
  matchStack: (/** @type {string} */ glass, /** @type {string} */ stop, /** @type {string} */ left) => say("{glass} at {stop} ({left})", { glass, stop, left }),
  matchTurn: turnText,
  matchTurnSaid: (/** @type {string} */ turn) => say("Turn as logged: {turn}. Where the sky was and the sun stood is not known, so look through it.", { turn }),
  matchLine: lineText,
  matchLineSaid: (/** @type {string} */ line) => say("Line as logged: {line}.", { line }),
  differs: say("What will differ"),
  differsHead: [say("What"), say("Logged"), say("Today")],
  noDifference: say("Nothing this page knows of will differ."),
  twoBodies: say("Two bodies in the light read on Now; the second takes what the first leaves in the case"),
  bodiesHead: ["", say("First body"), say("Second body")],
  throughList: say("Both through the day’s set-ups, out of one case"),
  listHead: [say("list|Set-up"), say("First body"), say("Second body"), say("Both want")],
  noList: say("List the day’s set-ups under Case and both are told through all of them."),
  bothWant: (/** @type {{piece: string, owned: number, first: boolean, second: boolean}} */ { piece, owned, first, second }) => {
    const values = { piece, owned: String(owned) };
    if (first && !second) return say("{piece}: {owned} there, the first has it", values);
    if (second && !first) return say("{piece}: {owned} there, the second has it", values);
    return say("{piece}: {owned} there", values);
  },
  takes: (/** @type {string} */ first, /** @type {string} */ second) => say("The first takes {first}. The second takes {second}.", { first, second }),
  listProven: say("Proven: nothing serves both better. Stops left stand in brackets."),
  listNotProven: say("The best found so far. Stops left stand in brackets."),
  notReached: say("cannot be reached"),
  clipCaption: (/** @type {string} */ size) => say("Clip chart: lenses wide open by what is in front, sensor {size} mm", { size }),
  clipNote: () => say("Beside each word the room left in {unit}; less than none is missing. Computed: with less than {margin} to spare look through the lens. What is not known of a lens says “look”.", {
    unit: unitName(lengthUnit()), margin: lengthText(3, 0),
  }),
  look: say("clip|look"),
  pupilUnknown: say("not known"),
  printedCode: say("Scan this with another phone’s camera: it opens the set-up."),
  notEyeProtection: WORDS.notEyeProtection,
};
