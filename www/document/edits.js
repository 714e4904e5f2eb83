// @ts-check
/**
 * Named edits of the document. Each takes a document and gives the next one;
 * none asks the core, looks at a clock or changes what it was given.
 */
import { byId, freeId, given } from "./document.js";
import { forgetWhatIsGone, renamed, whatIsIn } from "./keep-whole.js";
import { withInPlace } from "./resolve.js";
import { isNotSaid, NOT_SAID, rigOf, USUAL_RIGS } from "./usual-rigs.js";

/**
 * @typedef {import("./document.js").Document} Document
 * @typedef {import("./document.js").InPlace} InPlace
 * @typedef {import("./document.js").Piece} Piece
 */

/** All of a lens goes on: what its record does not say is not known. @param {Document} document @param {string | undefined} id */
export const putOnLens = (document, id) => forgetWhatIsGone({ ...document, inUse: { ...document.inUse, lens: id } });

/** All of a rig goes on, with the glass that was left in it. @param {Document} document @param {string | undefined} id */
export const putOnRig = (document, id) => forgetWhatIsGone({ ...document, inUse: { ...document.inUse, rig: id } });

/** All of a body: its index, wheel and glass, in the mode it was last used in. @param {Document} document @param {string | undefined} id @returns {Document} */
export function putOnBody(document, id) {
  const { inUse, today } = document;
  const left = inUse.body === undefined ? today : withBodyToday(document, inUse.body, { mode: inUse.mode }).today;
  const body = byId(document.bodies, id);
  const last = byId(body?.modes ?? [], today.bodies[id ?? ""]?.mode);
  const mode = last ?? body?.modes[0];
  return forgetWhatIsGone({ ...document, today: left, inUse: { ...inUse, body: body?.id, mode: mode?.id } });
}

/** A mode of a body; the body goes on with it. @param {Document} document @param {string} body @param {string} mode @returns {Document} */
export function putOnMode(document, body, mode) {
  const next = withBodyToday(document.inUse.body === body ? document : putOnBody(document, body), body, { mode, sensor: undefined });
  return forgetWhatIsGone({ ...next, inUse: { ...next.inUse, mode } });
}

/** @param {Document} document @param {string} id @param {object} differs @returns {Document} */
function withBodyToday(document, id, differs) {
  const { bodies } = document.today;
  return { ...document, today: { ...document.today, bodies: { ...bodies, [id]: given({ ...bodies[id], ...differs }) } } };
}

/** A day to plan. @param {Document} document @param {string} id @returns {Document} */
export const takeInHand = (document, id) => forgetWhatIsGone({ ...document, inUse: { ...document.inUse, day: id } });

/** What is in the rig in use, all of it. @param {Document} document @param {InPlace[]} inPlace @returns {Document} */
export const putIn = (document, inPlace) => forgetWhatIsGone(withInPlace(document, inPlace.map(({ slot, piece }) => ({ slot, piece }))));

/** The same for a piece that was put in for the picture and not for its density: every stack keeps it. @param {Document} document @param {InPlace[]} inPlace @param {string} piece @returns {Document} */
export function putInForPicture(document, inPlace, piece) {
  const next = putIn(document, inPlace);
  const isNd = next.kit.some(({ id, kind }) => id === piece && kind === "nd");
  return isNd || next.keep.includes(piece) ? next : { ...next, keep: [...next.keep, piece] };
}

/** A stack as the core offers it. @param {Document} document @param {{slots: InPlace[], wheel?: number}} stack @returns {Document} */
export function putInStack(document, { slots, wheel }) {
  const next = putIn(document, slots);
  return wheel === undefined ? next : turnWheel(next, wheel);
}

/** One piece out of the rig in use. @param {Document} document @param {string} piece @returns {Document} */
export function pull(document, piece) {
  const { inPlace = [] } = document.today.rigs[document.inUse.rig ?? ""] ?? {};
  const next = putIn(document, inPlace.filter((placed) => placed.piece !== piece));
  // It was in for the picture, not for its density: nothing else was to hold it.
  const isNd = document.kit.some(({ id, kind }) => id === piece && kind === "nd");
  return isNd ? next : { ...next, keep: next.keep.filter((id) => id !== piece) };
}

/** One piece into one slot; from another slot if there is no second of it. @param {Document} document @param {string} slot @param {string} id @returns {Document} */
export function putInSlot(document, slot, id) {
  const { inPlace = [] } = document.today.rigs[document.inUse.rig ?? ""] ?? {};
  const count = byId(document.kit, id)?.count ?? 1;
  const others = inPlace.filter((placed) => placed.slot !== slot);
  const again = others.filter((placed) => placed.piece === id).length >= count;
  return putInForPicture(document, [...(again ? others.filter((placed) => placed.piece !== id) : others), { slot, piece: id }], id);
}

