// @ts-check
/** Ways to hold filters, compared on the day that is planned. */
import { longQuestion } from "../../engine/long-question.js";
import { COUNTER_ARM } from "../../questions/case-lists.js";
import { orderInRig, rigsOf } from "../../questions/plan.js";
import { answerTo } from "../../questions/question.js";
import { heaviest, lensFits, ringsFor, WEIGHT } from "../../questions/rig-compare.js";
import { say } from "../../language/say.js";
import { fixed } from "../../language/numbers.js";
import { FITS, MOUNTS, PLAN_WORDS, ringText, slotsText, timesText } from "../../language/words/planning.js";
import { el, one } from "../../parts/dom.js";
import { mountField } from "../../parts/field.js";
import { whileSeen } from "../../parts/seen.js";
import { RINGS } from "../../questions/rings.js";
import { turnRings } from "./turned-rings.js";
import { lensCell, turnCost, turnLenses, turnRig, turnWeight } from "./turned-rigs.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../questions/plan.js").WholeRig} WholeRig
 * @typedef {import("../../api/glasscall.js").OrderDayReply} OrderDayReply
 * @typedef {import("./turned-rigs.js").Column} Column
 */

/** @param {Setup} setup */
const armCheck = (setup) => answerTo(COUNTER_ARM, setup).refusal;

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountSystems(root, app) {
  const arm = mountField(one(root, "[data-field='plan.counterArmMm']"), app, armCheck);
  const answer = one(root, ".systems-answer");
  /** @type {Map<number, OrderDayReply | undefined>} */
  const days = new Map();
  /** @type {ReturnType<typeof longQuestion>[]} */
  const questions = [];
  const show = () => answer.replaceChildren(...comparison(app, rigsOf(app.setup), days));
  const compare = whileSeen([root, one(root, "[data-part=systems]")], () => {
    rigsOf(app.setup).forEach((rig, at) => {
      questions[at] ??= longQuestion("orderDay", ({ reply }) => {
        days.set(at, reply);
        show();
      });
      questions[at].ask(orderInRig(app.setup, rig));
    });
    show();
  });
  return () => {
    arm();
    compare();
  };
}

