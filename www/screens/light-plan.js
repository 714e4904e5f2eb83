// @ts-check
/** The day's first plan: clear-sky light as a stop and as a need. */
import { ask } from "../engine.js";
import { openUpRequest } from "../setup.js";
import { fixed, stopsText } from "../show.js";
import { LIGHT_WORDS } from "../words/light.js";
import { refusalSentence } from "../words.js";
import { el } from "../parts/dom.js";
import { KINDS_OF_FIELD } from "../parts/kinds.js";

/** @typedef {import("../app.js").App} App */

/**
 * @param {HTMLElement} root
 * @param {App} app
 * @param {import("../api/glasscall.js").SunReply | undefined} sun
 */
export function showPlan(root, app, sun) {
  const { reply: light } = sun ? ask("daylight", { sunElevationDeg: sun.elevationDeg }) : {};
  if (!light) return root.replaceChildren(el("p", { text: LIGHT_WORDS.dark }));
  const { shot } = openUpRequest(app.setup);
  const { reply: read, refusal } = ask("exposure", { ...shot, aperture: undefined, illuminanceLux: light.illuminanceLux });
  const spread = light.spreadStops < 0.4 ? "⅓" : light.spreadStops < 1 ? "½" : "1½";
  const shade = light.skyOnlyLux === undefined ? "" : ` Open shade, sky alone: about ${lux(light.skyOnlyLux)}.`;
  const facts = el("p", { class: "hint", text: `Cloudless sky on level ground: ${lux(light.illuminanceLux)}, EV ${fixed(light.ev100, 1)} at 100, give or take ${spread} stop. Cloud and shade are not in it.${shade}` });
  if (!read) return root.replaceChildren(facts, el("p", { class: "complaint", text: refusal ? refusalSentence(refusal) : "" }));
  const planned = openUpRequest({ ...app.setup, reading: { ...app.setup.reading, ...shot, aperture: read.aperture, through: [] }, throughWheel: false });
  const need = ask("openUp", planned).reply;
  const best = need?.stacks[0];
  const stack = best?.slots.map((placed) => placed.piece).join(" + ") || "nothing";
  const use = el("button", { type: "button", onclick: () => app.change((setup) => {
    Object.assign(setup.reading, { ...shot, aperture: read.aperture, through: [] });
    setup.throughWheel = false;
    setup.shot = { aperture: shot.aperture };
  }) }, "Take it as the reading");
  return root.replaceChildren(
    el("p", { class: "plan-line" },
      el("strong", { class: "plan-stop", text: read.apertureLabel }),
      el("span", { text: need
        ? need.needStops >= 0
          ? `to ${KINDS_OF_FIELD.aperture.show(shot.aperture)}: take away ${stopsText(need.needStops)}, put in ${stack}`
          : `to ${KINDS_OF_FIELD.aperture.show(shot.aperture)}: ${stopsText(-need.needStops)} of light missing`
        : "" })),
    facts, use);
}

/** Three figures are all the model can carry. @param {number} value */
function lux(value) {
  return `${new Intl.NumberFormat(undefined, { maximumSignificantDigits: 3 }).format(value)} lx`;
}
