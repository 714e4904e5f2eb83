// @ts-check
/** The rings between a lens and what screws on it: what is asked, what they do. */
import { ask } from "../engine/ask.js";
import { say } from "../language/say.js";
import { fixed } from "../language/numbers.js";
import { question } from "./question.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../api/glasscall.js").CaseLens} CaseLens
 * @typedef {import("../api/glasscall.js").RingPathReply} RingPath
 * @typedef {import("../api/glasscall.js").OpeningRequest} Opening
 */

/** A lens as the rings ask for it; what it needs clear follows from its light where that is known. @param {Setup} setup @param {CaseLens} lens */
function ringLens({ sensor }, { id, threadMm, outerMm, needsClearMm, focalMm, tNumber, fNumber, pupilBehindRimMm }) {
  const number = fNumber ?? tNumber;
  const known = focalMm !== undefined && number !== undefined && pupilBehindRimMm !== undefined;
  return {
    id,
    ...(threadMm === undefined ? { outerMm } : { threadMm }),
    ...(needsClearMm === undefined ? {} : { needsClearMm }),
    ...(needsClearMm === undefined && known
      ? { fit: { sensor, focalLengthMm: focalMm, fNumber: number, pupilBehindRimMm } }
      : {}),
  };
}

/** Every lens of the case to a thread. */
export const RINGS = question("rings", ringsRequest, { "": "plan" });

/**
 * @param {Setup} setup
 * @param {number} filterMm
 * @param {CaseLens[]} [lenses]
 */
function ringsRequest(setup, filterMm, lenses = setup.stock.lenses) {
  const { ringOffers } = setup.plan;
  return {
    filterMm,
    lenses: lenses
      .filter((lens) => lens.threadMm !== undefined || lens.outerMm !== undefined)
      .map((lens) => ringLens(setup, lens)),
    owned: setup.stock.rings,
    ...(ringOffers.length === 0 ? {} : { catalogue: ringOffers }),
  };
}

/** Rings one behind the other as openings of the light. @param {RingPath} path @returns {Opening[]} */
export function ringOpenings({ rings }) {
  let from = 0;
  return rings.map(({ fromMm, toMm, depthMm, clearMm }) => {
    const opening = {
      name: say("ring {from} → {to}", { from: fixed(fromMm, 1), to: fixed(toMm, 1) }),
      distanceFromRimMm: from,
      ...(depthMm > 0 ? { depthMm } : {}),
      shape: /** @type {const} */ ("circle"),
      diameterMm: clearMm,
    };
    from += depthMm;
    return opening;
  });
}

/** An opening farther out. @param {Opening} opening @param {number} by */
export const movedOut = (opening, by) => (by === 0 ? opening : { ...opening, distanceFromRimMm: opening.distanceFromRimMm + by });

/** The owned rings of a lens to a rig that screws on; nothing for one on rods. @param {Setup} setup @param {CaseLens} lens @param {number | undefined} threadMm @returns {RingPath | undefined} */
function ringsOf(setup, lens, threadMm) {
  if (threadMm === undefined) return undefined;
  const request = { ...RINGS.request(setup, threadMm, [lens]), catalogue: [] };
  return ask("rings", request).reply?.lenses[0];
}

/** The rings on the lens in use, where it is one of the case. @param {Setup} setup @returns {RingPath | undefined} */
export function ringsInUse(setup) {
  const lens = setup.lens.withoutRings ? undefined : setup.stock.lenses.find(({ id }) => id === setup.lens.id);
  const path = lens && ringsOf(setup, lens, setup.rig.threadMm);
  return path?.reaches && path.rings.length > 0 ? path : undefined;
}
