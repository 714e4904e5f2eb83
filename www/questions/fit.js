// @ts-check
/**
 * What the fit asks of the core: the set-up's lens, sensor and openings as
 * requests, and refusals back as fields of the page.
 */
import { ask } from "../engine/ask.js";
import { cardReading, uncertaintyOf } from "./known.js";
import { refusedOnPage } from "./paths.js";
import { answerTo, question } from "./question.js";
import { movedOut, ringOpenings, ringsInUse } from "./rings.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../api/glasscall.js").OpeningRequest} Opening
 * @typedef {import("../api/glasscall.js").PupilPlace} PupilPlace
 * @typedef {import("../api/glasscall.js").LensFitRequest} LensFitRequest
 * @typedef {import("../api/glasscall.js").FitRequest} FitRequest
 * @typedef {import("../api/glasscall.js").CardPair} CardPair
 * @typedef {import("../engine/ask.js").Refusal} Refusal
 */

/**
 * How the pupil is known and what was found that way; what other ways need
 * stays, so that a change of mind loses nothing.
 * @typedef {object} Pupil
 * @property {"figure" | "cards" | "ring" | "front"} by
 * @property {number} [mm]
 * @property {number} [verticalMm]
 * @property {number} [nearMm]
 * @property {number} [nearHeightMm]
 * @property {number} [farMm]
 * @property {number} [farHeightMm]
 * @property {number} [ringDiameterMm]
 * @property {number} [darkensFromMm]
 * @property {number} [frontDiameterMm]
 * @property {number} [imageCircleMm] diameter of the picture the lens covers
 * @property {CardPair} [up] the cards of the upright axis of a lens that squeezes
 * @property {number} [ringFNumber] the stop the ring was looked at
 */

/**
 * What the fit must know of a lens beyond its focal length.
 * @typedef {object} FitLens
 * @property {Pupil} pupil
 * @property {number} [fNumber] absent: the stop that is wanted
 * @property {number} [squeeze]
 * @property {number} [shiftXMm]
 * @property {number} [shiftYMm]
 * @property {number} [zoomFocalLengthMm] the other end of a zoom
 * @property {number} [zoomPupilMm]
 * @property {string} [id] of the record in the case
 * @property {boolean} [withoutRings] whether its rings are left out of the fit
 * @property {number} [closeFocalMm] the focal length that gives its field focused close: it breathes
 * @property {number} [closePupilMm] its pupil then
 */

/** An opening in front of the lens and where it stands in the set-up. @typedef {{opening: Opening, path: string, slot?: string, piece?: string}} Found */

/**
 * What was seen through the lens, for an opening by its name: of this lens, in
 * this place, at this f-number.
 * @typedef {{verdict: "clear" | "shades" | "clips", under: string, fNumber: number}} Seen
 */

/** All that decides a fit but the stop. @param {Setup} setup @param {Opening} opening */
function conditions(setup, { name: _, turns: __, seen: ___, seenAtFNumber: ____, ...place }) {
  return JSON.stringify([lensOf(setup), Object.entries(place).sort()]);
}

/** An opening of a rig before a lens; other rigs call theirs the same. @param {Setup} setup @param {string} name */
const seenName = ({ inUse }, name) => [inUse.lens ?? "", inUse.rig ?? "", name].join(" · ");

/**
 * A look at this opening in this place; the core knows at which stops it holds,
 * and what it tells of the lens at others.
 * @param {Setup} setup
 * @param {Opening} opening
 * @param {string} name
 */
function seenThere(setup, opening, name) {
  const seen = setup.seen[seenName(setup, name)];
  return seen?.under === conditions(setup, opening) ? { seen: seen.verdict, seenAtFNumber: seen.fNumber } : {};
}

/** Keeps what was seen, or forgets it. @param {Setup} setup @param {Opening} opening @param {string} name @param {Seen["verdict"] | ""} verdict */
export function setSeen(setup, opening, name, verdict) {
  if (verdict) setup.seen[seenName(setup, name)] = { verdict, under: conditions(setup, opening), fNumber: fNumberOf(setup) };
  else delete setup.seen[seenName(setup, name)];
}

/**
 * The rig as the core takes it, on the rings of the lens in use, with what was
 * seen.
 * @param {Setup} setup
 */
