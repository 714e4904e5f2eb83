// @ts-check
/** How the searches that stand proven were worked out: they go along with the other answers. */
import { ask } from "../engine/ask.js";
import { provenWorking } from "../engine/proven.js";
import { say } from "../language/say.js";
import { WORKED } from "../language/words/working.js";
import { COVER, needsAsked, orderInRig, ORDER, ownName, packingNeeds, rigsOf, TWO_BODIES } from "../questions/plan.js";
import { RINGS } from "../questions/rings.js";
import { worked, workingsOf } from "../questions/workings.js";
import { OTHER_BODY } from "./matching.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../questions/workings.js").Working} Working
 * @typedef {import("../engine/proven.js").Searched} Searched
 */

/** A search of one name; `of` tells it from others. @typedef {[question: Searched, of: string | undefined, request: any]} Search */

/** How the stacks of the two bodies are asked for, and the list of the day for both. @param {Setup} setup */
export function askBodies(setup) {
  const first = ask("openUp", { ...OTHER_BODY.request({ ...setup, match: { ...setup.match, other: {} } }), keep: setup.keep }).reply;
  const stack = first?.stacks[0];
  const request = OTHER_BODY.request(setup, stack);
  const { reply, refusal } = ask("openUp", request);
  const list = first && reply && TWO_BODIES.request(setup, reply.needStops - first.needStops);
  return { first, stack, request, reply, refusal, list };
}

/** @param {Setup} setup @returns {Search[]} */
function searches(setup) {
  const { needs } = packingNeeds(setup, () => "");
  const { list } = askBodies(setup);
  const rigs = rigsOf(setup);
  const threads = new Set([setup.plan.filterMm, ...rigs.flatMap(({ threadMm }) => threadMm ?? [])]);
  return [
    ["orderDay", undefined, ORDER.request(setup)],
    ...rigs.map((rig) => /** @type {Search} */ (["orderDay", rig.id, orderInRig(setup, rig)])),
    ["coverKit", "own", COVER.request(setup, needs, true)],
    ["coverKit", "buy", COVER.request(setup, needs, false)],
    ...[...threads].map((mm) => /** @type {Search} */ (["rings", String(mm), RINGS.request(setup, mm)])),
    ["twoBodies", undefined, list],
  ];
}

/** Every answer that stands, worked out; of the searches those that were made for this set-up and proven. @param {Setup} setup @param {import("../api/glasscall.js").OpenUpReply | undefined} answer @returns {Working[]} */
export function workingsToHandOver(setup, answer) {
  const proven = searches(setup).flatMap(([question, of, request]) => {
    const terms = request && provenWorking(question, request);
    return terms ? [{ question, ...(of === undefined ? {} : { of }), terms: terms.map(named) }] : [];
  });
  const isPacked = setup.plan.needsFrom !== "setUps" && proven.some(({ question }) => question === "coverKit");
  return [...workingsOf(setup, answer), ...worked([["dayNeeds", isPacked ? needsAsked(setup) : undefined]]), ...proven];
}

/** A piece as the case calls it. @param {import("../engine/proven.js").Term} term */
const named = (term) => (term.piece === undefined ? term : { ...term, piece: ownName(term.piece) });

/** What a working is called. @param {Working} working */
export function workingName({ question, of }) {
  if (of === undefined) return WORKED[question];
  const told = question === "coverKit" ? (of === "own" ? say("worked|from the case") : say("worked|to be bought")) : question === "rings" ? `${of} mm` : of;
  return `${WORKED[question]}: ${told}`;
}
