// @ts-check
/**
 * Records of the day: what was in front of the lens, when, and how the light
 * was read. A record is never altered; an amendment is a record of its own. It
 * holds data in one notation; every reader says it in his language.
 */
import { OPEN_UP, WHAT_IS_IN } from "../questions/open-up.js";
import { askLine, eachInHand } from "../questions/frame.js";
import { given } from "../document/document.js";
import { askFit, openingsOf } from "../questions/fit.js";
import { SUN, DRIFT } from "../questions/light.js";
import { answerTo } from "../questions/question.js";
import { demoLight } from "../document/demo-scene.js";
import { ordered } from "../storage/log-keys.js";
import { NO_IRIS, WRITTEN } from "./notation.js";
import { sentence } from "./sentence.js";
import { SLATE } from "../document/slate.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../document/slate.js").Slate} Slate
 * @typedef {import("../api/glasscall.js").SettingsRequest} Settings
 */

/** The line of a graduated filter; `invert`: dense below it. @typedef {{filter: string, atFrameHeight: number, aboveAxisMm: number, rotationDeg: number, invert?: boolean}} Line */

/**
 * @typedef {object} PieceIn
 * @property {string} slot
 * @property {string} id
 * @property {string} kind
 * @property {number} [markedDensity]
 * @property {number} [measuredDensity]
 * @property {number} stops
 * @property {string} knownBy
 */

/**
 * @typedef {object} ShotRecord
 * @property {1} version
 * @property {string} id
 * @property {string} time ISO 8601 with offset
 * @property {string} zone name of the time zone
 * @property {Slate} slate
 * @property {any} setup the document, in the form of its day, so that it can be taken up again (logged.js)
 * @property {{id?: string, focalLengthMm?: number, extender?: number}} [lens] that was on
 * @property {import("../api/glasscall.js").Place} [focusMm] as somebody said
 * @property {string} stopToSet label
 * @property {string} stopWanted label
 * @property {Settings} shot settings of the shot, with the stop to set
 * @property {string} stopRead label
 * @property {string[]} through ids read through
 * @property {PieceIn[]} pieces from the lens outward
 * @property {number} [wheelDensity]
 * @property {number} stops taken by all of it
 * @property {number} density
 * @property {number} leftOverStops against the stop wanted
 * @property {{azimuthDeg: number, elevationDeg: number}} [sun] where the place is the user's own
 * @property {{verdict: string, trust: string, cornerLossStops?: number}} [fit] as it was computed
 * @property {{stopsPerHour: number, intervalStops: number}} [drift] by the readings of the day
 * @property {Line} [line] of the graduated filter in hand, where it is in
 * @property {Line[]} [lines] of all, from the lens outward, where several are in
 * @property {number} [sameTime] how many of the same time stood before it, where any did
 */

/**
 * @typedef {object} Amendment
 * @property {1} version
 * @property {string} id
 * @property {string} time
 * @property {string} amends id of the record
 * @property {string} [after] id of the amendment that stood last when this one was made
 * @property {Partial<Slate>} slate what is different now
 */

/** @typedef {ShotRecord | Amendment} DayRecord */

/** @typedef {{id: string, time: string, zone: string}} Stamp */

/**
 * The set-up as it stands, as a record; nothing where the core refuses it.
 * @param {Setup} setup
 * @param {Stamp} stamp
 * @param {import("../document/document.js").Document} [document] what the set-up was made of, where the record is to be kept
 * @returns {ShotRecord | undefined}
 */
export function recordOf(setup, stamp, document) {
  const record = shotOf(setup, stamp, document);
  return record && {
    ...record,
    ...sunAt(setup, stamp.time),
    ...fitOf(setup),
    ...driftOf(setup),
    ...linesOf(setup, record.pieces),
  };
}

/**
 * As much of a record as its sentence says.
 * @param {Setup} setup
 * @param {Stamp} stamp
 * @param {import("../document/document.js").Document} [document]
 * @returns {ShotRecord | undefined}
 */
