// @ts-check
/** The main question, what is in, and where a piece finds room: what they ask of the core. */
import { ask } from "../engine/ask.js";
import { lensFit } from "./fit.js";
import { uncertaintyOf } from "./known.js";
import { answerTo, question } from "./question.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../api/glasscall.js").PieceRequest} Piece
 * @typedef {import("../api/glasscall.js").OpenUpRequest} OpenUpRequest
 */

/** The rig as the core takes it. @param {Setup} setup */
export const rigRequest = ({ rig: { slots, always } }) => ({ slots, always });

/** Whether anybody read the light: nothing is computed with a reading that nobody took. @param {Pick<Setup, "reading">} setup */
export const isRead = ({ reading }) => reading.aperture !== undefined;

/** With some reading, for what hangs on none: where a piece goes, what it takes, whether the rest is possible. @param {Setup} setup @returns {Setup} */
export const asIfRead = (setup) => (isRead(setup) ? setup : { ...setup, reading: { ...setup.reading, aperture: setup.shot.aperture } });

/** The main question, which the core refuses where nothing is read. */
export const OPEN_UP = question("openUp", openUpRequest);

/** @param {Setup} setup @returns {OpenUpRequest} */
function openUpRequest(setup) {
  const { wheelDensity, inThen: _, retaken: __, ...read } = setup.reading;
  const wheel = wheelReadThrough(wheelDensity);
  const reading = /** @type {OpenUpRequest["reading"]} */ ({ ...read, through: [...read.through, ...wheel.map((piece) => piece.id)] });
  return {
    reading,
    shot: shotSettings(setup),
    ...lensRequest(setup),
    kit: [...setup.kit, ...wheel],
    rig: rigRequest(setup),
    ...wheelOf(setup),
    inPlace: setup.inPlace,
    keep: setup.keep,
    ...lensFit(setup),
    ...uncertaintyOf(setup),
  };
}

/** How far the lens in use opens beyond the stop wanted; nothing where either is not known. @param {Setup} setup @returns {number | undefined} */
export function openStopsOf(setup) {
  const shot = shotSettings(setup);
  return setup.lens.widestAperture === undefined
    ? undefined
    : ask("openUp", { reading: { ...shot, through: [] }, shot, ...lensRequest(setup) }).reply?.openStops;
}

/** What the lens opens to, where that is known. @param {Setup} setup */
const lensRequest = ({ lens: { widestAperture, extender } }) =>
  (widestAperture === undefined ? {} : { lens: { widestAperture, ...(extender === undefined ? {} : { extender }) } });

/** The wheel's densities, in infrared too where that is known of any. @param {Pick<Setup, "wheel" | "wheelInfrared">} setup @returns {{wheel: number[], wheelInfrared?: any}} */
function wheelOf({ wheel, wheelInfrared }) {
  return wheelInfrared.some((density) => density !== null) ? { wheel, wheelInfrared } : { wheel };
}

/**
 * A wheel's position as a piece that is read through and never goes in a slot.
 * @param {number | undefined} density
 * @param {string} [id]
 * @returns {Piece[]}
 */
export function wheelReadThrough(density, id = "(wheel)") {
  return density === undefined ? [] : [{ id, kind: "nd", density, size: "", count: 0 }];
}

/**
 * The same question with only the pieces that are in: what they make of the
 * stop, whatever slots they are in.
 */
export const WHAT_IS_IN = question("openUp", whatIsInRequest);

/** @param {Setup} setup @returns {OpenUpRequest} */
function whatIsInRequest(setup) {
  const ids = setup.inPlace.map((placed) => placed.piece);
  const { fit: _, wheelInfrared: __, ...main } = openUpRequest(setup);
  const { wheel, wheelInfrared, wheelNow } = setup;
  return {
    ...main,
    kit: named(main, ids),
    rig: { slots: ids.map((_, at) => ({ id: String(at), size: "", rotates: true })) },
    ...(wheelNow > 0 ? wheelOf({ wheel: [wheelNow], wheelInfrared: [wheelInfrared[wheel.indexOf(wheelNow)] ?? null] }) : { wheel: [] }),
    inPlace: [],
    keep: ids,
    limit: 1,
  };
}

/** What is in, in the rig's own slots; nothing where the core refuses it. @param {Setup} setup @returns {import("../api/glasscall.js").OfferReply | undefined} */
export function stackNow(setup) {
  const now = answerTo(WHAT_IS_IN, setup).reply?.stacks[0];
  if (!now) return undefined;
  // Asked about by itself it is in nameless slots.
  const slots = now.slots.map((placed) => ({ ...placed, slot: setup.inPlace.find(({ piece }) => piece === placed.piece)?.slot ?? placed.slot }));
  return { ...now, slots, moves: 0, ...(setup.wheel.length > 0 ? { wheel: setup.wheelNow } : {}) };
}

/** The pieces a question names, by these ids or as read through. @param {OpenUpRequest} question @param {string[]} ids */
function named({ kit = [], reading }, ids) {
  return kit.filter((piece) => ids.includes(piece.id) || reading.through?.includes(piece.id));
}

/** Where everything that is in, and one piece more, finds a place. */
export const PLACING = question("openUp", placingRequest);

/** @param {Setup} setup @param {string} id @returns {OpenUpRequest} */
function placingRequest(setup, id) {
  const ids = [...setup.inPlace.map((placed) => placed.piece), id];
  const main = openUpRequest(asIfRead(setup));
  return {
    ...main,
    kit: named(main, ids).map((piece) => ({ ...piece, count: ids.filter((in_) => in_ === piece.id).length })),
    wheel: [],
    wheelInfrared: [],
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
