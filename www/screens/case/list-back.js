// @ts-check
/** A list read back: what each entry was taken for, with what can be done about it. */
import { say } from "../../language/say.js";
import { fixed } from "../../language/numbers.js";
import { FAULTS, TAKEN } from "../../language/words/list.js";
import { listedText } from "./listed-text.js";
import { el } from "../../parts/dom.js";

/**
 * @typedef {import("./list-entries.js").Entry} Entry
 * @typedef {import("./list-entries.js").Choice} Choice
 * @typedef {import("./list-entries.js").Listed} Listed
 * @typedef {{entry: Entry, text: string, nth?: number, is?: Listed}} Line an entry, what was written, which choice was taken, what it means
 * @typedef {{edit: (line: Line) => void, leaveOut: (line: Line) => void, choose: (line: Line, nth: number) => void}} Acts
 */

/** @param {Line[]} lines @param {Acts} acts */
export function listTable(lines, acts) {
  return el("table", { class: "list-table" },
    el("caption", { text: say("Read as") }),
    el("tbody", {}, ...lines.map((line) => row(line, acts))));
}

/** @param {Line} line @param {Acts} acts */
function row(line, acts) {
  const { entry: { fault }, text, is } = line;
  const edit = el("button", {
    type: "button", class: "list-name", translate: "no", "aria-label": say("Change “{text}”", { text }),
    onclick: () => acts.edit(line),
  }, is?.piece?.id ?? is?.lens?.id ?? text);
  const away = el("button", {
    type: "button", class: "list-away", "aria-label": say("Leave out “{text}”", { text }),
    onclick: () => acts.leaveOut(line),
  }, "×");
  return el("tr", { class: is ? "" : fault ? "list-refused" : "list-asked" },
    el("th", { scope: "row" }, edit),
    el("td", {}, ...(fault ? [FAULTS[fault]] : is ? [listedText(is)] : []), ...choices(line, acts)),
    el("td", {}, away));
}

/** @param {Line} line @param {Acts} acts */
function choices(line, { choose }) {
  const { entry, text, nth: taken } = line;
  if (!entry.choices?.length) return [];
  const buttons = entry.choices.map((choice, nth) => el("button", {
    type: "button", class: "choice", "aria-pressed": String(taken === nth),
    onclick: () => choose(line, nth),
  }, choiceText(choice)));
  return [el("div", { class: "list-choices", role: "group", "aria-label": say("What is “{text}”?", { text }) }, ...buttons)];
}

/** @param {Choice} choice */
function choiceText({ takenAs, listed: { piece } }) {
  const how = TAKEN[takenAs];
  return piece?.density === undefined ? how : `${how}: D ${fixed(piece.density, 2)}`;
}
