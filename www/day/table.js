// @ts-check
/** A table as an element, for the screen and for paper. Where the first column has no heading, it is one. */
import { el } from "../parts/dom.js";

/** @param {{caption: string, head: readonly string[], rows: readonly (readonly (string | Node)[])[]}} table */
export function tableElement({ caption, head, rows }) {
  return el("table", {},
    el("caption", { text: caption }),
    el("thead", {}, el("tr", {}, ...head.map((text) => (text === "" ? el("td") : el("th", { scope: "col", text }))))),
    el("tbody", {}, ...rows.map((row) => el("tr", {}, ...row.map((cell, at) => (at === 0 && head[0] === "" ? el("th", { scope: "row" }, cell) : el("td", {}, cell)))))));
}
