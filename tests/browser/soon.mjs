/**
 * What a page shows soon, not at once: it hears a tap, asks a worker, opens
 * what was folded, each in a turn of its own. So what a test finds is asked
 * again until it is as it should be; that it never was is told by the last.
 */
import assert from "node:assert/strict";
import { until } from "./until.mjs";

/** @param {(...given: any[]) => void} holds an assertion, with what was found as its first */
const asked = (holds) => async (/** @type {() => any} */ find, /** @type {any[]} */ ...wanted) => {
  let failure;
  await until("what is asserted", async () => {
    try {
      holds(await find(), ...wanted);
      return true;
    } catch (error) {
      failure = error;
      return false;
    }
  }).catch(() => {
    throw failure;
  });
};

export const soon = {
  ok: asked(assert.ok), equal: asked(assert.equal), deepEqual: asked(assert.deepEqual), match: asked(assert.match),
  notEqual: asked(assert.notEqual), notDeepEqual: asked(assert.notDeepEqual), doesNotMatch: asked(assert.doesNotMatch),
};
