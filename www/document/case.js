// @ts-check
/**
 * What the case holds besides pieces and the rig in use, and what is planned
 * with it. Part of the set-up; kept and undone with it. What the invented crew
 * calls its things it says in the reader's language, once: names are ids.
 */
import { say } from "../language/say.js";

const BOX = say("id|matte box");
const SCREW = say("id|screw-in");
const SNAP = say("id|snap-on");

/**
 * @typedef {import("../api/glasscall.js").CaseContent} CaseContent
 * @typedef {import("../api/glasscall.js").CaseRig} CaseRig
 * @typedef {import("./setup.js").Setup} Setup
 */

/** The lists of a case file that the set-up holds elsewhere. @typedef {"pieces" | "ringOffers" | "wares"} Elsewhere */

/** The lists of a case but its pieces and the day in hand, flat. @typedef {Required<Omit<CaseContent, Elsewhere>>} Stock */

/**
 * @typedef {object} PlannedSetUp
 * @property {string} id
 * @property {number} needStops
 * @property {number} [toleranceStops] absent: a third
 * @property {boolean} [polarizer]
 */

/**
 * The day in hand: a day of a case file with what belongs to it.
 * @typedef {object} DayLists
 * @property {PlannedSetUp[]} setUps
 * @property {import("../api/glasscall.js").WareRequest[]} wares pieces that could be bought
 * @property {import("../api/glasscall.js").RingOfferRequest[]} ringOffers rings that could be bought; empty: any, at the price of one
 * @property {number[]} wanted stops the day may ask for
 * @property {number[]} frameRates that the day may ask for
 *
 * @typedef {import("../api/glasscall.js").CaseDay & {filterMm: number, order: "fixed" | "free", needsFrom: import("../api/glasscall.js").NeedsFrom} & DayLists} Plan
 */

/** The lists of the stock, empty. @returns {Stock} */
export const noStock = () => ({
  lenses: [], rings: [], rigs: [], slots: [], openings: [], bodies: [], modes: [], wheels: [], plates: [],
  days: [], setUps: [], wants: [],
});

/** The invented crew's lenses, rings, body and the three ways they hold filters. @returns {Stock} */
export function demoStock() {
  const { rigs, slots } = usualRigs();
  const tray = (/** @type {string} */ id, /** @type {boolean} */ rotates, /** @type {number} */ distanceFromRimMm) => ({
    rig: BOX, id, size: "4x5.65", rotates,
    opening: { distanceFromRimMm, shape: /** @type {const} */ ("rectangle"), widthMm: 134, heightMm: 95 },
  });
  return {
    ...noStock(),
    lenses: [
      { id: "24", focalMm: 24, tNumber: 1.5, threadMm: 77, pupilBehindRimMm: 30, pupilBy: "twoCards" },
      { id: "35", focalMm: 35, tNumber: 1.5, threadMm: 77, pupilBehindRimMm: 34, pupilBy: "twoCards" },
      { id: "50", focalMm: 50, pupilBehindRimMm: 38, pupilBy: "twoCards" },
      { id: "85", focalMm: 85, tNumber: 1.5, threadMm: 72, pupilBehindRimMm: 22, pupilBy: "ring" },
      { id: "zoom 50–140", focalMm: 50, focalToMm: 140, tNumber: 2.8, outerMm: 114 },
    ],
    rings: [
      { fromMm: 77, toMm: 82, count: 1, clamp: false },
      { fromMm: 72, toMm: 77, count: 1, clamp: false },
    ],
    rigs: [{ id: BOX, mount: "matteBox", minutesPerMove: 0.5, massG: 650, middleMm: 45 }, ...rigs],
    slots: [tray(say("id|rotating"), true, 12), tray(say("id|tray {number}", { number: 1 }), false, 24), tray(say("id|tray {number}", { number: 2 }), false, 36), ...slots],
    bodies: [{ id: "A", exposureIndex: 800 }],
    modes: [{ body: "A", id: say("id|full"), widthMm: 24.89, heightMm: 18.66 }],
  };
}

/** Starting values of the trade; every one is the user's to overrule. */
function usualRigs() {
  const round = (/** @type {number} */ distanceFromRimMm) =>
    ({ distanceFromRimMm, depthMm: 5, shape: /** @type {const} */ ("circle"), diameterMm: 78 });
  const panel = (/** @type {number} */ distanceFromRimMm) =>
    ({ distanceFromRimMm, shape: /** @type {const} */ ("rectangle"), widthMm: 93, heightMm: 93 });
  const slot = (/** @type {string} */ rig, /** @type {string} */ id, /** @type {boolean} */ rotates, /** @type {any} */ opening) =>
    ({ rig, id, size: "", rotates, opening });
  return {
    rigs: /** @type {CaseRig[]} */ ([
      { id: SCREW, mount: "screwIn", minutesPerMove: 1, massG: 20, threadMm: 82, middleMm: 5 },
      { id: SNAP, mount: "snapOn", minutesPerMove: 0.25, massG: 120, threadMm: 82, middleMm: 12 },
    ]),
    slots: [
      slot(SCREW, say("id|thread {number}", { number: 1 }), true, round(0)),
      slot(SCREW, say("id|thread {number}", { number: 2 }), true, round(5)),
      slot(SNAP, say("id|panel {number}", { number: 1 }), false, panel(8)),
      slot(SNAP, say("id|panel {number}", { number: 2 }), false, panel(14)),
    ],
  };
}

/** A day with nothing in it. @returns {import("./document.js").DayRecord} */
export const emptyDay = () => ({
  id: "day",
  filterMm: 82,
  order: "free",
  needsFrom: "setUps",
  setUps: [],
  wanted: [],
  frameRates: [],
});

/** A day on the invented estuary. @returns {Plan} */
export function demoPlan() {
  return {
    ...emptyDay(),
    ringOffers: [],
    setUps: [
      { id: say("id|quay, wide"), needStops: 5 },
      { id: say("id|deck"), needStops: 3 },
      { id: say("id|water, against the light"), needStops: 7.7, polarizer: true },
      { id: say("id|quay, close"), needStops: 5 },
      { id: say("id|shed"), needStops: 1 },
    ],
    brightestAperture: 22.627416997969522,
    darkestAperture: 5.6568542494923806,
    fromHour: 8,
    toHour: 20,
    counterArmMm: 150,
    wares: [
      { id: "ND 0.3", kind: "nd", density: 0.3, cost: 60, count: 1 },
      { id: "ND 0.6", kind: "nd", density: 0.6, cost: 60, count: 1 },
      { id: "ND 0.9", kind: "nd", density: 0.9, cost: 65, count: 1 },
      { id: "ND 1.2", kind: "nd", density: 1.2, cost: 70, count: 1 },
      { id: "ND 1.8", kind: "nd", density: 1.8, cost: 90, count: 1 },
      { id: say("id|polarizer"), kind: "polarizer", cost: 120, count: 1 },
    ],
  };
}
