// @ts-check
/** Whether the lists of the case may be as they are: what its forms ask while somebody types. */
import { question } from "./question.js";

/** @typedef {import("../document/setup.js").Setup} Setup */

/** Lists as they would stand in a case file. @param {any} lists */
const asFile = (lists) => ({ case: lists, as: /** @type {const} */ ("json") });

export const STOCK = question("writeCase", (/** @type {Setup} */ { stock }) => asFile(stock), { "": "stock" });
export const RIGS = question("writeCase", (/** @type {Setup} */ { stock: { rigs, slots } }) => asFile({ rigs, slots }), { "": "stock" });
export const RING_OFFERS = question("writeCase", (/** @type {Setup} */ { plan: { ringOffers } }) => asFile({ ringOffers }), { "": "plan" });
/** What the rig in use is besides its slots. */
export const RIG_IN_USE = question("writeCase", rigInUse, { "rigs[0]": "rig" });
/** The day without its lists. */
export const DAY = question("writeCase", day, { "case.days[0]": "plan", "days[0]": "plan" });
export const WARES = question("coverKit", (/** @type {Setup} */ { plan }) => ({ needs: [], catalogue: plan.wares }), { catalogue: "plan.wares" });
export const SET_UPS = question("orderDay", (/** @type {Setup} */ { plan }) => ({ setUps: plan.setUps, order: /** @type {const} */ ("fixed") }), { "": "plan" });
export const COUNTER_ARM = question("weight", counterArm, { "": "plan" });

/** @param {Setup} setup */
function rigInUse({ rig: { slots: _, always: __, ...facts } }) {
  return asFile({ rigs: [{ ...facts, id: facts.id || "rig" }] });
}

/** @param {Setup} setup */
function day({ plan: { setUps: _, wares: __, ringOffers: ___, wanted: ____, frameRates: _____, ...facts } }) {
  return asFile({ days: [facts] });
}

/** @param {Setup} setup */
function counterArm({ plan: { counterArmMm } }) {
  return { items: [], ...(counterArmMm === undefined ? {} : { counterArmMm }) };
}
