// @ts-check
/**
 * The set-up in use, out of the document and back into it. What screens and
 * questions read is made here, anew after each edit; what an edit of it changed
 * goes back into the record it belongs to, or into what differs today.
 */
import { emptyDay } from "./case.js";
import { byId, freeId, given, same } from "./document.js";
import { flatBodies, flatDays, flatRigs, nestedBodies, nestedDays, nestedRigs } from "./flat.js";
import { inHand } from "./frame.js";
import { forgetWhatIsGone, renamed, whatIsIn } from "./keep-whole.js";

/**
 * @typedef {import("./document.js").Document} Document
 * @typedef {import("./document.js").LensRecord} LensRecord
 * @typedef {import("./document.js").LensToday} LensToday
 * @typedef {import("./document.js").BodyRecord} BodyRecord
 * @typedef {import("./setup.js").Setup} Setup
 */

/** Parts of the set-up that the document holds as they are. */
const AS_THEY_ARE = /** @type {const} */ ([
  "demo", "kit", "shot", "keep", "slate", "seen", "light", "wish", "colour", "infrared", "uncertainty", "ramp", "match", "edited", "unsettled",
]);

/** What a lens is asked for today, and not part of what it is. */
const LENS_TODAY = /** @type {const} */ (["fNumber", "extender", "shiftXMm", "shiftYMm", "withoutRings", "closeFocalMm", "closePupilMm"]);
const LENS_FACTS = /** @type {const} */ (["lossStops", "squeeze", "pupilRatio", "movesOut", "nearMm"]);

/**
 * A picture size for drawing and depth where no body says one; told wherever it
 * counts, and never used to tell a fit. Common practice, no source.
 */
const ASSUMED_SENSOR = { widthMm: 24.89, heightMm: 18.66 };

/** The set-up in use. @param {Document} document @returns {Setup} */
export function resolve(document) {
  const { inUse, today } = document;
  const rig = byId(document.rigs, inUse.rig);
  const body = byId(document.bodies, inUse.body);
  const lensToday = today.lenses[inUse.lens ?? ""] ?? {};
  const bodyToday = today.bodies[inUse.body ?? ""] ?? {};
  const inPlace = today.rigs[inUse.rig ?? ""]?.inPlace ?? [];
  const wheel = (body?.wheel ?? []).map((position) => position.measuredDensity ?? position.density);
  const sensor = bodyToday.sensor ?? byId(body?.modes ?? [], inUse.mode);
  return /** @type {Setup} */ ({
    version: 2,
    ...Object.fromEntries(AS_THEY_ARE.map((part) => [part, document[part]])),
    inUse,
    reading: { ...document.reading, exposureIndex: bodyToday.exposureIndex ?? body?.exposureIndex ?? document.reading.exposureIndex },
    lens: lensOf(byId(document.lenses, inUse.lens), lensToday),
    rig: rig ?? { id: "", mount: "screwIn", slots: [], always: [] },
    inPlace,
    wheel,
    wheelInfrared: (body?.wheel ?? []).map(({ infraredDensity }) => infraredDensity ?? null),
    wheelNow: wheel.includes(bodyToday.wheelNow ?? 0) ? bodyToday.wheelNow ?? 0 : 0,
    behind: behindOf(body),
    sensor: sensor ? { widthMm: sensor.widthMm, heightMm: sensor.heightMm } : ASSUMED_SENSOR,
    sensorSaid: sensor !== undefined,
    focus: { ...document.focus, ...given({ onMm: lensToday.focusMm }) },
    frame: frameInUse(document, inPlace),
    stock: stockOf(document),
    plan: { ...(byId(document.days, inUse.day) ?? emptyDay()), wares: document.wares, ringOffers: document.ringOffers },
  });
}

/**
 * A lens of the case as questions have it. What nobody said is not there: a
 * pupil goes by the front where that is known, else it is not known.
 * @param {LensRecord | undefined} record
 * @param {LensToday} [today]
 * @returns {Setup["lens"]}
 */
