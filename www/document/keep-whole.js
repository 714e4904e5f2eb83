// @ts-check
/** What keeps a document whole: nothing names what is gone, names follow. Pure. */
import { byId, given } from "./document.js";

/** @typedef {import("./document.js").Document} Document */

/** What is in front of and behind the lens now. @param {Document} document @returns {{pieces: string[], wheelDensity: number | undefined, name: string}} */
export function whatIsIn({ today, inUse, bodies }) {
  const pieces = (today.rigs[inUse.rig ?? ""]?.inPlace ?? []).map(({ piece }) => piece);
  const at = today.bodies[inUse.body ?? ""]?.wheelNow ?? 0;
  const wheel = byId(bodies, inUse.body)?.wheel ?? [];
  const isThere = at > 0 && wheel.some((position) => (position.measuredDensity ?? position.density) === at);
  const wheelDensity = isThere ? at : undefined;
  return { pieces, wheelDensity, name: JSON.stringify([[...pieces].sort(), wheelDensity ?? 0]) };
}

/**
 * A record that stands where another stood under another name is the same
 * record: what is in use and what differs today follow.
 * @param {Document} document
 * @param {"lens" | "rig" | "body"} kind
 * @param {"lenses" | "rigs" | "bodies"} list
 * @param {{id: string}[]} after
 * @returns {Document}
 */
export function renamed(document, kind, list, after) {
  const before = document[list];
  if (before.length !== after.length) return document;
  let next = document;
  before.forEach(({ id: from }, at) => {
    const to = after[at]?.id ?? from;
    if (from === to || after.some(({ id }) => id === from)) return;
    const { [from]: differs, ...others } = /** @type {Record<string, any>} */ (next.today[list]);
    next = {
      ...next,
      today: { ...next.today, [list]: differs === undefined ? others : { ...others, [to]: differs } },
      inUse: next.inUse[kind] === from ? { ...next.inUse, [kind]: to } : next.inUse,
    };
  });
  return next;
}

/** A line is remembered as long as its filter is in a rig. @param {Document["frame"]} frame @param {Set<string>} ids @param {Document["today"]["rigs"]} inRigs */
function frameWith(frame, ids, inRigs) {
  const { bright } = frame;
  const grad = ids.has(frame.grad) ? frame.grad : "";
  const through = bright.through?.filter((id) => ids.has(id));
  const isIn = new Set(Object.values(inRigs).flatMap(({ inPlace }) => inPlace.map(({ piece }) => piece)));
  const lines = frame.lines?.filter(({ piece }) => piece !== grad && isIn.has(piece));
  return given({ ...frame, grad, lines: lines?.length ? lines : undefined, ...(through ? { bright: { ...bright, through } } : {}) });
}

/** Nothing names a piece, slot or record that is gone. @param {Document} document @returns {Document} */
export function forgetWhatIsGone(document) {
  const { kit, rigs, lenses, bodies, days, light, reading, inUse } = document;
  const ids = new Set(kit.map(({ id }) => id));
  const inRigs = Object.fromEntries(rigs.flatMap(({ id, slots }) => {
    const inPlace = (document.today.rigs[id]?.inPlace ?? [])
      .filter(({ piece, slot }) => ids.has(piece) && slots.some((one) => one.id === slot));
    return inPlace.length === 0 ? [] : [[id, { inPlace }]];
  }));
  const there = (/** @type {Record<string, any>} */ all, /** @type {{id: string}[]} */ list) =>
    Object.fromEntries(Object.entries(all).filter(([id, differs]) => (id === "" || byId(list, id)) && Object.keys(differs).length > 0));
  const body = byId(bodies, inUse.body);
  const used = {
    lens: byId(lenses, inUse.lens)?.id,
    rig: byId(rigs, inUse.rig)?.id,
    body: body?.id,
    mode: byId(body?.modes ?? [], inUse.mode)?.id,
    day: byId(days, inUse.day)?.id,
  };
  return {
    ...document,
    inUse: Object.fromEntries(Object.entries(used).filter(([, id]) => id !== undefined)),
    today: { lenses: there(document.today.lenses, lenses), rigs: inRigs, bodies: there(document.today.bodies, bodies) },
    keep: document.keep.filter((id) => ids.has(id)),
    frame: frameWith(document.frame, ids, inRigs),
    reading: { ...reading, through: reading.through.filter((id) => ids.has(id)) },
    // A reading through glass nobody knows any more says nothing.
    light: { ...light, timed: light.timed.filter(({ through }) => through.every((id) => ids.has(id))) },
  };
}
