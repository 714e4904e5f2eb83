// @ts-check
/**
 * The set-up: one document that every screen is a view of. Plain data, exact
 * values; what is typed but not (yet) possible is a draft and lives elsewhere.
 */

import { emptySlate } from "./slate.js";
import { completeFrame, demoFrame, demoGrads } from "./frame.js";
import { demoFitLens, lensFit } from "../questions/fit.js";
import { demoLight } from "../questions/light.js";
import { completeOtherGlass, demoLens, demoOtherGlass } from "../questions/depth-and-colour.js";
import { emptyMatch } from "./match.js";
import { completeStock, demoPlan, demoStock } from "./case.js";

/**
 * @typedef {import("../api/glasscall.js").PieceRequest} Piece
 * @typedef {import("../api/glasscall.js").SlotRequest} Slot
 * @typedef {import("../api/glasscall.js").InPlace} InPlace
 * @typedef {import("../api/glasscall.js").OpenUpRequest} OpenUpRequest
 */

/**
 * @typedef {object} Light
 * @property {number} aperture
 * @property {number} [exposureIndex] absent in the shot: as read
 * @property {number} [frameRate] absent in the shot: as read
 * @property {number} [shutterAngleDeg] absent with shutterSeconds in the shot: as read
 * @property {number} [shutterSeconds]
 */

/**
 * @typedef {object} MainSetup
 * @property {1} version
 * @property {boolean} demo whether the case is the invented one
 * @property {Light & {exposureIndex: number, frameRate: number, through: string[]}} reading
 * @property {Light} shot
 * @property {import("../questions/depth-and-colour.js").Lens & import("../questions/fit.js").FitLens} lens
 * @property {Piece[]} kit
 * @property {Rig} rig
 * @property {number[]} wheel
 * @property {number} wheelNow density of the position the wheel is at
 * @property {boolean} throughWheel whether the light was read through that position
 * @property {InPlace[]} inPlace
 * @property {string[]} keep
 * @property {import("./slate.js").Slate} slate what a record says besides
 * @property {import("../hand-over/merge-case.js").Edited} edited when each record of the case was
 * @property {import("../hand-over/merge-case.js").Conflict[]} unsettled records that another phone has differently
 * @property {import("./match.js").Match} match
 * @property {import("./case.js").Stock} stock what else is in the case
 * @property {import("./case.js").Plan} plan the day that is planned with it
 * @property {Record<string, import("../questions/fit.js").Seen>} seen
 * @property {import("../questions/light.js").LightPart} light
 * @property {import("./frame.js").Frame} frame
 */

/**
 * The rig in use: what a case file says of a rig, with its slots and what is
 * always in front of them. Distances count from the rim, or from the last ring.
 * @typedef {Omit<import("../api/glasscall.js").CaseRig, "id"> & {slots: Slot[], always: import("../api/glasscall.js").OpeningRequest[]}} Rig
 */

/** @typedef {MainSetup & import("../questions/depth-and-colour.js").OtherGlass} Setup */

