// @ts-check
/**
 * Whatever was ever kept, as a document of today. The first form (version 1)
 * held what is in use as copies beside the records of the case; each copy
 * becomes the record it was of, or one of its own.
 */
import { emptyDay, noStock } from "./case.js";
import { demoDocument } from "./demo.js";
import { freeId, given, same } from "./document.js";
import { nestedBodies, nestedDays, nestedRigs } from "./flat.js";
import { gradPiece } from "./frame.js";
import { forgetWhatIsGone, whatIsIn } from "./keep-whole.js";
import { emptyMatch } from "./match.js";
import { emptySlate } from "./slate.js";

/**
 * @typedef {import("./document.js").Document} Document
 * @typedef {import("./document.js").LensRecord} LensRecord
 */

/**
 * A kept document, its missing parts those of the demo.
 * @param {any} kept
 * @returns {Document}
 * @throws where it is no document of any form
 */
export function migrate(kept = {}) {
  if (![undefined, 1, 2].includes(kept.version)) throw new TypeError("a form that is not known");
  const { inUse = {}, today = {} } = kept;
  if (Object.values(kept).includes(null) || [inUse, today].some((part) => part.constructor !== Object)) throw new TypeError("a part that is none");
  return forgetWhatIsGone(kept.version === 2 ? completed(kept) : fromFirst(kept));
}

/** A document kept before it had all its parts, or a link without those that are the demo's. @param {any} kept @returns {Document} */
function completed(kept) {
  const demo = demoDocument();
  return {
    ...demo,
    ...kept,
    today: { lenses: {}, rigs: {}, bodies: {}, ...kept.today },
    inUse: { ...kept.inUse },
    light: kept.light ? { ...demo.light, place: undefined, ...kept.light } : demo.light,
    frame: frameOf(kept, demo),
    slate: { ...emptySlate(), ...kept.slate },
    match: { ...emptyMatch(), ...kept.match },
    wish: { ...demo.wish, ...kept.wish },
    rigs: (kept.rigs ?? demo.rigs).map((/** @type {any} */ rig) => ({ ...rig, slots: rig.slots ?? [], always: rig.always ?? [] })),
    bodies: (kept.bodies ?? demo.bodies).map((/** @type {any} */ body) => ({ ...body, modes: body.modes ?? [], wheel: body.wheel ?? [], plates: body.plates ?? [] })),
    days: (kept.days ?? demo.days).map((/** @type {any} */ day) => ({ ...emptyDay(), ...day })),
  };
}

/** What the demo of the first form was focused at: nobody had said so. */
const DEMO_FOCUS_MM = 3000;

/** @param {any} kept version 1, or parts of it @returns {Document} */
function fromFirst(kept) {
  const demo = demoDocument();
  const stock = { ...noStock(), ...kept.stock };
  const { systems = [], wares = demo.wares, ringOffers = [], ...day } = kept.plan ?? demo.days[0];
  const { throughWheel, ...reading } = { ...demo.reading, ...kept.reading };
  const { onMm, ...focus } = kept.focus ?? {};
  const sensor = kept.sensor ?? { widthMm: 24.89, heightMm: 18.66 };
  const rigs = rigsOf(kept, kept.stock ? stock : firstStock(), systems);
  const bodies = bodiesOf({ ...kept, reading, sensor }, stock);
  const lenses = lensesOf(kept, kept.stock ? stock.lenses : firstStock().lenses);
  const document = /** @type {Document} */ ({
    ...demo,
    demo: kept.demo ?? true,
    kit: kitOf(kept, demo),
    lenses: lenses.list,
    rigs: rigs.list,
    bodies: bodies.list,
    days: [{ ...emptyDay(), ...day }, ...nestedDays(stock, emptyDay())],
    rings: kept.stock ? stock.rings : demo.rings,
    wares,
    ringOffers,
    inUse: given({ lens: lenses.inUse, rig: rigs.inUse, body: bodies.inUse, mode: bodies.mode, day: day.id ?? emptyDay().id }),
    today: {
      lenses: { [lenses.inUse ?? ""]: given({ ...lenses.today, focusMm: onMm === DEMO_FOCUS_MM ? undefined : onMm }) },
      rigs: { [rigs.inUse]: { inPlace: kept.inPlace ?? [] } },
      bodies: { [bodies.inUse]: given({ wheelNow: kept.wheelNow || undefined, exposureIndex: bodies.differs }) },
    },
    reading: given({ ...reading, wheelDensity: kept.throughWheel && kept.wheelNow > 0 ? kept.wheelNow : undefined }),
    shot: kept.shot ?? demo.shot,
    keep: kept.keep ?? [],
    slate: { ...emptySlate(), ...kept.slate },
    // What was seen is told by lens and rig now; the old names say neither.
    seen: {},
    light: { ...demo.light, ...kept.light },
    frame: frameOf(kept, demo),
    focus,
    wish: { ...demo.wish, ...kept.wish },
    colour: kept.colour ?? {},
    infrared: kept.infrared ?? {},
    uncertainty: kept.uncertainty ?? {},
    ramp: { ...demo.ramp, ...kept.ramp },
    match: { ...emptyMatch(), ...kept.match },
    edited: kept.edited ?? {},
    unsettled: kept.unsettled ?? [],
  });
  const { name } = whatIsIn(document);
  return { ...document, reading: { ...document.reading, inThen: name } };
}

