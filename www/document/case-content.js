// @ts-check
/** The whole case as a file holds it, and back into the set-up. */

/**
 * @typedef {import("../api/glasscall.js").CaseContent} CaseContent
 * @typedef {import("../api/glasscall.js").CaseBody} CaseBody
 * @typedef {import("./setup.js").Setup} Setup
 */

/** The name of the rig and of the body in use in a case file. */
export const IN_USE = "in use";

/** Whether a record is, or belongs to, the rig or body in use. @param {any} item */
const inUse = (item) => (item.rig ?? item.body ?? item.id) === IN_USE;

/** A record without the name of what it belongs to. @param {any} record */
function alone({ rig: _, body: __, day: ___, ...record }) {
  return record;
}

/** @param {Setup} setup @returns {CaseContent} */
export function caseContent(setup) {
  const { stock, rig, reading, behind } = setup;
  const { setUps, wares, ringOffers, wanted, frameRates, ...day } = setup.plan;
  const { slots, always, ...facts } = rig;
  const ofDay = { day: day.id };
  const ofRig = { rig: IN_USE };
  const ofBody = { body: IN_USE };
  const others = (/** @type {any[]} */ list) => list.filter((item) => !inUse(item));
  /** @type {CaseBody} */
  const body = { id: IN_USE, exposureIndex: reading.exposureIndex };
  if (behind.nowMm !== undefined) body.glassMm = behind.nowMm;
  if (behind.setForMm !== undefined) body.setForMm = behind.setForMm;
  if (behind.frontMm !== undefined) body.frontMm = behind.frontMm;
  if (behind.refractiveIndex !== undefined) body.refractiveIndex = behind.refractiveIndex;
  return {
    ...stock,
    pieces: setup.kit,
    rigs: [{ id: IN_USE, ...facts }, ...others(stock.rigs)],
    slots: [...slots.map((slot) => ({ ...ofRig, ...slot })), ...others(stock.slots)],
    openings: [...always.map((opening) => ({ ...ofRig, opening })), ...others(stock.openings)],
    bodies: [body, ...others(stock.bodies)],
    wheels: [
      ...setup.wheel.map((density, at) => ({ ...ofBody, id: String(at + 1), density })),
      ...others(stock.wheels),
    ],
    plates: [
      ...behind.wheelMm.map((thicknessMm, at) => ({ ...ofBody, id: String(at + 1), thicknessMm })),
      ...others(stock.plates),
    ],
    ringOffers,
    wares,
    days: [day, ...stock.days],
    setUps: [...setUps.map((setUp) => ({ ...ofDay, ...setUp })), ...stock.setUps],
    wants: [
      ...wanted.map((aperture) => ({ ...ofDay, aperture })),
      ...frameRates.map((frameRate) => ({ ...ofDay, frameRate })),
      ...stock.wants,
    ],
  };
}

/** Puts a case from a file in place of this one. @param {Setup} setup @param {any} read */
export function takeCase(setup, read) {
  const { pieces, ringOffers, wares, ...stock } = read;
  const others = (/** @type {any[]} */ list) => list.filter((item) => !inUse(item));
  const used = (/** @type {any[]} */ list) => list.filter(inUse);
  setup.kit = pieces;
  takeDay(setup, { ringOffers, wares, ...stock });
  const [rig] = used(stock.rigs);
  if (rig) {
    const { id: _, ...facts } = rig;
    setup.rig = {
      ...facts,
      slots: used(stock.slots).map(alone),
      always: used(stock.openings).map(({ opening }) => opening),
    };
  }
  const [body] = used(stock.bodies);
  if (body) {
    setup.wheel = used(stock.wheels).map((position) => position.measuredDensity ?? position.density);
    setup.wheelNow = setup.wheel.includes(setup.wheelNow) ? setup.wheelNow : 0;
    setup.reading.exposureIndex = body.exposureIndex ?? setup.reading.exposureIndex;
    const { glassMm: nowMm, setForMm, frontMm, refractiveIndex } = body;
    const glass = { nowMm, setForMm, frontMm, refractiveIndex };
    setup.behind = {
      ...Object.fromEntries(Object.entries(glass).filter(([, value]) => value !== undefined)),
      wheelMm: used(stock.plates).map((plate) => plate.thicknessMm),
    };
  }
  const [day] = stock.days;
  const otherDays = (/** @type {any[]} */ list) => list.filter((item) => (item.day ?? item.id) !== day?.id);
  setup.stock = {
    lenses: stock.lenses,
    rings: stock.rings,
    rigs: others(stock.rigs),
    slots: others(stock.slots),
    openings: others(stock.openings),
    bodies: others(stock.bodies),
    modes: stock.modes,
    wheels: others(stock.wheels),
    plates: others(stock.plates),
    days: otherDays(stock.days),
    setUps: otherDays(stock.setUps),
    wants: otherDays(stock.wants),
  };
  setup.demo = false;
  forgetWhatIsGone(setup);
}

/** The first day of a file becomes the one in hand. @param {Setup} setup @param {any} read */
function takeDay(setup, { days, setUps, wants, wares, ringOffers }) {
  const { plan } = setup;
  plan.wares = wares;
  plan.ringOffers = ringOffers;
  const [day] = days;
  if (!day) return;
  const of = (/** @type {any[]} */ list) => list.filter((item) => item.day === day.id).map(alone);
  const { filterMm, order, needsFrom } = plan;
  setup.plan = {
    filterMm, order, needsFrom,
    ...day,
    wares,
    ringOffers,
    setUps: of(setUps),
    wanted: of(wants).flatMap(({ aperture }) => aperture ?? []),
    frameRates: of(wants).flatMap(({ frameRate }) => frameRate ?? []),
  };
}

/** @param {Setup} setup */
export function forgetWhatIsGone(setup) {
  const ids = new Set(setup.kit.map((piece) => piece.id));
  const slotIds = new Set(setup.rig.slots.map((slot) => slot.id));
  setup.inPlace = setup.inPlace.filter(({ piece, slot }) => ids.has(piece) && slotIds.has(slot));
  setup.keep = setup.keep.filter((id) => ids.has(id));
  setup.reading.through = setup.reading.through.filter((id) => ids.has(id));
  // A reading through glass nobody knows any more says nothing.
  setup.light.timed = setup.light.timed.filter(({ through }) => through.every((id) => ids.has(id)));
}
