// @ts-check
/** Records and answers as tables: a caption, headings, rows of texts, in a notation. */
import { SAID, WRITTEN } from "./notation.js";
import { setupIn } from "./logged.js";
import { SLATE } from "../document/slate.js";

/** @typedef {{caption: string, head: string[], rows: string[][]}} Table */
/** @typedef {ReturnType<typeof import("./record.js").amended>} Amended */
/** @typedef {import("./notation.js").Notation} Notation */
/** @typedef {(shown: Amended[number], as: Notation) => string} Cell */

/** @param {Notation} as @param {number | undefined} value @param {number} most */
const maybe = (as, value, most) => (value === undefined ? "" : as.number(value, most));

/** The line of one filter, or of each by its name. @param {import("./record.js").ShotRecord} record @param {(line: import("./record.js").Line) => string} told */
function ofLines({ line, lines = line ? [line] : [] }, told) {
  return lines.map((one) => (lines.length > 1 ? `${one.filter}: ${told(one)}` : told(one))).join("; ");
}

/** @param {import("../api/glasscall.js").Place | undefined} place @param {Notation} as */
const said = (place, as) => (place === undefined ? "" : as.distance(place));

/** @param {import("../document/setup.js").Setup} setup @param {Notation} as */
const sensor = ({ sensor: { widthMm, heightMm }, sensorSaid }, as) => (sensorSaid ? `${as.number(widthMm, 2)} x ${as.number(heightMm, 2)}` : "");

/** Headings name their unit; the order never changes. @type {[string, Cell][]} */
const COLUMNS = [
  ["Time", ({ record }, as) => as.time(record.time)],
  ["Zone", ({ record }) => record.zone],
  ...SLATE.map(([part, name]) => /** @type {[string, Cell]} */ ([name, ({ slate }) => slate[part] ?? ""])),
  ["Lens on", ({ record }) => setupIn(record).lens.id ?? ""],
  ["Focal length, mm", ({ record }, as) => maybe(as, setupIn(record).lens.focalLengthMm, 1)],
  ["Extender", ({ record }, as) => maybe(as, setupIn(record).lens.extender, 2)],
  ["Focused at", ({ record }, as) => said(setupIn(record).focus.onMm, as)],
  ["Sensor, mm", ({ record }, as) => sensor(setupIn(record), as)],
  ["Stop to set", ({ record }, as) => as.label(record.stopToSet)],
  ["Stop wanted", ({ record }, as) => as.label(record.stopWanted)],
  ["EI", ({ record }, as) => as.number(record.shot.exposureIndex, 0)],
  ["Frames a second", ({ record }, as) => as.number(record.shot.frameRate, 3)],
  ["Shutter", ({ record }, as) => as.shutter(record.shot)],
  ["Stop read", ({ record }, as) => as.label(record.stopRead)],
  ["Read through", ({ record }, as) => record.through.join(" + ") || as.word("bare")],
  ["Pieces, lens outward", ({ record }) => record.pieces.map((piece) => `${piece.slot}: ${piece.id}`).join("; ")],
  ["Marked densities", ({ record }, as) => record.pieces.map((piece) => maybe(as, piece.markedDensity, 3) || "-").join("; ")],
  ["Measured densities", ({ record }, as) => record.pieces.map((piece) => maybe(as, piece.measuredDensity, 3) || "-").join("; ")],
  ["Wheel, density", ({ record }, as) => maybe(as, record.wheelDensity, 3)],
  ["Taken, stops", ({ record }, as) => as.number(record.stops, 2)],
  ["Taken, density", ({ record }, as) => as.number(record.density, 2)],
  ["Left over, stops", ({ record }, as) => as.number(record.leftOverStops, 2)],
  ["Sun azimuth, deg", ({ record }, as) => maybe(as, record.sun?.azimuthDeg, 1)],
  ["Sun elevation, deg", ({ record }, as) => maybe(as, record.sun?.elevationDeg, 1)],
  ["Fit, computed", ({ record }, as) => (record.fit ? as.fit(record.fit) : "")],
  ["Corner loss, stops", ({ record }, as) => maybe(as, record.fit?.cornerLossStops, 2)],
  ["Drift, stops an hour", ({ record }, as) => maybe(as, record.drift?.stopsPerHour, 2)],
  ["Line, share of the frame from below", ({ record }, as) => ofLines(record, (line) => as.number(line.atFrameHeight, 2))],
  ["Line above the axis, mm", ({ record }, as) => ofLines(record, (line) => as.length(line.aboveAxisMm))],
  ["Line turned, deg", ({ record }, as) => ofLines(record, (line) => [as.number(line.rotationDeg, 1), line.invert ? as.word("upside down") : ""].filter(Boolean).join(", "))],
  ["Amended", ({ amendments }, as) => as.time(amendments.at(-1)?.time ?? "")],
  ["Record", ({ record }) => record.id],
];