/** The lists of the demo of the first form. */
function firstStock() {
  const demo = demoDocument();
  const ids = ["24", "35", "85", "zoom 50–140"];
  const rigs = demo.rigs.filter(({ id }) => id !== "matte box");
  return {
    lenses: demo.lenses.filter(({ id }) => ids.includes(id)),
    rigs: rigs.map(({ slots: _, always: __, ...facts }) => facts),
    slots: rigs.flatMap(({ id: rig, slots }) => slots.map((slot) => ({ rig, ...slot }))),
    openings: [],
  };
}

/** @param {any} kept @param {Document} demo */
function kitOf(kept, demo) {
  if (kept.kit === undefined) return demo.kit;
  const { grads = [] } = kept.frame ?? {};
  const known = new Set(kept.kit.map((/** @type {any} */ piece) => piece?.id));
  // Frames once had filters of their own; they go to the case.
  const own = (Array.isArray(grads) ? grads : []).filter((grad) => grad?.profile && !known.has(grad.id))
    .map(({ id, profile: { density, ...profile } }) => gradPiece(id, density, profile));
  return [...kept.kit, ...own];
}

/** @param {any} kept @param {Document} demo */
function frameOf(kept, demo) {
  const { grads: _, ...frame } = { ...demo.frame, ...kept.frame };
  const { aperture: land, at } = frame.dark;
  // The land had a reading beside the reading: what the two were apart stays.
  if (land === undefined) return frame;
  const read = kept.reading?.aperture ?? demo.reading.aperture;
  return { ...frame, dark: { at }, bright: { ...frame.bright, aperture: (read * frame.bright.aperture) / land } };
}

/** The rigs, and which is on: the kept one that is just like it, or one of its own. @param {any} kept @param {any} stock @param {any[]} systems */
function rigsOf(kept, stock, systems) {
  const list = nestedRigs(stock);
  // What was compared once was a list of its own.
  for (const { id, slots, rotating, minutesPerMove, massG, cost, distanceFromRimMm } of systems) {
    if (list.some((rig) => rig.id === id)) continue;
    const mount = /screw/.test(id) ? "screwIn" : /snap/.test(id) ? "snapOn" : "matteBox";
    const places = Array.from({ length: slots }, (_, at) => ({ id: String(at + 1), size: "", rotates: at < rotating }));
    list.push(/** @type {any} */ (given({ id, mount, minutesPerMove, massG, cost, middleMm: distanceFromRimMm, slots: places, always: [] })));
  }
  const demo = demoDocument().rigs[0];
  const { id: _, ...facts } = { mount: /** @type {const} */ ("matteBox"), always: [], ...kept.rig ?? demo };
  const like = list.find(({ id: __, ...others }) => same(Object.entries(others).sort(), Object.entries(facts).sort()));
  if (like) return { list, inUse: like.id };
  const names = { screwIn: "screw-in", snapOn: "snap-on", matteBox: "matte box" };
  const id = freeId(list, names[/** @type {keyof typeof names} */ (facts.mount)] ?? "rig");
  return { list: [/** @type {any} */ ({ id, ...facts }), ...list], inUse: id };
}