/** A case in an invented scenario: a boat crew on a bright estuary. @returns {Setup} */
export function demoSetup() {
  const panel = { size: "4x5.65", thicknessMm: 4, material: /** @type {const} */ ("glass") };
  const opening = (/** @type {number} */ distanceFromRimMm) =>
    ({ distanceFromRimMm, shape: /** @type {const} */ ("rectangle"), widthMm: 134, heightMm: 95 });
  return {
    version: 1,
    demo: true,
    reading: { aperture: 16, exposureIndex: 800, frameRate: 24, shutterAngleDeg: 180, through: [] },
    shot: { aperture: 2.8 },
    lens: { ...demoLens(), ...demoFitLens() },
    kit: [
      { id: "0.3", kind: "nd", density: 0.3, count: 1, ...panel },
      { id: "0.6", kind: "nd", density: 0.6, count: 1, ...panel },
      { id: "0.9", kind: "nd", density: 0.9, count: 1, ...panel },
      { id: "1.2 IR", kind: "nd", density: 1.2, measuredDensity: 1.23, infraredDensity: 1.2, count: 1, ...panel },
      { id: "1.8 IR", kind: "nd", density: 1.8, measuredDensity: 1.82, infraredDensity: 1.8, count: 1, ...panel },
      ...demoGrads(),
      { id: "pola", kind: "polarizer", count: 1, ...panel },
    ],
    rig: {
      mount: "matteBox",
      minutesPerMove: 0.5,
      massG: 650,
      middleMm: 45,
      slots: [
        { id: "rotating", size: "4x5.65", rotates: true, opening: opening(12) },
        { id: "tray 1", size: "4x5.65", rotates: false, opening: opening(24) },
        { id: "tray 2", size: "4x5.65", rotates: false, opening: opening(36) },
      ],
      always: [],
    },
    wheel: [],
    wheelNow: 0,
    throughWheel: false,
    inPlace: [],
    keep: [],
    slate: emptySlate(),
    edited: {},
    unsettled: [],
    match: emptyMatch(),
    stock: demoStock(),
    plan: demoPlan(),
    seen: {},
    light: demoLight(),
    frame: demoFrame(),
    ...demoOtherGlass(),
  };
}

/**
 * A kept set-up with the parts that came after it was kept.
 * @param {any} kept
 * @returns {Setup}
 */
export function complete(kept) {
  const demo = demoSetup();
  return {
    ...demo,
    ...kept,
    lens: { ...demoFitLens(), ...kept.lens ?? demo.lens },
    rig: { mount: "matteBox", always: [], ...kept.rig ?? demo.rig },
    ...completeStock(kept),
    ...completeOtherGlass(kept),
    light: { ...demo.light, ...kept?.light },
    slate: { ...emptySlate(), ...kept?.slate },
    match: { ...emptyMatch(), ...kept?.match },
    ...completeFrame(kept, demo.frame),
  };
}

/**
 * Rigs to start from; sizes are left open so that any piece goes in.
 * @type {Record<"screw" | "snap" | "box" | "none", {mount: Rig["mount"], minutesPerMove: number, slots: [string, boolean][]}>}
 */
const RIGS = {
  screw: { mount: "screwIn", minutesPerMove: 1, slots: [["thread 1", true], ["thread 2", true]] },
  snap: { mount: "snapOn", minutesPerMove: 0.25, slots: [["panel 1", false], ["panel 2", false]] },
  box: { mount: "matteBox", minutesPerMove: 0.5, slots: [["rotating", true], ["tray 1", false], ["tray 2", false]] },
  none: { mount: "screwIn", minutesPerMove: 1, slots: [] },
};

/** @param {Setup} setup @param {keyof typeof RIGS} name */
export function takeRig(setup, name) {
  const { slots, ...facts } = RIGS[name];
  setup.rig = {
    ...facts,
    ...(facts.mount === "matteBox" ? {} : { threadMm: setup.plan.filterMm }),
    slots: slots.map(([id, rotates]) => ({ id, size: "", rotates })),
    always: [],
  };
  setup.inPlace = [];
}

/** The rig as the core takes it. @param {Setup} setup */
export const rigRequest = ({ rig: { slots, always } }) => ({ slots, always });

/** What the main answer asks of the core. @param {Setup} setup @returns {OpenUpRequest} */
export function openUpRequest(setup) {
  const { lens } = setup;
  const wheel = wheelReadThrough(setup);
  const through = [...setup.reading.through, ...wheel.map((piece) => piece.id)];
  const reading = { ...setup.reading, through };
  return {
    reading,
    shot: shotSettings(setup),
    ...(lens.widestAperture === undefined ? {} : { lens: { widestAperture: lens.widestAperture, ...(lens.extender === undefined ? {} : { extender: lens.extender }) } }),
    kit: [...setup.kit, ...wheel],
    rig: rigRequest(setup),
    wheel: setup.wheel,
    inPlace: setup.inPlace,
    keep: setup.keep,
    ...lensFit(setup),
  };
}

/**
 * The wheel's position as a piece that is read through and never goes in a slot.
 * @param {Setup} setup
 * @returns {Piece[]}
 */
