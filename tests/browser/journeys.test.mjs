/** Fit and Light gone through by one thumb on a phone, from question to question. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { Hand } from "../taps/hand.mjs";
import { PHONE, open, ready, servedPage } from "./harness.mjs";

const { browser, server } = await servedPage();

/** @param {(hand: Hand) => Promise<void>} act */
async function byThumb(act) {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true });
  const { page, errors } = await open(context, server.url);
  await ready(page);
  await act(new Hand(page));
  assert.deepEqual(errors, []);
  await context.close();
}

test("Fit: from the word on Now to a lens, a rig, a stage and what would do", () => byThumb(async (hand) => {
  const verdict = "#fit [data-answer=fit]";
  await hand.tap("#now [data-answer=fit]");
  await hand.see(verdict, /Clear.*mm to spare.*50 mm Pupil/);
  // The demo's lens at its widest, T2, is clear there already: no stop has to be named.
  await hand.see("#fit .fit-notes", /Clear at every stop/);
  await hand.pick("#fit select[data-switch=lens]", "24 mm");
  await hand.see(verdict, /24 mm Pupil/);
  await hand.pick("#fit select[data-switch=rig]", "screw-in");
  await hand.see(verdict, /Clear|Shades|Clips|Not known/);
  await hand.pick("#fit select[data-switch=rig]", "matte box");
  await hand.tap("#fit summary:has-text('rotating')");
  await hand.see("#fit .fit-row details[open] .fit-row-more", /Clear at every turn|Turn it within/);
  assert.ok(hand.swipes <= 1, `${hand.swipes} swipes to the stage that turns`);
  await hand.tap(`${verdict} [data-do=turn]`);
  await hand.see(".drawer-made", /What would leave this room/);
  await hand.tap(".drawer-made .drawer-head button");
  assert.ok(hand.swipes <= 3, `${hand.swipes} swipes`);
  assert.equal(hand.fields, 0, "nothing had to be typed");
}));

test("Light: place, first plan, sky, readings by the pad and the newest to Now, a flag", () => byThumb(async (hand) => {
  const view = (/** @type {string} */ name) => hand.tap(`.light-views a[href="#light?${name}"]`);
  await hand.go("light");
  await hand.type("#light-place", "52, 5");
  await hand.see("#light [data-answer=sun]", /5\d\.\d° up/);
  await view("plan");
  await hand.pick("#light [data-do=facing]", "a face or card turned to the sun");
  await hand.see("#light [data-answer=plan]", /T\d/);
  await view("sky");
  await hand.tap("#light .dial-aims button");
  await hand.see("#light [data-answer=sky]", /darker/);
  await view("drift");
  for (const [full, at] of [["T11", "14:00"], ["T8", "14:30"]]) {
    // Thirds without a keyboard.
    await hand.tap("#timed");
    await hand.tap(`.stop-pad [aria-label="${full}"]`);
    await hand.tap(".stop-pad .pad-key:text-is('+⅓')");
    await hand.tap(".stop-pad .pad-head button");
    await hand.type("#timed-at", at);
    await hand.tap("[data-do=note]");
  }
  await hand.see("#light .timed", /14:00 T11⅓.*14:30 T8⅓/);
  await view("flag");
  await hand.type("#aim-az", "180");
  await hand.see("#light [data-answer=flag]", /flag/i);
  assert.ok(hand.swipes <= 2, `${hand.swipes} swipes`);
  await view("drift");
  await hand.tap("[data-do=newest-to-now]");
  await hand.see("#read-stop", /^T8⅓$/);
}));
