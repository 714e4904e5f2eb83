// @ts-check
/** What brings a logged shot back today, and what will differ. Asks; computes nothing. */
import { ask } from "../engine.js";
import { askLine, sunOf } from "../frame-glass.js";
import { skyRequest } from "../light.js";
import { openUpRequest, shotSettings } from "../setup.js";
import { KINDS_OF_FIELD } from "../parts/kinds.js";
import { plain } from "./say.js";

/**
 * @typedef {import("../setup.js").Setup} Setup
 * @typedef {import("./record.js").ShotRecord} ShotRecord
 * @typedef {import("../api/glasscall.js").OpenUpRequest} OpenUpRequest
 * @typedef {import("../api/glasscall.js").OfferReply} Offer
 */

/** Turns that are tried for a polarizer, in degrees: finer than a hand sets it. */
const TURNS = Array.from({ length: 36 }, (_, nth) => nth * 5);

/** Today's lens and body with the shot as it was logged. @param {Setup} setup @param {ShotRecord} record @returns {Setup} */
function today(setup, record) {
  const { exposureIndex, focalLengthMm, widestAperture } = setup.match;
  return {
    ...setup,
    shot: { ...record.shot, exposureIndex: exposureIndex ?? record.shot.exposureIndex },
    lens: {
      ...setup.lens,
      ...(focalLengthMm === undefined ? {} : { focalLengthMm }),
      ...(widestAperture === undefined ? {} : { widestAperture }),
    },
    frame: { ...record.setup.frame },
  };
}

/** The glass of today's case that gives the logged stop in today's light. @param {Setup} setup @param {ShotRecord} record @returns {OpenUpRequest} */
export function matchRequest(setup, record) {
  const question = openUpRequest(today(setup, record));
  const had = record.pieces.filter((piece) => piece.kind === "polarizer");
  const own = setup.kit.filter((piece) => piece.kind === "polarizer");
  const same = had.flatMap((piece) => own.find((one) => one.id === piece.id) ?? own[0] ?? []).slice(0, 1);
  return { ...question, keep: same.map((piece) => piece.id), limit: 3 };
}

/** Where the line of a graduated filter was and goes. @param {Setup} setup @param {ShotRecord} record */
export function lineOf(setup, record) {
  if (!record.line) return undefined;
  // The filter that was in, whatever today's case holds.
  const [was, is] = [askLine(record.setup).reply, askLine({ ...today(setup, record), kit: record.setup.kit }).reply];
  return was && is ? { was, is, at: record.setup.frame.line } : undefined;
}

/**
 * The turn that darkens today's sky as much as the logged one did.
 * @param {Setup} setup
 * @param {ShotRecord} record
 */
export function turnOf(setup, record) {
  const then = record.sun;
  const sun = sunOf(setup);
  if (!then || !sun || !record.pieces.some((piece) => piece.kind === "polarizer")) return undefined;
  const sky = (/** @type {Setup} */ of, /** @type {{azimuthDeg: number, elevationDeg: number}} */ at, /** @type {number | "darkest"} */ polarizerDeg) =>
    ask("sky", { ...skyRequest(of, at), polarizerDeg }).reply;
  const was = sky(record.setup, then, record.setup.frame.sky.turnDeg ?? "darkest");
  if (!was) return undefined;
  const turns = TURNS.flatMap((turn) => {
    const reply = sky(today(setup, record), sun, turn);
    return reply ? [{ turn, stops: reply.darkeningStops }] : [];
  });
  const [best] = turns.sort((a, b) => Math.abs(a.stops - was.darkeningStops) - Math.abs(b.stops - was.darkeningStops));
  return best && { wasDeg: was.polarizerDeg, wasStops: was.darkeningStops, isDeg: best.turn, isStops: best.stops };
}

/** @param {import("../api/glasscall.js").SettingsRequest} shot */
const shutter = (shot) => KINDS_OF_FIELD.shutter.show(shot);

/** Infrared and colour that a set of pieces adds. @param {Setup} of @param {string[]} ids */
function tintOf({ kit }, ids) {
  const shifts = ids.flatMap((id) => kit.find((piece) => piece.id === id)?.miredShift ?? []);
  return shifts.length === 0 ? 0 : ask("colour", { lightKelvin: 5600, shiftsMired: shifts }).reply?.sumMired ?? 0;
}

