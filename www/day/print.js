// @ts-check
/** Sheets for the printer: made when asked, in black only, on the chosen paper. */
import { kitTable, logTable } from "./columns.js";
import { amended } from "./record.js";
import { el, one } from "../parts/dom.js";

/** @typedef {import("../app.js").App} App */

/** Columns of the log that a sheet of paper has room for. */
const PRINTED = [
  "Time", "Scene", "Set-up, slate", "Camera", "Lens", "Stop to set", "EI", "Frames a second", "Shutter",
  "Stop read", "Read through", "Pieces, lens outward", "Left over, stops", "Note",
];

/** @param {HTMLElement} root @param {App} app */
export function mountPrint(root, app) {
  const what = one(root, "[data-do=print-what]");
  const paper = one(root, "[data-do=paper]");
  const sheet = one(document, "#sheet");
  const prepare = () => {
    sheet.dataset.paper = paper.value;
    document.documentElement.dataset.print = what.value;
    sheet.replaceChildren(...contentOf(app, what.value));
  };
  one(root, "[data-do=print]").addEventListener("click", () => {
    prepare();
    window.print();
  });
  // The browser's own print command gives the same sheet as the button.
  window.addEventListener("beforeprint", prepare);
  return { update: () => undefined };
}

/** @param {App} app @param {string} what @returns {Node[]} */
function contentOf(app, what) {
  if (what === "kit") return [tableElement(kitTable(app.setup))];
  if (what === "labels") return [labels(app)];
  if (what === "charts") return [one(document, "#charts").cloneNode(true)];
  const table = logTable(amended(app.records));
  const kept = table.head.map((name, at) => ({ name, at })).filter(({ name }) => PRINTED.includes(name));
  return [tableElement({
    caption: table.caption,
    head: kept.map(({ name }) => name),
    rows: table.rows.map((row) => kept.map(({ at, name }) => (name === "Time" ? row[at].slice(0, 16).replace("T", " ") : row[at]))),
  })];
}

/** @param {import("./columns.js").Table} table */
export function tableElement({ caption, head, rows }) {
  return el("table", {},
    el("caption", { text: caption }),
    el("thead", {}, el("tr", {}, ...head.map((text) => el("th", { scope: "col", text })))),
    el("tbody", {}, ...rows.map((row) => el("tr", {}, ...row.map((text) => el("td", { text }))))));
}

/** One label to a piece, to be cut out and stuck on its tray. @param {App} app */
function labels(app) {
  return el("ul", { class: "labels" }, ...app.setup.kit.flatMap((piece) =>
    Array.from({ length: piece.count ?? 1 }, () => el("li", { class: "label" },
      el("strong", { text: piece.id }),
      el("span", { text: [piece.density !== undefined && `marked ${piece.density}`, piece.measuredDensity !== undefined && `measured ${piece.measuredDensity}`].filter(Boolean).join(", ") || piece.kind }),
      el("span", { text: piece.size ?? "" })))));
}
