// @ts-check
/** A screen on paper as it stands: its answer, its picture, when and where. */
import { say } from "../language/say.js";
import { SAID } from "./notation.js";
import { footPages, whenAndWhere } from "./paper.js";
import { recordOf } from "./record.js";
import { caseTables, fitOnPaper, lightPictures } from "./screen-pictures.js";
import { sentence } from "./sentence.js";
import { all, el, one } from "../parts/dom.js";

/** @typedef {import("../start/start.js").App} App */

/** What the browser prints of the other screens: the answer that stands there. @param {App} app */
export function mountPrintOfScreens(app) {
  window.addEventListener("beforeprint", () => {
    const name = location.hash.slice(1).split("?")[0] || "now";
    if (name === "day" || !document.querySelector(`#${CSS.escape(name)}.screen:not([hidden])`)) return;
    const sheet = one(document, "#sheet");
    const now = new Date();
    // Whatever paper lies in the printer.
    delete sheet.dataset.paper;
    document.documentElement.dataset.print = "screen";
    footPages(now);
    sheet.replaceChildren(...screenSheet(app, name, now));
  });
}

/** What stands on a screen to be tapped, and says nothing on paper. */
const HANDLES = "button, select, input[type=range], input[type=checkbox], input[type=radio], input[type=search], input[type=file], textarea, [hidden], .field-error, .unseen, .step, .hint:empty";

/** The screen that is shown, for the printer. @param {App} app @param {string} name @param {Date} now @returns {Node[]} */
function screenSheet(app, name, now) {
  const screen = one(document, `#${name}`);
  const record = recordOf(app.setup, { id: "", time: "", zone: "" });
  const answers = all(screen, "[data-answer]").filter((part) => !part.parentElement?.closest("[data-answer]") && isSeen(part));
  return [
    el("p", { class: "sheet-head" }, el("strong", { text: titleOf(screen) }), el("span", { text: whenAndWhere(app, now) })),
    el("div", { class: "sheet-answer" }, ...answers.map(onPaper)),
    ...all(screen, "[data-printed]").filter((part) => !part.closest("[hidden]")).map(onPaper),
    ...(name === "fit" ? fitSheet(app) : [inRow([
      ...pictures(screen).map(pictureOnPaper),
      ...(name === "light" ? lightPictures(app.setup, viewOf(screen)).map(pictureOnPaper) : []),
    ])]),
    ...(name === "case" ? caseTables(app.setup) : []),
    // What is in now; where nothing is, the answer above is only a wish.
    ...(name !== "case" && record && record.pieces.length > 0 ? [el("p", { class: "sheet-said", text: sentence(record) }), glassTable(record)] : []),
  ];
}

/** What Fit draws on paper. @param {App} app @returns {Node[]} */
function fitSheet({ setup }) {
  const { pictures: drawn, table } = fitOnPaper(setup);
  return [inRow(drawn.map(pictureOnPaper)), ...(table ? [table] : [])];
}

/** Side by side, as many as a sheet has room for. @param {Element[]} drawn */
const inRow = (drawn) => el("div", { class: "sheet-row" }, ...drawn);

/** The open question, where a screen asks several. @param {HTMLElement} screen */
const titleOf = (screen) => screen.querySelector("section[data-view]:not([hidden])")?.getAttribute("aria-label") ?? one(screen, "h2").textContent ?? "";

/** Which of the light's questions is open. @param {HTMLElement} screen */
const viewOf = (screen) => screen.querySelector(".light-views [aria-current]")?.getAttribute("href")?.split("?")[1] ?? "";

/** @param {import("./record.js").ShotRecord} record */
function glassTable(record) {
  const row = (/** @type {string} */ what, /** @type {string} */ text) => el("tr", {}, el("th", { scope: "row", text: what }), el("td", { text }));
  return el("table", {}, el("tbody", {},
    row(say("Stop set"), SAID.label(record.stopToSet)),
    ...record.pieces.map((piece) => row(piece.slot, piece.id)),
    row(say("Left over"), SAID.number(record.leftOverStops, 2))));
}

/** @param {HTMLElement} part */
const isSeen = (part) => part.getClientRects().length > 0;

/** An answer without what is tapped in it; a field as what it says. @param {HTMLElement} part */
function onPaper(part) {
  // What is asked back by a tap is a figure on paper.
  const copy = el(part.matches("dl, table") ? /** @type {"dl"} */ (part.localName) : "div", { class: part.className }, .../** @type {HTMLElement} */ (part.cloneNode(true)).childNodes);
  const typed = all(part, "input").map((input) => /** @type {HTMLInputElement} */ (input).value);
  all(copy, "input").forEach((input, at) => {
    if (!input.matches(HANDLES)) input.replaceWith(typed[at] ?? "");
  });
  for (const figure of all(copy, "button[data-opens]")) figure.replaceWith(el("span", { class: figure.className }, ...figure.childNodes));
  for (const handle of all(copy, HANDLES)) handle.remove();
  for (const link of all(copy, "a")) link.replaceWith(...link.childNodes);
  for (const named of [copy, ...all(copy, "[id], [data-answer], [data-do]")]) ["id", "data-answer", "data-do", "aria-live", "role"].forEach((name) => named.removeAttribute(name));
  const pictures = all(copy, "canvas");
  all(part, "canvas").forEach((drawn, at) => pictures[at]?.replaceWith(pictureOnPaper(drawn)));
  return copy;
}

/** Pictures of the screen that no answer holds. @param {HTMLElement} screen @returns {Element[]} */
function pictures(screen) {
  return all(screen, "canvas, svg").filter((picture) =>
    isSeen(picture) && picture.getBoundingClientRect().width > 90 && !picture.closest("[data-answer], button, summary")).slice(0, 2);
}

/** A drawing in black lines, a painted picture in greys, and what it shows in words. @param {Element} picture */
function pictureOnPaper(picture) {
  const words = picture.getAttribute("aria-label") ?? "";
  const copy = picture instanceof HTMLCanvasElement
    ? el("img", { alt: "", src: picture.toDataURL() })
    : /** @type {Element} */ (picture.cloneNode(true));
  copy.removeAttribute("id");
  return el("figure", { class: "sheet-picture" }, copy, el("figcaption", { text: words }));
}