function rigAsSeen(setup) {
  const { slots, always } = setup.rig;
  const rings = ringsInUse(setup);
  const placed = (/** @type {Opening} */ opening, /** @type {string} */ name) => {
    const at = movedOut(opening, rings?.depthMm ?? 0);
    return { ...at, ...seenThere(setup, at, name) };
  };
  return {
    slots: slots.map((slot) => (slot.opening ? { ...slot, opening: placed(slot.opening, slot.id) } : slot)),
    always: always.map((opening) => placed(opening, opening.name ?? "")),
    rings: rings ? ringOpenings(rings) : [],
  };
}

/** A stage turns freely for a polarizer, and for what is not in it yet. @param {Setup} setup @param {{id: string, rotates?: boolean}} slot */
function mustTurn({ inPlace, kit }, { id, rotates }) {
  const piece = inPlace.find(({ slot }) => slot === id)?.piece;
  return Boolean(rotates) && (piece === undefined || kit.find((one) => one.id === piece)?.kind === "polarizer");
}

/** The openings from the lens outward. @param {Setup} setup @returns {Found[]} */
export function openingsOf(setup) {
  const rig = rigAsSeen(setup);
  const rings = rig.rings.map((opening, at) => ({ opening, path: `rings[${at}]` }));
  const always = rig.always.map((opening, at) => ({ opening, path: `rig.always[${at}]` }));
  const slots = rig.slots.flatMap((slot, at) => (slot.opening
    ? [{
      opening: { ...slot.opening, name: slot.id, turns: mustTurn(setup, slot) },
      path: `rig.slots[${at}].opening`,
      slot: slot.id,
      piece: setup.inPlace.find((placed) => placed.slot === slot.id)?.piece,
    }]
    : []));
  return [...rings, ...always, ...slots].sort((a, b) => a.opening.distanceFromRimMm - b.opening.distanceFromRimMm);
}

/** The lens as every question about fit has it. @param {Setup} setup */
export function lensOf(setup) {
  const { squeeze, shiftXMm, shiftYMm } = setup.lens;
  return given({ sensor: setup.sensor, focalLengthMm: workingFocalLength(setup), squeeze, shiftXMm, shiftYMm });
}

/** An extender narrows the field; the stop of the shot has it counted already. @param {Setup} setup */
function workingFocalLength({ lens, shot }) {
  const { focalLengthMm, extender } = lens;
  if (focalLengthMm === undefined || extender === undefined) return focalLengthMm;
  return ask("workingStop", { focalLengthMm, aperture: shot.aperture, extender }).reply?.focalLengthMm;
}

/** A T-number that is known to be one has a wider pupil. @param {Setup} setup */
export const lossOf = ({ lens }) => (lens.fNumber === undefined ? lens.lossStops : undefined);

/** Without the fields that are not there. @template {object} T @param {T} fields @returns {T} */
function given(fields) {
  return /** @type {T} */ (Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)));
}

/** The f-number of the shot; the stop wanted where no other is said. @param {Setup} setup */
export function fNumberOf({ lens, shot }) {
  return lens.fNumber ?? shot.aperture;
}

/** The fields of a fit and of what measures a pupil. @type {import("./paths.js").Paths} */
const PATHS = {
  "openings[]": (at, setup) => openingsOf(setup)[at]?.path ?? `openings[${at}]`,
  focalLengthMm: "lens.focalLengthMm",
  fNumber: "lens.fNumber",
  squeeze: "lens.squeeze",
  shiftXMm: "lens.shiftXMm",
  shiftYMm: "lens.shiftYMm",
  lensLossStops: "lens.lossStops",
  nearMm: "lens.pupil.nearMm",
  nearHeightMm: "lens.pupil.nearHeightMm",
  farMm: "lens.pupil.farMm",
  farHeightMm: "lens.pupil.farHeightMm",
  ringDiameterMm: "lens.pupil.ringDiameterMm",
  darkensFromMm: "lens.pupil.darkensFromMm",
  frontDiameterMm: "lens.pupil.frontDiameterMm",
  imageCircleMm: "lens.pupil.imageCircleMm",
  readingMm: "uncertainty.cardsMm",
  "cards.horizontal.readingMm": "uncertainty.cardsMm",
  "cards.vertical.readingMm": "uncertainty.cardsMm",
  "cards.horizontal": "lens.pupil",
  "cards.vertical": "lens.pupil.up",
  widestFNumber: "lens.widestAperture",
  "pupilBehindRimMm.verticalMm": "lens.pupil.verticalMm",
  pupilBehindRimMm: "lens.pupil.mm",
  "zoom.focalLengthMm": "lens.zoomFocalLengthMm",
  "zoom.pupilBehindRimMm": "lens.zoomPupilMm",
  "zoom.pupilBehindRimMm.*": "lens.zoomPupilMm",
  "close.focalLengthMm": "lens.closeFocalMm",
  "close.pupilBehindRimMm": "lens.closePupilMm",
  "close.pupilBehindRimMm.*": "lens.closePupilMm",
};

