// @ts-check
/** What a crew asks about the glass itself: order, quick changes, one piece to carry, the sun behind it. */
import { ask } from "../engine/ask.js";
import { OPEN_UP } from "./open-up.js";
import { readingFor } from "./turned.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../api/glasscall.js").OfferReply} Offer
 */

/** What to lose. */
export const QUICK_STOPS = 2;

/**
 * From each stack the change with the fewest moves that takes two stops less.
 * @param {Setup} setup @param {Offer[]} stacks
 * @returns {{from: Offer, to: Offer, seconds?: number}[]} quickest first
 */
export function quickChanges(setup, stacks) {
  const { minutesPerMove } = setup.rig;
  const found = stacks.flatMap((from) => {
    const aperture = readingFor(setup, from.stops + from.leftOverStops - QUICK_STOPS);
    if (aperture === undefined) return [];
    const { fit: _, ...request } = OPEN_UP.request({ ...setup, inPlace: from.slots.map(({ slot, piece }) => ({ slot, piece })) });
    // Beside what this stack leaves already.
    const { reply } = ask("openUp", { ...request, reading: { ...request.reading, aperture }, quickestLeavingStops: from.leftOverStops, limit: 50 });
    const to = reply?.quickest === undefined ? undefined : reply.stacks[reply.quickest];
    return to ? [{ from, to, ...(minutesPerMove === undefined ? {} : { seconds: to.moves * minutesPerMove * 60 }) }] : [];
  });
  return found.sort((a, b) => a.to.moves - b.to.moves);
}

/** The one piece to carry: what comes nearest alone. @param {Setup} setup */
export function onePiece(setup) {
  const { fit: _, ...request } = OPEN_UP.request(setup);
  return ask("openUp", { ...request, rig: { slots: [{ id: "hand", rotates: true }] }, wheel: [], inPlace: [], keep: [], limit: 1 }).reply?.stacks[0];
}

/**
 * Surfaces whose shine a polarizer takes, with the index of what shines.
 * Water 1.333 (CRC Handbook); crown glass 1.52 (catalogues of optical glass);
 * cheeks 1.51 to 1.53 at 550 nm (J. Biomed. Opt. 18(3), 037002, 2013, abstract);
 * walls of leaf cells 1.425, Applied Optics 13(1), 109–111 (1974), for their surface. That leaves polarize
 * by their surface: Physiologia Plantarum (1993), DOI 10.1111/j.1399-3054.1993.tb01753.x, abstract.
 * @type {[name: "road" | "glass" | "leaves" | "skin", refractiveIndex: number][]}
 */
const SURFACES = [["road", 1.333], ["glass", 1.52], ["leaves", 1.425], ["skin", 1.52]];

/** At which angle from straight on each loses its shine. */
export const brewsterAngles = () => SURFACES.map(([name, refractiveIndex]) =>
  ({ name, refractiveIndex, deg: ask("reflection", { refractiveIndex, angleDeg: 45 }).reply?.brewsterDeg ?? 0 }));
