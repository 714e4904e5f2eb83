// @ts-check
/** How the depth at the stop to set is worked out. */
import { ask } from "../../engine/ask.js";
import { openWorking } from "../../parts/working.js";

/** @param {HTMLElement} opener @param {any} request */
export const openDepthWorking = (opener, request) => openWorking(opener, ask("depth", { ...request, explain: true }).reply?.working);