/** @param {Amended} shown newest first @param {Notation} [as] @param {string[]} [only] some of the columns @returns {Table} */
export function logTable(shown, as = WRITTEN, only) {
  const columns = COLUMNS.filter(([name]) => only?.includes(name) ?? true);
  return {
    caption: as.word("Day log"),
    head: columns.map(([name]) => as.word(name)),
    rows: shown.toReversed().map((one) => columns.map(([, cell]) => cell(one, as))),
  };
}

/** What a record says, filled parts only. @param {Amended[number]} shown @returns {[string, string][]} */
export function factsOf(shown) {
  return COLUMNS.map(([name, cell]) => /** @type {[string, string]} */ ([SAID.word(name), cell(shown, SAID)])).filter(([, text]) => text !== "");
}

/**
 * The main answer, for a file: one row for each stack.
 * @param {import("../document/setup.js").Setup} setup
 * @param {import("../api/glasscall.js").OpenUpReply} [answer] none: there was never a good one
 * @returns {Table}
 */
export function answerTable(setup, answer) {
  const { aperture: stop, number: plain } = WRITTEN;
  const { aperture } = setup.reading;
  const through = setup.reading.through.join(" + ");
  const slots = setup.rig.slots.map((slot) => slot.id);
  const stacks = answer?.stacks ?? [];
  const wheel = stacks.some((stack) => stack.wheel !== undefined);
  return {
    caption: `${aperture === undefined ? "Nothing read" : `Read ${stop(aperture)} ${through ? `through ${through}` : "bare"}`}, wanted ${stop(setup.shot.aperture)}: ${answer ? plain(answer.needStops, 2) : "no"} stops to take`,
    head: [...slots, ...(wheel ? ["Wheel, density"] : []), "Takes, stops", "Density", "Left over, stops", "Set", "Moves"],
    rows: stacks.map((stack) => [
      ...slots.map((slot) => stack.slots.find((placed) => placed.slot === slot)?.piece ?? ""),
      ...(wheel ? [maybe(WRITTEN, stack.wheel, 2)] : []),
      plain(stack.stops, 2),
      plain(stack.density, 2),
      plain(stack.leftOverStops, 2),
      stack.apertureLabel ?? "no iris",
      String(stack.moves),
    ]),
  };
}

/** Workings, term by term, in plain notation as the module gives them. @param {import("../questions/workings.js").Working[]} workings @returns {Table} */
export const workingTable = (workings) => ({
  caption: "How the answers are worked out",
  head: ["Answer", "Symbol", "Term", "Formula", "Value", "Unit", "Piece", "Known", "Source"],
  rows: workings.flatMap(({ question, of, terms }) => terms.map(({ symbol, what, formula = "", value, unit, piece = "", knownBy = "", source = "" }) =>
    [of === undefined ? question : `${question}: ${of}`, symbol, what, formula, String(value), unit, piece, knownBy, source])),
});

/** The pieces of the case. @param {import("../document/setup.js").Setup} setup @param {Notation} [as] @returns {Table} */
export function kitTable({ kit }, as = WRITTEN) {
  const head = ["Piece", "Kind", "Size", "Count", "Marked density", "Measured density", "Loss, stops", "Infrared density", "Mired shift"];
  return {
    caption: as.word("Kit"),
    head: head.map(as.word),
    rows: kit.map((piece) => [
      piece.id, as.kind(piece.kind), piece.size ?? "", String(piece.count ?? 1),
      maybe(as, piece.density, 3), maybe(as, piece.measuredDensity, 3), maybe(as, piece.lossStops, 2),
      maybe(as, piece.infraredDensity, 3), maybe(as, piece.miredShift, 0),
    ]),
  };
}
