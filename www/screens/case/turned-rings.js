// @ts-check
/** Rings to buy asked back: what would make one unnecessary, and how depth, room and cost add up. */
import { fewerRings } from "../../questions/case-holds.js";
import { say } from "../../language/say.js";
import { fixed } from "../../language/numbers.js";
import { ringText, timesText } from "../../language/words/planning.js";
import { el } from "../../parts/dom.js";
import { openDrawer } from "../../parts/drawer.js";
import { workingPart } from "../../parts/working.js";

/**
 * @typedef {import("../../api/glasscall.js").RingsRequest} RingsRequest
 * @typedef {import("../../api/glasscall.js").RingsReply} RingsReply
 * @typedef {import("../../questions/case-holds.js").Ringed} Ringed
 */

/** What is to be bought and what stays without a ring. @param {Pick<RingsReply, "buy" | "cost" | "settled">} reply @param {boolean} priced */
function boughtText({ buy, cost, settled }, priced) {
  const lost = settled.filter(({ reaches }) => !reaches).map(({ id }) => id);
  const rings = buy.map(({ ring, count }) => timesText(ringText(ring), count)).join(", ");
  return [
    rings ? (priced ? say("{rings} for {cost}", { rings, cost: fixed(cost, 2) }) : rings) : say("nothing to buy"),
    ...(lost.length > 0 ? [say("no ring reaches {lenses}", { lenses: lost.join(", ") })] : []),
  ].join("; ");
}

/** @param {Ringed} change @param {boolean} priced */
function changeText({ what, name, ...reply }, priced) {
  const told = boughtText(reply, priced);
  switch (what) {
    case "without": return say("“{lens}” left at home: {rings}", { lens: name, rings: told });
    case "filter": return say("Filters of {size} mm: {rings}", { size: name, rings: told });
    case "chain": return say("Up to four rings one on the other: {rings}", { rings: told });
    default: return say("One more {ring} in the case: {rings}", { ring: name, rings: told });
  }
}

/** @param {HTMLElement} opener @param {RingsRequest} request @param {RingsReply} reply */
export function turnRings(opener, request, reply) {
  const priced = request.catalogue !== undefined;
  openDrawer(opener, say("What would do with fewer rings"), () => {
    const found = fewerRings(request, reply);
    const lines = found.length > 0 ? found.map((change) => changeText(change, priced)) : [say("Neither a lens less, nor another size, nor a ring more saves one.")];
    return [
      el("h4", { class: "turn-title" }, say("Now: {moves}", { moves: boughtText(reply, priced) })),
      el("ul", { class: "notes" }, ...lines.map((text) => el("li", { text }))),
      ...workingPart(reply.working),
    ];
  });
}
