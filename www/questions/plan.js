// @ts-check
/** What the planned day asks of the core. */
import { SUN_DAY } from "./light.js";
import { localIso } from "../document/moment.js";
import { nestedRigs } from "../document/flat.js";
import { openStopsOf, rigRequest, shotSettings } from "./open-up.js";
import { question, answerTo } from "./question.js";
import { fewNames } from "../language/words/planning.js";

/**
 * @typedef {import("../api/glasscall.js").CaseRig} CaseRig
 * @typedef {import("../api/glasscall.js").CaseSlot} CaseSlot
 * @typedef {import("../api/glasscall.js").OpeningRequest} Opening
 * @typedef {import("../engine/ask.js").Refusal} Refusal
 * @typedef {import("../document/setup.js").Setup} Setup
 */

/** A way to hold filters, with all that belongs to it. @typedef {CaseRig & {slots: Omit<CaseSlot, "rig">[], always: Opening[]}} WholeRig */

/** The rigs of the case, the one in use first. @param {Setup} setup @returns {WholeRig[]} */
export function rigsOf({ stock, inUse }) {
  const rigs = nestedRigs(stock);
  return [...rigs.filter(({ id }) => id === inUse.rig), ...rigs.filter(({ id }) => id !== inUse.rig)];
}

/** The order of the day, in the rig in use. */
export const ORDER = question("orderDay", orderRequest, { "": "plan", kit: "kit", rig: "rig", wheel: "wheel" });
/** What two bodies in rigs alike take through the day's set-ups. */
export const TWO_BODIES = question("twoBodies", twoBodiesRequest, { setUps: "plan.setUps" });
/** What light and wishes of the day need. */
export const NEEDS = question("dayNeeds", needsRequest, {
  "": "plan", reading: "reading", shot: "shot",
  "reading.aperture": (_, { plan }) => (plan.brightestAperture === undefined ? "reading.aperture" : "plan.brightestAperture"),
});
/** What to pack for needs. */
export const COVER = question("coverKit", coverRequest, { catalogue: "plan.wares" });

/** @param {Setup} setup */
function orderRequest(setup) {
  const { setUps, order } = setup.plan;
  const { minutesPerMove } = setup.rig;
  const openStops = openStopsOf(setup);
  return {
    // What the lens cannot open for serves no set-up.
    setUps: openStops === undefined ? setUps : setUps.map((setUp) => ({ ...setUp, openStops })),
    kit: setup.kit,
    rig: rigRequest(setup),
    wheel: setup.wheel,
    order,
    ...(minutesPerMove === undefined ? {} : { minutesPerMove }),
  };
}

/** @param {Setup} setup @param {number} more stops the second needs beyond the first */
function twoBodiesRequest({ plan, kit, rig, wheel }, more) {
  return {
    setUps: plan.setUps.map(({ id, needStops, polarizer = false }) =>
      ({ id, needStops, otherNeedStops: needStops + more, polarizer, otherPolarizer: polarizer })),
    kit,
    rig: { slots: rig.slots },
    wheel,
  };
}

/** The pieces without their sizes, in any rig. @param {Setup} setup @param {WholeRig} rig */
export function orderInRig(setup, { slots, minutesPerMove = 0 }) {
  return {
    ...ORDER.request(setup),
    rig: { slots: slots.map(({ id, rotates }) => ({ id, size: "", rotates })) },
    minutesPerMove,
  };
}

/** A need of packing and what to call it. @typedef {{name: string, stops: number, toleranceStops?: number, polarizer?: boolean}} Need */

/**
 * The needs the day is packed for, and how many are too dark for any glass.
 * @param {Setup} setup
 * @param {(way: any, time?: string) => string} nameOf what a way of shooting is called
 * @returns {{needs: Need[], tooDark: number, refusal?: Refusal}}
 */
