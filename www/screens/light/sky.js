// @ts-check
/** The sky through a polarizer: the ring, the corners, the dial and the day. */
import { ask } from "../../engine/ask.js";
import { aimsRequest, askHours, skyRequest } from "../../questions/light.js";
import { say } from "../../language/say.js";
import { signed, stopsText } from "../../language/numbers.js";
import { LIGHT_WORDS, SKY_VERDICTS, bearing, clockText, clockTime, skyText } from "../../language/words/light.js";
import { el, one } from "../../parts/dom.js";
import { dayStrip, ringClock, skyDial } from "../../parts/sky-pictures.js";
import { turnSky } from "./turned.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../api/glasscall.js").SunReply} Sun
 */

/** The sun this near the lens axis calls for its caution, degrees. */
const NEAR_SUN = 40;

/** @param {HTMLElement} root @param {App} app @param {string} at @param {Sun | undefined} sun */
export function showSky(root, app, at, sun) {
  const answer = one(root, ".sky-answer");
  const pictures = one(root, ".sky-pictures");
  const more = one(root, ".sky-more");
  const why = (/** @type {string} */ text) => {
    answer.replaceChildren(el("p", { class: "plate-why", text }));
    more.textContent = "";
  };
  const request = sun && skyRequest(app.setup, sun);
  const sky = request && ask("sky", request).reply;
  const { place, aim } = app.setup.light;
  if (!sun || sky?.verdict === "sunDown") {
    pictures.replaceChildren();
    return why(place ? LIGHT_WORDS.skyDark : LIGHT_WORDS.noPlace);
  }
  if (!sky) why(LIGHT_WORDS.noAim);
  else {
    const near = sun.elevationDeg > -1 && sky.angleFromSunDeg < NEAR_SUN;
    const darkens = sky.verdict !== "noSky";
    answer.replaceChildren(
      ...(near ? [el("p", { class: "plate-warn", text: LIGHT_WORDS.sunNear })] : []),
      ...(darkens ? [el("p", { class: "plan-line" },
        el("button", { type: "button", class: "plan-stop asked-back", "data-do": "turn-sky", "data-opens": "turn sky", onclick: (/** @type {Event} */ event) =>
          turnSky(/** @type {HTMLElement} */ (event.currentTarget), app, sun, sky.darkeningStops) }, signed(sky.darkeningStops)),
        el("span", { text: say("stops darker at the centre, ring at {clock}", { clock: clockText(sky.polarizerDeg) }) }))] : []),
      el("p", { class: "sky-verdict", text: SKY_VERDICTS[sky.verdict] ?? sky.verdict }),
      ...(darkens ? [cornerTable(sky)] : []));
    more.textContent = darkens ? [...turnedText(request, sky), skyText(sky, stopsText(sky.spreadStops))].join(" ") : "";
  }
  const dial = ask("skyAims", aimsRequest(app.setup, sun)).reply?.aims ?? [];
  const hours = askHours(app.setup, at).reply?.hours ?? [];
  return pictures.replaceChildren(
    ...(sky ? [el("figure", {}, ringClock(sky.polarizerDeg), el("figcaption", { text: say("The ring") }))] : []),
    el("figure", {}, skyDial(dial, sun.azimuthDeg, aim.azimuthDeg), el("figcaption", {}, say("Darkest towards"),
      el("span", { class: "dial-aims" }, ...bestAims(dial).map((azimuthDeg) =>
        el("button", { type: "button", onclick: () => aimAt(app, azimuthDeg) }, bearing(azimuthDeg)))))),
    ...(hours.length ? [el("figure", { class: "sky-day" }, dayStrip(hours, at), el("figcaption", { text: bestHours(hours) }))] : []));
}

/** By how much the exposure of this sky changes from the darkest to the brightest turn. @param {any} request @param {import("../../api/glasscall.js").SkyReply} sky */
function turnedText(request, { polarizerDeg, darkeningStops }) {
  const { reply } = ask("sky", { ...request, polarizerDeg: (polarizerDeg + 90) % 180 });
  return reply ? [say("Turned a quarter, its exposure changes by {stops}.", { stops: stopsText(darkeningStops - reply.darkeningStops) })] : [];
}

/** @param {import("../../api/glasscall.js").SkyReply} sky */
function cornerTable({ corners, darkeningStops }) {
  const cell = (/** @type {number | undefined} */ stops) =>
    el("span", { class: "corner", text: stops === undefined ? say("ground") : signed(stops) });
  return el("div", { class: "corners", role: "group", "aria-label": say("Stops darker at the corners and the centre") },
    cell(corners.topLeft), cell(corners.topRight),
    el("span", { class: "corner corner-centre", text: signed(darkeningStops) }),
    cell(corners.bottomLeft), cell(corners.bottomRight));
}

/** The two best aims that are not neighbours. @param {import("../../api/glasscall.js").AimReply[]} aims */
function bestAims(aims) {
  const apart = (/** @type {number} */ a, /** @type {number} */ b) => Math.abs(((a - b + 540) % 360) - 180);
  const ranked = [...aims].sort((a, b) => b.darkeningStops - a.darkeningStops);
  const [best] = ranked;
  const other = ranked.find((aim) => best && apart(aim.azimuthDeg, best.azimuthDeg) > 60 && aim.darkeningStops > best.darkeningStops - 0.1);
  return [best, other].flatMap((aim) => (aim ? [aim.azimuthDeg] : []));
}

/** @param {App} app @param {number} azimuthDeg */
function aimAt(app, azimuthDeg) {
  delete app.drafts["light.aim.azimuthDeg"];
  app.change(({ light }) => {
    light.aim.azimuthDeg = azimuthDeg;
  });
}

/** @param {import("../../api/glasscall.js").HourReply[]} hours */
function bestHours(hours) {
  const most = hours.reduce((best, hour) => (hour.darkeningStops > best.darkeningStops ? hour : best));
  return say("This way over the day: darkest about {time}, {stops}.", { time: clockTime(most.time), stops: stopsText(most.darkeningStops) });
}
