// @ts-check
/** The main answer turned round: which number would leave what is wanted. */
import { darkestLight, leftWithout, pieceTurned, stackTurned, stackWorking, whenItComes } from "../../questions/turned.js";
import { STACK_INFRARED } from "../../questions/stack.js";
import { workingOf } from "../../questions/workings.js";
import { say } from "../../language/say.js";
import { fixed, signed } from "../../language/numbers.js";
import { clockTime } from "../../language/words/light.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { pieces } from "../../parts/stack.js";
import { openTurned } from "../../parts/turned.js";
import { workingPart } from "../../parts/working.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../api/glasscall.js").OfferReply} Offer
 * @typedef {import("../../parts/turned.js").Turn} Turn
 */

const stop = KINDS_OF_FIELD.aperture.show;

/** When that light comes, from the one read now. @param {App} app @param {number} aperture */
function whenText({ setup }, aperture) {
  const times = whenItComes(setup, aperture);
  if (!times) return say("When: say the place on Light.");
  const list = times.map(clockTime).join(", ");
  return list ? say("clear sky, from this reading: {times}", { times: list }) : say("clear sky, from this reading: not within a day");
}

/** @param {App} app @param {Offer} stack @param {number} left @returns {Turn[]} */
function turnsOf(app, stack, left) {
  const { setup } = app;
  const found = stackTurned(setup, stack, left);
  const put = (/** @type {keyof import("../../document/setup.js").Setup["shot"]} */ name) => (/** @type {number} */ value) => {
    delete app.drafts[`shot.${name}`];
    app.change(({ shot }) => {
      if (name === "shutterAngleDeg") delete shot.shutterSeconds;
      if (name === "shutterSeconds") delete shot.shutterAngleDeg;
      shot[name] = value;
    }, true, undefined, say("undo|what was asked back"));
  };
  const darkest = darkestLight(setup);
  return [
    { name: say("Stop you want"), found: found.aperture, show: stop, take: put("aperture") },
    { name: say("Exposure index"), found: found.index, show: (value) => say("EI {index}", { index: fixed(value, 0) }), take: put("exposureIndex") },
    ...("time" in found
      ? [{ name: say("Shutter"), found: found.time, show: (/** @type {number} */ value) => KINDS_OF_FIELD.shutter.show({ shutterSeconds: value }), take: put("shutterSeconds") }]
      : [
        { name: say("Frame rate"), found: found.rate, show: (/** @type {number} */ value) => say("{rate} fps", { rate: fixed(value, 2) }), take: put("frameRate") },
        { name: say("Shutter"), found: found.angle, show: (/** @type {number} */ value) => `${fixed(value, 1)}°`, take: put("shutterAngleDeg") },
      ]),
    { name: say("turned|Light, as you read it"), found: found.light, show: stop, note: (value) => whenText(app, value) },
    { name: say("One glass in its place"), found: found.density, show: (value) => say("ND {density}", { density: fixed(value, 2) }) },
    ...(darkest ? [{ name: say("Darkest light for this lens, nothing in"), found: darkest, show: stop, note: (/** @type {number} */ value) => whenText(app, value) }] : []),
  ];
}

/** @param {HTMLElement} opener @param {App} app @param {Offer} stack */
export function turnStack(opener, app, stack) {
  openTurned(opener, {
    title: say("What would leave this"),
    wanted: { label: say("Stops left with {pieces}", { pieces: pieces(stack) }), kind: "signedThirds", is: 0 },
    turns: (left) => turnsOf(app, stack, left),
    more: workingPart(stackWorking(app.setup, stack)),
  });
}

/** One piece of the stack: what would do in its place, and without it. @param {HTMLElement} opener @param {App} app @param {Offer} stack @param {string} piece */
export function turnPiece(opener, app, stack, piece) {
  const { setup } = app;
  const without = leftWithout(setup, stack, piece);
  openTurned(opener, {
    title: piece,
    wanted: { label: say("Stops left with {pieces}", { pieces: pieces(stack) }), kind: "signedThirds", is: 0 },
    turns: (left) => [
      { name: say("Density in its place"), found: pieceTurned(setup, stack, piece, left), show: (value) => say("ND {density}", { density: fixed(value, 2) }) },
      ...(without === undefined ? [] : [{
        name: say("Without it"), found: { met: [{ from: without, to: without, gives: without, steps: false }], atLeast: [], from: without, to: without, complete: true },
        show: (/** @type {number} */ value) => say("{stops} left", { stops: signed(value) }),
      }]),
    ],
    more: workingPart(stackWorking(setup, stack)),
  });
}

/**
 * A side that is only looked at: what would leave so much there, its working,
 * and nothing to take.
 * @param {HTMLElement} opener @param {import("../../questions/side-by-side.js").Side} side @param {string} name of the figure that was tapped
 */
export function turnSide(opener, { setup, stack }, name) {
  const looked = /** @type {App} */ (/** @type {unknown} */ ({ setup, drafts: {}, change() {} }));
  openTurned(opener, {
    title: `${name}: ${pieces(stack)}`,
    wanted: { label: say("Stops left with {pieces}", { pieces: pieces(stack) }), kind: "signedThirds", is: 0 },
    turns: (left) => turnsOf(looked, stack, left).map(({ take: _, ...turn }) => turn),
    more: [...workingPart(stackWorking(setup, stack)), ...workingPart(workingOf("infrared", STACK_INFRARED.request(setup, stack)))],
  });
}
