// @ts-check
/** How what stands beside the answer is worked out: depth, the lens as it works, close-up lenses, colour. */
import { worked, workingsOfLens } from "../../questions/workings.js";
import { openWorkings } from "../../parts/working.js";

/**
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../api/glasscall.js").OfferReply} Offer
 */

/** @param {HTMLElement} opener @param {Setup} setup @param {number} aperture to set @param {Offer | undefined} stack */
export const openDepthWorking = (opener, setup, aperture, stack) => openWorkings(opener, workingsOfLens(setup, aperture, stack));

/** @param {HTMLElement} opener @param {import("../../questions/workings.js").Question[]} asked */
export const openWorked = (opener, asked) => openWorkings(opener, worked(asked));
