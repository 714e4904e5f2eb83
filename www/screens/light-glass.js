// @ts-check
/** Reflections, polarizers, flags and ghosts. */
import { ask } from "../engine.js";
import { flagRequest, ghostRequest, measuredRequest, pairRequest } from "../light.js";
import { fixed, stopsText } from "../show.js";
import { FLAG_VERDICTS, LIGHT_WORDS, PAIR_VERDICTS, SURFACE_VERDICTS } from "../words/light.js";
import { refusalSentence } from "../words.js";
import { el, one } from "../parts/dom.js";

/** @typedef {import("../app.js").App} App */

/** @param {string} figure @param {string} words */
const headline = (figure, words) =>
  el("p", { class: "plan-line" }, el("strong", { class: "plan-stop", text: figure }), el("span", { text: words }));

/** @param {number} mm */
const lengthText = (mm) => (mm < 1000 ? `${fixed(mm, 0)} mm` : `${fixed(mm / 1000, 2)} m`);

/** @param {HTMLElement} root @param {string} place @param {import("../engine.js").Refusal | undefined} refusal */
function complain(root, place, refusal) {
  one(root, place).replaceChildren(el("p", { class: "complaint", text: refusal ? refusalSentence(refusal) : "" }));
}

/** @param {HTMLElement} root @param {App} app */
export function showSurface(root, app) {
  const { surface } = app.setup.light;
  const choice = one(root, "[data-do=surface]");
  const known = `${surface.refractiveIndex} ${surface.surface}`;
  choice.value = [...choice.options].some((option) => option.value === known) ? known : "other";
  const { reply, refusal } = ask("reflection", surface);
  if (!reply) return complain(root, ".surface", refusal);
  const left = `${fixed(reply.leftByPolarizer * 100, reply.leftByPolarizer < 0.1 ? 1 : 0)} % of the reflection left`;
  const pane = surface.surface === "pane";
  const stand = reply.brewsterDistanceMm === undefined ? "" :
    pane
      ? ` Aim past the pane at a point ${lengthText(reply.brewsterDistanceMm)} along it.`
      : ` Stand where the water you look at is ${lengthText(reply.brewsterDistanceMm)} away on the level.`;
  return one(root, ".surface").replaceChildren(
    headline(reply.weakerByStops === undefined ? "all" : fixed(reply.weakerByStops, 1), `${reply.weakerByStops === undefined ? "of it goes" : "stops weaker"}, ${left}`),
    el("p", { text: SURFACE_VERDICTS[reply.verdict] ?? "" }),
    el("p", { class: "hint", text: `Best at ${fixed(reply.brewsterDeg, 1)}° from square on.${stand} The surface reflects ${fixed(reply.mean * 100, 1)} % from here. Metal keeps its reflection.` }));
}

/** @param {HTMLElement} root @param {App} app */
export function showPair(root, app) {
  const { reply, refusal } = ask("crossedPolarizers", pairRequest(app.setup));
  if (!reply) return complain(root, ".pair", refusal);
  const whole = reply.marks.filter((_, third) => third % 3 === 0);
  const row = (/** @type {string} */ name, /** @type {string} */ value) => el("li", {}, el("span", { text: name }), el("span", { text: value }));
  const degrees = (/** @type {number | undefined} */ angle) => (angle === undefined ? "cannot" : `${fixed(angle, 1)}°`);
  return one(root, ".pair").replaceChildren(
    headline(`${fixed(reply.angleDeg, 1)}°`, `from parallel; ${fixed(reply.stopsPerDegree, 2)} stop a degree there`),
    el("p", { text: `${PAIR_VERDICTS[reply.verdict ?? ""] ?? ""} At the least ${stopsText(reply.unevenStops ?? 0)} apart; real sheets add to it.` }),
    el("p", { class: "hint", text: `From ${stopsText(reply.lossStops)} parallel to ${stopsText(reply.mostStops)} crossed.` }),
    ...(reply.pull ? [el("h4", { text: "Turn while the iris moves" }),
      el("ol", { class: "marks" }, ...reply.pull.map((step) => row(step.apertureLabel, degrees(step.angleDeg))))] : []),
    el("h4", { text: "Marks for the ring" }),
    el("ol", { class: "marks" }, ...whole.map((mark) => row(stopsText(mark.stops), degrees(mark.angleDeg)))));
}