const CARDS = question("pupilByTwoCards", cardsRequest);
const FRONT = question("pupilByFront", frontRequest);
const RING = question("pupilByRing", ringRequest);

/** The pupil by two cards. @param {Setup} setup @returns {any} */
function cardsRequest(setup) {
  const { nearMm, nearHeightMm, farMm, farHeightMm } = setup.lens.pupil;
  return given({ nearMm, nearHeightMm, farMm, farHeightMm, ...cardReading(setup) });
}

/** The pupil by the front of the lens. @param {Setup} setup @returns {any} */
function frontRequest(setup) {
  const { pupil, widestAperture } = setup.lens;
  const { focalLengthMm, sensor, squeeze } = /** @type {any} */ (lensOf(setup));
  return given({ sensor, squeeze, focalLengthMm, widestFNumber: widestAperture ?? fNumberOf(setup), frontDiameterMm: pupil.frontDiameterMm, imageCircleMm: pupil.imageCircleMm });
}

/** The pupil by a ring that begins to darken the corners. @param {Setup} setup @returns {any} */
function ringRequest(setup) {
  const { ringDiameterMm, darkensFromMm, ringFNumber } = setup.lens.pupil;
  const { focalLengthMm, sensor, squeeze } = /** @type {any} */ (lensOf(setup));
  return given({ sensor, squeeze, focalLengthMm, fNumber: ringFNumber ?? fNumberOf(setup), ringDiameterMm, darkensFromMm });
}

/** The question that tells the pupil, where a working tells it too. @param {Setup} setup @returns {[name: "pupilByTwoCards" | "pupilByFront" | "pupilByRing", request: any][]} */
export function pupilQuestion(setup) {
  if (setup.lens.focalLengthMm === undefined || !setup.sensorSaid) return [];
  const { by } = setup.lens.pupil;
  if (by === "cards") return [[CARDS.name, cardsRequest(setup)]];
  if (by === "ring") return [[RING.name, ringRequest(setup)]];
  return by === "front" ? [[FRONT.name, frontRequest(setup)]] : [];
}

/**
 * Where the pupil is, as the core takes it.
 * @param {Setup} setup
 * @returns {{place?: PupilPlace, refusal?: Refusal, spreadMm?: number}}
 */
export function pupilOf(setup) {
  if (setup.lens.focalLengthMm === undefined || !setup.sensorSaid) return {};
  const { pupil } = setup.lens;
  switch (pupil.by) {
    case "cards": {
      const { reply, refusal } = answerTo(CARDS, setup);
      return reply ? { place: reply.pupilBehindRimMm, spreadMm: reply.spreadMm } : { refusal };
    }
    case "ring": {
      const { reply, refusal } = answerTo(RING, setup);
      return reply ? { place: { nearestMm: reply.nearestMm, farthestMm: reply.farthestMm } } : { refusal };
    }
    case "front": {
      const { reply, refusal } = answerTo(FRONT, setup);
      return reply ? { place: { nearestMm: reply.nearestMm, farthestMm: reply.farthestMm } } : { refusal };
    }
    default:
      if (pupil.mm === undefined) return {};
      return { place: pupil.verticalMm === undefined ? pupil.mm : { horizontalMm: pupil.mm, verticalMm: pupil.verticalMm } };
  }
}

/** What is said too little for any fit; of the three the first that is missing. @param {Setup} setup @returns {"lens" | "sensor" | "pupil"} */
export const unsaid = ({ lens, sensorSaid }) => (lens.focalLengthMm === undefined ? "lens" : sensorSaid ? "pupil" : "sensor");

/** A reading to ask about a lens by, where nothing is in the case. */
const ANY = { aperture: 8, exposureIndex: 800, frameRate: 24, shutterAngleDeg: 180 };