export function lensOf(record, today = {}) {
  const facts = given(Object.fromEntries([...LENS_FACTS.map((name) => [name, record?.[name]]), ...LENS_TODAY.map((name) => [name, today[name]])]));
  const front = record?.pupil?.frontDiameterMm ?? record?.threadMm ?? record?.outerMm;
  const focalLengthMm = today.focalLengthMm ?? record?.focalMm;
  // A zoom at its long end has its short one as the other.
  const atLong = isAtLong(record, focalLengthMm);
  const mm = (atLong ? record?.longPupilMm : undefined) ?? record?.pupilBehindRimMm;
  const by = record?.pupil?.by ?? (mm === undefined && front !== undefined ? "front" : "figure");
  return /** @type {any} */ (given({
    ...facts,
    id: record?.id,
    focalLengthMm,
    widestAperture: record?.tNumber ?? record?.fNumber,
    zoomFocalLengthMm: atLong ? record?.focalMm : record?.focalToMm,
    zoomPupilMm: atLong ? record?.longPupilMm === undefined ? undefined : record.pupilBehindRimMm : record?.longPupilMm,
    pupil: given({ ...record?.pupil, by, mm, frontDiameterMm: front }),
  }));
}

/** @param {LensRecord | undefined} record @param {number | undefined} focalLengthMm */
const isAtLong = (record, focalLengthMm) => record?.focalToMm !== undefined && focalLengthMm === record.focalToMm;

/** @typedef {import("./document.js").InPlace} InPlace */

/** The graduated filters among pieces in place. @param {Document} document @param {InPlace[]} inPlace */
export function gradsAmong({ kit }, inPlace) {
  const grads = new Set(kit.filter(({ kind }) => kind === "grad").map(({ id }) => id));
  return inPlace.map(({ piece }) => piece).filter((piece) => grads.has(piece));
}

/** Of the filters with an edge that are in the rig one is in hand; with none in, the one that is tried. @param {Document} document @param {InPlace[]} inPlace */
export function frameInUse(document, inPlace) {
  const { frame } = document;
  const isIn = gradsAmong(document, inPlace);
  if (isIn.includes(frame.grad)) return frame;
  if (isIn[0] !== undefined) return inHand(frame, isIn[0]);
  return gradsAmong(document, [{ slot: "", piece: frame.grad }]).length > 0 ? frame : { ...frame, grad: "" };
}

/** @param {BodyRecord | undefined} body */
function behindOf(body) {
  const { glassMm: nowMm, setForMm, frontMm, refractiveIndex, plates = [] } = body ?? {};
  return { ...given({ nowMm, setForMm, frontMm, refractiveIndex }), wheelMm: plates.map(({ thicknessMm }) => thicknessMm) };
}

/** The lists of the case, flat as a file has them; days but the one in hand. @param {Document} document */
function stockOf({ lenses, rings, rigs, bodies, days, inUse }) {
  return { lenses, rings, ...flatRigs(rigs), ...flatBodies(bodies), ...flatDays(days.filter(({ id }) => id !== inUse.day)) };
}

/**
 * The document with what differs between two set-ups put where it belongs.
 * @param {Document} document
 * @param {Setup} before what `resolve(document)` gave
 * @param {Setup} after the same, edited
 * @returns {Document}
 */
export function written(document, before, after) {
  let next = { ...document, inUse: after.inUse };
  for (const part of AS_THEY_ARE) if (!same(before[part], after[part])) next = { ...next, [part]: after[part] };
  next = writtenStock(next, before, after);
  next = writtenDay(next, before.plan, after.plan);
  next = writtenLens(next, before, after);
  next = writtenRig(next, before, after);
  next = writtenBody(next, before, after);
  next = writtenFrame(next, before, after);
  return forgetWhatIsGone(writtenReading(next, before, after));
}

/** @template {{id: string}} T @param {T[]} list @param {string | undefined} id @param {(record: T) => T} edit */
const withRecord = (list, id, edit) => list.map((record) => (record.id === id ? edit(record) : record));

/** The id in use; where there is none, that of a new record. @param {Document} document @param {"lens" | "rig" | "body"} kind @param {"lenses" | "rigs" | "bodies"} list @param {object} empty @returns {Document} */
function withOneInUse(document, kind, list, empty) {
  if (document.inUse[kind] !== undefined) return document;
  const id = freeId(document[list], kind);
  return { ...document, [list]: [...document[list], { id, ...empty }], inUse: { ...document.inUse, [kind]: id } };
}

