// @ts-check
/**
 * What the case holds besides pieces and the rig in use, and what is planned
 * with it. Part of the set-up; kept and undone with it.
 */

/**
 * @typedef {import("./api/glasscall.js").CaseContent} CaseContent
 * @typedef {import("./api/glasscall.js").Refusal} Refusal
 * @typedef {import("./setup.js").Setup} Setup
 */

/** Everything of a case file but its pieces. @typedef {Required<Omit<CaseContent, "pieces">>} Stock */

/**
 * @typedef {object} PlannedSetUp
 * @property {string} id
 * @property {number} needStops
 * @property {number} [toleranceStops] absent: a third
 * @property {boolean} [polarizer]
 */

/**
 * @typedef {object} Plan
 * @property {number} filterMm thread that rings lead to
 * @property {PlannedSetUp[]} setUps
 * @property {"fixed" | "free"} order
 * @property {{id: string, kind: "nd" | "polarizer", density?: number, cost?: number, count: number}[]} wares pieces that could be bought
 * @property {SystemPlan[]} systems ways to hold filters that are compared
 * @property {number} [counterArmMm]
 */

/**
 * @typedef {object} SystemPlan
 * @property {string} id
 * @property {number} slots
 * @property {number} rotating how many of them turn
 * @property {number} minutesPerMove
 * @property {number} massG without filters
 * @property {number} cost
 * @property {number} distanceFromRimMm of its middle
 */

/** The invented crew's lenses and rings. @returns {Stock} */
export function demoStock() {
  return {
    lenses: [
      { id: "24", focalMm: 24, tNumber: 1.5, threadMm: 77 },
      { id: "35", focalMm: 35, tNumber: 1.5, threadMm: 77 },
      { id: "85", focalMm: 85, tNumber: 1.5, threadMm: 72 },
      { id: "zoom 50–140", focalMm: 50, focalToMm: 140, tNumber: 2.8, outerMm: 114 },
    ],
    rings: [
      { fromMm: 77, toMm: 82, count: 1, clamp: false },
      { fromMm: 72, toMm: 77, count: 1, clamp: false },
    ],
    rigs: [],
    slots: [],
    bodies: [],
    modes: [],
    wheels: [],
  };
}

/** A day on the invented estuary. @returns {Plan} */
export function demoPlan() {
  return {
    filterMm: 82,
    setUps: [
      { id: "quay, wide", needStops: 5 },
      { id: "deck", needStops: 3 },
      { id: "water, against the light", needStops: 7.7, polarizer: true },
      { id: "quay, close", needStops: 5 },
      { id: "shed", needStops: 1 },
    ],
    order: "free",
    wares: [
      { id: "ND 0.3", kind: "nd", density: 0.3, cost: 60, count: 1 },
      { id: "ND 0.6", kind: "nd", density: 0.6, cost: 60, count: 1 },
      { id: "ND 0.9", kind: "nd", density: 0.9, cost: 65, count: 1 },
      { id: "ND 1.2", kind: "nd", density: 1.2, cost: 70, count: 1 },
      { id: "ND 1.8", kind: "nd", density: 1.8, cost: 90, count: 1 },
      { id: "polarizer", kind: "polarizer", cost: 120, count: 1 },
    ],
    systems: usualSystems(),
  };
}

/** Starting values of the trade; every one is the user's to overrule. @returns {SystemPlan[]} */
function usualSystems() {
  return [
    { id: "screw-in", slots: 2, rotating: 2, minutesPerMove: 1, massG: 20, cost: 0, distanceFromRimMm: 10 },
    { id: "snap-on", slots: 2, rotating: 0, minutesPerMove: 0.25, massG: 120, cost: 0, distanceFromRimMm: 15 },
    { id: "matte box", slots: 3, rotating: 1, minutesPerMove: 0.5, massG: 650, cost: 0, distanceFromRimMm: 45 },
  ];
}

/** A case with nothing but what is usual. @param {Setup} setup */
export function emptyStock(setup) {
  setup.stock = { lenses: [], rings: [], rigs: [], slots: [], bodies: [], modes: [], wheels: [] };
  setup.plan = { ...demoPlan(), setUps: [], wares: [], systems: usualSystems() };
}

/** The name of the rig in use in a case file. */
const IN_USE = "in use";

