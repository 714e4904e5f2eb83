// @ts-check
/** What the glass of a case can take away at all, what one piece more would add, and what would save moves or rings. */
import { ask } from "../engine/ask.js";
import { ORDER } from "./plan.js";
import { fixed } from "../language/numbers.js";
import { ringText } from "../language/words/planning.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../api/glasscall.js").OrderDayRequest} OrderDayRequest
 * @typedef {import("../api/glasscall.js").StageReply} Stage
 */

/** As far as needs are looked at: ten stops, a bright day on snow wide open; common practice, no source. */
const MOST_STOPS = 10;
/** A short search: somebody waits. */
export const STEPS = 1e6;

/** The glass for a need within a third of a stop, in this rig. @param {Setup} setup @param {number} needStops @param {Setup["kit"]} [kit] @returns {Stage | undefined} */
export function servedBy(setup, needStops, kit = setup.kit) {
  const { rig, wheel } = ORDER.request(setup);
  return ask("orderDay", { setUps: [{ id: "need", needStops }], kit, rig, wheel, order: "fixed", steps: STEPS }).reply?.stages[0];
}

/** Every third of a stop up to ten, and whether the case serves it. @param {Setup} setup */
export function servedThirds(setup) {
  return Array.from({ length: MOST_STOPS * 3 + 1 }, (_, third) => ({ stops: third / 3, served: servedBy(setup, third / 3) !== undefined }));
}

/** Densities that are sold everywhere. Common practice, no source. */
const USUAL = [0.3, 0.6, 0.9, 1.2, 1.5, 1.8, 2.1];

/** How many of the thirds that are missing one piece more would serve, the most first. @param {Setup} setup @param {number[]} missing in stops @returns {{density: number, more: number}[]} */
export function onePieceMore(setup, missing) {
  const size = setup.rig.slots[0]?.size;
  return USUAL.map((density) => {
    const kit = [...setup.kit, { id: "one more", kind: /** @type {const} */ ("nd"), density, ...(size === undefined ? {} : { size }) }];
    return { density, more: missing.filter((stops) => servedBy(setup, stops, kit)).length };
  }).filter(({ more }) => more > 0).sort((a, b) => b.more - a.more);
}

/** One thing changed about the day. @typedef {{what: "order" | "near" | "slot" | "piece", name?: string, moves: number, cannot: number}} Saving */

/** The day with one thing changed, and the moves it then takes; only where they are fewer. @param {Setup} setup @param {{moves: number, stages: Stage[], cannot: string[]}} day @param {OrderDayRequest} [request] in the rig in use unless said @returns {Saving[]} */
export function savings(setup, day, request = /** @type {OrderDayRequest} */ (ORDER.request(setup))) {
  const { kit = [], rig, setUps } = request;
  const used = new Set(day.stages.flatMap(({ slots }) => slots.map(({ piece }) => piece)));
  /** @type {[what: Saving["what"], name: string | undefined, change: Partial<OrderDayRequest>][]} */
  const changes = [
    ...(request.order === "fixed" ? [/** @type {[Saving["what"], undefined, Partial<OrderDayRequest>]} */ (["order", undefined, { order: "free" }])] : []),
    ["near", undefined, { setUps: setUps.map((one) => ({ ...one, toleranceStops: Math.max(2 / 3, one.toleranceStops ?? 0) })) }],
    ["slot", undefined, { rig: { ...rig, slots: [...(rig?.slots ?? []), { ...rig?.slots?.at(-1), id: "one more" }] } }],
    ...kit.filter(({ id }) => used.has(id)).map(({ id }) => /** @type {[Saving["what"], string, Partial<OrderDayRequest>]} */ (
      ["piece", id, { kit: kit.map((piece) => (piece.id === id ? { ...piece, count: (piece.count ?? 1) + 1 } : piece)) }])),
  ];
  return changes.flatMap(([what, name, change]) => {
    const { reply } = ask("orderDay", { ...request, ...change, steps: STEPS });
    const saves = reply && (reply.moves < day.moves || reply.cannot.length < day.cannot.length);
    return saves ? [{ what, ...(name === undefined ? {} : { name }), moves: reply.moves, cannot: reply.cannot.length }] : [];
  });
}

/** @typedef {import("../api/glasscall.js").CoverKitRequest} CoverKitRequest */
/** Packing with one thing changed. @typedef {{what: "near" | "slot" | "without", name?: string, pieces: number, cost: number, lost: number}} Lighter */

