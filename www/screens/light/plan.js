// @ts-check
/** The day's first plan: clear-sky light as a stop and as a need. */
import { ask } from "../../engine/ask.js";
import { openUpRequest } from "../../questions/open-up.js";
import { locale, say } from "../../language/say.js";
import { fixed, stopLabel, stopsText } from "../../language/numbers.js";
import { LIGHT_WORDS } from "../../language/words/light.js";
import { refusalSentence } from "../../language/words/shared.js";
import { el } from "../../parts/dom.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";

/** @typedef {import("../../start/start.js").App} App */

/**
 * @param {HTMLElement} root
 * @param {App} app
 * @param {import("../../api/glasscall.js").SunReply | undefined} sun
 */
export function showPlan(root, app, sun) {
  const { reply: light } = sun ? ask("daylight", { sunElevationDeg: sun.elevationDeg, facing: "sun" }) : {};
  if (!light) return root.replaceChildren(el("p", { text: app.setup.light.place ? LIGHT_WORDS.dark : LIGHT_WORDS.noPlace }));
  const { shot } = openUpRequest(app.setup);
  const { reply: read, refusal } = ask("exposure", { ...shot, aperture: undefined, illuminanceLux: light.illuminanceLux });
  const facts = el("p", { class: "hint", text: [
    say("Cloudless sky on level ground: {lux}, EV {ev} at 100, give or take {spread}. Cloud and shade are not in it.", {
      lux: lux(light.illuminanceLux), ev: fixed(light.ev100, 1), spread: spreadText(light.spreadStops),
    }),
    ...(light.overLevelStops > 0 ? [say("A face or a card turned to the sun gets {stops} more.", { stops: stopsText(light.overLevelStops) })] : []),
    ...(light.skyOnlyLux === undefined ? [] : [say("Open shade, sky alone: about {lux}.", { lux: lux(light.skyOnlyLux) })]),
  ].join(" ") });
  if (!read) return root.replaceChildren(facts, el("p", { class: "complaint", text: refusal ? refusalSentence(refusal) : "" }));
  const planned = openUpRequest({ ...app.setup, reading: { ...app.setup.reading, ...shot, aperture: read.aperture, through: [], wheelDensity: undefined } });
  const need = ask("openUp", planned).reply;
  const best = need?.stacks[0];
  const pieces = best?.slots.map((placed) => placed.piece).join(" + ") || say("nothing");
  const stop = KINDS_OF_FIELD.aperture.show(shot.aperture);
  const needText = (/** @type {number} */ stops) => stops >= 0
    ? say("to {stop}: take away {stops}, put in {pieces}", { stop, stops: stopsText(stops), pieces })
    : say("to {stop}: {stops} of light missing", { stop, stops: stopsText(-stops) });
  const use = el("button", { type: "button", onclick: () => app.change((setup) => {
    Object.assign(setup.reading, { ...shot, aperture: read.aperture, through: [] });
    delete setup.reading.wheelDensity;
    setup.shot = { aperture: shot.aperture };
  }) }, say("Take it as the reading"));
  return root.replaceChildren(
    el("p", { class: "plan-line" },
      el("strong", { class: "plan-stop", text: stopLabel(read.apertureLabel) }),
      el("span", { text: need ? needText(need.needStops) : "" })),
    facts, use);
}

/** How far a clear sky's light may be off, in the steps people say. @param {number} stops */
function spreadText(stops) {
  return stops < 0.4 ? say("⅓ stop") : stops < 1 ? say("½ stop") : say("1½ stops");
}

/** Three figures are all the model can carry. @param {number} value */
function lux(value) {
  return `${new Intl.NumberFormat(locale, { maximumSignificantDigits: 3 }).format(value)} lx`;
}
