// @ts-check
/** What stands below the answer: the rig, the stack as a card, depth, colour, what else is asked. */
import { shotSettings } from "../../questions/open-up.js";
import { say } from "../../language/say.js";
import { fixed, signed } from "../../language/numbers.js";
import { askedWords } from "../../parts/asked-words.js";
import { showChips } from "../../parts/chips.js";
import { all, one } from "../../parts/dom.js";
import { LAMPS } from "../../questions/depth-and-colour.js";
import { flickerRows } from "../../parts/flicker.js";
import { figureWords, workButton } from "./work-button.js";
import { turn } from "../../parts/turn.js";
import { stackCard } from "../../parts/stack-card.js";
import { mountAssumed } from "./assumed.js";
import { mountColour } from "./colour.js";
import { mountDepth } from "./depth.js";
import { mountRamp } from "./ramp.js";
import { mountRig } from "./rig.js";
import { mountWish } from "./wish.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../api/glasscall.js").OfferReply} Offer
 */

/** @param {HTMLElement} root @param {App} app @returns {(stack: Offer | undefined) => Promise<void>} draws part by part; fulfilled when all stand, or others are drawn */
export function mountBelow(root, app) {
  const parts = [
    mountRig(root, app),
    mountWish(root, app),
    mountRamp(root, app),
    mountKeep(root, app),
    mountAssumed(root, app),
    () => showLamps(root, app),
  ];
  const ofStack = [mountDepth(root, app), mountColour(root, app)];
  // Until now nobody listened there.
  for (const part of all(root, "[data-below]")) part.inert = false;
  let drawn = 0;
  return async (stack) => {
    drawn += 1;
    const mine = drawn;
    for (const show of [...parts, () => showMore(root, app, stack), ...ofStack.map((part) => () => part(stack))]) {
      show();
      await turn();
      // A newer answer draws all of it anew.
      if (mine !== drawn) return;
    }
  };
}

/** @param {HTMLElement} root @param {App} app */
function mountKeep(root, app) {
  return () => {
    const { kit, keep } = app.setup;
    one(root, ".now-keep-line").textContent = keep.join(", ") || say("none");
    showChips(one(root, "[data-chips=keep]"), kit.map(({ id }) => ({ id, on: keep.includes(id) })), (id) =>
      app.change((setup) => {
        setup.keep = setup.keep.includes(id) ? setup.keep.filter((other) => other !== id) : [...setup.keep, id];
      }));
  };
}

/** @param {HTMLElement} root @param {App} app */
function showLamps(root, app) {
  const shot = shotSettings(app.setup);
  one(root, ".flicker").replaceChildren(...flickerRows(shot.frameRate, shot, (degrees) =>
    app.change((next) => {
      next.shot.shutterAngleDeg = degrees;
      delete next.shot.shutterSeconds;
      delete app.drafts["shot.shutter"];
    }), (text, nth) => figureWords(text, "turn-lamps", (figures, opener) => figures.openLamps(opener, app, nth))), workButton("flicker", (worked, opener) => worked.openWorked(opener, [["flicker", LAMPS.request(shot.frameRate, shot)]])));
}

/** @param {HTMLElement} root @param {App} app @param {Offer | undefined} stack */
function showMore(root, app, stack) {
  const box = one(root, ".now-more");
  box.hidden = !stack;
  if (!stack) return;
  one(box, ".now-more-line").textContent = say("takes {stops}, {left} left", { stops: fixed(stack.stops, 2), left: signed(stack.leftOverStops) });
  one(box, ".best").replaceChildren(stackCard(app, stack, stack.moves === 0 ? say("stack|In") : say("stack|Put in"), undefined));
  // What the card sums up is the answer's: its figures open as they do there.
  for (const line of all(box, ".stack-left, .stack-sum, .trims li")) {
    line.replaceChildren(askedWords(line.textContent ?? "", "turn-card", async (opener) => (await import("./turned.js")).turnStack(opener, app, stack)));
  }
}