function wheelReadThrough({ throughWheel, wheelNow }) {
  return throughWheel && wheelNow > 0 ? [{ id: "(wheel)", kind: "nd", density: wheelNow, size: "", count: 0 }] : [];
}

/**
 * The same question with only the pieces that are in: what they make of the
 * stop, whatever slots they are in.
 * @param {Setup} setup
 * @returns {OpenUpRequest}
 */
export function withWhatIsInRequest(setup) {
  const ids = setup.inPlace.map((placed) => placed.piece);
  const { fit: _, ...question } = openUpRequest(setup);
  return {
    ...question,
    kit: named(question, ids),
    rig: { slots: ids.map((_, at) => ({ id: String(at), size: "", rotates: true })) },
    wheel: setup.wheelNow > 0 ? [setup.wheelNow] : [],
    inPlace: [],
    keep: ids,
    limit: 1,
  };
}

/** The pieces a question names, by these ids or as read through. @param {OpenUpRequest} question @param {string[]} ids */
function named({ kit = [], reading }, ids) {
  return kit.filter((piece) => ids.includes(piece.id) || reading.through?.includes(piece.id));
}

/**
 * Where everything that is in, and one piece more, finds a place.
 * @param {Setup} setup
 * @param {string} id
 * @returns {OpenUpRequest}
 */
export function placeRequest(setup, id) {
  const ids = [...setup.inPlace.map((placed) => placed.piece), id];
  const question = openUpRequest(setup);
  return {
    ...question,
    kit: named(question, ids).map((piece) => ({ ...piece, count: ids.filter((in_) => in_ === piece.id).length })),
    wheel: [],
    keep: ids,
    limit: 1,
  };
}

/** What the shot is exposed with: as read where nothing else is said. @param {Setup} setup */
export function shotSettings({ shot, reading }) {
  const own = shot.shutterAngleDeg !== undefined || shot.shutterSeconds !== undefined;
  const shutter = own ? shot : reading;
  return {
    aperture: shot.aperture,
    exposureIndex: shot.exposureIndex ?? reading.exposureIndex,
    frameRate: shot.frameRate ?? reading.frameRate,
    ...(shutter.shutterSeconds === undefined
      ? { shutterAngleDeg: shutter.shutterAngleDeg }
      : { shutterSeconds: shutter.shutterSeconds }),
  };
}

/** Takes a piece out of every list that names it. @param {Setup} setup @param {string} id */
export function forgetPiece(setup, id) {
  setup.inPlace = setup.inPlace.filter((placed) => placed.piece !== id);
  setup.keep = setup.keep.filter((kept) => kept !== id);
  if (setup.frame.grad === id) setup.frame.grad = "";
  setup.reading.through = setup.reading.through.filter((piece) => piece !== id);
  // A reading through glass nobody knows any more says nothing.
  setup.light.timed = setup.light.timed.filter((reading) => !reading.through.includes(id));
}

/** Gives a piece another id everywhere. @param {Setup} setup @param {string} from @param {string} to */
export function renamePiece(setup, from, to) {
  const named = (/** @type {string} */ id) => (id === from ? to : id);
  for (const piece of setup.kit) piece.id = named(piece.id);
  for (const placed of setup.inPlace) placed.piece = named(placed.piece);
  setup.keep = setup.keep.map(named);
  setup.frame.grad = named(setup.frame.grad);
  setup.reading.through = setup.reading.through.map(named);
  for (const reading of setup.light.timed) reading.through = reading.through.map(named);
}

/** Empties the rig of slots that are gone. @param {Setup} setup */
export function forgetLostSlots(setup) {
  const ids = setup.rig.slots.map((slot) => slot.id);
  setup.inPlace = setup.inPlace.filter((placed) => ids.includes(placed.slot));
}

/** An id like the wanted one that no other has. @param {{id: string}[]} list @param {string} wanted */
export function freeId(list, wanted) {
  const taken = new Set(list.map((item) => item.id));
  for (let n = 1; ; n += 1) {
    const id = n === 1 ? wanted : `${wanted} (${n})`;
    if (!taken.has(id)) return id;
  }
}
