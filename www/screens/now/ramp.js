// @ts-check
/** A ramp during the shot, held at constant exposure. */
import { RAMP } from "../../questions/depth-and-colour.js";
import { shotSettings } from "../../questions/open-up.js";
import { answerTo } from "../../questions/question.js";
import { say } from "../../language/say.js";
import { fixed, signed, stopLabel, stopsText } from "../../language/numbers.js";
import { RAMP_EFFECTS } from "../../language/words/depth-and-colour.js";
import { all, el, one } from "../../parts/dom.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { mountField } from "../../parts/field.js";
import { figureWords, workButton } from "./work-button.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../api/glasscall.js").RampReply} Ramp
 */

/** @param {Setup} setup */
const asked = (setup) => answerTo(RAMP, setup, shotSettings(setup));

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountRamp(root, app) {
  const box = one(root, ".now-ramp");
  const fields = all(box, ".field").map((field) => mountField(field, app, (setup) => asked(setup).refusal));
  const by = /** @type {HTMLSelectElement} */ (one(box, "[data-do=ramp-by]"));
  by.addEventListener("change", () => app.change((setup) => {
    setup.ramp.by = /** @type {Setup["ramp"]["by"]} */ (by.value);
  }));
  return () => {
    fields.forEach((show) => show());
    const { ramp } = app.setup;
    by.value = ramp.by;
    // What holds the exposure follows and cannot be asked for as well.
    for (const field of all(box, "[data-held]")) field.hidden = field.dataset.held === ramp.by;
    const { to } = RAMP.request(app.setup, shotSettings(app.setup));
    const none = Object.values(to).every((end) => end === undefined);
    const out = one(box, ".ramp-out");
    one(box, ".now-ramp-line").textContent = none ? say("none") : rampLine(app.setup);
    if (none) return out.replaceChildren();
    const { reply } = asked(app.setup);
    const request = RAMP.request(app.setup, shotSettings(app.setup));
    return out.replaceChildren(...(reply ? [table(reply, ramp.by, (text, nth, path) => figureWords(text, "turn-ramp", (figures, opener) => figures.openRamp(opener, app, nth, path))), ...afterwards(reply, ramp.by), workButton("ramp", (worked, opener) => worked.openWorked(opener, [["ramp", request]]))] : []));
  };
}

/** @param {Setup} setup */
function rampLine(setup) {
  const ramp = RAMP.request(setup, shotSettings(setup)).to;
  return [
    ramp.frameRate === undefined ? "" : say("ramp|to {end}", { end: say("{rate} fps", { rate: fixed(ramp.frameRate, 3) }) }),
    ramp.aperture === undefined ? "" : say("ramp|to {end}", { end: KINDS_OF_FIELD.aperture.show(ramp.aperture) }),
    ramp.shutterAngleDeg === undefined ? "" : say("ramp|to {end}", { end: `${fixed(ramp.shutterAngleDeg, 1)}°` }),
  ].filter(Boolean).join(", ");
}

/** @param {Ramp} ramp @param {Setup["ramp"]["by"]} by @param {(text: string, nth: number, path: string) => Node} turn */
function table({ steps }, by, turn) {
  const rows = steps.map((step, nth) => el("tr", {},
    el("th", { scope: "row", text: `${fixed(step.at * 100, 0)} %` }),
    el("td", {}, turn(fixed(step.frameRate, 2), nth, "frameRate")),
    el("td", {}, step.shutterAngleDeg === undefined ? say("over the frame") : turn(`${fixed(step.shutterAngleDeg, 1)}°`, nth, "shutterAngleDeg")),
    el("td", {}, turn(stopLabel(step.apertureLabel), nth, "aperture")),
    ...(by === "turn" ? [el("td", {}, turn(signed(step.turnStops), nth, "turnStops"))] : [])));
  return el("table", { class: "ramp-table" },
    el("thead", {}, el("tr", {}, ...[say("ramp|Through"), say("fps"), say("Shutter"), say("Iris"), ...(by === "turn" ? [say("Turn, stops")] : [])]
      .map((text) => el("th", { scope: "col", text })))),
    el("tbody", {}, ...rows));
}

/** @param {NonNullable<Ramp["stuck"]>} stuck @param {Setup["ramp"]["by"]} by */
function stuckText({ at, given, min, max }, by) {
  const percent = fixed(at * 100, 0);
  if (by === "iris") {
    const stop = `T${fixed(given, 1)}`;
    return given < min
      ? say("The iris runs out before {percent} % of the way: it would have to open to {stop}, and its widest is {widest}.", { percent, stop, widest: `T${fixed(min, 1)}` })
      : say("The iris runs out before {percent} % of the way: it would have to close to {stop}.", { percent, stop });
  }
  return say("The shutter runs out before {percent} % of the way: it would have to open to {angle}°, and the frame has {most}°.", { percent, angle: fixed(given, 0), most: fixed(max, 0) });
}

/** @param {Ramp} ramp @param {Setup["ramp"]["by"]} by */
function afterwards({ steps, stuck, sideEffects }, by) {
  const texts = sideEffects.map(({ effect, from, to }) => {
    const unit = { depthOfField: "T", motionBlur: "", flicker: "", variableDensity: "" }[effect];
    const value = (/** @type {number} */ number) =>
      effect === "flicker" ? KINDS_OF_FIELD.shutter.show({ shutterSeconds: number })
        : effect === "motionBlur" ? `${fixed(number, 1)}°`
          : effect === "variableDensity" ? say("{stops} stops", { stops: signed(number) })
            : `${unit}${fixed(number, 1)}`;
    return say("{effect} ({from} to {to}).", { effect: RAMP_EFFECTS[effect], from: value(from), to: value(to) });
  });
  const least = Math.min(...steps.map(({ turnStops }) => turnStops));
  if (least < -0.005) texts.push(say("it must start with at least {stops} in.", { stops: stopsText(-least) }));
  return [
    ...(stuck ? [el("p", { class: "complaint", text: stuckText(stuck, by) })] : []),
    el("ul", { class: "notes" }, ...texts.map((text) => el("li", { text: text.slice(0, 1).toUpperCase() + text.slice(1) }))),
  ];
}