export function shotOf(setup, stamp, document) {
  const stack = answerTo(WHAT_IS_IN, setup).reply?.stacks[0];
  if (!stack) return undefined;
  const { shot, reading, kit = [] } = OPEN_UP.request(setup);
  const pieces = setup.inPlace.map(({ slot, piece: id }) => {
    const piece = kit.find((one) => one.id === id);
    const placed = stack.slots.find((one) => one.piece === id);
    return {
      slot,
      id,
      kind: piece?.kind ?? "nd",
      ...(piece?.density === undefined ? {} : { markedDensity: piece.density }),
      ...(piece?.measuredDensity === undefined ? {} : { measuredDensity: piece.measuredDensity }),
      stops: placed?.stops ?? 0,
      knownBy: placed?.knownBy ?? "marked",
    };
  });
  const order = setup.rig.slots.map((slot) => slot.id);
  pieces.sort((a, b) => order.indexOf(a.slot) - order.indexOf(b.slot));
  return {
    version: 1,
    ...stamp,
    slate: structuredClone(setup.slate),
    setup: structuredClone(document ?? {}),
    ...lensIn(setup),
    stopToSet: stack.apertureLabel ?? NO_IRIS,
    stopWanted: WRITTEN.aperture(setup.shot.aperture),
    shot: { ...shot, aperture: stack.apertureToSet ?? shot.aperture },
    stopRead: WRITTEN.aperture(reading.aperture),
    through: reading.through ?? [],
    pieces,
    ...(setup.wheelNow > 0 ? { wheelDensity: setup.wheelNow } : {}),
    stops: stack.stops,
    density: stack.density,
    leftOverStops: stack.leftOverStops,
  };
}

/** @param {Setup} setup */
function lensIn({ lens: { id, focalLengthMm, extender }, focus }) {
  const lens = given({ id, focalLengthMm, extender });
  return {
    ...(Object.keys(lens).length === 0 ? {} : { lens }),
    ...(focus.onMm === undefined ? {} : { focusMm: focus.onMm }),
  };
}

/** @param {Setup} setup */
function fitOf(setup) {
  const { reply } = askFit(setup);
  // Glass in front of a lens nobody has told of.
  if (!reply) return openingsOf(setup).length === 0 ? {} : { fit: { verdict: "unknown", trust: "unknown" } };
  const { verdict, trust, cornerLossStops } = reply;
  return { fit: { verdict, trust, ...(cornerLossStops === undefined ? {} : { cornerLossStops }) } };
}

/** @param {Setup} setup */
function driftOf(setup) {
  const { timed, followSky } = setup.light;
  if (timed.length === 0 || (timed.length === 1 && !followSky)) return {};
  const { reply } = answerTo(DRIFT, setup, OPEN_UP.request(setup));
  return reply ? { drift: { stopsPerHour: reply.stopsPerHour, intervalStops: reply.intervalStops } } : {};
}

/** Of the filter in hand, only where it is in or its line was said; of all, where several are in. @param {Setup} setup @param {PieceIn[]} pieces @returns {{line?: Line, lines?: Line[]}} */
function linesOf(setup, pieces) {
  const { frame, slate } = setup;
  const isIn = pieces.some(({ id }) => id === frame.grad);
  if (frame.grad === "" || (slate.line === "" && !isIn)) return {};
  const line = lineOf(setup);
  const lines = eachInHand(setup).flatMap((one) => lineOf(one) ?? []);
  return { ...(line ? { line } : {}), ...(lines.length > 1 ? { lines } : {}) };
}

/** @param {Setup} setup @returns {Line | undefined} */
function lineOf(setup) {
  const { grad, line, rotationDeg, invert } = setup.frame;
  const { reply } = askLine(setup);
  return reply && { filter: grad, atFrameHeight: line, aboveAxisMm: reply.lineHeightMm, rotationDeg, ...(invert ? { invert } : {}) };
}

/** Where the sun stood; nothing for the demo's place, where nobody is. @param {Setup} setup @param {string} time */
function sunAt(setup, time) {
  if (JSON.stringify(setup.light.place) === JSON.stringify(demoLight().place) || time === "") return {};
  const { reply } = answerTo(SUN, setup, time);
  return reply ? { sun: { azimuthDeg: reply.azimuthDeg, elevationDeg: reply.apparentElevationDeg } } : {};
}

/**
 * The records with their amendments, newest first.
 * @param {DayRecord[]} records
 * @returns {{record: ShotRecord, amendments: Amendment[], slate: Slate, disputed: (keyof Slate)[]}[]}
 */
