// @ts-check
/** What the entries of a list mean, and the list without some of them. */
import { say } from "../../language/say.js";
import { fixed } from "../../language/numbers.js";

/**
 * @typedef {import("../../api/glasscall.js").ListEntryReply} Entry
 * @typedef {import("../../api/glasscall.js").ListChoiceReply} Choice
 * @typedef {import("../../api/glasscall.js").ListedReply} Listed
 */

/** A case file begins as JSON does, or with the heads of its table. */
export const isCaseFile = (/** @type {string} */ text) => /^\s*\{|^\s*"?list"?[,;\t]"?id\b/.test(text);

/** @param {Entry} entry @param {string} text what was written @param {number} [nth] the choice that was taken @returns {Listed | undefined} */
export function meant(entry, text, nth = -1) {
  if (entry.listed) return entry.listed;
  const choice = entry.choices?.[nth];
  return choice && named(choice, text);
}

/** The text without these entries; what heads others stays. @param {string} text @param {Entry[]} gone */
export function without(text, gone) {
  let left = text;
  for (const { from, to } of gone.toSorted((a, b) => b.from - a.from)) left = `${left.slice(0, from)}\u0000${left.slice(to)}`;
  return tidy(left);
}

/** Commas and spaces that stood about what is gone. @param {string} text */
const tidy = (text) => text
  .replace(/[ \t]*\u0000[ \t]*/g, "\u0000")
  .replace(/\u0000(?:,?[ \t]*\u0000)*(,[ \t]*)?/g, " ")
  .replace(/[ \t]+/g, " ")
  .replace(/(^|[:;\n]) ?,/g, "$1")
  .replace(/[ ,]+(?=[;\n]|$)/g, "")
  .replace(/;(?:[ \t]*;)+/g, ";")
  .replace(/;[ \t]*(?=\n)/g, "")
  .replace(/(^|[:\n]) ?;[ \t]*/g, (_, before) => (before === ":" ? ": " : before))
  .replace(/\n[ \t]*(?=\n\n)/g, "")
  // A heading with nothing left under it.
  .replace(/(^|[;\n])[^;\n:]*:\s*$/, "")
  .trim();

/** What was chosen says by its name how it was taken, where what was written does not. @param {Choice} choice @param {string} text @returns {Listed} */
function named({ takenAs, listed }, text) {
  const { piece } = listed;
  if (!piece) return listed;
  const bare = /^\d+$/.test(piece.id);
  const id = takenAs === "strength" && /^[\d/½¼⅛ ]+$/.test(text) ? say("id|diffusion {strength}", { strength: piece.id })
    : takenAs === "factor" && bare ? `ND${piece.id}`
      : ["stops", "density", "densityInTenths"].includes(takenAs) ? fixed(piece.density ?? 0, 2) : piece.id;
  return { piece: { ...piece, id } };
}
