// @ts-check
/** Sentences of lenses, rings, packing and the order of the day. */
import { fixed } from "../show.js";

/** How sure an answer is. @param {import("../long.js").Progress} progress @param {string} least what is not ruled out */
export function proofText({ busy, stopped, reply }, least) {
  if (!reply) return busy ? "Looking…" : "";
  if (reply.proven) return "Proven: nothing better exists.";
  if (busy) return `Best so far; ${least} is not ruled out. Still looking…`;
  return `${stopped ? "Stopped" : "Not proven"}: best found; ${least} is not ruled out.`;
}

/** @param {number} count @param {string} one @param {string} [many] */
export const counted = (count, one, many = `${one}s`) => `${count} ${count === 1 ? one : many}`;

/** @param {{fromMm: number, toMm: number, clamp: boolean}} ring */
export const ringText = ({ fromMm, toMm, clamp }) => `${clamp ? "clamp " : ""}${fixed(fromMm, 1)} → ${fixed(toMm, 1)}`;

/** @param {import("../api/glasscall.js").RingPathReply} path */
export function pathText({ reaches, rings, depthMm }) {
  if (!reaches) return "no way with these rings";
  if (rings.length === 0) return "straight on";
  return `${rings.map(ringText).join(", then ")}; ${fixed(depthMm, 1)} mm deep`;
}

/** How a pupil's place was got. @type {Record<string, string>} */
export const PUPIL_BY = { twoCards: "two cards", ring: "a ring at the corners", front: "the front of the lens", stated: "a data sheet" };

/** How filters go in. @type {Record<string, string>} */
export const MOUNTS = { screwIn: "screwed in", snapOn: "snapped on", matteBox: "trays of a matte box" };

export const PLAN_WORDS = {
  noSetUps: "No set-ups yet. Add the need of each, as you expect or read it.",
  noLenses: "No lenses yet.",
  noFront: "has neither thread nor outside diameter",
  narrow: "A ring that narrows is used only when the lens says what clear diameter it needs.",
  ringPrices: "Any single ring can be bought here, at the price of one.",
  cannot: (/** @type {string[]} */ ids) => `No stack serves ${ids.join(", ")}: other pieces, more slots, or a slot that rotates.`,
  imported: (/** @type {number} */ pieces) => `Read: ${counted(pieces, "piece")}. Undo brings the old case back.`,
  skipped: (/** @type {number} */ lines) => `${counted(lines, "line")} left out:`,
  fileBad: (/** @type {number | undefined} */ line, /** @type {string} */ why) => `Nothing was read. Line ${line ?? "?"}: ${why}`,
  fileTooLarge: "Nothing was read: a case file has at most 4 MB.",
  unsaved: (/** @type {number} */ changes) => `${counted(changes, "change")} since this case was last saved as a file. A file survives a lost phone.`,
  earlier: (/** @type {string | undefined} */ at, /** @type {number} */ pieces) =>
    `${counted(pieces, "piece")}, ${at === undefined ? "kept before" : `as opened ${new Date(at).toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" })}`}`,
  noEarlier: "None is kept yet.",
  damagedText: "the text is broken off or is no case file.",
};
