// @ts-check
/** How every answer in use is worked out: asked of the core, in the order of the screens. */
import { ask } from "../engine/ask.js";
import { BEHIND_LENS, CLOSE_UP, COLOUR, DEPTH, LAMPS, RAMP } from "./depth-and-colour.js";
import { STACK_INFRARED, piecesOf, WORKING_STOP } from "./stack.js";
import { pupilQuestion, FIT } from "./fit.js";
import { uncertaintyOf } from "./known.js";
import { GRAD_IN, gradIn, LINE } from "./frame.js";
import { SUN, DRIFT, FLAG, GHOST, MEASURED, PAIR, SKY, SUN_DAY } from "./light.js";
import { demoLight } from "../document/demo-scene.js";
import { OPEN_UP, shotSettings } from "./open-up.js";
import { momentOf, stackWorking } from "./turned.js";
import { answerTo } from "./question.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../api/glasscall.js").OpenUpReply} OpenUpReply
 * @typedef {import("../api/glasscall.js").OfferReply} Offer
 * @typedef {import("../api/glasscall.js").TermReply} Term
 * @typedef {"openUp" | "convertDensity" | "exposure" | "workingStop" | "depth" | "closeUp" | "colour" | "sunImage" | "fit" | "line" | "daylight" | "drift" | "sky" | "reflection" | "crossedPolarizers" | "measuredPolarizer" | "flag" | "ghost" | "sun" | "sunDay" | "infrared" | "skyAndGround" | "weight" | "ramp" | "flicker" | "behindLens" | "pupilByTwoCards" | "pupilByFront" | "pupilByRing" | "coverKit" | "orderDay" | "twoBodies" | "rings" | "dayNeeds"} Worked
 * @typedef {{question: Worked, of?: string, terms: Term[]}} Working `of` tells it from others of its question
 */

/** The stack that is in, else the best. @param {OpenUpReply | undefined} answer @returns {Offer | undefined} */
const stackOf = (answer) => answer?.stacks.find(({ moves }) => moves === 0) ?? answer?.stacks[0];

/** What nobody has touched is in nobody's use. @param {Setup} setup @param {"surface" | "pair" | "flag" | "ghost"} part */
const isTouched = ({ light }, part) => JSON.stringify(light[part]) !== JSON.stringify(demoLight()[part]);

/** @typedef {[question: Worked, request: any]} Question one without a request stands for nothing */

/** Questions as workings, without those of which more decides than a few terms tell. @param {Question[]} asked @returns {Working[]} */
export const worked = (asked) => asked.flatMap(([question, request]) => {
  const terms = request && workingOf(question, request);
  return terms ? [{ question, terms }] : [];
});

/** @param {Setup} setup @param {number} aperture to set @param {Offer | undefined} stack @returns {Question[]} */
function ofTheLens(setup, aperture, stack) {
  const { lens } = setup;
  const movesOut = lens.movesOut ?? false;
  const stop = WORKING_STOP.request(setup, aperture, movesOut);
  const became = ask("workingStop", stop).reply;
  const depth = became && DEPTH.request(setup, became.focalLengthMm, became.atInfinityForAsked ?? aperture);
  const sharp = depth && ask("depth", depth).reply;
  return [
    ["workingStop", lens.extender !== undefined || movesOut ? stop : undefined],
    ["depth", depth],
    ["closeUp", stack && CLOSE_UP.request(setup, stack)],
    ["behindLens", sharp && stack && BEHIND_LENS.request(setup, sharp.fNumber, sharp.circleMm, stack)],
  ];
}

/** The lens at a stop, and what is before it. @param {Setup} setup @param {number} aperture to set @param {Offer | undefined} stack */
export const workingsOfLens = (setup, aperture, stack) => worked(ofTheLens(setup, aperture, stack));

/** @param {Setup} setup @param {Offer} stack @returns {Question} */
function ofColour(setup, stack) {
  const isKnown = setup.colour.lightKelvin !== undefined || piecesOf(setup, stack).some(({ miredShift }) => miredShift);
  return ["colour", isKnown ? COLOUR.request(setup, stack) : undefined];
}

/** What the stack does to infrared, the shutter to lamps, and a ramp that is asked for. @param {Setup} setup @param {Offer} stack @returns {Question[]} */
function ofTheShot(setup, stack) {
  const shot = shotSettings(setup);
  const lamps = LAMPS.request(shot.frameRate, shot);
  const pulses = ask("flicker", lamps).reply?.mains.some(({ given }) => given && !given.safe);
  const ramp = RAMP.request(setup, shot);
  return [
    ["infrared", stack.slots.length > 0 || stack.wheel ? STACK_INFRARED.request(setup, stack) : undefined],
    ["flicker", pulses ? lamps : undefined],
    ["ramp", Object.values(ramp.to).some((end) => end !== undefined) ? ramp : undefined],
  ];
}

/** @param {Setup} setup @returns {Question[]} */
function ofTheLight(setup) {
  const { light } = setup;
  const at = momentOf(setup);
  const sun = answerTo(SUN, setup, at).reply;
  const { timed, followSky, facing = "level" } = light;
  const touched = (/** @type {"surface" | "pair" | "flag" | "ghost"} */ part, /** @type {() => any} */ request) => (isTouched(setup, part) ? request() : undefined);
  const pair = () => {
    const { pull: _, picture: __, ...request } = PAIR.request(setup);
    return request;
  };
  return [
    ["sun", sun && { ...light.place, time: at, ...uncertaintyOf(setup) }],
    ["sunDay", light.place && { ...SUN_DAY.request(light.place, at), ...uncertaintyOf(setup) }],
    ["daylight", sun && { sunElevationDeg: sun.elevationDeg, facing }],
    ["drift", timed.length > 1 || (timed.length === 1 && followSky) ? DRIFT.request(setup, OPEN_UP.request(setup)) : undefined],
    ["sky", sun && SKY.request(setup, sun)],
    ["reflection", touched("surface", () => light.surface)],
    ["crossedPolarizers", touched("pair", pair)],
    ["measuredPolarizer", MEASURED.request(setup)],
    ["flag", touched("flag", () => FLAG.request(setup, sun ?? { azimuthDeg: 0, elevationDeg: 0 }))],
    ["ghost", touched("ghost", () => GHOST.request(setup))],
  ];
}

/** Every answer that stands, but those of which more decides than a few terms tell. @param {Setup} setup @param {OpenUpReply | undefined} answer @returns {Working[]} */
export function workingsOf(setup, answer) {
  const stack = stackOf(answer);
  const main = stack && stackWorking(setup, stack);
  /** @type {Question[]} */
  const asked = [
    ...(stack ? [...ofTheLens(setup, stack.apertureToSet ?? setup.shot.aperture, stack), ofColour(setup, stack), ...ofTheShot(setup, stack)] : []),
    ["fit", FIT.request(setup)],
    ...pupilQuestion(setup),
    ["line", gradIn(setup) === undefined ? undefined : LINE.request(setup)],
    ["skyAndGround", gradIn(setup) === undefined || setup.frame.bright.aperture === undefined ? undefined : GRAD_IN.request(setup)],
    ...ofTheLight(setup),
  ];
  return [
    ...(main ? [{ question: /** @type {const} */ ("openUp"), terms: main }] : []),
    ...worked(asked),
  ];
}

/** @param {Worked} question @param {any} request @returns {Term[] | undefined} */
export const workingOf = (question, request) => /** @type {any} */ (ask(question, { ...request, explain: true }).reply)?.working;