/** @param {App} app @param {WholeRig[]} rigs @param {Map<number, OrderDayReply | undefined>} days */
function comparison(app, rigs, days) {
  const { setup } = app;
  const priced = setup.plan.ringOffers.length > 0;
  const columns = rigs.map((rig, at) => {
    const day = days.get(at);
    const rings = ringsFor(setup, rig);
    const hangs = WEIGHT.request(setup, rig, rings, day);
    return { rig, day, rings, fits: lensFits(setup, rig, rings, day), hangs, weight: heaviest(hangs) };
  });
  const moves = (/** @type {HTMLElement} */ opener, /** @type {Column} */ column) => turnRig(opener, app, column);
  const weighs = (/** @type {import("./turned-rigs.js").Weighed} */ what) => (/** @type {HTMLElement} */ opener, /** @type {Column} */ column) => turnWeight(opener, app, column, what);
  const ofDay = (/** @type {(day: OrderDayReply) => string} */ tell) => (/** @type {Column} */ { day }) => (day ? tell(day) : "…");
  /** @type {Line[]} */
  const lines = [
    [say("Moves"), ofDay((day) => `${day.moves}${day.proven ? "" : "?"}`), moves],
    [say("Minutes"), ({ day, rig }) => (day ? rig.minutesPerMove === undefined ? "?" : fixed(day.minutes ?? 0, 2) : "…"), moves],
    [say("Cannot serve"), ofDay((day) => String(day.cannot.length || "–")), moves],
    [say("Lenses it clips"), ({ fits }) => fitCount(fits, "clips"), turnLenses],
    [say("… it shades"), ({ fits }) => fitCount(fits, "shades"), turnLenses],
    [say("Rings to buy"), ({ rings }) => (rings ? String(rings.buy.reduce((sum, { count }) => sum + count, 0) || "–") : "–"), (opener, { rig, rings }) => {
      if (rings && rig.threadMm !== undefined) turnRings(opener, RINGS.request(setup, rig.threadMm), rings);
    }],
    [say("Costs"), ({ rig, rings }) => fixed((rig.cost ?? 0) + (priced ? rings?.cost ?? 0 : 0), 2), turnCost],
    [say("Front, g"), ({ weight }) => `${fixed(weight.massG, 0)}${weight.partly ? "+" : ""}`, weighs("massG")],
    [say("Moment, N·m"), ({ weight }) => `${fixed(weight.momentNm, 3)}${weight.partly ? "+" : ""}`, weighs("momentNm")],
    [say("Counter\u00adweight, g"), ({ weight }) => (weight.counterweightG === undefined ? "–" : `${fixed(weight.counterweightG, 0)}${weight.partly ? "+" : ""}`), weighs("counterweightG")],
  ];
  const buys = columns.filter(({ rings }) => rings?.buy.length).map(({ rig, rings }) =>
    el("li", {}, el("strong", { text: rig.id }), ` ${rings?.buy.map(({ ring, count }) => timesText(ringText(ring), count)).join(", ")}`));
  const short = columns.filter(({ day }) => day?.cannot.length).map(({ rig, day }) =>
    el("li", {}, el("strong", { text: rig.id }), " ", el("span", { translate: "no", text: day?.cannot.join(", ") ?? "" })));
  return [
    table({ corner: say("What"), label: say("Comparison") }, columns, lines),
    ...(short.length ? [el("h4", { text: say("Set-ups it cannot serve") }), el("ul", { class: "plain-list" }, ...short)] : []),
    ...(buys.length ? [el("h4", { text: say("Rings to buy, so that each stays on its lens") }), el("ul", { class: "plain-list" }, ...buys)] : []),
    el("h4", { text: say("Each lens, wide open, with the slots the day fills") }),
    ...(setup.stock.lenses.length === 0 ? [el("p", { class: "hint", text: PLAN_WORDS.noLenses })] : [
      table({ corner: say("Lens"), label: say("Lenses") }, columns, setup.stock.lenses.map(({ id }, at) => [id, ({ fits }) => lensCell(fits[at] ?? { lens: id })])),
    ]),
    ...FITS.notes(columns.flatMap(({ fits }) => fits)).map((text) => el("p", { class: "hint", text })),
    ...(columns.some(({ weight }) => weight.partly) ? [el("p", { class: "hint", text: PLAN_WORDS.partly })] : []),
    el("p", { class: "hint", text: PLAN_WORDS.moment }),
  ];
}

/** A row: its name, its figure for a rig, and what a tap on that opens. @typedef {[name: string, of: (column: Column) => string | Node, open?: (opener: HTMLElement, column: Column) => void]} Line */

/** A figure, to be asked back where there is one. @param {Line} line @param {Column} column */
function cell([name, of, open], column) {
  const figure = of(column);
  if (!open || typeof figure !== "string" || /^[?–…]$/.test(figure)) return figure;
  return el("button", { type: "button", class: "asked-back", "data-opens": `rig ${name} ${column.rig.id}`, onclick: (/** @type {Event} */ event) =>
    open(/** @type {HTMLElement} */ (event.currentTarget), column) }, figure);
}

/** @param {{corner: string, label: string}} names @param {Column[]} columns @param {Line[]} lines */
function table({ corner, label }, columns, lines) {
  return el("div", { class: "systems-scroll", tabindex: "0", role: "region", "aria-label": label },
    el("table", { class: "systems" },
      el("thead", {}, el("tr", {},
        el("th", { scope: "col" }, el("span", { class: "unseen", text: corner })),
        ...columns.map(({ rig }) => el("th", { scope: "col", title: `${MOUNTS[rig.mount]}, ${slotsText(rig.slots.length)}`, text: rig.id })))),
      el("tbody", {}, ...lines.map((line) =>
        el("tr", {}, el("th", { scope: "row", text: line[0] }), ...columns.map((column) => el("td", {}, cell(line, column))))))));
}

/** @param {import("../../questions/rig-compare.js").LensFit[]} fits @param {"shades" | "clips"} verdict */
function fitCount(fits, verdict) {
  const told = fits.filter(({ fit }) => fit);
  if (told.length === 0) return "?";
  return String(told.filter(({ fit }) => fit?.verdict === verdict).length || "–");
}