/** @param {Document} document @param {"lenses" | "rigs" | "bodies"} list @param {string | undefined} id @param {object} differs */
function withToday(document, list, id = "", differs) {
  const all = document.today[list];
  return { ...document, today: { ...document.today, [list]: { ...all, [id]: given({ ...all[id], ...differs }) } } };
}

/** @param {Document} document @param {Setup} before @param {Setup} after @returns {Document} */
function writtenStock(document, { stock: before }, { stock: after }) {
  if (same(before, after)) return document;
  let next = { ...document, lenses: after.lenses, rings: after.rings };
  if (!same([before.rigs, before.slots, before.openings], [after.rigs, after.slots, after.openings])) {
    next = { ...renamed(next, "rig", "rigs", after.rigs), rigs: nestedRigs(after) };
  }
  if (!same([before.bodies, before.modes, before.wheels, before.plates], [after.bodies, after.modes, after.wheels, after.plates])) {
    next = { ...renamed(next, "body", "bodies", after.bodies), bodies: nestedBodies(after) };
  }
  if (!same(before.lenses, after.lenses)) next = renamed({ ...next, lenses: document.lenses }, "lens", "lenses", after.lenses);
  if (!same([before.days, before.setUps, before.wants], [after.days, after.setUps, after.wants])) {
    const inHand = document.days.filter(({ id }) => id === document.inUse.day);
    next = { ...next, days: [...inHand, ...nestedDays(after, emptyDay())] };
  }
  return { ...next, lenses: after.lenses };
}

/** @param {Document} document @param {Setup["plan"]} before @param {Setup["plan"]} after @returns {Document} */
function writtenDay(document, before, after) {
  if (same(before, after)) return document;
  const { wares, ringOffers, ...day } = after;
  const exists = byId(document.days, document.inUse.day) !== undefined;
  const days = exists ? withRecord(document.days, document.inUse.day, () => day) : [day, ...document.days];
  return { ...document, wares, ringOffers, days, inUse: { ...document.inUse, day: day.id } };
}

/** @param {Document} document @param {Setup} before @param {Setup} after @returns {Document} */
function writtenLens(document, { lens: was, focus: wasFocus }, { lens: is, focus }) {
  let next = document;
  if (!same(wasFocus, focus)) {
    const { onMm, ...others } = focus;
    next = withToday({ ...next, focus: others }, "lenses", next.inUse.lens, { focusMm: onMm });
  }
  if (same(was, is)) return next;
  next = withToday(next, "lenses", next.inUse.lens, Object.fromEntries(LENS_TODAY.map((name) => [name, is[name]])));
  const before = byId(next.lenses, next.inUse.lens);
  const lens = writtenRecord(before ?? { id: "" }, was, is);
  if (!before && !same(lens, { id: "" })) {
    const { id: _, ...facts } = lens;
    const noLens = next.today.lenses[""];
    next = withOneInUse(next, "lens", "lenses", facts);
    next = withToday(next, "lenses", next.inUse.lens, noLens ?? {});
    return withToday(next, "lenses", "", Object.fromEntries(Object.keys(noLens ?? {}).map((name) => [name, undefined])));
  }
  if (before) next = { ...next, lenses: withRecord(next.lenses, before.id, () => lens) };
  if (before?.focalMm !== undefined) {
    const differs = is.focalLengthMm === lens.focalMm ? undefined : is.focalLengthMm;
    next = withToday(next, "lenses", next.inUse.lens, { focalLengthMm: differs });
  }
  return next;
}

/** The two ends of a zoom, the shorter first, whichever it is set at. @param {any} lens @param {Setup["lens"]} is @param {boolean} atLong */
function putEnds(lens, { focalLengthMm: here, zoomFocalLengthMm: other }, atLong) {
  if (other === undefined || here === undefined || other > here) {
    lens.focalMm = here;
    lens.focalToMm = other;
    return;
  }
  // What was measured was measured where it is set.
  if (!atLong) Object.assign(lens, { longPupilMm: lens.pupilBehindRimMm, pupilBehindRimMm: undefined, pupilBy: undefined });
  lens.focalMm = other;
  lens.focalToMm = here;
}