/** The lens behind the rig, where enough is known to tell the fit of a stack. @param {Setup} setup @returns {{fit?: LensFitRequest, rig?: import("../api/glasscall.js").RigRequest}} */
export function lensFit(setup) {
  if (openingsOf(setup).length === 0) return {};
  const { place, refusal } = pupilOf(setup);
  // Where nothing is known of the pupil the answer says so, and what was seen.
  if (refusal || !setup.sensorSaid || setup.lens.focalLengthMm === undefined) return {};
  // An impossible fit is the Fit screen's to say; the main answer goes on.
  const { slots, always, rings } = rigAsSeen(setup);
  const rig = { slots, always: [...rings, ...always] };
  const fit = /** @type {any} */ ({ ...lensOf(setup), ...given({ fNumber: setup.lens.fNumber, lensLossStops: lossOf(setup) }), ...knownOf(setup, place), ...closeOf(setup) });
  const shot = { ...ANY, aperture: setup.shot.aperture };
  return ask("openUp", { reading: ANY, shot, rig, fit }).refusal ? {} : { rig, fit };
}

/**
 * What is known of the lens: its cards tell pupil and distortion at once, its
 * front what cannot get past it.
 * @param {Setup} setup
 * @param {PupilPlace | undefined} place
 * @returns {any}
 */
export function knownOf(setup, place) {
  const { pupil, squeeze, widestAperture } = setup.lens;
  const read = cardReading(setup);
  const { nearMm, nearHeightMm, farMm, farHeightMm, up, frontDiameterMm } = pupil;
  // A lens that squeezes has two pupils: one pair of cards tells of one.
  const upright = up && [up.nearMm, up.nearHeightMm, up.farMm, up.farHeightMm].every((mm) => mm !== undefined) ? up : undefined;
  const cards = pupil.by === "cards" && (upright !== undefined || (squeeze ?? 1) === 1)
    ? given({ horizontal: { nearMm, nearHeightMm, farMm, farHeightMm, ...read }, vertical: upright && { ...upright, ...read } })
    : undefined;
  return /** @type {any} */ (given({
    pupilBehindRimMm: cards ? undefined : place,
    cards,
    frontDiameterMm,
    widestFNumber: widestAperture,
  }));
}

/** The same lens focused close, where somebody says that it differs. @param {Setup} setup */
function closeOf({ lens: { closeFocalMm, closePupilMm } }) {
  const close = given({ focalLengthMm: closeFocalMm, pupilBehindRimMm: closePupilMm });
  return Object.keys(close).length > 0 ? { close } : {};
}

/** The fit of all that stands in front; nothing where too little is known of the lens. */
export const FIT = question("fit", fitRequest, PATHS);

/**
 * @param {Setup} setup
 * @param {Partial<FitRequest>} [more]
 * @param {{place?: PupilPlace}} [pupil]
 * @returns {FitRequest | undefined}
 */
function fitRequest(setup, more, { place } = pupilOf(setup)) {
  const { focalLengthMm, zoomFocalLengthMm, zoomPupilMm } = setup.lens;
  if (focalLengthMm === undefined || place === undefined) return undefined;
  const zoom = zoomFocalLengthMm === undefined
    ? undefined
    : given({ focalLengthMm: zoomFocalLengthMm, pupilBehindRimMm: zoomPupilMm });
  return /** @type {any} */ ({
    ...lensOf(setup),
    fNumber: fNumberOf(setup),
    ...given({ lensLossStops: lossOf(setup) }),
    ...knownOf(setup, place),
    openings: openingsOf(setup).map(({ opening }) => opening),
    ...given({ zoom }),
    ...closeOf(setup),
    ...uncertaintyOf(setup),
    ...more,
  });
}

/** Why nothing is known of the pupil, where what was measured cannot be. @param {Setup} setup @param {ReturnType<typeof pupilOf>} [pupil] */
export const pupilRefusal = (setup, { refusal } = pupilOf(setup)) => refusedOnPage(refusal, PATHS);

/**
 * The fit of the set-up, or why there is none.
 * @param {Setup} setup
 * @param {Partial<FitRequest>} [more]
 */
export function askFit(setup, more) {
  const pupil = pupilOf(setup);
  const wrong = pupilRefusal(setup, pupil);
  if (wrong) return { refusal: wrong };
  const { reply, refusal } = answerTo(FIT, setup, more, pupil);
  return refusal ? { refusal } : { reply, pupil };
}
