// @ts-check
/** Two answers side by side, what differs marked; the set-up stays as it is until one is taken. */
import { putInStack, putOnLens, putOnRig } from "../../document/edits.js";
import { isRead } from "../../questions/open-up.js";
import { sidesOf } from "../../questions/side-by-side.js";
import { WORDS } from "../../language/words/shared.js";
import { say } from "../../language/say.js";
import { fixed, lengthText, signed, stopLabel, stopsText } from "../../language/numbers.js";
import { fitWord } from "../../language/words/stack-fit.js";
import { askedBack } from "../../parts/asked-back.js";
import { el } from "../../parts/dom.js";
import { openDrawer } from "../../parts/drawer.js";
import { movesText, pieces } from "../../parts/stack.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../questions/side-by-side.js").Side} Side
 */

/** @param {Side} side */
function nameOf({ kind, name, stack }) {
  if (kind === "rig") return say("rig: {name}", { name });
  if (kind === "lens") return say("lens: {name}", { name });
  if (kind === "hour") return say("in {hours} h, clear sky", { hours: name });
  return pieces(stack);
}

/** What is told of each, and whether a tap asks it back. @type {[name: string, text: (side: Side) => string, asked?: true][]} */
const ROWS = [
  [say("side|Need"), ({ need }) => stopsText(need), true],
  [say("side|Glass"), ({ stack }) => pieces(stack)],
  [say("side|Stop to set"), ({ stack }) => (stack.apertureLabel === undefined ? say("no iris") : stopLabel(stack.apertureLabel)), true],
  [say("side|Left"), ({ stack }) => signed(stack.leftOverStops), true],
  ["±", ({ stack }) => fixed(stack.uncertainty.stops, 2), true],
  [say("side|Moves"), ({ stack }) => movesText(stack)],
  [say("side|Fit"), ({ stack }) => fitWord(stack.fit)],
  [say("side|Room"), ({ stack }) => (stack.fit?.spareMm === undefined ? "—" : lengthText(stack.fit.spareMm, 1))],
  [say("side|Infrared excess"), ({ stack }) => stopsText(stack.infraredExcess), true],
];

/** @param {HTMLElement} opener @param {App} app */
export function openSideBySide(opener, app) {
  openDrawer(opener, say("Two side by side"), (close) => {
    const sides = sidesOf(app.document);
    if (sides.length < 2) return [el("p", { class: "hint", text: isRead(app.setup) ? say("There is one answer only.") : WORDS.unread })];
    const chosen = [0, 1];
    const picks = chosen.map((at, column) => {
      const select = el("select", { "aria-label": say("side|Answer {number}", { number: String(column + 1) }), "data-side": String(column) },
        ...sides.map((side, nth) => el("option", { value: String(nth), translate: "no" }, nameOf(side))));
      select.value = String(at);
      select.addEventListener("change", () => {
        chosen[column] = Number(select.value);
        show();
      });
      return select;
    });
    const body = el("tbody");
    const show = () => body.replaceChildren(...ROWS.map(([name, text, asked]) => {
      const [one = "", other = ""] = chosen.map((nth) => sides[nth]).map((side) => (side ? text(side) : ""));
      const figure = (/** @type {number} */ column, /** @type {string} */ told) => (asked
        ? askedBack(told, `turn-side-${column}`, async () => {
          const side = sides[chosen[column] ?? 0];
          if (side) (await import("./turned.js")).turnSide(opener, side, name);
        })
        : told);
      // Marked for the eye and for who listens.
      return el("tr", { class: one === other ? "" : "side-differs" },
        el("th", { scope: "row" }, name), el("td", {}, figure(0, one)), el("td", {}, figure(1, other), ...(one === other ? [] : [el("span", { class: "unseen" }, say("side| differs"))])));
    }));
    const take = (/** @type {number} */ column) => el("button", { type: "button", onclick: () => {
      const side = sides[chosen[column] ?? 0];
      if (side) takeSide(app, side);
      close();
    } }, say("Take it"));
    show();
    return [el("table", { class: "side-by-side" },
      el("thead", {}, el("tr", {}, el("td"), ...picks.map((pick) => el("td", {}, pick)))),
      body,
      el("tfoot", {}, el("tr", {}, el("td"), ...[0, 1].map((column) => el("td", {}, take(column))))))];
  });
}

/** What was tried is done, by the act it is. @param {App} app @param {Side} side */
function takeSide(app, { kind, name, stack, aperture }) {
  if (kind === "stack") return app.do(putInStack, stack);
  if (kind === "rig") return app.do(putOnRig, name);
  if (kind === "lens") return app.do(putOnLens, name);
  delete app.drafts["reading.aperture"];
  return app.change(({ reading }) => {
    reading.aperture = aperture;
  }, true, undefined, say("undo|the light as it was said"));
}
