// @ts-check
/** Leaves the browser a moment between two pieces of work, so that a tap or a picture need not wait for both. */

/** @type {{scheduler?: {yield?: () => Promise<void>}}} */
const { scheduler } = globalThis;

/** @returns {Promise<unknown>} */
export const turn = () => scheduler?.yield?.() ?? new Promise((done) => setTimeout(done));