/** The whole case as a file holds it. @param {Setup} setup @returns {CaseContent} */
export function caseContent(setup) {
  const { stock } = setup;
  const others = (/** @type {{rig?: string, body?: string, id: string}} */ item) =>
    (item.rig ?? item.body ?? item.id) !== IN_USE;
  return {
    ...stock,
    pieces: setup.kit,
    rigs: [{ id: IN_USE, mount: "matteBox" }, ...stock.rigs.filter(others)],
    slots: [...setup.rig.slots.map((slot) => ({ rig: IN_USE, ...slot })), ...stock.slots.filter(others)],
    bodies: [{ id: IN_USE, exposureIndex: setup.reading.exposureIndex }, ...stock.bodies.filter(others)],
    wheels: [
      ...setup.wheel.map((density, at) => ({ body: IN_USE, id: String(at + 1), density })),
      ...stock.wheels.filter(others),
    ],
  };
}

/** Puts a case from a file in place of this one. @param {Setup} setup @param {any} read */
export function takeCase(setup, read) {
  const { pieces, ...stock } = read;
  const inUse = (/** @type {{rig?: string, body?: string, id?: string}} */ item) =>
    (item.rig ?? item.body ?? item.id) === IN_USE;
  const rest = (/** @type {any[]} */ list) => list.filter((item) => !inUse(item));
  setup.kit = pieces;
  const slots = stock.slots.filter(inUse);
  if (slots.length > 0) setup.rig.slots = slots.map((/** @type {any} */ { rig: _, ...slot }) => slot);
  const wheel = stock.wheels.filter(inUse).map((/** @type {any} */ position) => position.measuredDensity ?? position.density);
  if (stock.bodies.some(inUse)) setup.wheel = wheel;
  setup.stock = {
    ...stock,
    rigs: rest(stock.rigs),
    slots: rest(stock.slots),
    bodies: rest(stock.bodies),
    modes: stock.modes,
    wheels: rest(stock.wheels),
  };
  setup.demo = false;
  const ids = new Set(pieces.map((/** @type {{id: string}} */ piece) => piece.id));
  const slotIds = new Set(setup.rig.slots.map((slot) => slot.id));
  setup.inPlace = setup.inPlace.filter(({ piece, slot }) => ids.has(piece) && slotIds.has(slot));
  setup.keep = setup.keep.filter((id) => ids.has(id));
  setup.reading.through = setup.reading.through.filter((id) => ids.has(id));
}

/** What the order of the day asks, in a rig. @param {Setup} setup @param {Partial<import("./api/glasscall.js").OrderDayRequest>} [other] */
export function orderRequest(setup, other = {}) {
  return { setUps: setup.plan.setUps, kit: setup.kit, rig: setup.rig, wheel: setup.wheel, order: setup.plan.order, ...other };
}

/** The pieces without their sizes, in a rig of another sort. @param {Setup} setup @param {SystemPlan} system */
export function orderInSystem(setup, system) {
  const slots = Array.from({ length: system.slots }, (_, at) => ({ id: String(at + 1), size: "", rotates: at < system.rotating }));
  return orderRequest(setup, { rig: { slots }, minutesPerMove: system.minutesPerMove });
}

/** What packing asks. @param {Setup} setup @param {boolean} owned whether to choose from the case, else from what could be bought as well */
export function coverRequest(setup, owned) {
  const needs = setup.plan.setUps.map(({ needStops, toleranceStops, polarizer }) => ({
    stops: needStops,
    slots: setup.rig.slots.length,
    ...(toleranceStops === undefined ? {} : { toleranceStops }),
    polarizer: Boolean(polarizer),
  }));
  const own = setup.kit.filter((piece) => piece.kind === "nd" || piece.kind === "polarizer")
    .map(({ id, kind, density, measuredDensity, lossStops, count }) => ({
      id: `own: ${id}`,
      kind,
      ...(density === undefined ? {} : { density }),
      ...(measuredDensity === undefined ? {} : { measuredDensity }),
      ...(lossStops === undefined ? {} : { lossStops }),
      count: count ?? 1,
      cost: 0,
    }));
  return { needs, catalogue: owned ? own : [...own, ...setup.plan.wares] };
}

/** What the rings ask. @param {Setup} setup */
export function ringsRequest(setup) {
  const { lenses, rings } = setup.stock;
  return {
    filterMm: setup.plan.filterMm,
    lenses: lenses
      .filter((lens) => lens.threadMm !== undefined || lens.outerMm !== undefined)
      .map(({ id, threadMm, outerMm, needsClearMm }) => ({
        id,
        ...(threadMm === undefined ? { outerMm } : { threadMm }),
        ...(needsClearMm === undefined ? {} : { needsClearMm }),
      })),
    owned: rings,
  };
}

/** A refusal with the field's path as the page knows it. @param {Refusal | undefined} refusal @param {string} from @param {string} to @returns {Refusal | undefined} */
export function movedRefusal(refusal, from, to) {
  if (!refusal) return undefined;
  const field = refusal.field.startsWith(from) ? to + refusal.field.slice(from.length) : refusal.field;
  return { ...refusal, field };
}
