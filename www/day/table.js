// @ts-check
/** A table as an element, for the screen and for paper. Where the first column has no heading, it is one. */
import { el } from "../parts/dom.js";

/** @param {import("./columns.js").Table} table */
export function tableElement({ caption, head, rows }) {
  return el("table", {},
    el("caption", { text: caption }),
    el("thead", {}, el("tr", {}, ...head.map((text) => (text === "" ? el("td") : el("th", { scope: "col", text }))))),
    el("tbody", {}, ...rows.map((row) => el("tr", {}, ...row.map((text, at) => (at === 0 && head[0] === "" ? el("th", { scope: "row", text }) : el("td", { text })))))));
}
