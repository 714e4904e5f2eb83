// @ts-check
/** Records and answers as tables: a caption, headings, rows of texts. */
import { plain } from "./say.js";
import { SLATE } from "./slate.js";
import { KINDS_OF_FIELD } from "../parts/kinds.js";

/** @typedef {{caption: string, head: string[], rows: string[][]}} Table */
/** @typedef {ReturnType<typeof import("./record.js").amended>} Amended */

/** @param {number | undefined} value @param {number} most */
const maybe = (value, most) => (value === undefined ? "" : plain(value, most));

/** @param {import("../api/glasscall.js").Place | undefined} place */
const focusText = (place) => (place === undefined ? "" : place === "infinity" ? "infinity" : `${plain(Number(place) / 1000, 3)} m`);

/** Headings name their unit; the order never changes. @type {[string, (shown: Amended[number]) => string][]} */
const COLUMNS = [
  ["Time", ({ record }) => record.time],
  ["Zone", ({ record }) => record.zone],
  ...SLATE.map(([part, name]) => /** @type {[string, (shown: Amended[number]) => string]} */ ([name, ({ slate }) => slate[part] ?? ""])),
  ["Focal length, mm", ({ record }) => maybe(record.setup.lens?.focalLengthMm, 1)],
  ["Focused at", ({ record }) => focusText(record.setup.focus?.onMm)],
  ["Sensor, mm", ({ record }) => (record.setup.sensor ? `${plain(record.setup.sensor.widthMm, 2)} x ${plain(record.setup.sensor.heightMm, 2)}` : "")],
  ["Stop to set", ({ record }) => record.stopToSet],
  ["Stop wanted", ({ record }) => record.stopWanted],
  ["EI", ({ record }) => plain(record.shot.exposureIndex, 0)],
  ["Frames a second", ({ record }) => plain(record.shot.frameRate, 3)],
  ["Shutter", ({ record }) => KINDS_OF_FIELD.shutter.show(record.shot)],
  ["Stop read", ({ record }) => record.stopRead],
  ["Read through", ({ record }) => record.through.join(" + ") || "bare"],
  ["Pieces, lens outward", ({ record }) => record.pieces.map((piece) => `${piece.slot}: ${piece.id}`).join("; ")],
  ["Marked densities", ({ record }) => record.pieces.map((piece) => maybe(piece.markedDensity, 3) || "-").join("; ")],
  ["Measured densities", ({ record }) => record.pieces.map((piece) => maybe(piece.measuredDensity, 3) || "-").join("; ")],
  ["Wheel, density", ({ record }) => maybe(record.wheelDensity, 3)],
  ["Taken, stops", ({ record }) => plain(record.stops, 2)],
  ["Taken, density", ({ record }) => plain(record.density, 2)],
  ["Left over, stops", ({ record }) => plain(record.leftOverStops, 2)],
  ["Sun azimuth, deg", ({ record }) => maybe(record.sun?.azimuthDeg, 1)],
  ["Sun elevation, deg", ({ record }) => maybe(record.sun?.elevationDeg, 1)],
  ["Fit, computed", ({ record }) => record.fit?.verdict ?? ""],
  ["Corner loss, stops", ({ record }) => maybe(record.fit?.cornerLossStops, 2)],
  ["Drift, stops an hour", ({ record }) => maybe(record.drift?.stopsPerHour, 2)],
  ["Line, share of the frame from below", ({ record }) => maybe(record.line?.atFrameHeight, 2)],
  ["Line above the axis, mm", ({ record }) => maybe(record.line?.aboveAxisMm, 1)],
  ["Line turned, deg", ({ record }) => maybe(record.line?.rotationDeg, 1)],
  ["Amended", ({ amendments }) => amendments.at(-1)?.time ?? ""],
  ["Record", ({ record }) => record.id],
];

/** @param {Amended} shown newest first @returns {Table} */
export function logTable(shown) {
  return {
    caption: "Day log",
    head: COLUMNS.map(([name]) => name),
    rows: shown.toReversed().map((one) => COLUMNS.map(([, cell]) => cell(one))),
  };
}

/** What a record says, filled parts only. @param {Amended[number]} shown @returns {[string, string][]} */
export function factsOf(shown) {
  return COLUMNS.map(([name, cell]) => /** @type {[string, string]} */ ([name, cell(shown)])).filter(([, text]) => text !== "");
}

/**
 * The main answer: one row for each stack.
 * @param {import("../setup.js").Setup} setup
 * @param {import("../api/glasscall.js").OpenUpReply} [answer] none: there was never a good one
 * @returns {Table}
 */
export function answerTable(setup, answer) {
  const stop = KINDS_OF_FIELD.aperture.show;
  const through = setup.reading.through.join(" + ");
  const slots = setup.rig.slots.map((slot) => slot.id);
  const stacks = answer?.stacks ?? [];
  const wheel = stacks.some((stack) => stack.wheel !== undefined);
  return {
    caption: `Read ${stop(setup.reading.aperture)} ${through ? `through ${through}` : "bare"}, wanted ${stop(setup.shot.aperture)}: ${answer ? plain(answer.needStops, 2) : "no"} stops to take`,
    head: [...slots, ...(wheel ? ["Wheel, density"] : []), "Takes, stops", "Density", "Left over, stops", "Set", "Moves"],
    rows: stacks.map((stack) => [
      ...slots.map((slot) => stack.slots.find((placed) => placed.slot === slot)?.piece ?? ""),
      ...(wheel ? [maybe(stack.wheel, 2)] : []),
      plain(stack.stops, 2),
      plain(stack.density, 2),
      plain(stack.leftOverStops, 2),
      stack.apertureLabel ?? "no iris",
      String(stack.moves),
    ]),
  };
}

/** The pieces of the case. @param {import("../setup.js").Setup} setup @returns {Table} */
export function kitTable({ kit }) {
  return {
    caption: "Kit",
    head: ["Piece", "Kind", "Size", "Count", "Marked density", "Measured density", "Loss, stops", "Infrared density", "Mired shift"],
    rows: kit.map((piece) => [
      piece.id, piece.kind, piece.size ?? "", String(piece.count ?? 1),
      maybe(piece.density, 3), maybe(piece.measuredDensity, 3), maybe(piece.lossStops, 2),
      maybe(piece.infraredDensity, 3), maybe(piece.miredShift, 0),
    ]),
  };
}