/** How many pieces are packed, what they cost and what they leave unserved. @param {import("../api/glasscall.js").CoverKitReply} reply */
export const packed = ({ chosen, cost, served }) =>
  ({ pieces: chosen.reduce((sum, { count }) => sum + count, 0), cost, lost: served.filter(({ can }) => !can).length });

/** What would do with fewer pieces, or cost less, or serve more. @param {CoverKitRequest} request @param {string[]} names of its needs @param {import("../api/glasscall.js").CoverKitReply} now @returns {Lighter[]} */
export function lighter(request, names, now) {
  const is = packed(now);
  const { needs } = request;
  /** @type {[Lighter["what"], string | undefined, CoverKitRequest["needs"]][]} */
  const changes = [
    ["near", undefined, needs.map((need) => ({ ...need, toleranceStops: Math.max(2 / 3, need.toleranceStops ?? 0) }))],
    ["slot", undefined, needs.map((need) => ({ ...need, slots: need.slots + 1, places: [...(need.places ?? []), { size: "", ...need.places?.at(-1), rotates: false }] }))],
    ...needs.map((_, at) => /** @type {[Lighter["what"], string, CoverKitRequest["needs"]]} */ (["without", names[at] ?? "", needs.filter((__, other) => other !== at)])),
  ];
  return changes.flatMap(([what, name, changed]) => {
    const { reply } = ask("coverKit", { ...request, needs: changed, steps: STEPS });
    if (!reply) return [];
    const then = packed(reply);
    const saves = then.lost < is.lost || (then.lost === is.lost && (then.cost < is.cost || (then.cost === is.cost && then.pieces < is.pieces)));
    return saves ? [{ what, ...(name === undefined ? {} : { name }), ...then }] : [];
  });
}

/** @typedef {import("../api/glasscall.js").RingsRequest} RingsRequest */
/** @typedef {import("../api/glasscall.js").RingsReply} RingsReply */
/** Rings with one thing changed. @typedef {{what: "without" | "filter" | "chain" | "ring", name: string} & Pick<RingsReply, "buy" | "cost" | "settled">} Ringed */

/** How many rings are bought, and how many lenses none reaches. @param {RingsReply} reply */
const ringCount = ({ buy, settled, cost }) => ({ bought: buy.reduce((sum, { count }) => sum + count, 0), cost, lost: settled.filter(({ reaches }) => !reaches).length });

/** What would do with fewer rings to buy, or cheaper ones, or reach one lens more: a lens at home, another size, a ring more. @param {RingsRequest} request @param {RingsReply} now @returns {Ringed[]} */
export function fewerRings(request, now) {
  const is = ringCount(now);
  const { lenses, owned = [] } = request;
  const onRings = new Set(now.settled.filter(({ rings, reaches }) => rings.length > 0 || !reaches).map(({ id }) => id));
  const sizes = [...new Set(lenses.flatMap(({ threadMm }) => (threadMm === undefined || threadMm === request.filterMm ? [] : [threadMm])))].sort((a, b) => b - a);
  /** @type {[Ringed["what"], string, Partial<RingsRequest>][]} */
  const changes = [
    ...lenses.filter(({ id }) => onRings.has(id)).map(({ id }) => /** @type {[Ringed["what"], string, Partial<RingsRequest>]} */ (
      ["without", id, { lenses: lenses.filter((lens) => lens.id !== id) }])),
    ...sizes.map((size) => /** @type {[Ringed["what"], string, Partial<RingsRequest>]} */ (["filter", fixed(size, 1), { filterMm: size }])),
    ["chain", "", { maxRings: 4 }],
    ...now.clashes.map(({ ring: { fromMm, toMm, clamp, depthMm, clearMm } }) => /** @type {[Ringed["what"], string, Partial<RingsRequest>]} */ (
      ["ring", ringText({ fromMm, toMm, clamp }), { owned: [...owned, { fromMm, toMm, clamp, depthMm, clearMm, count: 1 }] }])),
  ];
  return changes.flatMap(([what, name, change]) => {
    const { reply } = ask("rings", { ...request, ...change, steps: STEPS });
    if (!reply) return [];
    const then = ringCount(reply);
    const saves = then.lost < is.lost || (then.lost === is.lost && (then.cost < is.cost || (then.cost === is.cost && then.bought < is.bought)));
    return saves ? [{ what, name, buy: reply.buy, cost: reply.cost, settled: reply.settled }] : [];
  });
}

/** What a piece takes by itself. @param {Setup} setup @param {string} id */
export function taken(setup, id) {
  const piece = setup.kit.find((one) => one.id === id);
  return piece && ask("infrared", { pieces: [piece] }).reply?.visibleStops;
}
