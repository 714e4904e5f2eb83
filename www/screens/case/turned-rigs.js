// @ts-check
/** The figures of rigs compared, asked back: moves, lenses, what it costs, what it weighs. */
import { ask } from "../../engine/ask.js";
import { orderInRig } from "../../questions/plan.js";
import { workingOf } from "../../questions/workings.js";
import { say } from "../../language/say.js";
import { fixed, lengthText } from "../../language/numbers.js";
import { fitWord, ringText, timesText } from "../../language/words/planning.js";
import { el } from "../../parts/dom.js";
import { openDrawer } from "../../parts/drawer.js";
import { openTurned } from "../../parts/turned.js";
import { turnFit } from "../../parts/turned-fit.js";
import { workingPart } from "../../parts/working.js";
import { turnMoves } from "./turned.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../questions/rig-compare.js").LensFit} LensFit
 */

/**
 * One rig of the comparison, with what it was asked.
 * @typedef {object} Column
 * @property {import("../../questions/plan.js").WholeRig} rig
 * @property {import("../../api/glasscall.js").OrderDayReply | undefined} day
 * @property {import("../../api/glasscall.js").RingsReply | undefined} rings
 * @property {LensFit[]} fits
 * @property {import("../../api/glasscall.js").WeightRequest} hangs
 * @property {{partly: boolean, massG: number, momentNm: number, counterweightG?: number}} weight
 */

/** @param {string[]} texts */
const list = (texts) => [el("ul", { class: "notes" }, ...texts.map((text) => el("li", { text })))];

/** Moves and minutes of the day in this rig. @param {HTMLElement} opener @param {App} app @param {Column} column */
export function turnRig(opener, app, { rig, day }) {
  if (!day) return;
  const each = rig.minutesPerMove;
  const lines = [
    ...(each === undefined ? [] : [say("{moves} moves at {each} min: {minutes} min", { moves: String(day.moves), each: fixed(each, 2), minutes: fixed(day.moves * each, 2) })]),
    ...day.cannot.map((name) => say("cannot serve {name}", { name })),
  ];
  turnMoves(opener, app, day, { request: orderInRig(app.setup, rig), lines });
}

/** Each lens before this rig: its verdict and room; a tap turns the fit round. @param {HTMLElement} opener @param {Column} column */
export function turnLenses(opener, { rig, fits }) {
  openDrawer(opener, rig.id, () => [el("ul", { class: "turns" }, ...fits.map((one) => el("li", { class: "turn" },
    el("span", { class: "turn-name", text: one.lens }), lensCell(one, opener))))]);
}

/** A lens’s verdict, to be asked back where it was asked. @param {LensFit} one @param {HTMLElement} [from] what takes the focus back */
export function lensCell(one, from) {
  const { request, fit } = one;
  const text = fit?.spareMm === undefined ? fitWord(one) : say("{verdict}, {room}", { verdict: fitWord(one), room: lengthText(fit.spareMm, 1) });
  if (!request || !fit) return el("span", { class: "turn-none" }, fitWord(one));
  return el("button", { type: "button", class: from ? "turn-value" : "asked-back", "data-opens": `turn lens ${one.lens}`, onclick: (/** @type {Event} */ event) =>
    turnFit(from ?? /** @type {HTMLElement} */ (event.currentTarget), request, fit) }, from ? text : fitWord(one));
}

/** What the rig and its rings come to. @param {HTMLElement} opener @param {Column} column */
export function turnCost(opener, { rig, rings }) {
  const { cost = 0 } = rig;
  openDrawer(opener, rig.id, () => list([
    say("The rig: {cost}", { cost: fixed(cost, 2) }),
    ...(rings?.buy.length ? [say("Rings, {rings}: {cost}", { rings: rings.buy.map(({ ring, count }) => timesText(ringText(ring), count)).join(", "), cost: rings.cost === undefined ? "?" : fixed(rings.cost, 2) })] : []),
    say("Together: {cost}", { cost: fixed(cost + (rings?.cost ?? 0), 2) }),
  ]));
}

/** @typedef {"massG" | "momentNm" | "counterweightG"} Weighed */

/** What would make it weigh, tip or need so much. @param {HTMLElement} opener @param {App} app @param {Column} column @param {Weighed} what */
export function turnWeight(opener, app, { rig, hangs, weight }, what) {
  const is = weight[what];
  if (is === undefined) return;
  const grams = (/** @type {number} */ value) => `${fixed(value, 0)} g`;
  const mm = (/** @type {number} */ value) => lengthText(value, 0);
  const label = { massG: say("Front, g"), momentNm: say("Moment, N·m"), counterweightG: say("Counterweight, g") }[what];
  openTurned(opener, {
    title: rig.id,
    wanted: { label, kind: "number", is: Number(is.toFixed(what === "momentNm" ? 3 : 0)) },
    turns: (wanted) => {
      const found = (/** @type {string} */ path, /** @type {number} */ from, /** @type {number} */ to) =>
        ask("solve", { question: "weight", request: hangs, unknown: { path, from, to }, wanted: { path: `heaviest.${what}`, is: wanted } }).reply;
      return [
        ...(hangs.items[0]?.massG === undefined ? [] : [{ name: say("The rig weighs"), found: found("items[0].massG", 0, 20_000), show: grams }]),
        ...(what === "massG" ? [] : [{ name: say("Its middle, ahead of the rim"), found: found("items[0].distanceFromRimMm", -200, 1000), show: mm }]),
        ...(what === "counterweightG" ? [{
          name: say("Arm of the counterweight"), found: found("counterArmMm", 1, 2000), show: mm,
          take: (/** @type {number} */ value) => {
            delete app.drafts["plan.counterArmMm"];
            app.change(({ plan }) => {
              plan.counterArmMm = value;
            }, true, undefined, say("undo|what was asked back"));
          },
        }] : []),
      ];
    },
    more: [
      ...(weight.partly ? list([say("Some piece’s weight is not known: it weighs more.")]) : []),
      ...workingPart(workingOf("weight", hangs)),
    ],
  });
}
