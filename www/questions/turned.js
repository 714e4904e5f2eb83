// @ts-check
/** An answer turned round: what each number would have to be, as requests. */
import { ask } from "../engine/ask.js";
import { localIso } from "../document/moment.js";
import { asIfRead, WHAT_IS_IN } from "./open-up.js";
import { answerTo, question } from "./question.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../api/glasscall.js").OfferReply} Offer
 * @typedef {import("../api/glasscall.js").SolveReply} SolveReply
 * @typedef {import("../api/glasscall.js").OpenUpRequest} OpenUpRequest
 */

/** What this stack leaves, whatever else the case holds. */
const STACK = question("openUp", stackRequest);

/** @param {Setup} setup @param {Offer} stack @returns {OpenUpRequest} */
function stackRequest(setup, { slots, wheel }) {
  return WHAT_IS_IN.request({ ...setup, inPlace: slots.map(({ slot, piece }) => ({ slot, piece })), wheelNow: wheel ?? 0 });
}

const LEFT = "stacks[0].leftOverStops";

/** @param {OpenUpRequest} request @param {string} path @param {number} from @param {number} to @param {number} left */
const turned = (request, path, from, to, left) =>
  ask("solve", { question: "openUp", request, unknown: { path, from, to }, wanted: { path: LEFT, is: left } }).reply;

/**
 * Each number of the main answer as the unknown.
 * @param {Setup} setup @param {Offer} stack @param {number} left stops that shall be left
 * @returns {{aperture?: SolveReply, index?: SolveReply, rate?: SolveReply, angle?: SolveReply, time?: SolveReply, light?: SolveReply, density?: SolveReply}}
 */
export function stackTurned(setup, stack, left) {
  const request = STACK.request(setup, stack);
  const byAngle = request.shot.shutterAngleDeg !== undefined;
  return {
    aperture: turned(request, "shot.aperture", 0.7, 64, left),
    index: turned(request, "shot.exposureIndex", 10, 204_800, left),
    ...(byAngle
      ? { rate: turned(request, "shot.frameRate", 1, 2000, left), angle: turned(request, "shot.shutterAngleDeg", 1, 360, left) }
      : { time: turned(request, "shot.shutterSeconds", 0.00001, 60, left) }),
    light: turned(request, "reading.aperture", 0.5, 256, left),
    density: turned(oneGlass(request), "kit[0].density", 0, 6, left),
  };
}

/** Which density in a piece's place would leave this. @param {Setup} setup @param {Offer} stack @param {string} piece @param {number} left */
export function pieceTurned(setup, stack, piece, left) {
  const request = STACK.request(setup, stack);
  const at = request.kit?.findIndex(({ id }) => id === piece) ?? -1;
  // What was measured or stated of it is not what is asked.
  const kit = request.kit?.map((one, nth) => (nth === at ? { id: one.id, kind: /** @type {const} */ ("nd"), size: one.size, count: one.count, density: 0.3 } : one));
  return turned({ ...request, kit }, `kit[${at}].density`, 0, 6, left);
}

/** What the others leave without a piece. @param {Setup} setup @param {Offer} stack @param {string} piece */
export function leftWithout(setup, stack, piece) {
  const slots = stack.slots.filter((placed) => placed.piece !== piece);
  return answerTo(STACK, setup, { ...stack, slots }).reply?.stacks[0]?.leftOverStops;
}

/** One piece in place of all that is in. @param {OpenUpRequest} request @returns {OpenUpRequest} */
function oneGlass(request) {
  const through = (request.kit ?? []).filter(({ id }) => request.reading.through?.includes(id));
  const glass = { id: "one glass", kind: /** @type {const} */ ("nd"), density: 0.3 };
  return { ...request, kit: [glass, ...through], wheel: [], keep: [glass.id], rig: { slots: [{ id: "0" }] } };
}

/** The darkest light this lens can be opened up for, with nothing in. @param {Setup} setup */
export function darkestLight(setup) {
  const widest = setup.lens.widestAperture;
  if (widest === undefined) return undefined;
  const request = WHAT_IS_IN.request({ ...setup, inPlace: [], wheelNow: 0 });
  // What an extender takes stands between the ring and the sensor.
  const offer = ask("openUp", { ...request, shot: { ...request.shot, aperture: widest } }).reply;
  if (!offer) return undefined;
  return turned({ ...request, shot: { ...request.shot, aperture: widest } }, "reading.aperture", 0.5, 256, 0);
}

/** How bright it is where this stop exposes right. @param {Setup} setup @param {number | undefined} aperture */
function brightness({ reading }, aperture) {
  const { exposureIndex, frameRate, shutterAngleDeg, shutterSeconds } = reading;
  return ask("exposure", { aperture, exposureIndex, frameRate, shutterAngleDeg, shutterSeconds }).reply?.ev100;
}

/** The moment on Light; now where none is said. @param {Setup} setup */
export const momentOf = ({ light }) => light.at ?? localIso(new Date());

/**
 * When the light that is read now becomes that of another stop: by the curve of
 * a clear sky at the place, from the reading on, over a day.
 * @param {Setup} setup @param {number} aperture as it would be read
 * @returns {string[] | undefined} moments, rising; nothing where no place is known
 */
