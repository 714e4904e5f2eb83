// @ts-check
/** What is packed asked back: what would do with less, and how a need is served. */
import { lighter, packed, STEPS, taken } from "../../questions/case-holds.js";
import { COVER, needsAsked, ownName } from "../../questions/plan.js";
import { say, sayCount } from "../../language/say.js";
import { fixed, signed, stopsText } from "../../language/numbers.js";
import { el } from "../../parts/dom.js";
import { openDrawer } from "../../parts/drawer.js";
import { openWorking, workingPart } from "../../parts/working.js";
import { workingOf } from "../../questions/workings.js";
import { provenWorking } from "../../engine/proven.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../questions/plan.js").Need} Need
 * @typedef {import("../../questions/case-holds.js").Lighter} Lighter
 */

/** @param {string} title @param {string[]} lines */
const part = (title, lines) => [el("h4", { class: "turn-title" }, title), el("ul", { class: "notes" }, ...lines.map((text) => el("li", { text })))];

/** How many pieces, what they cost, what they do not serve. @param {{pieces: number, cost: number, lost: number}} packed_ @param {boolean} owned */
const countText = ({ pieces, cost, lost }, owned) => [
  sayCount(pieces, "{count} piece", "{count} pieces"),
  ...(owned ? [] : [say("costs {cost}", { cost: fixed(cost, 2) })]),
  ...(lost > 0 ? [say("{count} not served", { count: String(lost) })] : []),
].join(", ");

/** @param {Lighter} change @param {boolean} owned */
function changeText({ what, name = "", ...then }, owned) {
  const told = countText(then, owned);
  if (what === "near") return say("Near enough at ⅔ stop: {moves}", { moves: told });
  if (what === "slot") return say("One slot more: {moves}", { moves: told });
  return say("Without “{need}”: {moves}", { need: name, moves: told });
}

/** @param {HTMLElement} opener @param {App} app @param {Need[]} needs @param {import("../../api/glasscall.js").CoverKitReply} reply @param {boolean} owned */
export function turnPacking(opener, app, needs, reply, owned) {
  openDrawer(opener, owned ? say("What would do with less") : say("What would cost less"), () => {
    const asked = COVER.request(app.setup, needs, owned);
    const found = lighter(asked, needs.map(({ name }) => name), reply);
    return [
      ...part(say("Now: {moves}", { moves: countText(packed(reply), owned) }),
        found.length > 0 ? found.map((change) => changeText(change, owned)) : [say("Neither ⅔ stop, nor one slot more, nor one set-up less does with less.")]),
      ...workingPart((provenWorking("coverKit", asked) ?? workingOf("coverKit", { ...asked, steps: STEPS }))
        ?.map((term) => (term.piece === undefined ? term : { ...term, piece: ownName(term.piece) }))),
    ];
  });
}

/** How the needs of the day come about, each by the first way of shooting it. @param {HTMLElement} opener @param {import("../../document/setup.js").Setup} setup */
export const turnNeeds = (opener, setup) => openWorking(opener, workingOf("dayNeeds", needsAsked(setup)));

/** How a need is served. @param {HTMLElement} opener @param {App} app @param {Need | undefined} need @param {import("../../api/glasscall.js").ServedReply} served */
export function turnServed(opener, { setup }, need, { pieces, stops, leftOverStops = 0 }) {
  openDrawer(opener, need?.name ?? "", () => part(pieces.map(ownName).join(" + ") || say("nothing in"), [
    ...pieces.flatMap((piece) => {
      const takes = taken(setup, ownName(piece));
      return takes === undefined ? [] : [say("{piece} takes {stops}", { piece: ownName(piece), stops: stopsText(takes) })];
    }),
    say("{need} needed, {taken} taken: {left} left", { need: stopsText(stops), taken: stopsText(stops - leftOverStops), left: signed(leftOverStops) }),
  ]));
}
