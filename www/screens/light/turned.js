// @ts-check
/** The sky's darkening asked back: where to aim for it, and how high. */
import { ask } from "../../engine/ask.js";
import { skyRequest } from "../../questions/light.js";
import { say } from "../../language/say.js";
import { fixed } from "../../language/numbers.js";
import { bearing } from "../../language/words/light.js";
import { openTurned } from "../../parts/turned.js";

/**
 * @param {HTMLElement} opener
 * @param {import("../../start/start.js").App} app
 * @param {import("../../api/glasscall.js").SunReply} sun
 * @param {number} stops what it is now
 */
export function turnSky(opener, app, sun, stops) {
  const request = skyRequest(app.setup, sun);
  // The figure that opens this is only there with an aim.
  if (!request) return;
  const found = (/** @type {string} */ path, /** @type {number} */ from, /** @type {number} */ to, /** @type {number} */ is) =>
    ask("solve", { question: "sky", request, unknown: { path, from, to }, wanted: { path: "darkeningStops", is } }).reply;
  const aim = (/** @type {"azimuthDeg" | "elevationDeg"} */ name) => (/** @type {number} */ value) => {
    delete app.drafts[`light.aim.${name}`];
    app.change(({ light }) => {
      light.aim[name] = value;
    }, true, undefined, say("undo|what was asked back"));
  };
  openTurned(opener, {
    title: say("What would darken the sky so"),
    wanted: { label: say("Stops darker at the centre"), kind: "thirds", is: Math.round(stops * 3) / 3 },
    turns: (is) => [
      { name: say("Aim"), found: found("aimAzimuthDeg", 0, 360, is), show: bearing, take: aim("azimuthDeg") },
      { name: say("Aim above the horizon"), found: found("aimElevationDeg", 0, 80, is), show: (value) => `${fixed(value, 1)}°`, take: aim("elevationDeg") },
      { name: say("Sun’s height"), found: found("sunElevationDeg", 0, 80, is), show: (value) => `${fixed(value, 1)}°` },
    ],
    more: [],
  });
}