/**
 * What the shot will not have in common with the logged one, most visible first.
 * @param {Setup} setup
 * @param {ShotRecord} record
 * @param {Offer} [stack] the glass of today
 * @returns {{what: string, was: string, is: string}[]}
 */
export function differences(setup, record, stack) {
  const now = today(setup, record);
  const shot = shotSettings(now);
  const [lens, then] = [now.lens, record.setup.lens];
  const millimetres = (/** @type {number | undefined} */ mm) => (mm === undefined ? "not said" : `${plain(mm, 1)} mm`);
  const ids = stack?.slots.map((placed) => placed.piece) ?? [];
  const tint = (/** @type {Setup} */ of, /** @type {string[]} */ names) => `${plain(tintOf(of, names), 0)} mired`;
  const glass = (/** @type {string[]} */ names) => names.toSorted().join(" + ") || "nothing";
  const rows = [
    { what: "Stop set", was: record.stopToSet, is: stack?.apertureLabel ?? "no stop of this lens" },
    { what: "Exposure against the shot wanted", was: `${plain(record.leftOverStops, 2)} left over`, is: stack ? `${plain(stack.leftOverStops, 2)} left over` : "not reached" },
    { what: "Focal length: field, depth and blur", was: millimetres(then?.focalLengthMm), is: millimetres(lens.focalLengthMm) },
    { what: "Sensor: field", was: sensorText(record.setup), is: sensorText(now) },
    { what: "Exposure index: noise and headroom", was: plain(record.shot.exposureIndex, 0), is: plain(shot.exposureIndex ?? 0, 0) },
    { what: "Frame rate: motion", was: plain(record.shot.frameRate, 3), is: plain(shot.frameRate ?? 0, 3) },
    { what: "Shutter: motion blur", was: shutter(record.shot), is: shutter(shot) },
    { what: "Glass", was: glass(record.pieces.map((piece) => piece.id)), is: glass(ids) },
    { what: "Colour shift of the glass", was: tint(record.setup, record.pieces.map((piece) => piece.id)), is: tint(setup, ids) },
    { what: "Sun", was: sunText(record.sun), is: sunText(record.sun && sunOf(setup)) },
  ];
  return rows.filter((row) => row.was !== row.is);
}

/** @param {Setup} setup */
const sensorText = ({ sensor }) => (sensor ? `${plain(sensor.widthMm, 2)} × ${plain(sensor.heightMm, 2)} mm` : "not said");

/** @param {{azimuthDeg: number, elevationDeg: number} | undefined} sun */
const sunText = (sun) => (sun ? `${plain(sun.azimuthDeg, 0)}° from north, ${plain(sun.elevationDeg, 0)}° up` : "not known");

/**
 * Two bodies in the same light; the second has what the first leaves in the case.
 * @param {Setup} setup
 * @param {Offer} [first] the stack the first body takes
 * @returns {OpenUpRequest}
 */
export function otherBodyRequest(setup, first) {
  const question = openUpRequest(setup);
  const taken = first?.slots.map((placed) => placed.piece) ?? [];
  const { aperture, exposureIndex, frameRate, shutterAngleDeg, shutterSeconds } = setup.match.other;
  const own = shutterAngleDeg !== undefined || shutterSeconds !== undefined;
  const shot = /** @type {any} */ ({
    ...question.shot,
    ...(aperture === undefined ? {} : { aperture }),
    ...(exposureIndex === undefined ? {} : { exposureIndex }),
    ...(frameRate === undefined ? {} : { frameRate }),
  });
  if (own) {
    delete shot.shutterAngleDeg;
    delete shot.shutterSeconds;
    Object.assign(shot, shutterSeconds === undefined ? { shutterAngleDeg } : { shutterSeconds });
  }
  return {
    ...question,
    shot,
    // What is read through stays known, even when none is left to put in.
    kit: question.kit?.map((piece) => ({
      ...piece,
      count: Math.max(0, (piece.count ?? 1) - taken.filter((id) => id === piece.id).length),
    })),
    inPlace: [],
    keep: [],
    limit: 1,
  };
}
