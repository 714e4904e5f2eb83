// @ts-check
/** The camera in one line: as read, or what differs in the shot and what that costs. */
import { WORKING_STOP } from "../../questions/stack.js";
import { asIfRead, OPEN_UP } from "../../questions/open-up.js";
import { answerTo } from "../../questions/question.js";
import { say } from "../../language/say.js";
import { fixed, signed, stopsText } from "../../language/numbers.js";
import { one } from "../../parts/dom.js";
import { mountDrawers } from "../../parts/drawer.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";

/** @typedef {import("../../start/start.js").App} App */
/** @typedef {import("../../document/setup.js").Light} Light */

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountSettings(root, app) {
  mountDrawers(root);
  const cost = one(root, ".now-extender-cost");
  const asked = cost.textContent;
  return () => {
    const line = one(root, ".now-camera-line");
    const { text, differs } = cameraLine(app);
    line.textContent = text;
    one(root, ".now-camera").classList.toggle("now-camera-differs", differs);
    cost.textContent = extenderCost(app.setup) || asked;
  };
}

/** What an extender takes; the ring's stop stands on the plate. @param {import("../../document/setup.js").Setup} setup */
function extenderCost(setup) {
  if (setup.lens.extender === undefined) return "";
  const { reply } = answerTo(WORKING_STOP, setup, setup.shot.aperture, false);
  return reply ? say("the extender takes {stops}", { stops: stopsText(reply.extenderLossStops) }) : "";
}

/** @param {App} app */
function cameraLine({ setup }) {
  const { reading, shot } = setup;
  const other = {
    ...(shot.exposureIndex !== undefined && shot.exposureIndex !== reading.exposureIndex ? { exposureIndex: shot.exposureIndex } : {}),
    ...(shot.frameRate !== undefined && shot.frameRate !== reading.frameRate ? { frameRate: shot.frameRate } : {}),
    ...(ownShutter(shot, reading) ? { shutterAngleDeg: shot.shutterAngleDeg, shutterSeconds: shot.shutterSeconds } : {}),
  };
  const told = [
    other.exposureIndex === undefined ? "" : say("EI {index}", { index: fixed(other.exposureIndex, 0) }),
    other.frameRate === undefined ? "" : say("{rate} fps", { rate: fixed(other.frameRate, 3) }),
    "shutterAngleDeg" in other ? KINDS_OF_FIELD.shutter.show(other) : "",
  ].filter(Boolean);
  if (told.length > 0) {
    const cost = costOf(setup);
    return { text: say("shoot {settings} {cost}", { settings: told.join(" · "), cost }).trim(), differs: true };
  }
  return {
    text: [say("EI {index}", { index: fixed(reading.exposureIndex, 0) }), fixed(reading.frameRate, 3), KINDS_OF_FIELD.shutter.show(reading)].join(" · "),
    differs: false,
  };
}

/** @param {Light} shot @param {Partial<Light>} reading */
function ownShutter(shot, reading) {
  if (shot.shutterAngleDeg === undefined && shot.shutterSeconds === undefined) return false;
  return shot.shutterAngleDeg !== reading.shutterAngleDeg || shot.shutterSeconds !== reading.shutterSeconds;
}

/** What the other settings add to the light, in stops. @param {import("../../document/setup.js").Setup} setup */
function costOf(setup) {
  const now = answerTo(OPEN_UP, asIfRead(setup)).reply;
  const asRead = answerTo(OPEN_UP, { ...asIfRead(setup), shot: { aperture: setup.shot.aperture } }).reply;
  if (!now || !asRead) return "";
  const stops = now.needStops - asRead.needStops;
  if (Math.abs(stops) < 0.005) return "";
  return Math.abs(stops - Math.round(stops)) < 0.005 ? signed(stops).replace(/[.,]00$/, "") : signed(stops);
}