/** One slot emptied. @param {Document} document @param {string} slot @returns {Document} */
export function emptySlot(document, slot) {
  const { inPlace = [] } = document.today.rigs[document.inUse.rig ?? ""] ?? {};
  const id = inPlace.find((placed) => placed.slot === slot)?.piece;
  const next = putIn(document, inPlace.filter((placed) => placed.slot !== slot));
  // Of two alike the other may stay in.
  return id === undefined || next.today.rigs[document.inUse.rig ?? ""]?.inPlace.some((placed) => placed.piece === id) ? next : pull(next, id);
}

/** @param {Document} document @param {number} density @returns {Document} */
export const turnWheel = (document, density) =>
  (document.inUse.body === undefined ? document : withBodyToday(document, document.inUse.body, { wheelNow: density }));

/** What the light was read at; through what is in now where glass was swapped since. @param {Document} document @param {Partial<import("./document.js").Reading>} reading @returns {Document} */
export function setReading(document, reading) {
  const { reading: was } = document;
  const now = whatIsIn(document);
  const isThrough = was.through.length > 0 || was.wheelDensity !== undefined || was.retaken;
  const swapped = was.inThen !== undefined && was.inThen !== now.name;
  const retake = reading.through === undefined && isThrough && swapped
    ? { through: now.pieces, wheelDensity: now.wheelDensity, inThen: now.name, retaken: true }
    : {};
  return { ...document, reading: given({ ...was, ...reading, ...retake }) };
}

/** How the light was read: bare, or through all that is in. @param {Document} document @param {boolean} bare @returns {Document} */
export function readBare(document, bare) {
  const { pieces, wheelDensity, name } = whatIsIn(document);
  const through = bare ? { through: [], wheelDensity: undefined } : { through: pieces, wheelDensity };
  return { ...document, reading: given({ ...document.reading, ...through, inThen: name, retaken: undefined }) };
}

/** @param {Document} document @param {Piece} piece @returns {Document} */
export const addPiece = (document, piece) => ({ ...document, demo: false, kit: [...document.kit, piece] });

/** @param {Document} document @param {string} id @returns {Document} */
export const removePiece = (document, id) => forgetWhatIsGone({ ...document, demo: false, kit: document.kit.filter((piece) => piece.id !== id) });

/** A lens, rig or body under another name. @param {Document} document @param {"lens" | "rig" | "body"} kind @param {string} from @param {string} to @returns {Document} */
export function renameRecord(document, kind, from, to) {
  const list = /** @type {const} */ ({ lens: "lenses", rig: "rigs", body: "bodies" })[kind];
  const after = /** @type {any[]} */ (document[list]).map((record) => (record.id === from ? { ...record, id: to } : record));
  return { ...renamed(document, kind, list, after), [list]: after };
}

/** A lens, rig or body out of the case. @param {Document} document @param {"lenses" | "rigs" | "bodies"} list @param {string} id @returns {Document} */
export const removeRecord = (document, list, id) =>
  forgetWhatIsGone({ ...document, [list]: /** @type {any[]} */ (document[list]).filter((record) => record.id !== id) });

/** A rig once more under a name of its own, to change it without losing this one. @param {Document} document @param {string} id @param {string} wanted @returns {Document} */
export function copyRig(document, id, wanted) {
  const rig = byId(document.rigs, id);
  return rig ? { ...document, rigs: [...document.rigs, { ...rig, id: freeId(document.rigs, wanted) }] } : document;
}

/** A new rig of a usual kind, put on; the one before stays in the case, unless it stood for an answer. @param {Document} document @param {keyof typeof USUAL_RIGS} name @returns {Document} */
export function startRig(document, name) {
  const others = isNotSaid(document) ? document.rigs.filter(({ id }) => id !== NOT_SAID.id) : document.rigs;
  const id = freeId(others, USUAL_RIGS[name].id);
  const rig = rigOf(USUAL_RIGS[name], id, byId(document.days, document.inUse.day)?.filterMm);
  return putOnRig({ ...document, rigs: [...others, rig] }, id);
}

/** One more way to hold filters; the one in use stays, unless it stood for an answer. @param {Document} document @param {keyof typeof USUAL_RIGS} name @returns {Document} */
export function addRig(document, name) {
  const next = startRig(document, name);
  return isNotSaid(document) ? next : putOnRig(next, document.inUse.rig);
}