/** What of a lens's edit belongs to the lens itself. @param {LensRecord} record @param {Setup["lens"]} was @param {Setup["lens"]} is @returns {LensRecord} */
function writtenRecord(record, was, is) {
  /** @type {any} */
  const lens = { ...record };
  const put = (/** @type {string} */ name, /** @type {any} */ old, /** @type {any} */ value) => {
    if (!same(old, value)) lens[name] = value;
  };
  for (const name of LENS_FACTS) put(name, was[name], is[name]);
  if (record.focalMm === undefined) put("focalMm", was.focalLengthMm, is.focalLengthMm);
  put(record.tNumber === undefined && record.fNumber !== undefined ? "fNumber" : "tNumber", was.widestAperture, is.widestAperture);
  const atLong = isAtLong(record, was.focalLengthMm);
  if (was.zoomFocalLengthMm !== is.zoomFocalLengthMm) putEnds(lens, is, atLong);
  const [here, there] = atLong || isAtLong(lens, is.focalLengthMm) ? ["longPupilMm", "pupilBehindRimMm"] : ["pupilBehindRimMm", "longPupilMm"];
  put(there, was.zoomPupilMm, is.zoomPupilMm);
  if (!same(was.pupil, is.pupil)) {
    const { mm, ...how } = is.pupil;
    if (mm !== was.pupil.mm) {
      lens[here] = mm;
      // How an older figure was got says nothing of this one.
      lens.pupilBy = undefined;
    }
    const changed = Object.entries(how).filter(([name, value]) => !same(value, /** @type {any} */ (was.pupil)[name]) || name in (record.pupil ?? {}));
    lens.pupil = changed.length === 0 ? undefined : Object.fromEntries(changed);
  }
  return given(lens);
}

/** @param {Document} document @param {Setup} before @param {Setup} after @returns {Document} */
function writtenRig(document, before, after) {
  let next = document;
  if (!same(before.rig, after.rig)) {
    const { id: _, ...facts } = after.rig;
    next = withOneInUse(next, "rig", "rigs", facts);
    next = { ...next, rigs: withRecord(next.rigs, next.inUse.rig, ({ id }) => ({ id, ...facts })) };
  }
  return same(before.inPlace, after.inPlace) ? next : withInPlace(next, after.inPlace);
}

/** Other glass in the rig in use. @param {Document} document @param {InPlace[]} inPlace @returns {Document} */
export function withInPlace(document, inPlace) {
  const { id } = byId(document.rigs, document.inUse.rig) ?? {};
  if (id === undefined) return document;
  const before = document.today.rigs[id]?.inPlace ?? [];
  const [was, is] = [before, inPlace].map((list) => gradsAmong(document, list));
  const frame = frameInUse(document, before);
  const next = { ...document, today: { ...document.today, rigs: { ...document.today.rigs, [id]: { inPlace } } } };
  if (same(was, is)) return next;
  if (is?.includes(frame.grad)) return { ...next, frame };
  // What is pulled out of the rig is no longer looked through: what came for it
  // is held like it, else one that stays is in hand.
  const came = is?.find((piece) => !was?.includes(piece)) ?? is?.[0];
  return { ...next, frame: came === undefined ? { ...frame, grad: "" } : inHand(frame, came, false) };
}

/** @param {Document} document @param {Setup} before @param {Setup} after @returns {Document} */
function writtenBody(document, before, after) {
  let next = document;
  const empty = { modes: [], wheel: [], plates: [] };
  if (!same(before.behind, after.behind)) {
    const { nowMm: glassMm, setForMm, frontMm, refractiveIndex, wheelMm } = after.behind;
    const plates = wheelMm.map((thicknessMm, at) => ({ id: String(at + 1), thicknessMm }));
    next = withOneInUse(next, "body", "bodies", empty);
    next = { ...next, bodies: withRecord(next.bodies, next.inUse.body, (body) => /** @type {any} */ (given({ ...body, glassMm, setForMm, frontMm, refractiveIndex, plates }))) };
  }
  if (!same(before.wheel, after.wheel)) {
    next = withOneInUse(next, "body", "bodies", empty);
    next = { ...next, bodies: withRecord(next.bodies, next.inUse.body, (body) => ({ ...body, wheel: wheelOf(body, after.wheel) })) };
  }
  if (!same(before.sensor, after.sensor)) next = writtenSensor(withOneInUse(next, "body", "bodies", empty), after.sensor);
  if (before.wheelNow !== after.wheelNow) next = withToday(next, "bodies", next.inUse.body, { wheelNow: after.wheelNow });
  const index = after.reading.exposureIndex;
  if (before.reading.exposureIndex !== index) {
    const body = byId(next.bodies, next.inUse.body);
    if (body) next = withToday(next, "bodies", body.id, { exposureIndex: body.exposureIndex === index ? undefined : index });
    else next = { ...next, reading: { ...next.reading, exposureIndex: index } };
  }
  return next;
}

