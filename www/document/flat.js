// @ts-check
/**
 * Records as the flat lists of a case file, and back: a file says a table's rows
 * one by one, the document keeps a rig's slots in the rig.
 */

/**
 * @typedef {import("./document.js").Document} Document
 * @typedef {import("./document.js").RigRecord} RigRecord
 * @typedef {import("./document.js").BodyRecord} BodyRecord
 */

/** A record without the name of what it belongs to. @param {any} record */
function alone({ rig: _, body: __, day: ___, ...record }) {
  return record;
}

/** @param {RigRecord[]} rigs */
export function flatRigs(rigs) {
  return {
    rigs: rigs.map(({ slots: _, always: __, ...facts }) => facts),
    slots: rigs.flatMap(({ id: rig, slots }) => slots.map((slot) => ({ rig, size: "", ...slot }))),
    openings: rigs.flatMap(({ id: rig, always }) => always.map((opening) => ({ rig, opening }))),
  };
}

/** @param {{rigs?: any[], slots?: any[], openings?: any[]}} lists @returns {RigRecord[]} */
export function nestedRigs({ rigs = [], slots = [], openings = [] }) {
  return rigs.map((facts) => ({
    ...facts,
    slots: slots.filter(({ rig }) => rig === facts.id).map(alone),
    always: openings.filter(({ rig }) => rig === facts.id).map(({ opening }) => opening),
  }));
}

/** @param {BodyRecord[]} bodies */
export function flatBodies(bodies) {
  const of = (/** @type {"modes" | "wheel" | "plates"} */ part) =>
    bodies.flatMap((body) => body[part].map((/** @type {any} */ record) => ({ body: body.id, ...record })));
  return {
    bodies: bodies.map(({ modes: _, wheel: __, plates: ___, ...facts }) => facts),
    modes: of("modes"),
    wheels: of("wheel"),
    plates: of("plates"),
  };
}

/** @param {{bodies?: any[], modes?: any[], wheels?: any[], plates?: any[]}} lists @returns {BodyRecord[]} */
export function nestedBodies({ bodies = [], modes = [], wheels = [], plates = [] }) {
  return bodies.map((facts) => {
    const of = (/** @type {any[]} */ list) => list.filter(({ body }) => body === facts.id).map(alone);
    return { ...facts, modes: of(modes), wheel: of(wheels), plates: of(plates) };
  });
}

/** @param {import("./document.js").DayRecord[]} days */
export function flatDays(days) {
  return {
    days: days.map(({ setUps: _, wanted: __, frameRates: ___, ...facts }) => facts),
    setUps: days.flatMap(({ id: day, setUps }) => setUps.map((setUp) => ({ day, ...setUp }))),
    wants: days.flatMap(({ id: day, wanted, frameRates }) => [
      ...wanted.map((aperture) => ({ day, aperture })),
      ...frameRates.map((frameRate) => ({ day, frameRate })),
    ]),
  };
}

/** @param {{days?: any[], setUps?: any[], wants?: any[]}} lists @param {object} empty what a day is where a file says nothing @returns {import("./document.js").DayRecord[]} */
export function nestedDays({ days = [], setUps = [], wants = [] }, empty) {
  return days.map((facts) => {
    const of = (/** @type {any[]} */ list) => list.filter(({ day }) => day === facts.id).map(alone);
    return /** @type {any} */ ({
      ...empty,
      ...facts,
      setUps: of(setUps),
      wanted: of(wants).flatMap(({ aperture }) => aperture ?? []),
      frameRates: of(wants).flatMap(({ frameRate }) => frameRate ?? []),
    });
  });
}
