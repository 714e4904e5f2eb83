// @ts-check
/** Named edits that the list of pieces alone makes: pieces and slots under other names. */
import { given } from "./document.js";
import { whatIsIn } from "./keep-whole.js";

/** @typedef {import("./document.js").Document} Document */

/** A piece under another name, everywhere. @param {Document} document @param {string} from @param {string} to @returns {Document} */
export function renamePiece(document, from, to) {
  const named = (/** @type {string} */ id) => (id === from ? to : id);
  const rigs = Object.entries(document.today.rigs).map(([rig, { inPlace }]) =>
    [rig, { inPlace: inPlace.map(({ slot, piece }) => ({ slot, piece: named(piece) })) }]);
  const { light, reading, frame } = document;
  const lines = frame.lines?.map((line) => ({ ...line, piece: named(line.piece) }));
  const next = {
    ...document,
    kit: document.kit.map((piece) => ({ ...piece, id: named(piece.id) })),
    keep: document.keep.map(named),
    today: { ...document.today, rigs: Object.fromEntries(rigs) },
    frame: given({ ...frame, grad: named(frame.grad), lines, bright: given({ ...frame.bright, through: frame.bright.through?.map(named) }) }),
    reading: { ...reading, through: reading.through.map(named) },
    light: { ...light, timed: light.timed.map((timed) => ({ ...timed, through: timed.through.map(named) })) },
  };
  const { name } = whatIsIn(next);
  return reading.inThen === whatIsIn(document).name ? { ...next, reading: { ...next.reading, inThen: name } } : next;
}

/** A slot of the rig in use under another name. @param {Document} document @param {string} from @param {string} to @returns {Document} */
export function renameSlot(document, from, to) {
  const id = document.inUse.rig ?? "";
  const named = (/** @type {string} */ slot) => (slot === from ? to : slot);
  const { inPlace = [] } = document.today.rigs[id] ?? {};
  return {
    ...document,
    rigs: document.rigs.map((rig) => (rig.id === id ? { ...rig, slots: rig.slots.map((slot) => ({ ...slot, id: named(slot.id) })) } : rig)),
    today: { ...document.today, rigs: { ...document.today.rigs, [id]: { inPlace: inPlace.map(({ slot, piece }) => ({ slot: named(slot), piece })) } } },
  };
}
