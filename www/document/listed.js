// @ts-check
/** What a list held goes into the case: pieces and lenses, and the sizes that rigs get from them. */
import { byId, freeId } from "./document.js";
import { putOnLens } from "./edits.js";

/**
 * @typedef {import("./document.js").Document} Document
 * @typedef {import("./document.js").Piece} Piece
 * @typedef {import("../api/glasscall.js").ListedReply} Listed
 */

/** All of a list at once. @param {Document} document @param {Listed[]} listed @returns {Document} */
export function addListed(document, listed) {
  const lenses = listed.flatMap(({ lens }) => lens ?? []);
  const next = {
    ...document,
    demo: false,
    kit: pieces(document.kit, listed.flatMap(({ piece }) => piece ?? [])),
    lenses: lenses.reduce((list, lens) => [...list, { ...lens, id: freeId(list, lens.id) }], document.lenses),
  };
  const first = next.lenses[document.lenses.length];
  // The first lens of a case goes on: somebody would, and Now has one to answer for.
  return sized(document.inUse.lens === undefined && first ? putOnLens(next, first.id) : next);
}

/** Those listed alike are several of one. @param {Piece[]} kit @param {Piece[]} listed */
function pieces(kit, listed) {
  /** @type {Piece[]} */
  const alike = [];
  for (const piece of listed) {
    const same = alike.find((one) => one.id === piece.id && one.kind === piece.kind && one.size === piece.size && one.density === piece.density);
    if (same) same.count = Math.min(99, (same.count ?? 1) + (piece.count ?? 1));
    else alike.push({ ...piece });
  }
  return alike.reduce((list, piece) => [...list, { ...piece, id: nameOf(list, piece) }], kit);
}

/** A second one of another size is told by it. @param {Piece[]} kit @param {Piece} piece */
function nameOf(kit, { id, size }) {
  const wanted = byId(kit, id) && size ? `${id} ${size}` : id;
  return freeId(kit, wanted);
}

/** Whether a size is a rim's and not a panel's. @param {string} size */
export const isRound = (size) => size !== "" && !/x/i.test(size);

/** Sizes of the pieces, each once. @param {Piece[]} kit */
const sizesIn = (kit) => [...new Set(kit.map(({ size }) => size ?? "").filter(Boolean))];

/**
 * A rig whose slots have no size yet takes that of its pieces, where there is
 * only one: rims for threads, panels for trays.
 * @param {Document} document @returns {Document}
 */
export function sized(document) {
  const sizes = sizesIn(document.kit);
  const rigs = document.rigs.map((rig) => {
    const fitting = sizes.filter((size) => isRound(size) === (rig.mount === "screwIn"));
    if (fitting.length !== 1 || rig.slots.some(({ size }) => size)) return rig;
    const [size = ""] = fitting;
    const thread = rig.mount === "screwIn" ? { threadMm: Number.parseFloat(size) } : {};
    return { ...rig, ...thread, slots: rig.slots.map((slot) => ({ ...slot, size })) };
  });
  return { ...document, rigs };
}

/** Sizes of pieces that no slot of any rig takes. @param {Pick<Document, "kit" | "rigs">} document */
export function strandedSizes({ kit, rigs }) {
  const taken = (/** @type {string} */ size) =>
    rigs.some(({ slots }) => slots.some((slot) => !slot.size || slot.size.toLowerCase() === size.toLowerCase()));
  return sizesIn(kit).filter((size) => !taken(size));
}
