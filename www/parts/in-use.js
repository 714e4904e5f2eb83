// @ts-check
/** What there is to pick, and what it is called. */
import { say } from "../language/say.js";

/** @typedef {import("../document/setup.js").Setup} Setup */

/** The lenses of the case, and which is on. @param {Setup} setup @returns {{ids: string[], on: string | undefined}} */
export function lensesToPick({ stock, inUse }) {
  const ids = stock.lenses.map(({ id }) => id);
  return { ids, on: ids.find((id) => id === inUse.lens) };
}

/** The rigs of the case, and which is on. @param {Setup} setup @returns {{ids: string[], on: string | undefined}} */
export function rigsToPick({ stock, inUse }) {
  const ids = stock.rigs.map(({ id }) => id);
  return { ids, on: ids.find((id) => id === inUse.rig) };
}

/** What is on and has no name. @param {Setup} setup */
export const rigName = ({ rig, inUse }) => inUse.rig || { screwIn: say("mount|screw-in"), snapOn: say("mount|snap-on"), matteBox: say("mount|matte box") }[rig.mount];
