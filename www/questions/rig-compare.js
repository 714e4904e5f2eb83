// @ts-check
/** One way to hold filters on the user's own day: what it does, asked of the core. */
import { ask } from "../engine/ask.js";
import { askProven } from "../engine/proven.js";
import { movedOut, ringOpenings, RINGS } from "./rings.js";
import { question } from "./question.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("./plan.js").WholeRig} WholeRig
 * @typedef {import("../api/glasscall.js").CaseLens} CaseLens
 * @typedef {import("../api/glasscall.js").FitReply} FitReply
 * @typedef {import("../api/glasscall.js").OrderDayReply} OrderDayReply
 * @typedef {import("../api/glasscall.js").RingsReply} RingsReply
 * @typedef {import("../api/glasscall.js").RingPathReply} RingPath
 */

/** What one lens makes of a rig. @typedef {{lens: string, request?: import("../api/glasscall.js").FitRequest, fit?: FitReply, why?: "noRing" | "noPupil" | "noOpening"}} LensFit */

/** Rings so that each stays on its lens; nothing for a rig on rods. @param {Setup} setup @param {WholeRig} rig @returns {RingsReply | undefined} */
export function ringsFor(setup, { threadMm }) {
  return threadMm === undefined ? undefined : askProven("rings", RINGS.request(setup, threadMm), `ringsFor ${threadMm}`).reply;
}

/** The slots the day fills; all of them while that is not known. @param {WholeRig} rig @param {OrderDayReply | undefined} day */
function slotsUsed({ slots }, day) {
  if (!day) return slots;
  const used = new Set(day.stages.flatMap((stage) => stage.slots.map(({ slot }) => slot)));
  return slots.filter(({ id }) => used.has(id));
}

/**
 * Whether each lens of the case sees the rig, with the slots the day fills.
 * @param {Setup} setup
 * @param {WholeRig} rig
 * @param {RingsReply | undefined} rings
 * @param {OrderDayReply | undefined} day
 * @returns {LensFit[]}
 */
export function lensFits(setup, rig, rings, day) {
  const used = slotsUsed(rig, day);
  return setup.stock.lenses.map((lens) => {
    const path = rings?.settled.find(({ id }) => id === lens.id);
    if (rings && !path?.reaches) return { lens: lens.id, why: "noRing" };
    const { focalMm, pupilBehindRimMm } = lens;
    const fNumber = lens.fNumber ?? lens.tNumber;
    if (focalMm === undefined || fNumber === undefined || pupilBehindRimMm === undefined) return { lens: lens.id, why: "noPupil" };
    const out = path?.depthMm ?? 0;
    const openings = [
      ...(path ? ringOpenings(path) : []),
      ...rig.always.map((opening) => movedOut(opening, out)),
      ...used.flatMap(({ id, opening }) => (opening ? [{ ...movedOut(opening, out), name: id }] : [])),
    ];
    if (openings.length === 0 || used.some(({ opening }) => !opening)) return { lens: lens.id, why: "noOpening" };
    const request = { sensor: setup.sensor, focalLengthMm: focalMm, fNumber, pupilBehindRimMm, openings };
    const { reply } = ask("fit", request);
    return reply ? { lens: lens.id, request, fit: reply } : { lens: lens.id, why: "noOpening" };
  });
}

/** What a piece weighs: as entered, else of its size, thickness and material. @param {import("../document/setup.js").Piece} piece */
export function weightOf({ massG, size, thicknessMm, material }) {
  if (massG !== undefined) return { massG };
  return { ...(size ? { size } : {}), ...(thicknessMm === undefined ? {} : { thicknessMm }), ...(material === undefined ? {} : { material }) };
}

/** Whether the weight of a piece is known. @param {import("../document/setup.js").Piece} piece */
export const weighs = (piece) => ask("weight", { items: [{ ...weightOf(piece), distanceFromRimMm: 0 }] }).reply;

/** What hangs in front on the day: the heaviest stack of it, on the deepest rings. */
export const WEIGHT = question("weight", weightRequest);

/**
 * @param {Setup} setup
 * @param {WholeRig} rig
 * @param {RingsReply | undefined} rings
 * @param {{stages: {slots: {slot: string, piece: string}[]}[]} | undefined} day
 * @returns {import("../api/glasscall.js").WeightRequest}
 */
function weightRequest(setup, rig, rings, day) {
  const middle = rig.middleMm ?? 0;
  const { counterArmMm } = setup.plan;
  const stacks = [[], ...(day?.stages ?? []).map(({ slots }) => slots)].map((filled) => filled.map(({ slot, piece: id }) => {
    const piece = setup.kit.find((one) => one.id === id);
    const distanceFromRimMm = rig.slots.find((one) => one.id === slot)?.opening?.distanceFromRimMm ?? middle;
    return { name: id, ...(piece ? weightOf(piece) : {}), distanceFromRimMm };
  }));
  return {
    items: [{ name: rig.id, ...(rig.massG === undefined ? {} : { massG: rig.massG }), distanceFromRimMm: middle }],
    stacks,
    skipUnknown: true,
    // Rings bring it all further out: the rim lies that much behind.
    pivotBehindRimMm: rings?.deepestMm ?? 0,
    ...(counterArmMm ? { counterArmMm } : {}),
  };
}

/** Weight, moment and counterweight; `partly` where some piece’s weight is not known. @param {import("../api/glasscall.js").WeightRequest} request */
export function heaviest(request) {
  const { reply } = ask("weight", request);
  const { massG = 0, momentNm = 0, counterweightG } = reply?.heaviest ?? {};
  return { partly: reply?.partly ?? true, massG, momentNm, counterweightG };
}