/** The wheel with these densities; positions that are known keep what is known. @param {BodyRecord} body @param {number[]} densities */
function wheelOf({ wheel }, densities) {
  return densities.map((density, at) =>
    wheel.find((position) => (position.measuredDensity ?? position.density) === density) ?? { id: freeId(wheel, String(at + 1)), density });
}

/** A mode of that size, the only mode there is, or what differs today. @param {Document} document @param {{widthMm: number, heightMm: number}} sensor @returns {Document} */
function writtenSensor(document, sensor) {
  const body = /** @type {BodyRecord} */ (byId(document.bodies, document.inUse.body));
  const known = body.modes.find(({ widthMm, heightMm }) => widthMm === sensor.widthMm && heightMm === sensor.heightMm);
  const mode = known ?? (body.modes.length === 0 ? { id: "full", ...sensor } : undefined);
  if (!mode) return withToday(document, "bodies", body.id, { sensor });
  const next = withToday(document, "bodies", body.id, { sensor: undefined, mode: mode.id });
  const bodies = known ? next.bodies : withRecord(next.bodies, body.id, (record) => ({ ...record, modes: [mode] }));
  return { ...next, bodies, inUse: { ...next.inUse, mode: mode.id } };
}

/** @param {Document} document @param {Setup} before @param {Setup} after @returns {Document} */
function writtenFrame(document, before, after) {
  if (same(before.frame, after.frame)) return document;
  const { grad } = after.frame;
  const next = { ...document, frame: { ...after.frame, grad: before.frame.grad, bright: brightOf(document, before, after) } };
  if (before.frame.grad === grad) return next;
  const { inPlace } = resolve(next);
  if (inPlace.some(({ piece }) => piece === grad)) return { ...next, frame: inHand(next.frame, grad) };
  const there = inPlace.find(({ piece }) => piece === before.frame.grad);
  if (!there) return { ...next, frame: { ...next.frame, grad } };
  // The one in the rig is the one that is looked through: another takes its slot.
  const others = inPlace.filter((one) => one !== there);
  return withInPlace(next, grad === "" ? others : inPlace.with(inPlace.indexOf(there), { slot: there.slot, piece: grad }));
}

/** The sky is read as the land was. @param {Document} document @param {Setup} before @param {Setup} after */
function brightOf({ reading: { through, wheelDensity } }, { frame: { bright: was } }, { frame: { bright: is } }) {
  if (was.aperture === is.aperture) return is;
  return given({ ...is, through: through.length === 0 ? undefined : through, wheelDensity });
}

/**
 * A reading typed after glass was swapped was taken through what is in now.
 * @param {Document} document @param {Setup} before @param {Setup} after @returns {Document}
 */
function writtenReading(document, { reading: was }, { reading: is }) {
  if (same(was, is)) return document;
  const through = (/** @type {Setup["reading"]} */ reading) => [reading.through, reading.wheelDensity];
  const now = whatIsIn(document);
  const read = { ...is, exposureIndex: document.reading.exposureIndex };
  if (!same(through(was), through(is))) {
    return { ...document, reading: given({ ...read, inThen: now.name, retaken: undefined }) };
  }
  const isThrough = is.through.length > 0 || is.wheelDensity !== undefined || is.retaken;
  const swapped = is.inThen !== undefined && is.inThen !== now.name;
  if (was.aperture === is.aperture || !isThrough || !swapped) return { ...document, reading: read };
  return {
    ...document,
    reading: given({ ...read, through: now.pieces, wheelDensity: now.wheelDensity, inThen: now.name, retaken: true }),
  };
}