/** @param {HTMLElement} root @param {App} app */
export function showMeasured(root, app) {
  const request = measuredRequest(app.setup);
  const { reply, refusal } = request ? ask("measuredPolarizer", request) : {};
  if (!reply) return complain(root, ".measured", refusal);
  const piece = app.setup.kit.find(({ kind }) => kind === "polarizer");
  const keep = piece && el("button", { type: "button", onclick: () => app.change((setup) => {
    const same = setup.kit.find(({ id }) => id === piece.id);
    if (same) same.lossStops = reply.lossStops;
  }) }, `Keep it as the loss of ${piece.id}`);
  return one(root, ".measured").replaceChildren(
    headline(fixed(reply.lossStops, 2), "stops from plain light"),
    ...(reply.belowFloor ? [el("p", { class: "complaint", text: LIGHT_WORDS.belowFloor })] : []),
    el("p", { class: "hint", text: `The patch was ${fixed(reply.polarization * 100, 0)} % polarized. 1⅔ stops stand in until it is measured; no polarizer takes less than 1.` }),
    ...(keep && !reply.belowFloor ? [keep] : []));
}

/** @param {HTMLElement} root @param {App} app @param {import("../api/glasscall.js").SunReply | undefined} sun */
export function showFlag(root, app, sun) {
  const { flag, against = "sun" } = app.setup.light.flag;
  one(root, "[data-do=side]").value = flag.side;
  one(root, "[data-do=against]").value = against;
  one(root, "[data-if=lamp]").hidden = against !== "lamp";
  const isDown = !sun || sun.elevationDeg < -1;
  if (against === "sun" && isDown) return one(root, ".flag").replaceChildren(el("p", { text: "The sun is down." }));
  const request = flagRequest(app.setup, sun ?? { azimuthDeg: 0, elevationDeg: 0 });
  if (!request) return one(root, ".flag").replaceChildren(el("p", { text: LIGHT_WORDS.noPupil }));
  const { reply, refusal } = ask("flag", request);
  if (!reply) return complain(root, ".flag", refusal);
  const shortest = reply.shortestMm === undefined ? "no length shades the glass" : `${lengthText(reply.shortestMm)} shades all the glass`;
  const longest = reply.longestMm === undefined ? "any length stays out of the picture" : `up to ${lengthText(reply.longestMm)} stays out of the picture`;
  const lengths = reply.verdict === "fits" || reply.verdict === "impossible" ? `${shortest}; ${longest}.` : "";
  const upright = ["left", "right"].includes(flag.side);
  const [less, more] = upright ? ["below", "above"] : ["left of", "right of"];
  const across = (/** @type {number} */ mm) => `${fixed(Math.abs(mm), 0)} mm ${mm < 0 ? less : more}`;
  const reach = reply.reachFromMm === undefined || reply.reachToMm === undefined ? "" :
    ` Its end must reach from ${across(reply.reachFromMm)} the axis to ${across(reply.reachToMm)} it.`;
  return one(root, ".flag").replaceChildren(
    ...(reply.verdict === "fits" ? [headline(lengthText(reply.shortestMm ?? 0), "long or more")] : []),
    el("p", { text: FLAG_VERDICTS[reply.verdict] ?? "" }),
    el("p", { class: "hint", text: `${lengths}${reach} Set it by eye on the shadow, not on the source; tether it.` }));
}

/** @param {HTMLElement} root @param {App} app */
export function showGhost(root, app) {
  one(root, "[data-do=between]").value = app.setup.light.ghost.between;
  const { reply, refusal } = ask("ghost", ghostRequest(app.setup));
  if (!reply) return complain(root, ".ghost", refusal);
  const side = (app.setup.light.ghost.lampMm ?? 0) * (reply.ghostMm ?? 0) < 0 ? "across from the lamp" : "on the lamp’s side";
  const place = reply.ghostMm === undefined ? "beyond the field" : `${fixed(Math.abs(reply.ghostMm), 1)} mm from the centre ${side}`;
  const clear = reply.tiltToClearDeg ?? 0;
  const way = clear < 0 ? " the other way" : "";
  return one(root, ".ghost").replaceChildren(
    headline(reply.weakerByStops === undefined ? "none" : `${fixed(reply.weakerByStops, 1)}`, `stops weaker than the lamp, ${place}`),
    el("p", { class: "hint", text: `The tilt moves it by ${fixed(reply.shiftMm, 1)} mm. ${fixed(Math.abs(clear), 1)}° in all${way} would throw it out of the picture at its nearer side.` }));
}
