// @ts-check
/** What a first start shows, and what a case of one's own starts from. */
import { demoPlan, demoStock, emptyDay } from "./case.js";
import { nestedBodies, nestedRigs } from "./flat.js";
import { demoFrame, demoGrads } from "./frame.js";
import { given } from "./document.js";
import { emptyMatch } from "./match.js";
import { resolve } from "./resolve.js";
import { say } from "../language/say.js";
import { emptySlate } from "./slate.js";
import { NOT_SAID, rigOf } from "./usual-rigs.js";
import { demoLight } from "./demo-scene.js";
import { demoScene } from "./demo-scene.js";

/** @typedef {import("./document.js").Document} Document */

/** T2.8 as an iris has it: two and a half stops from T1. */
const T2_8 = 2 * Math.SQRT2;

/** @returns {Omit<Document, "demo" | "kit" | "lenses" | "rigs" | "bodies" | "days" | "wares" | "ringOffers" | "rings" | "inUse">} */
const unlisted = () => ({
  version: 2,
  today: { lenses: {}, rigs: {}, bodies: {} },
  reading: { aperture: 16, exposureIndex: 800, frameRate: 24, shutterAngleDeg: 180, through: [] },
  shot: { aperture: T2_8 },
  keep: [],
  slate: emptySlate(),
  seen: {},
  light: demoLight(),
  frame: demoFrame(),
  ...demoScene(),
  uncertainty: {},
  match: emptyMatch(),
  edited: {},
  unsettled: [],
});

/** A case in an invented scenario: a boat crew on a bright estuary. @returns {Document} */
export function demoDocument() {
  const panel = { size: "4x5.65", thicknessMm: 4, material: /** @type {const} */ ("glass") };
  const { wares, ringOffers, ...day } = demoPlan();
  const { lenses, rings, ...lists } = demoStock();
  return {
    ...unlisted(),
    demo: true,
    kit: [
      { id: "0.3", kind: "nd", density: 0.3, count: 1, ...panel },
      { id: "0.6", kind: "nd", density: 0.6, count: 1, ...panel },
      { id: "0.9", kind: "nd", density: 0.9, count: 1, ...panel },
      { id: "1.2 IR", kind: "nd", density: 1.2, measuredDensity: 1.23, infraredDensity: 1.2, count: 1, ...panel },
      { id: "1.8 IR", kind: "nd", density: 1.8, measuredDensity: 1.82, infraredDensity: 1.8, count: 1, ...panel },
      ...demoGrads(),
      { id: say("id|pola"), kind: "polarizer", count: 1, ...panel },
    ],
    lenses,
    rings,
    rigs: nestedRigs(lists),
    bodies: nestedBodies(lists),
    days: [day],
    wares,
    ringOffers,
    inUse: { lens: "50", rig: say("id|matte box"), body: "A", mode: say("id|full"), day: day.id },
  };
}

/** The set-up of the demo. */
export const demoSetup = () => resolve(demoDocument());

/**
 * A case of one's own: no piece, lens, body or place yet, and slots that stand
 * in until somebody says what holds the filters. What was read and is wanted
 * stays; what the invented crew read does not.
 * @param {Document} [before]
 * @returns {Document}
 */
export function ownDocument(before) {
  const start = unlisted();
  const crew = { land: start.reading.aperture, sky: start.frame.bright.aperture };
  const read = (/** @type {number | undefined} */ now, /** @type {number | undefined} */ crews) => (now === crews ? undefined : now);
  // Where the invented crew stands and looks to is not where this one does.
  const { place: _, aim: __, ...light } = start.light;
  const day = emptyDay();
  return {
    ...start,
    ...(before ? { shot: before.shot } : {}),
    reading: given({
      ...(before ?? start).reading,
      aperture: read(before?.reading.aperture, crew.land),
      through: [],
      wheelDensity: undefined,
      inThen: undefined,
      retaken: undefined,
    }),
    demo: false,
    kit: [],
    lenses: [],
    rings: [],
    rigs: [rigOf(NOT_SAID, NOT_SAID.id)],
    bodies: [],
    days: [day],
    wares: [],
    ringOffers: [],
    inUse: { rig: NOT_SAID.id, day: day.id },
    light: { ...light, aim: { rollDeg: 0 } },
    // The crew's name for its camera, which Now does not show beside what it logs.
    slate: { ...start.slate, camera: "" },
    frame: { ...start.frame, grad: "", bright: given({ ...start.frame.bright, aperture: read(before?.frame.bright.aperture, crew.sky) }) },
  };
}
