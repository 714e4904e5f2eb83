// @ts-check
/** Which grad Frame names: the one that is in, the one that was tapped, or the one that is proposed. */
import { pullGrad, putInGrad } from "../../document/grad-edits.js";
import { gradAnswer, gradIn, gradMore, gradsBeside, roomFor } from "../../questions/frame.js";
import { say } from "../../language/say.js";
import { nameEdit } from "../../language/words/edits.js";
import { FRAME_WORDS } from "../../language/words/frame.js";
import { undoing } from "../../parts/undoing.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../questions/frame.js").GradAnswer} GradAnswer
 */

nameEdit(putInGrad, say("undo|glass put in"));
nameEdit(pullGrad, say("undo|glass pulled"));

/** @param {App} app */
export function gradChoice(app) {
  /** The grad that was tapped, as long as the readings are the same. */
  let chosen = "";
  let question = "";
  /** Where the line stood when they were read: until it is slid, the answer may propose another place. */
  let lineThen = NaN;
  /** Where it was slid to. */
  let slidTo = NaN;
  /** The grad that was named before: sliding its line does not change it. */
  let named = "";
  /** Whether the picture is looked at without any grad. */
  let without = false;
  /** @type {GradAnswer} */
  let shown = {};

  return {
    /** Asked anew. */
    answer() {
      const { frame, kit, reading } = app.setup;
      const asked = JSON.stringify([frame.bright, reading, frame.allowedStops, kit]);
      if (asked !== question) {
        chosen = named = "";
        lineThen = frame.line;
        slidTo = NaN;
      }
      question = asked;
      const free = frame.line === lineThen && frame.line !== slidTo && gradIn(app.setup) === undefined;
      // Of several that are in, the one in hand is what is told of.
      if (gradsBeside(app.setup).length > 0) chosen = frame.grad;
      shown = gradAnswer(app.setup, chosen || (free ? "" : named), free);
      if (free) named = shown.held?.frame.grad ?? "";
      return shown;
    },
    /** As it was last asked. */
    shown: () => shown,
    /** @param {string} id @param {boolean} invert @param {number} [line] */
    putIn(id, invert, line = app.setup.frame.line) {
      chosen = id;
      without = false;
      putIn(app, id, invert, line);
    },
    takeInHand: (/** @type {string} */ id) => app.change((setup) => {
      setup.frame.grad = id;
    }, true, undefined, say("undo|another grad in hand")),
    putMore: () => putMore(app),
    takeOut() {
      chosen = gradsBeside(app.setup)[0]?.id ?? chosen;
      without = !without || gradIn(app.setup) !== undefined;
      app.do(pullGrad);
    },
    /** What the picture shows. @param {Setup} setup the set-up, or a trial of it */
    drawn: (setup) => drawn(app.setup, setup, shown, without),
    /** Somebody puts the line there. @param {number} line */
    slides(line) {
      slidTo = line;
    },
  };
}

/** Choosing a grad is putting it in; one that no slot takes is held up. @param {App} app @param {string} id @param {boolean} invert @param {number} line */
function putIn(app, id, invert, line) {
  const slots = roomFor(app.setup, id);
  if (slots) return void app.do(putInGrad, slots, id, invert, line);
  if (gradsBeside(app.setup).length > 0) return app.notify(FRAME_WORDS.noSlot);
  const others = gradIn(app.setup);
  app.change((setup) => {
    setup.inPlace = setup.inPlace.filter(({ piece }) => piece !== others);
    Object.assign(setup.frame, { grad: id, line });
  }, true, undefined, FRAME_WORDS.held(id));
  return app.notify(FRAME_WORDS.held(id), say("Undo"), undoing(app));
}

/** One more beside those that are in. @param {App} app */
function putMore(app) {
  const { held, slots } = gradMore(app.setup);
  if (held && slots) app.do(putInGrad, slots, held.frame.grad, held.frame.invert, held.frame.line);
}

/**
 * What is in; with no grad in, the one that is proposed as it would be, one held
 * up that no slot takes, or none.
 * @param {Setup} inUse @param {Setup} setup the same, or a trial of it @param {GradAnswer} shown @param {boolean} without
 */
function drawn(inUse, setup, shown, without) {
  if (gradIn(inUse) !== undefined) return setup;
  const bare = { ...setup, frame: { ...setup.frame, grad: "" } };
  if (without) return bare;
  const heldUp = inUse.frame.grad;
  if (heldUp !== "" && !roomFor(inUse, heldUp)) return setup;
  if (!shown.held) return bare;
  const { inPlace, frame: { grad, invert, line: proposed } } = shown.held;
  const line = setup.frame.line === inUse.frame.line ? proposed : setup.frame.line;
  return { ...setup, inPlace, frame: { ...setup.frame, grad, invert, line } };
}
