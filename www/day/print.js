// @ts-check
/** Sheets for the printer: made when asked, in black only, on the chosen paper. */
import { printedCode, textsOf } from "../hand-over/codes.js";
import { kitTable, logTable } from "./columns.js";
import { BadLink } from "../hand-over/link.js";
import { SAID } from "./notation.js";
import { amended } from "./record.js";
import { clipTable, ringTable } from "./sheets.js";
import { tableElement } from "./table.js";
import { say } from "../language/say.js";
import { stopLabel } from "../language/numbers.js";
import { badLinkText, DAY_WORDS } from "../language/words/day.js";
import { pathText } from "../language/words/planning.js";
import { workingName, workingsToHandOver } from "./searched.js";
import { all, el, one } from "../parts/dom.js";
import { workingList } from "../parts/working.js";
import { footPages, whenAndWhere } from "./paper.js";
import { filled } from "./screen-pictures.js";

/** @typedef {import("../start/start.js").App} App */

/** Columns of the log that a sheet of paper has room for; those nothing stands in are left out. */
const PRINTED = [
  "Time", "Scene", "Set-up, slate", "Camera", "Lens", "Lens on", "Focal length, mm", "Stop to set", "EI", "Frames a second", "Shutter",
  "Stop read", "Read through", "Pieces, lens outward", "Left over, stops", "Note",
];

/** Sheets that carry the set-up as a code; the log's as it stands when it is printed. */
const CODED = ["code", "log"];

/** @param {HTMLElement} root @param {App} app */
export function mountPrint(root, app) {
  const what = one(root, "[data-do=print-what]", HTMLSelectElement);
  const paper = one(root, "[data-do=paper]", HTMLSelectElement);
  const part = /** @type {HTMLDetailsElement} */ (one(root, "[data-day=print]"));
  /** Made before they are wanted: the browser's own command does not wait. @type {Node[]} */
  let drawn = [];
  const draw = async () => {
    drawn = await codes(app);
  };
  const prepared = () => prepare(app, what.value, paper.value, CODED.includes(what.value) ? drawn : []);
  part.addEventListener("toggle", () => part.open && draw());
  one(root, "[data-do=print]").addEventListener("click", async () => {
    await draw();
    prepared();
    window.print();
  });
  // The browser's own print command gives the same sheet as the button.
  window.addEventListener("beforeprint", () => {
    if (location.hash.startsWith("#day")) prepared();
  });
  return { update: () => void (part.open && draw()) };
}

/** The sheet, made for the printer. @param {App} app @param {string} what a table of the day, or a screen @param {string} paper @param {Node[]} drawn codes of the set-up */
function prepare(app, what, paper, drawn) {
  const sheet = one(document, "#sheet");
  const now = new Date();
  sheet.dataset.paper = paper;
  document.documentElement.dataset.print = what;
  footPages(now);
  sheet.replaceChildren(el("p", { class: "sheet-when", text: whenAndWhere(app, now) }), ...contentOf(app, what), ...drawn);
}

/** @param {App} app @param {string} what @returns {Node[]} */
function contentOf(app, what) {
  if (what === "kit") return [tableElement(kitTable(app.setup, SAID))];
  if (what === "working") return workings(app);
  if (what === "labels") return [labels(app)];
  if (what === "clip") return [tableElement(clipTable(app.setup)), el("p", { text: DAY_WORDS.clipNote() })];
  if (what === "rings") return [tableElement(ringTable(app.setup, pathText))];
  if (what === "density") return chart(1);
  if (what === "code") return [el("p", { text: DAY_WORDS.printedCode })];
  if (what === "charts") return [copied(one(document, "#charts"))];
  if (app.records.length === 0) return [el("p", { text: DAY_WORDS.empty })];
  return [tableElement(filled(logTable(amended(app.records), SAID, PRINTED)))];
}

/** A part of the charts, its figures as the reader writes them. @param {Element} part */
function copied(part) {
  const copy = /** @type {Element} */ (part.cloneNode(true));
  for (const cell of all(copy, "th, td")) cell.textContent = stopLabel(cell.textContent ?? "");
  return copy;
}

/** One of the page's charts with its heading and note. @param {number} nth @returns {Node[]} */
function chart(nth) {
  const heading = one(document, "#charts").querySelectorAll("h3")[nth];
  const parts = [heading, heading?.nextElementSibling, heading?.nextElementSibling?.nextElementSibling];
  const box = el("div", { class: "charts" });
  box.append(...parts.flatMap((part) => (part ? [copied(part)] : [])));
  return [box, el("p", {}, el("strong", { text: DAY_WORDS.notEyeProtection }))];
}

/** The set-up as codes to scan off the paper. @param {App} app */
async function codes(app) {
  try {
    const texts = await textsOf(app, "setup");
    return texts.map((text, at) => printedCode(text, texts.length === 1 ? DAY_WORDS.code : DAY_WORDS.frame(at + 1, texts.length)));
  } catch (error) {
    if (!(error instanceof BadLink)) throw error;
    return [el("p", { text: badLinkText(error) })];
  }
}

/** Every answer in use as a sum to be gone over. @param {App} app @returns {Node[]} */
function workings({ setup, answer }) {
  return [el("h2", { text: say("How it is worked out") }), ...workingsToHandOver(setup, answer).flatMap((working) => [
    el("h3", { text: workingName(working) }), workingList(working.terms),
  ])];
}

/** One label to a piece, to be cut out and stuck on its tray. @param {App} app */
function labels(app) {
  return el("ul", { class: "labels" }, ...app.setup.kit.flatMap((piece) =>
    Array.from({ length: piece.count ?? 1 }, () => el("li", { class: "label" },
      el("strong", { text: piece.id }),
      el("span", { text: densitiesText(piece) || SAID.kind(piece.kind) }),
      el("span", { text: piece.size ?? "" })))));
}

/** @param {import("../document/setup.js").Piece} piece */
function densitiesText({ density, measuredDensity }) {
  return [
    ...(density === undefined ? [] : [say("marked {density}", { density: SAID.number(density, 3) })]),
    ...(measuredDensity === undefined ? [] : [say("measured {density}", { density: SAID.number(measuredDensity, 3) })]),
  ].join(", ");
}
