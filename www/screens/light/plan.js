// @ts-check
/** The day's first plan: clear-sky light as a stop and as a need. */
import { ask } from "../../engine/ask.js";
import { uncertaintyOf } from "../../questions/known.js";
import { OPEN_UP } from "../../questions/open-up.js";
import { locale, say } from "../../language/say.js";
import { fixed, signed, stopLabel, stopsText } from "../../language/numbers.js";
import { stopsKnownText } from "../../language/words/known.js";
import { FACING, LIGHT_WORDS } from "../../language/words/light.js";
import { refusalSentence } from "../../language/words/shared.js";
import { askedBack } from "../../parts/asked-back.js";
import { askedWords } from "../../parts/asked-words.js";
import { el, one } from "../../parts/dom.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { turnLight, turnPlan } from "./turned.js";

/** @typedef {import("../../start/start.js").App} App */

/**
 * @param {HTMLElement} root
 * @param {App} app
 * @param {import("../../api/glasscall.js").SunReply | undefined} sun
 * @param {string} at
 */
export function showPlan(root, app, sun, at) {
  const plate = one(root, ".plan");
  const more = one(root, ".plan-more");
  const { place, facing = "level" } = app.setup.light;
  one(root, "[data-do=facing]", HTMLSelectElement).value = facing;
  more.textContent = "";
  const why = (/** @type {string} */ text) => plate.replaceChildren(el("p", { class: "plate-why", text }));
  const { reply: light } = sun ? ask("daylight", { sunElevationDeg: sun.elevationDeg, facing, ...uncertaintyOf(app.setup) }) : {};
  if (!light) return why(place ? LIGHT_WORDS.dark : LIGHT_WORDS.noPlace);
  const { shot } = OPEN_UP.request(app.setup);
  const { reply: read, refusal } = ask("exposure", { ...shot, aperture: undefined, illuminanceLux: light.facingLux });
  more.replaceChildren(askedWords([
    say("Cloudless sky, {facing}: {lux}, EV {ev} at 100, give or take {spread}. Cloud and shade are not in it.", {
      facing: FACING[facing], lux: lux(light.facingLux), ev: fixed(light.facingEv100, 1), spread: spreadText(light.spreadStops),
    }),
    say("One standard deviation: {known}.", { known: stopsKnownText(light.uncertainty) }),
    ...(Math.abs(light.overLevelStops) >= 0.05 ? [say("That is {stops} against level ground.", { stops: signed(light.overLevelStops) })] : []),
    ...(light.skyOnlyLux === undefined ? [] : [say("Open shade, sky alone: about {lux}.", { lux: lux(light.skyOnlyLux) })]),
  ].join(" "), "turn-light", (opener) => turnLight(opener, app, sun, light)));
  if (!read) return why(refusal ? refusalSentence(refusal) : "");
  const planned = OPEN_UP.request({ ...app.setup, reading: { ...app.setup.reading, ...shot, aperture: read.aperture, through: [], wheelDensity: undefined } });
  const need = ask("openUp", planned).reply;
  const best = need?.stacks[0];
  const pieces = best?.slots.map((placed) => placed.piece).join(" + ") || say("nothing");
  const stop = KINDS_OF_FIELD.aperture.show(shot.aperture);
  const needText = (/** @type {number} */ stops) => stops >= 0
    ? say("to {stop}: take away {stops}, put in {pieces}", { stop, stops: stopsText(stops), pieces })
    : say("to {stop}: {stops} of light missing", { stop, stops: stopsText(-stops) });
  const use = el("button", { type: "button", class: "plate-act", onclick: () => app.change((setup) => {
    Object.assign(setup.reading, { ...shot, aperture: read.aperture, through: [] });
    delete setup.reading.wheelDensity;
    setup.shot = { aperture: shot.aperture };
  }) }, say("Take it as the reading"));
  const turn = (/** @type {HTMLElement} */ opener) => sun && turnPlan(opener, app, sun, read.aperture, at);
  return plate.replaceChildren(
    el("p", { class: "plan-line" },
      askedBack(stopLabel(read.apertureLabel), "turn-plan", turn),
      el("span", {}, need ? askedWords(needText(need.needStops), "turn-need", turn) : "")),
    el("p", { class: "plate-soft" }, askedWords(say("clear sky, {facing}, ± {spread}", { facing: FACING[facing], spread: spreadText(light.spreadStops) }), "turn-spread", turn)),
    use);
}

/** How far a clear sky's light may be off, in the steps people say. @param {number} stops */
function spreadText(stops) {
  return stops < 0.4 ? say("⅓ stop") : stops < 1 ? say("½ stop") : say("1½ stops");
}

/** Three figures are all the model can carry. @param {number} value */
function lux(value) {
  return `${new Intl.NumberFormat(locale, { maximumSignificantDigits: 3 }).format(value)} lx`;
}