export function whenItComes(setup, aperture) {
  const { place } = setup.light;
  if (!place) return undefined;
  const at = momentOf(setup);
  const sun = ask("sun", { ...place, time: at }).reply;
  const sky = sun && ask("daylight", { sunElevationDeg: sun.elevationDeg }).reply;
  const [now, then] = [brightness(setup, setup.reading.aperture), brightness(setup, aperture)];
  if (!sky || now === undefined || then === undefined) return undefined;
  const height = ask("solve", {
    question: "daylight", request: {}, unknown: { path: "sunElevationDeg" }, wanted: { path: "ev100", is: sky.ev100 + then - now },
  }).reply;
  return (height?.met ?? []).flatMap(({ from }) => ask("solve", {
    question: "sun", request: { ...place, time: at }, unknown: { path: "time", from: 0, to: 1440 }, wanted: { path: "elevationDeg", is: from },
  }).reply?.met ?? []).flatMap(({ time }) => time ?? []).sort();
}

/**
 * Where the sun stands, and when on a day, so that this stop exposes right by a
 * clear sky.
 * @param {Setup} setup @param {number} aperture @param {string} from the day's first minute
 * @returns {{heights?: SolveReply, times?: SolveReply}}
 */
export function stopComes({ light: { place, facing = "level" }, reading, shot }, aperture, from) {
  const { exposureIndex, frameRate, shutterAngleDeg, shutterSeconds } = { ...reading, ...shot };
  const shutter = shutterSeconds === undefined ? { shutterAngleDeg } : { shutterSeconds };
  const lit = ask("exposure", { aperture, exposureIndex, frameRate, ...shutter }).reply;
  const heights = lit && ask("solve", {
    question: "daylight", request: { facing }, unknown: { path: "sunElevationDeg" }, wanted: { path: "facingLux", is: lit.illuminanceLux },
  }).reply;
  if (!heights || !place) return { heights };
  const met = heights.met.flatMap(({ from: is }) => ask("solve", {
    question: "sun", request: { ...place, time: from }, unknown: { path: "time", from: 0, to: 1440 }, wanted: { path: "elevationDeg", is },
  }).reply?.met ?? []).sort((a, b) => a.from - b.from);
  return { heights, times: { met, atLeast: [], from: 0, to: 1440, complete: true } };
}

/** How the stack is worked out. @param {Setup} setup @param {Offer} stack */
export const stackWorking = (setup, stack) => ask("openUp", { ...STACK.request(setup, stack), explain: true }).reply?.working;

/**
 * Each number of a fit as the unknown: where the least room is this or more.
 * @param {import("../api/glasscall.js").FitRequest} whole @param {number} worst which opening has the least room @param {number} spareMm
 * @returns {{focal?: SolveReply, number?: SolveReply, distance?: SolveReply, pupil?: SolveReply}}
 */
export function fitTurned(whole, worst, spareMm) {
  const { zoom: _, lossMap: __, ...request } = whole;
  const found = (/** @type {string} */ path, /** @type {number} */ from, /** @type {number} */ to) =>
    ask("solve", { question: "fit", request, unknown: { path, from, to }, wanted: { path: "spareMm", is: spareMm } }).reply;
  return {
    focal: found("focalLengthMm", 4, 1200),
    number: found("fNumber", 0.7, 64),
    distance: found(`openings[${worst}].distanceFromRimMm`, 0, 400),
    ...(typeof request.pupilBehindRimMm === "number" ? { pupil: found("pupilBehindRimMm", 0, 300) } : {}),
  };
}

/** The stop that is read where the glass must take so much: what somebody said instead of reading. @param {Setup} setup @param {number} need in stops */
export function readingFor(setup, need) {
  const request = WHAT_IS_IN.request({ ...asIfRead(setup), inPlace: [], wheelNow: 0 });
  return ask("solve", {
    question: "openUp", request, unknown: { path: "reading.aperture", from: 0.3, to: 1000 }, wanted: { path: "needStops", is: need },
  }).reply?.met[0]?.from;
}

/**
 * The stop that is as bright as now with a pair of polarizers turned so far.
 * @param {Setup} setup @param {import("../api/glasscall.js").CrossedPolarizersRequest} pair @param {number} angleDeg
 */
export function stopOfTurn(setup, pair, angleDeg) {
  const taken = ask("crossedPolarizers", { ...pair, angleDeg }).reply?.stops;
  const request = WHAT_IS_IN.request({ ...asIfRead(setup), inPlace: [], wheelNow: 0 });
  const need = ask("openUp", request).reply?.needStops;
  if (taken === undefined || need === undefined) return undefined;
  // What the pair takes more, the iris gives.
  return ask("solve", {
    question: "openUp", request, unknown: { path: "shot.aperture", from: 0.7, to: 64 }, wanted: { path: "needStops", is: need + taken - setup.light.pair.stops },
  }).reply;
}

/** How the least room is worked out, where a few terms tell it. @param {import("../api/glasscall.js").FitRequest} request */
export const fitWorking = (request) => ask("fit", { ...request, explain: true }).reply?.working;
