// @ts-check
/** Fields and choices made while the page runs, for as many openings as there are. */
import { el } from "../../parts/dom.js";

let made = 0;
function nextId() {
  made += 1;
  return `fit-made-${made}`;
}

/** @param {string} label @param {string} path @param {string} kind @param {string} [optional] */
export function field(label, path, kind, optional) {
  const id = nextId();
  const box = el("div", { class: "field" },
    el("label", { for: id }, label),
    el("input", { id, autocomplete: "off", spellcheck: "false" }));
  box.dataset.field = path;
  box.dataset.kind = kind;
  if (optional !== undefined) box.dataset.optional = optional;
  return box;
}

/** A choice under a label. @param {string} label @param {[value: string, text: string, title?: string][]} ways @param {(value: string, select: HTMLSelectElement) => void} act */
export function choice(label, ways, act) {
  const id = nextId();
  const select = el("select", { id }, ...ways.map(([value, text, title = ""]) => el("option", { value, title }, text)));
  select.addEventListener("change", () => act(select.value, select));
  return el("p", { class: "fit-how" }, el("label", { for: id }, label), select);
}