export function amended(records) {
  const shots = records.filter((one) => !("amends" in one)).map((one) => /** @type {ShotRecord} */ (one));
  const later = records.filter((one) => "amends" in one).map((one) => /** @type {Amendment} */ (one));
  const inTime = (/** @type {DayRecord} */ a, /** @type {DayRecord} */ b) => Date.parse(a.time) - Date.parse(b.time);
  // A time counts seconds, and two taps may fall into one.
  const inTurn = (/** @type {ShotRecord} */ a, /** @type {ShotRecord} */ b) => inTime(a, b) || (a.sameTime ?? 0) - (b.sameTime ?? 0);
  return shots.sort(inTurn).reverse().map((record) => {
    const amendments = inSequence(later.filter((one) => one.amends === record.id).sort(inTime));
    const slate = Object.assign({}, record.slate, ...amendments.map((one) => one.slate));
    const told = (/** @type {keyof Slate} */ part) => new Set(amendments.map((one) => one.slate[part]).filter((text) => text !== undefined));
    return { record, amendments, slate, disputed: SLATE.map(([part]) => part).filter((part) => told(part).size > 1) };
  });
}

/**
 * Amendments each behind the one it was made after: clocks are set back. Only
 * where two do not know of each other, on two phones say, the clock decides.
 * @param {Amendment[]} amendments by the clock
 */
function inSequence(amendments) {
  const waiting = [...amendments];
  /** @type {Amendment[]} */
  const done = [];
  while (waiting.length > 0) {
    const free = waiting.findIndex((one) => !waiting.some((other) => other !== one && other.id === one.after));
    // Two that each name the other come from no phone: by the clock then.
    done.push(...waiting.splice(Math.max(free, 0), 1));
  }
  return done;
}

/** Whether every word of a search stands somewhere in a record, as it is held or as it is said. @param {ReturnType<typeof amended>[number]} shown @param {string} search */
export function isFoundBy({ record, slate }, search) {
  const glass = record.pieces.flatMap((piece) => [piece.id, piece.slot, piece.kind]);
  const all = [record.time, record.zone, record.stopToSet, record.stopRead, record.fit?.verdict ?? "", sentence(record, slate), ...record.through, ...Object.values(slate), ...glass].join(" ").toLowerCase();
  return search.toLowerCase().split(/\s+/).every((word) => all.includes(word));
}

/**
 * Two logs as one. Records never change, so an id that stands for two different
 * things is kept twice, side by side; nothing is overwritten.
 * @param {DayRecord[]} mine
 * @param {DayRecord[]} theirs
 * @returns {{records: DayRecord[], fresh: DayRecord[], added: number, disputed: number}} fresh: those that were not here
 */
export function merged(mine, theirs) {
  const records = [...mine];
  let [added, disputed] = [0, 0];
  for (const record of theirs) {
    const text = ordered(record);
    const same = records.filter((one) => one.id === record.id || one.id.startsWith(`${record.id} (`));
    if (same.some((one) => ordered({ ...one, id: record.id }) === text)) continue;
    added += 1;
    disputed += same.length > 0 ? 1 : 0;
    records.push(same.length === 0 ? record : { ...record, id: `${record.id} (${same.length + 1})` });
  }
  return { records, fresh: records.slice(mine.length), added, disputed };
}

/** Whether a value read from elsewhere is a list of records. @param {any} value @returns {value is DayRecord[]} */
export function areRecords(value) {
  const texts = (/** @type {any} */ slate) => slate && Object.values(slate).every((text) => typeof text === "string");
  const number = Number.isFinite;
  const piece = (/** @type {any} */ one) => [one?.slot, one?.id, one?.kind].every((text) => typeof text === "string") && number(one.stops);
  return Array.isArray(value) && value.every((one) =>
    one?.version === 1 && typeof one.id === "string" && !Number.isNaN(Date.parse(one.time)) && texts(one.slate)
    && ((typeof one.amends === "string" && ["string", "undefined"].includes(typeof one.after))
      || ([one.stopToSet, one.stopWanted, one.stopRead].every((text) => typeof text === "string")
        && [one.stops, one.density, one.leftOverStops, one.sameTime ?? 0].every(number)
        && Array.isArray(one.through) && Array.isArray(one.pieces) && one.pieces.every(piece)
        && number(one.shot?.aperture) && Array.isArray(one.setup?.kit))));
}