/** The bodies, and which is on: the one with this wheel, or one of its own. @param {any} kept @param {any} stock */
function bodiesOf({ wheel = [], behind = {}, reading, sensor, demo }, stock) {
  const list = nestedBodies(stock);
  const { nowMm, setForMm, frontMm, refractiveIndex, wheelMm = [] } = behind;
  const glass = given({ glassMm: nowMm, setForMm, frontMm, refractiveIndex });
  const densities = (/** @type {any} */ body) => body.wheel.map((/** @type {any} */ position) => position.measuredDensity ?? position.density);
  const like = same(glass, {}) && wheelMm.length === 0
    ? list.find((body) => same(densities(body), wheel) && (wheel.length > 0 || body.exposureIndex === reading.exposureIndex))
    : undefined;
  const isSize = (/** @type {any} */ mode) => mode.widthMm === sensor.widthMm && mode.heightMm === sensor.heightMm;
  if (like) {
    const mode = like.modes.find(isSize) ?? { id: freeId(like.modes, "full"), ...sensor };
    if (!like.modes.includes(mode)) like.modes.push(mode);
    const differs = like.exposureIndex === reading.exposureIndex ? undefined : reading.exposureIndex;
    return { list, inUse: like.id, mode: mode.id, differs };
  }
  const id = freeId(list, demo ?? true ? "A" : "body");
  const body = {
    id,
    exposureIndex: reading.exposureIndex,
    ...glass,
    modes: [{ id: "full", ...sensor }],
    wheel: wheel.map((/** @type {number} */ density, /** @type {number} */ at) => ({ id: String(at + 1), density })),
    plates: wheelMm.map((/** @type {number} */ thicknessMm, /** @type {number} */ at) => ({ id: String(at + 1), thicknessMm })),
  };
  return { list: [body, ...list], inUse: id, mode: "full", differs: undefined };
}

/** The demo's lens of the first form, with which own cases began too. */
const DEMO_LENS = { focalLengthMm: 50, pupil: { by: "figure", mm: 38 } };

/**
 * The lenses, and which is on. A lens put on kept the pupil of the one before
 * it, so the record's own is believed, and no other.
 * @param {any} kept
 * @param {LensRecord[]} lenses
 */
function lensesOf(kept, lenses) {
  const { fromCase, ...lens } = { ...(kept.lens === undefined ? DEMO_LENS : kept.lens) };
  const { focalLengthMm, fNumber, extender, shiftXMm, shiftYMm } = lens;
  const { lossStops, squeeze, pupilRatio, movesOut, nearMm } = lens;
  const facts = given({ lossStops, squeeze, pupilRatio, movesOut, nearMm });
  const today = given({ fNumber, extender, shiftXMm, shiftYMm });
  const own = lenses.find(({ id }) => id === fromCase);
  if (own) {
    const differs = focalLengthMm === own.focalMm ? undefined : focalLengthMm;
    return { list: lenses.map((one) => (one === own ? { ...facts, ...own } : one)), inUse: own.id, today: given({ ...today, focalLengthMm: differs }) };
  }
  // Nobody put that lens on a camera of his own.
  const isDemos = same(given({ ...lens, widestAperture: undefined }), DEMO_LENS) && lens.widestAperture === undefined;
  const nothing = Object.keys(lens).every((name) => name === "pupil") && lens.pupil?.mm === undefined;
  if (nothing || (isDemos && kept.demo === false)) return { list: lenses, inUse: undefined, today };
  const { by, mm, ...how } = lens.pupil ?? {};
  const measured = given({ ...how, by: by === "figure" ? undefined : by });
  const id = freeId(lenses, focalLengthMm === undefined ? "lens" : String(focalLengthMm));
  // The other end of a zoom may be the shorter one.
  const { zoomFocalLengthMm: other, zoomPupilMm: otherMm } = lens;
  const atLong = other < focalLengthMm;
  const record = given({
    id,
    focalMm: atLong ? other : focalLengthMm,
    focalToMm: atLong ? focalLengthMm : other,
    tNumber: lens.widestAperture,
    pupilBehindRimMm: atLong ? otherMm : mm,
    longPupilMm: atLong ? mm : otherMm,
    ...facts,
    pupil: same(measured, {}) ? undefined : measured,
  });
  return { list: [record, ...lenses], inUse: id, today: atLong ? { ...today, focalLengthMm } : today };
}
