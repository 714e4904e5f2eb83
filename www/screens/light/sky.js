// @ts-check
/** The sky through a polarizer: the ring, the corners, the dial and the day. */
import { ask } from "../../engine/ask.js";
import { SKY_AIMS, SKY_HOURS, SKY } from "../../questions/light.js";
import { answerTo } from "../../questions/question.js";
import { say } from "../../language/say.js";
import { signed, stopsText } from "../../language/numbers.js";
import { LIGHT_WORDS, SKY_VERDICTS, bearing, clockText, clockTime, skyText } from "../../language/words/light.js";
import { askedBack } from "../../parts/asked-back.js";
import { askedWords } from "../../parts/asked-words.js";
import { el, one } from "../../parts/dom.js";
import { dayStrip, ringClock, skyDial } from "../../parts/sky-pictures.js";
import { turnSky } from "./turned.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../api/glasscall.js").SunReply} Sun
 */

/** @param {HTMLElement} root @param {App} app @param {string} at @param {Sun | undefined} sun */
export function showSky(root, app, at, sun) {
  const answer = one(root, ".sky-answer");
  const pictures = one(root, ".sky-pictures");
  const more = one(root, ".sky-more");
  const why = (/** @type {string} */ text) => {
    answer.replaceChildren(el("p", { class: "plate-why", text }));
    more.textContent = "";
  };
  const request = sun && SKY.request(app.setup, sun);
  const sky = request && ask("sky", request).reply;
  const { place, aim } = app.setup.light;
  if (!sun || sky?.verdict === "sunDown") {
    pictures.replaceChildren();
    return why(place ? LIGHT_WORDS.skyDark : LIGHT_WORDS.noPlace);
  }
  if (!sky) why(LIGHT_WORDS.noAim);
  else {
    const darkens = sky.verdict !== "noSky";
    const turn = (/** @type {string} */ figure) => (/** @type {HTMLElement} */ opener) => turnSky(opener, app, sun, at, sky, figure);
    answer.replaceChildren(
      ...(sky.nearSun ? [el("p", { class: "plate-warn", text: LIGHT_WORDS.sunNear })] : []),
      ...(darkens ? [el("p", { class: "plan-line" },
        askedBack(signed(sky.darkeningStops), "turn-sky", turn("darkeningStops")),
        el("span", {}, askedWords(say("stops darker at the centre, ring at {clock}", { clock: clockText(sky.polarizerDeg) }), "turn-ring", turn("polarizerDeg"))))] : []),
      el("p", { class: "sky-verdict", text: SKY_VERDICTS[sky.verdict] ?? sky.verdict }),
      ...(darkens ? [cornerTable(sky, turn)] : []));
    const turned = say("Turned a quarter, its exposure changes by {stops}.", { stops: stopsText(sky.quarterTurnStops) });
    more.replaceChildren(...(darkens ? [askedWords(turned, "turn-quarter", turn("quarterTurnStops")), askedWords(skyText(sky, stopsText(sky.spreadStops)), "turn-spread", turn("spreadStops"))] : []));
  }
  const { aims = [], bestDeg = [] } = answerTo(SKY_AIMS, app.setup, sun).reply ?? {};
  const { hours = [], best = -1 } = answerTo(SKY_HOURS, app.setup, at).reply ?? {};
  const hour = hours[best];
  return pictures.replaceChildren(
    ...(sky ? [el("figure", {}, ringClock(sky.polarizerDeg), el("figcaption", { text: say("The ring") }))] : []),
    el("figure", {}, skyDial(aims, sun.azimuthDeg, aim.azimuthDeg), el("figcaption", {}, say("Darkest towards"),
      el("span", { class: "dial-aims" }, ...bestDeg.map((azimuthDeg) =>
        el("button", { type: "button", onclick: () => aimAt(app, azimuthDeg) }, bearing(azimuthDeg)))))),
    ...(hour === undefined ? [] : [el("figure", { class: "sky-day" }, dayStrip(hours, at), el("figcaption", { text: bestHour(hour) }))]));
}

/** @param {import("../../api/glasscall.js").SkyReply} sky @param {(figure: string) => (opener: HTMLElement) => void} turn */
function cornerTable({ corners, darkeningStops }, turn) {
  const cell = (/** @type {keyof typeof corners} */ name) => {
    const stops = corners[name];
    return el("span", { class: "corner" }, stops === undefined ? say("ground") : askedBack(signed(stops), "turn-corner", turn(`corners.${name}`)));
  };
  return el("div", { class: "corners", role: "group", "aria-label": say("Stops darker at the corners and the centre") },
    cell("topLeft"), cell("topRight"),
    el("span", { class: "corner corner-centre", text: signed(darkeningStops) }),
    cell("bottomLeft"), cell("bottomRight"));
}

/** @param {App} app @param {number} azimuthDeg */
function aimAt(app, azimuthDeg) {
  delete app.drafts["light.aim.azimuthDeg"];
  app.change(({ light }) => {
    light.aim.azimuthDeg = azimuthDeg;
  });
}

/** @param {import("../../api/glasscall.js").HourReply} hour */
const bestHour = ({ time, darkeningStops }) =>
  say("This way over the day: darkest about {time}, {stops}.", { time: clockTime(time), stops: stopsText(darkeningStops) });
