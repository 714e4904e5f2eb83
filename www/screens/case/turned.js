// @ts-check
/** The figures of the case asked back: what it takes away, what one piece more adds, what saves moves. */
import { onePieceMore, savings, servedBy, servedThirds, STEPS } from "../../questions/case-holds.js";
import { say } from "../../language/say.js";
import { fixed, signed, stopsText } from "../../language/numbers.js";
import { movesText } from "../../language/words/planning.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { el } from "../../parts/dom.js";
import { openDrawer } from "../../parts/drawer.js";
import { openTurned } from "../../parts/turned.js";
import { workingPart } from "../../parts/working.js";
import { ORDER } from "../../questions/plan.js";
import { workingOf } from "../../questions/workings.js";
import { provenWorking } from "../../engine/proven.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../questions/case-holds.js").Saving} Saving
 * @typedef {import("../../api/glasscall.js").StageReply} Stage
 */

const thirds = KINDS_OF_FIELD.thirds.show;

/** Runs of thirds, as from and to. @param {{stops: number, served: boolean}[]} thirds_ */
function runs(thirds_) {
  /** @type {[number, number][]} */
  const found = [];
  thirds_.forEach(({ stops, served }, at) => {
    if (!served) return;
    const last = found.at(-1);
    if (last && thirds_[at - 1]?.served) last[1] = stops;
    else found.push([stops, stops]);
  });
  return found.map(([from, to]) => (from === to ? thirds(from) : say("{from} to {to}", { from: thirds(from), to: thirds(to) })));
}

/** @param {Stage} stage */
const glassOf = ({ slots, wheel }) =>
  [...(wheel ? [say("wheel {density}", { density: fixed(wheel, 2) })] : []), ...slots.map(({ piece }) => piece)].join(" + ") || say("glass|nothing");

/** @param {string} title @param {string[]} lines */
const part = (title, lines) => [el("h4", { class: "turn-title" }, title), el("ul", { class: "notes" }, ...lines.map((text) => el("li", { text })))];

/** What this case takes away, and what it cannot. @param {HTMLElement} opener @param {App} app */
export function turnCase(opener, app) {
  const { setup, answer } = app;
  const all = servedThirds(setup);
  const missing = all.filter(({ served }) => !served).map(({ stops }) => stops);
  const more = missing.length === 0 ? [] : onePieceMore(setup, missing).slice(0, 3);
  openTurned(opener, {
    title: say("What this case takes away"),
    wanted: { label: say("Stops the glass must take"), kind: "thirds", is: Math.max(0, Math.round((answer?.needStops ?? 3) * 3) / 3) },
    turns: (need) => {
      const stage = servedBy(setup, need);
      const at = need - (stage?.leftOverStops ?? 0);
      return [{
        name: say("Glass within a third"),
        found: { met: stage ? [{ from: at, to: at, gives: at, steps: false }] : [], atLeast: [], from: 0, to: 10, complete: true },
        show: () => (stage ? say("{pieces}, {stops} left", { pieces: glassOf(stage), stops: signed(stage.leftOverStops) }) : ""),
      }];
    },
    more: [
      ...part(say("Within a third, in this rig"), [runs(all).join(", ") || say("glass|nothing")]),
      ...(more.length > 0 ? part(say("One piece more would add"), more.map(({ density, more: count }) =>
        say("ND {density}: {count} of the {missing} thirds that are missing", { density: fixed(density, 1), count: String(count), missing: String(missing.length) }))) : []),
      el("p", { class: "hint" }, say("Every third of a stop up to ten, each by a search of this case.")),
    ],
  });
}

/** @param {Saving} saving */
function savingText({ what, name = "", moves, cannot }) {
  const then = [movesText(moves), ...(cannot > 0 ? [say("{count} not served", { count: String(cannot) })] : [])].join(", ");
  switch (what) {
    case "order": return say("Shot in any order: {moves}", { moves: then });
    case "near": return say("Near enough at ⅔ stop: {moves}", { moves: then });
    case "slot": return say("One slot more: {moves}", { moves: then });
    default: return say("One more {piece}: {moves}", { piece: name, moves: then });
  }
}

/** What would make the day take fewer moves. @param {HTMLElement} opener @param {App} app @param {{moves: number, stages: Stage[], cannot: string[]}} day @param {{request: import("../../api/glasscall.js").OrderDayRequest, lines: string[]}} [rig] another than the one in use, and what is said of its time */
export function turnMoves(opener, app, day, rig) {
  openDrawer(opener, say("What would save moves"), () => {
    const asked = /** @type {import("../../api/glasscall.js").OrderDayRequest} */ (rig?.request ?? ORDER.request(app.setup));
    const found = savings(app.setup, day, asked);
    return [
      ...(rig ? [el("ul", { class: "notes" }, ...rig.lines.map((text) => el("li", { text })))] : []),
      ...part(say("Now: {moves}", { moves: movesText(day.moves) }), found.length > 0 ? found.map(savingText) : [say("Neither another order, nor ⅔ stop, nor one slot or piece more saves one.")]),
      ...workingPart(provenWorking("orderDay", asked) ?? workingOf("orderDay", { ...asked, steps: STEPS })),
    ];
  });
}

/** How what one set-up leaves comes about. @param {HTMLElement} opener @param {Stage} stage @param {number} needStops */
export function turnStage(opener, stage, needStops) {
  openDrawer(opener, stage.setUp, () => part(glassOf(stage), [
    ...stage.slots.map(({ piece, stops }) => say("{piece} takes {stops}", { piece, stops: stopsText(stops) })),
    say("{need} needed, {taken} taken: {left} left", { need: stopsText(needStops), taken: stopsText(needStops - stage.leftOverStops), left: signed(stage.leftOverStops) }),
  ]));
}
