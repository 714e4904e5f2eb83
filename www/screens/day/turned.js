// @ts-check
/** The day's figures asked back: what a logged shot would be set to with the glass that is in now. */
import { setupIn } from "../../day/logged.js";
import { stackNow } from "../../questions/open-up.js";
import { stackTurned, stackWorking } from "../../questions/turned.js";
import { today } from "../../day/matching.js";
import { say } from "../../language/say.js";
import { fixed } from "../../language/numbers.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { pieces } from "../../parts/stack.js";
import { openTurned } from "../../parts/turned.js";
import { workingPart } from "../../parts/working.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../api/glasscall.js").OfferReply} Offer
 * @typedef {import("../../day/record.js").ShotRecord} ShotRecord
 */

const stop = KINDS_OF_FIELD.aperture.show;

/** Nothing is put in: a logged shot stays as it was logged. @param {HTMLElement} opener @param {string} title @param {Setup} setup @param {Offer} stack */
function open(opener, title, setup, stack) {
  openTurned(opener, {
    title,
    wanted: { label: say("Stops left with {pieces}", { pieces: pieces(stack) }), kind: "signedThirds", is: 0 },
    turns: (left) => {
      const found = stackTurned(setup, stack, left);
      return [
        { name: say("Stop to set"), found: found.aperture, show: stop },
        { name: say("Exposure index"), found: found.index, show: (value) => say("EI {index}", { index: fixed(value, 0) }) },
        ...("time" in found
          ? [{ name: say("Shutter"), found: found.time, show: (/** @type {number} */ value) => KINDS_OF_FIELD.shutter.show({ shutterSeconds: value }) }]
          : [
            { name: say("Frame rate"), found: found.rate, show: (/** @type {number} */ value) => say("{rate} fps", { rate: fixed(value, 2) }) },
            { name: say("Shutter"), found: found.angle, show: (/** @type {number} */ value) => `${fixed(value, 1)}°` },
          ]),
        { name: say("turned|Light, as you read it"), found: found.light, show: stop },
        { name: say("One glass in its place"), found: found.density, show: (value) => say("ND {density}", { density: fixed(value, 2) }) },
      ];
    },
    more: workingPart(stackWorking(setup, stack)),
  });
}

/** The light and the shot as they were logged, through what is in the rig now. @param {HTMLElement} opener @param {App} app @param {ShotRecord} record */
export function turnRecord(opener, { setup: now }, record) {
  const then = setupIn(record);
  // What it was read through is known from the record's own case.
  const known = new Set(now.kit.map(({ id }) => id));
  const kit = [...now.kit, ...then.kit.filter(({ id }) => !known.has(id))];
  const { rig, inPlace, wheel, wheelInfrared, wheelNow } = now;
  const setup = { ...then, shot: record.shot, kit, rig, inPlace, wheel, wheelInfrared, wheelNow, keep: [] };
  const stack = stackNow(setup);
  if (stack) open(opener, say("That light, with the glass that is in now"), setup, stack);
}

/** The shot again today. @param {HTMLElement} opener @param {App} app @param {ShotRecord} record @param {Offer} stack */
export const turnMatch = (opener, { setup }, record, stack) => open(opener, say("The shot again, with this glass"), today(setup, record), stack);

/** One of two bodies, with the glass it gets. @param {HTMLElement} opener @param {Setup} setup @param {Setup["shot"]} shot @param {Offer} stack */
export const turnBody = (opener, setup, shot, stack) => open(opener, say("This body, with this glass"), { ...setup, shot }, stack);
