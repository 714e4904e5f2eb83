// @ts-check
/** Answers that can stand side by side: other stacks, rigs, lenses, hours. None of them is taken. */
import { ask } from "../engine/ask.js";
import { putOnLens, putOnRig } from "../document/edits.js";
import { answerOf } from "./check.js";
import { momentOf } from "./turned.js";

/**
 * @typedef {import("../document/document.js").Document} Document
 * @typedef {import("../api/glasscall.js").OfferReply} Offer
 * @typedef {{kind: "stack" | "rig" | "lens" | "hour", name: string, need: number, stack: Offer, aperture: number, setup: import("../document/setup.js").Setup}} Side
 */

/** What it is like some hours on, by a clear sky's curve from the reading. @param {Document} document @param {number} hours @returns {Document | undefined} */
function later(document, hours) {
  const { setup } = answerOf(document);
  const { place } = setup.light;
  if (!place) return undefined;
  const start = new Date(momentOf(setup)).getTime();
  const [now, then] = [0, hours].map((shift) => {
    const sun = ask("sun", { ...place, time: new Date(start + shift * 3_600_000).toISOString() }).reply;
    return sun && ask("daylight", { sunElevationDeg: sun.elevationDeg }).reply?.ev100;
  });
  const { exposureIndex, frameRate, shutterAngleDeg, shutterSeconds, aperture } = setup.reading;
  const settings = { exposureIndex, frameRate, shutterAngleDeg, shutterSeconds };
  const read = ask("exposure", { ...settings, aperture }).reply?.ev100;
  if (now === undefined || then === undefined || read === undefined) return undefined;
  const found = ask("exposure", { ...settings, ev100: read + then - now }).reply;
  return found && { ...document, reading: { ...document.reading, aperture: found.aperture } };
}

/** @param {Document} document @param {Side["kind"]} kind @param {string} name @param {number} [nth] @returns {Side[]} */
function sideOf(document, kind, name, nth = 0) {
  const { reply, setup } = answerOf(document);
  const stack = reply?.stacks[nth];
  const { aperture } = document.reading;
  return reply && stack && aperture !== undefined ? [{ kind, name, need: reply.needStops, stack, aperture, setup }] : [];
}

/** All that can be compared, the best as it is first. @param {Document} document @returns {Side[]} */
export function sidesOf(document) {
  const { setup, reply } = answerOf(document);
  const others = (/** @type {string | undefined} */ on, /** @type {{id: string}[]} */ list) => list.filter(({ id }) => id !== on);
  return [
    ...(reply?.stacks ?? []).flatMap((_, nth) => sideOf(document, "stack", "", nth)),
    ...others(setup.inUse.rig, setup.stock.rigs).flatMap(({ id }) => sideOf(putOnRig(document, id), "rig", id)),
    ...others(setup.inUse.lens, setup.stock.lenses).flatMap(({ id }) => sideOf(putOnLens(document, id), "lens", id)),
    ...[1, 2, 3].flatMap((hours) => {
      const then = later(document, hours);
      return then ? sideOf(then, "hour", String(hours)) : [];
    }),
  ];
}
