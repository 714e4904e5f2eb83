// @ts-check
/** What brings a logged shot back today, and what will differ. Asks; computes nothing. */
import { ask } from "../engine/ask.js";
import { askLine, eachInHand, sunOf } from "../questions/frame.js";
import { SKY } from "../questions/light.js";
import { OPEN_UP, shotSettings } from "../questions/open-up.js";
import { question } from "../questions/question.js";
import { say } from "../language/say.js";
import { fixed, shiftText } from "../language/numbers.js";
import { DAY_WORDS } from "../language/words/day.js";
import { setupIn } from "./logged.js";
import { SAID } from "./notation.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("./record.js").ShotRecord} ShotRecord
 * @typedef {import("../api/glasscall.js").OpenUpRequest} OpenUpRequest
 * @typedef {import("../api/glasscall.js").OfferReply} Offer
 */

/**
 * The rig a record was made on, where another is in use: as the case has it
 * today, or as it was then. Its slots are what the glass must find room in.
 * @param {Setup} setup @param {ShotRecord} record
 */
export function otherRig(setup, record) {
  const { rig } = setupIn(record);
  if (rig.id === setup.rig.id || rig.slots.length === 0) return undefined;
  const own = setup.stock.slots.filter((slot) => slot.rig === rig.id);
  return own.length > 0 ? { ...rig, slots: own.map(({ rig: _, opening: __, ...slot }) => slot) } : rig;
}

/** Today's lens and body with the shot as it was logged. @param {Setup} setup @param {ShotRecord} record @returns {Setup} */
export function today(setup, record) {
  const { exposureIndex, focalLengthMm, widestAperture } = setup.match;
  const rig = otherRig(setup, record);
  return {
    ...setup,
    ...(rig ? { rig, inPlace: [] } : {}),
    shot: { ...record.shot, exposureIndex: exposureIndex ?? record.shot.exposureIndex },
    lens: {
      ...setup.lens,
      ...(focalLengthMm === undefined ? {} : { focalLengthMm }),
      ...(widestAperture === undefined ? {} : { widestAperture }),
    },
    frame: { ...setupIn(record).frame },
  };
}

/** The glass of today's case that gives the logged stop in today's light. */
export const MATCH = question("openUp", matchRequest, {
  "shot.exposureIndex": "match.exposureIndex", "lens.widestAperture": "match.widestAperture", "fit.focalLengthMm": "match.focalLengthMm",
});
/** Two bodies in the same light; the second has what the first leaves in the case. */
export const OTHER_BODY = question("openUp", otherBodyRequest, { shot: "match.other" });

/** @param {Setup} setup @param {ShotRecord} record @returns {OpenUpRequest} */
function matchRequest(setup, record) {
  const main = OPEN_UP.request(today(setup, record));
  const had = record.pieces.filter((piece) => piece.kind === "polarizer");
  const own = setup.kit.filter((piece) => piece.kind === "polarizer");
  const same = had.flatMap((piece) => own.find((one) => one.id === piece.id) ?? own[0] ?? []).slice(0, 1);
  return { ...main, keep: same.map((piece) => piece.id), limit: 3 };
}

/** Where the line of each graduated filter was and goes. @param {Setup} setup @param {ShotRecord} record */
export function linesOf(setup, record) {
  if (!record.line) return [];
  const [then, now] = [setupIn(record), today(setup, record)];
  // The filters that were in, each in its slot, whatever today's case holds.
  const inPlace = then.inPlace.filter(({ slot }) => now.rig.slots.some(({ id }) => id === slot));
  const each = eachInHand(then);
  return (each.length === 0 ? [then] : each).flatMap(({ frame }) => {
    const [was, is] = [askLine({ ...then, frame }).reply, askLine({ ...now, kit: then.kit, inPlace, frame }).reply];
    return was && is ? [{ was, is, frame }] : [];
  });
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
  const sky = (/** @type {Setup} */ of, /** @type {{azimuthDeg: number, elevationDeg: number}} */ at, /** @type {import("../api/glasscall.js").PolarizerTurn} */ polarizerDeg) => {
    const request = SKY.request(of, at);
    return request && ask("sky", { ...request, polarizerDeg }).reply;
  };
  const was = sky(setupIn(record), then, setupIn(record).frame.sky.turnDeg ?? "darkest");
  const is = was && sky(today(setup, record), sun, { darkeningStops: was.darkeningStops });
  return is && { wasDeg: was.polarizerDeg, wasStops: was.darkeningStops, isDeg: is.polarizerDeg, isStops: is.darkeningStops };
}

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
  const [lens, then] = [now.lens, setupIn(record).lens];
  const millimetres = (/** @type {number | undefined} */ mm) => (mm === undefined ? DAY_WORDS.notSaid : `${fixed(mm, 1)} mm`);
  const ids = stack?.slots.map((placed) => placed.piece) ?? [];
  const had = record.pieces.map((piece) => piece.id);
  const left = (/** @type {number} */ stops) => say("{stops} left over", { stops: fixed(stops, 2) });
  const glass = (/** @type {string[]} */ names) => names.toSorted().join(" + ") || say("nothing");
  const rows = [
    { what: say("Stop set"), was: SAID.label(record.stopToSet), is: stack?.apertureLabel ? SAID.label(stack.apertureLabel) : DAY_WORDS.noStop },
    { what: say("Exposure against the shot wanted"), was: left(record.leftOverStops), is: stack ? left(stack.leftOverStops) : say("not reached") },
    { what: say("Focal length: field, depth and blur"), was: millimetres(then?.focalLengthMm), is: millimetres(lens.focalLengthMm) },
    { what: say("Sensor: field"), was: sensorText(setupIn(record)), is: sensorText(now) },
    { what: say("Exposure index: noise and headroom"), was: fixed(record.shot.exposureIndex, 0), is: fixed(shot.exposureIndex ?? 0, 0) },
    { what: say("Frame rate: motion"), was: fixed(record.shot.frameRate, 3), is: fixed(shot.frameRate ?? 0, 3) },
    { what: say("Shutter: motion blur"), was: SAID.shutter(record.shot), is: SAID.shutter(shot) },
    { what: say("Glass"), was: glass(had), is: glass(ids) },
    { what: say("Colour shift of the glass"), was: shiftText(tintOf(setupIn(record), had)), is: shiftText(tintOf(setup, ids)) },
    { what: say("Sun"), was: sunText(record.sun), is: sunText(record.sun && sunOf(setup)) },
  ];
  return rows.filter((row) => row.was !== row.is);
}

/** @param {Setup} setup */
const sensorText = ({ sensor }) => (sensor ? `${fixed(sensor.widthMm, 2)} × ${fixed(sensor.heightMm, 2)} mm` : DAY_WORDS.notSaid);

/** @param {{azimuthDeg: number, elevationDeg: number} | undefined} sun */
const sunText = (sun) => (sun
  ? say("{azimuth}° from north, {elevation}° up", { azimuth: fixed(sun.azimuthDeg, 0), elevation: fixed(sun.elevationDeg, 0) })
  : say("not known"));

/**
 * @param {Setup} setup
 * @param {Offer} [first] the stack the first body takes
 * @returns {OpenUpRequest}
 */
function otherBodyRequest(setup, first) {
  const question = OPEN_UP.request(setup);
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
