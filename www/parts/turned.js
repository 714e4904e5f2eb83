// @ts-check
/** What would make this so: an answer's numbers, each as the unknown, and how it is worked out. */
import { say } from "../language/say.js";
import { openDrawer } from "./drawer.js";
import { el } from "./dom.js";
import { mountField } from "./field.js";

/**
 * @typedef {import("../start/start.js").App} App
 * @typedef {import("../api/glasscall.js").SolveReply} SolveReply
 */

/**
 * One number as the unknown.
 * @typedef {object} Turn
 * @property {string} name
 * @property {SolveReply | undefined} found
 * @property {(value: number) => string} show
 * @property {(value: number) => void} [take] puts it into the set-up
 * @property {(value: number) => string} [note] what is to be said of it
 * @property {boolean} [span] told as the stretch where it is that or more
 */

/** A stretch of what may be. @param {SolveReply} found @param {{from: number, to: number}} span @param {(value: number) => string} show */
function spanText({ from, to }, span, show) {
  if (span.from === from && span.to === to) return say("any");
  if (span.from === from) return say("up to {value}", { value: show(span.to) });
  if (span.to === to) return say("from {value} on", { value: show(span.from) });
  return say("{from} to {to}", { from: show(span.from), to: show(span.to) });
}

/** @param {Turn} turn @param {() => void} close @returns {HTMLElement} */
function rowOf({ name, found, show, take, note, span }, close) {
  const row = el("li", { class: "turn" }, el("span", { class: "turn-name", text: name }));
  if (!found) row.append(el("span", { class: "turn-none", text: say("turned|not known") }));
  else if (span) row.append(el("strong", { class: "turn-value", text: found.atLeast.map((one) => spanText(found, one, show)).join(say("turned| and ")) || say("turned|none does it") }));
  else if (found.met.length === 0) row.append(el("span", { class: "turn-none", text: found.nearest ? say("none; nearest {value}", { value: show(found.nearest.at) }) : say("turned|none does it") }));
  else {
    for (const { from, to } of found.met) {
      const text = from === to ? show(from) : say("{from} to {to}", { from: show(from), to: show(to) });
      row.append(take
        ? el("button", { type: "button", class: "turn-value", onclick: () => {
          take(from);
          close();
        } }, text)
        : el("strong", { class: "turn-value", text }));
    }
  }
  const at = found?.met[0]?.from ?? found?.nearest?.at;
  const said = at === undefined ? "" : note?.(at);
  if (said) row.append(el("span", { class: "turn-note", text: said }));
  return row;
}

/** @typedef {{label: string, kind: string, is: number}} Wanted a number of the answer, as it is now */

/**
 * @param {HTMLElement} opener
 * @param {{title: string, wanted: Wanted | Wanted[], first?: number, turns: (is: number, nth: number) => Turn[], more: Node[]}} asked
 *   of several numbers the first to ask for
 */
export function openTurned(opener, { title, wanted, first = 0, turns, more }) {
  openDrawer(opener, title, (close) => {
    const list = el("ul", { class: "turns" });
    const all = [wanted].flat();
    const place = el("div");
    const ask = (/** @type {number} */ nth) => place.replaceChildren(wantedField(/** @type {Wanted} */ (all[nth]), (is) =>
      list.replaceChildren(...turns(is, nth).map((turn) => rowOf(turn, close)))));
    ask(first);
    const choice = el("select", { "aria-label": say("Which figure"), onchange: () => ask(choice.selectedIndex) },
      ...all.map(({ label }, nth) => el("option", { selected: nth === first }, label)));
    return [...(all.length > 1 ? [choice] : []), place, list, ...more];
  });
}

/** What it shall be. @param {Wanted} wanted @param {(is: number) => void} show what would make it so */
function wantedField({ label, kind, is }, show) {
  const own = {
    setup: { is },
    drafts: {},
    keep() {},
    change(/** @type {(state: {is: number}) => void} */ edit) {
      edit(own.setup);
      show(own.setup.is);
      shown();
    },
  };
  // A pad would lie over the answers below.
  const field = el("div", { class: "field turn-wanted", "data-field": "is", "data-kind": kind, "data-pad": "no" },
    el("label", { for: "turn-wanted" }, label),
    el("input", { id: "turn-wanted", autocomplete: "off", spellcheck: "false" }));
  const shown = mountField(field, /** @type {any} */ (own), () => undefined);
  show(is);
  return field;
}