export function packingNeeds(setup, nameOf) {
  const { plan } = setup;
  if (plan.needsFrom === "setUps") {
    const needs = plan.setUps.map(({ id, needStops, toleranceStops, polarizer }) =>
      ({ name: id, stops: needStops, toleranceStops, polarizer }));
    return { needs, tooDark: 0 };
  }
  const sky = plan.needsFrom === "daylight" ? skyOfDay(setup) : undefined;
  if (plan.needsFrom === "daylight" && !sky) return { needs: [], tooDark: 0 };
  const { reply, refusal } = answerTo(NEEDS, setup, sky);
  if (!reply) return { needs: [], tooDark: 0, refusal };
  const needs = reply.needs.map(({ stops, ways }) => {
    const names = [...new Set(ways.map((way) => nameOf(way, reply.lights?.[way.light]?.time)))];
    return { name: fewNames(names, 2), stops, toleranceStops: plan.toleranceStops, polarizer: plan.polarizer };
  });
  return { needs, tooDark: reply.tooDark.length };
}

/** What the needs of the day that is planned are asked by. @param {Setup} setup */
export const needsAsked = (setup) => NEEDS.request(setup, setup.plan.needsFrom === "daylight" ? skyOfDay(setup) : undefined);

/** @param {Setup} setup @param {import("../api/glasscall.js").DaySkyRequest} [sky] whose light it is */
function needsRequest(setup, sky) {
  const { plan, reading, stock } = setup;
  const { exposureIndex, frameRate, shutterAngleDeg, shutterSeconds } = reading;
  const shutter = shutterSeconds === undefined ? { shutterAngleDeg } : { shutterSeconds };
  return {
    // Without either the core asks for it.
    reading: { aperture: /** @type {number} */ (plan.brightestAperture ?? reading.aperture), exposureIndex, frameRate, ...shutter },
    ...(plan.darkestAperture === undefined ? {} : { darkestAperture: plan.darkestAperture }),
    ...(plan.stepStops === undefined ? {} : { stepStops: plan.stepStops }),
    ...(sky ? { sky } : {}),
    shot: shotSettings(setup),
    wanted: plan.wanted,
    frameRates: plan.frameRates,
    lenses: stock.lenses.map(({ id, tNumber, fNumber }) => {
      const widest = tNumber ?? fNumber;
      return { id, ...(widest === undefined ? {} : { widestAperture: widest }) };
    }),
  };
}

/** The clear sky over the day at the place of Light; nothing where nobody said where. @param {Setup} setup */
function skyOfDay({ light, plan }) {
  const { facing, place } = light;
  return place && {
    ...SUN_DAY.request(place, light.at ?? localIso(new Date())),
    fromHour: plan.fromHour ?? 8,
    toHour: plan.toHour ?? 20,
    ...(facing === undefined ? {} : { facing }),
  };
}

/** A piece of the case by its name in the case. @param {string} id as packing calls it */
export const ownName = (id) => id.replace(/^own: /, "");

/** @param {Setup} setup @param {Need[]} needs @param {boolean} owned whether to choose from the case, else from what could be bought as well */
function coverRequest(setup, needs, owned) {
  const places = setup.rig.slots.map(({ size, rotates }) => ({ size: size ?? "", rotates: Boolean(rotates) }));
  const own = setup.kit.filter((piece) => piece.kind === "nd" || piece.kind === "polarizer")
    .map(({ id, kind, density, measuredDensity, lossStops, size, count }) => ({
      id: `own: ${id}`,
      kind,
      ...(density === undefined ? {} : { density }),
      ...(measuredDensity === undefined ? {} : { measuredDensity }),
      ...(lossStops === undefined ? {} : { lossStops }),
      size: size ?? "",
      count: count ?? 1,
      cost: 0,
    }));
  return {
    needs: needs.map(({ stops, toleranceStops, polarizer }) => ({
      stops,
      slots: places.length,
      ...(toleranceStops === undefined ? {} : { toleranceStops }),
      polarizer: Boolean(polarizer),
      places,
    })),
    catalogue: owned ? own : [...own, ...setup.plan.wares.map((ware) => ({ ...ware, size: ware.size ?? "" }))],
  };
}
