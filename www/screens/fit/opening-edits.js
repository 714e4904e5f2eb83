// @ts-check
/** What can be done to an opening of the set-up. */
import { openingsOf } from "../../questions/fit.js";
import { say } from "../../language/say.js";
import { valueAt } from "../../document/path.js";

/**
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../api/glasscall.js").OpeningRequest} Opening
 */

/** Where a new opening is put: ahead of all others. */
const GAP = 10;

/** One more, of nobody's slot. @param {Setup} setup */
export function addRing(setup) {
  setup.rig.always.push({ name: say("ring {number}", { number: setup.rig.always.length + 1 }), distanceFromRimMm: free(setup), shape: "circle", diameterMm: 78 });
}

/** Another size in the same place. @param {Setup} setup @param {string} path @param {Partial<Opening>} shape */
export function resize(setup, path, shape) {
  const { widthMm: _w, heightMm: _h, diameterMm: _d, ...kept } = valueAt(setup, path) ?? { distanceFromRimMm: free(setup) };
  write(setup, path, { ...kept, ...shape });
}

/** A ring goes; of a slot only its opening does. @param {Setup} setup @param {string} path */
export function forget(setup, path) {
  const always = path.match(/^rig\.always\[(\d+)\]/);
  if (always) setup.rig.always.splice(Number(always[1]), 1);
  else write(setup, path, undefined);
}

/** Room for one more opening, ahead of all that are there. @param {Setup} setup */
function free(setup) {
  const ends = openingsOf(setup).map(({ opening }) => opening.distanceFromRimMm + (opening.depthMm ?? 0));
  return ends.length === 0 ? GAP / 2 : Math.ceil(Math.max(...ends)) + GAP;
}

/** @param {Setup} setup @param {string} path @param {Opening | undefined} opening */
function write(setup, path, opening) {
  const at = Number(path.match(/\[(\d+)\]/)?.[1]);
  const slot = setup.rig.slots[at];
  if (path.startsWith("rig.always")) setup.rig.always[at] = /** @type {Opening} */ (opening);
  else if (opening === undefined) delete slot?.opening;
  else if (slot) slot.opening = opening;
}
