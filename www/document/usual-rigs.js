// @ts-check
/**
 * Ways to hold filters, to start from. In every one that holds any a slot
 * turns; sizes are left open so that any piece goes in.
 */
import { say } from "../language/say.js";

/** @typedef {{id: string, mount: import("./document.js").RigRecord["mount"], minutesPerMove: number, slots: [string, boolean][]}} UsualRig */

const turning = say("id|turning");
const tray = (/** @type {number} */ number) => say("id|tray {number}", { number });
const panel = (/** @type {number} */ number) => say("id|panel {number}", { number });
const thread = (/** @type {number} */ number) => say("id|thread {number}", { number });

/** @satisfies {Record<string, UsualRig>} */
export const USUAL_RIGS = {
  box: { id: say("id|matte box"), mount: "matteBox", minutesPerMove: 0.5, slots: [[turning, true], [tray(1), false], [tray(2), false]] },
  small: { id: say("id|matte box"), mount: "matteBox", minutesPerMove: 0.5, slots: [[turning, true], [tray(1), false]] },
  screw: { id: say("id|screw-in"), mount: "screwIn", minutesPerMove: 1, slots: [[thread(1), true], [thread(2), true]] },
  snap: { id: say("id|snap-on"), mount: "snapOn", minutesPerMove: 0.25, slots: [[turning, true], [panel(1), false]] },
  holder100: { id: say("id|holder 100"), mount: "snapOn", minutesPerMove: 0.5, slots: [[turning, true], [tray(1), false], [tray(2), false]] },
  holder150: { id: say("id|holder 150"), mount: "snapOn", minutesPerMove: 0.5, slots: [[turning, true], [tray(1), false], [tray(2), false]] },
  none: { id: say("id|no slots"), mount: "screwIn", minutesPerMove: 1, slots: [] },
};

/** What stands in an own case until its owner says what holds the filters. @type {UsualRig} */
export const NOT_SAID = { id: say("id|slots"), mount: "matteBox", minutesPerMove: 0.5, slots: [[turning, true], [tray(1), false], [tray(2), false]] };

/** Whether nobody has said yet. @param {{inUse: {rig?: string}}} document */
export const isNotSaid = ({ inUse }) => inUse.rig === NOT_SAID.id;

/** A rig of a usual kind as a record. @param {UsualRig} usual @param {string} id @param {number} [threadMm] @returns {import("./document.js").RigRecord} */
export function rigOf({ id: _, slots, ...facts }, id, threadMm) {
  return {
    id,
    ...facts,
    ...(facts.mount === "matteBox" || threadMm === undefined ? {} : { threadMm }),
    slots: slots.map(([slot, rotates]) => ({ id: slot, size: "", rotates })),
    always: [],
  };
}
