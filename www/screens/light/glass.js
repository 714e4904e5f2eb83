// @ts-check
/** Reflections, polarizers, flags and ghosts. */
import { unsaid } from "../../questions/fit.js";
import { FLAG, GHOST, MEASURED, PAIR, REFLECTION } from "../../questions/light.js";
import { answerTo } from "../../questions/question.js";
import { say } from "../../language/say.js";
import { distanceText, fixed, lengthText, stopLabel, stopsText } from "../../language/numbers.js";
import { acrossText, FLAG_VERDICTS, LIGHT_WORDS, PAIR_VERDICTS, SURFACE_VERDICTS } from "../../language/words/light.js";
import { NOTES, refusalSentence } from "../../language/words/shared.js";
import { askedBack } from "../../parts/asked-back.js";
import { askedWords } from "../../parts/asked-words.js";
import { el, one } from "../../parts/dom.js";
import { turnFlag, turnGhost, turnMeasured, turnPair, turnSurface } from "./turned.js";

/** @typedef {import("../../start/start.js").App} App */

/** @param {Node} figure @param {Node | string} words */
const askedLine = (figure, words) => el("p", { class: "plan-line" }, figure, el("span", {}, words));

/** The answer, and below the inputs what else there is to say. @param {HTMLElement} root @param {string} place @param {Node[]} plate @param {string | Node[]} [more] */
function showAnswer(root, place, plate, more = "") {
  one(root, `.${place}`).replaceChildren(...plate);
  const below = root.querySelector(`.${place}-more`);
  if (below) below.replaceChildren(...(typeof more === "string" ? [more] : more));
}

/** @param {HTMLElement} root @param {string} place @param {string} text */
const showWhyNot = (root, place, text) => showAnswer(root, place, [el("p", { class: "plate-why", text })]);

/** @param {HTMLElement} root @param {string} place @param {import("../../engine/ask.js").Refusal | undefined} refusal */
const complain = (root, place, refusal) => showWhyNot(root, place, refusal ? refusalSentence(refusal) : "");

/** @param {HTMLElement} root @param {App} app */
export function showSurface(root, app) {
  const { surface } = app.setup.light;
  const choice = one(root, "[data-do=surface]", HTMLSelectElement);
  const known = `${surface.refractiveIndex} ${surface.surface}`;
  choice.value = [...choice.options].some((option) => option.value === known) ? known : "other";
  const { reply, refusal } = answerTo(REFLECTION, app.setup);
  if (!reply) return complain(root, "surface", refusal);
  const share = `${fixed(reply.leftByPolarizer * 100, reply.leftByPolarizer < 0.1 ? 1 : 0)} %`;
  const standText = (/** @type {string} */ distance) => surface.surface === "pane"
    ? say("Aim past the pane at a point {distance} along it.", { distance })
    : say("Stand where the water you look at is {distance} away on the level.", { distance });
  const turn = (/** @type {string} */ figure) => (/** @type {HTMLElement} */ opener) => turnSurface(opener, app, reply, figure);
  const words = reply.weakerByStops === undefined ? say("of it goes, {share} of the reflection left", { share }) : say("stops weaker, {share} of the reflection left", { share });
  return showAnswer(root, "surface", [
    askedLine(askedBack(reply.weakerByStops === undefined ? say("all") : fixed(reply.weakerByStops, 1), "turn-surface", turn("weakerByStops")),
      askedWords(words, "turn-share", turn("leftByPolarizer"))),
    el("p", { text: SURFACE_VERDICTS[reply.verdict] ?? "" }),
    el("p", { class: "plate-soft" }, askedWords([
      say("Best at {angle}° from square on.", { angle: fixed(reply.brewsterDeg, 0) }),
      ...(reply.brewsterDistanceMm === undefined ? [] : [standText(distanceText(reply.brewsterDistanceMm))]),
    ].join(" "), "turn-brewster", turn("brewsterDeg"))),
  ], [askedWords(say("The surface reflects {share} from here. Metal keeps its reflection.", { share: `${fixed(reply.mean * 100, 1)} %` }), "turn-mean", turn("mean"))]);
}

/** @param {HTMLElement} root @param {App} app */
export function showPair(root, app) {
  const { reply, refusal } = answerTo(PAIR, app.setup);
  if (!reply) return complain(root, "pair", refusal);
  const whole = reply.marks.filter((_, third) => third % 3 === 0);
  const degrees = (/** @type {number} */ angle) => `${fixed(angle, 1)}°`;
  const row = (/** @type {string} */ name, /** @type {number | undefined} */ angle) => el("li", {}, el("span", { text: name }),
    angle === undefined ? el("span", { text: say("cannot") }) : askedBack(degrees(angle), "turn-mark", (opener) => turnPair(opener, app, { ...reply, angleDeg: angle })));
  const turn = (/** @type {string} */ figure) => (/** @type {HTMLElement} */ opener) => turnPair(opener, app, reply, figure);
  return showAnswer(root, "pair", [
    askedLine(askedBack(degrees(reply.angleDeg), "turn-pair", turn("angleDeg")),
      askedWords(say("from parallel; {stops} stop a degree there", { stops: fixed(reply.stopsPerDegree, 2) }), "turn-slope", turn("stopsPerDegree"))),
    el("p", {}, askedWords([
      PAIR_VERDICTS[reply.verdict ?? ""] ?? "",
      say("About {stops} apart; layers in real sheets add to it or take from it.", { stops: stopsText(reply.unevenStops ?? 0) }),
    ].join(" "), "turn-uneven", turn("unevenStops"))),
    ...reply.notes.map((note) => el("p", { class: "plate-warn", text: NOTES[note] ?? "" })),
    el("p", { class: "plate-soft" }, askedWords(say("From {least} parallel to {most} crossed.", { least: stopsText(reply.lossStops), most: stopsText(reply.mostStops) }), "turn-crossed", turn("mostStops"))),
  ], [
    ...(reply.pull ? [el("h4", { text: say("Turn while the iris moves") }),
      el("ol", { class: "marks" }, ...reply.pull.map((step) => row(stopLabel(step.apertureLabel), step.angleDeg)))] : []),
    el("h4", { text: say("Marks for the ring") }),
    el("ol", { class: "marks" }, ...whole.map((mark) => row(stopsText(mark.stops), mark.angleDeg))),
  ]);
}

/** @param {HTMLElement} root @param {App} app */
export function showMeasured(root, app) {
  const request = MEASURED.request(app.setup);
  const { reply, refusal } = answerTo(MEASURED, app.setup);
  const box = one(root, ".measured");
  box.classList.toggle("plate", request !== undefined);
  if (!reply) return complain(root, "measured", refusal);
  const piece = app.setup.kit.find(({ kind }) => kind === "polarizer");
  const keep = piece && el("button", { type: "button", class: "plate-act", onclick: () => app.change((setup) => {
    const same = setup.kit.find(({ id }) => id === piece.id);
    if (same) same.lossStops = reply.lossStops;
  }) }, say("Keep it as the loss of {piece}", { piece: piece.id }));
  const turn = (/** @type {string} */ figure) => (/** @type {HTMLElement} */ opener) => turnMeasured(opener, app, reply, figure);
  return showAnswer(root, "measured", [
    askedLine(askedBack(fixed(reply.lossStops, 2), "turn-measured", turn("lossStops")), say("stops from plain light")),
    ...(reply.belowFloor ? [el("p", { class: "plate-warn", text: LIGHT_WORDS.belowFloor })] : []),
    el("p", {}, askedWords(say("Turned, exposure changed by {stops}.", { stops: stopsText(reply.turnedStops) }), "turn-quarter", turn("turnedStops"))),
    el("p", { class: "plate-soft" }, askedWords(say("The patch was {share} polarized. 1⅔ stops stand in until it is measured; no polarizer takes less than 1.", { share: `${fixed(reply.polarization * 100, 0)} %` }), "turn-patch", turn("polarization"))),
    ...(keep && !reply.belowFloor ? [keep] : []),
  ]);
}

/** @param {HTMLElement} root @param {App} app @param {import("../../api/glasscall.js").SunReply | undefined} sun */
export function showFlag(root, app, sun) {
  const { flag, against = "sun" } = app.setup.light.flag;
  one(root, "[data-do=side]", HTMLSelectElement).value = flag.side;
  one(root, "[data-do=against]", HTMLSelectElement).value = against;
  one(root, "[data-if=lamp]").hidden = against !== "lamp";
  if (against === "sun" && !sun?.isUp) return showWhyNot(root, "flag", app.setup.light.place ? LIGHT_WORDS.sunDown : LIGHT_WORDS.noPlace);
  if (against === "sun" && app.setup.light.aim.azimuthDeg === undefined) return showWhyNot(root, "flag", LIGHT_WORDS.noAim);
  const behind = sun ?? { azimuthDeg: 0, elevationDeg: 0 };
  const request = FLAG.request(app.setup, behind);
  if (!request) return showWhyNot(root, "flag", LIGHT_WORDS.unsaid[unsaid(app.setup)]);
  const { reply, refusal } = answerTo(FLAG, app.setup, behind);
  if (!reply) return complain(root, "flag", refusal);
  const turn = (/** @type {string} */ figure) => (/** @type {HTMLElement} */ opener) => turnFlag(opener, app, request, reply, figure);
  const shortest = (/** @type {string} */ words) => [askedLine(askedBack(lengthText(reply.shortestMm ?? 0, 0), "turn-flag", turn("shortestMm")), words)];
  const figures = [...flagLengths(reply), ...flagReach(reply, flag.side)].join(" ");
  return showAnswer(root, "flag", [
    ...(reply.verdict === "fits" ? shortest(say("long or more")) : []),
    // Too long for the picture: by how much, and what would shorten it.
    ...(reply.verdict === "impossible" && reply.shortestMm !== undefined ? shortest(say("to shade it all, too long for the picture")) : []),
    el("p", { text: FLAG_VERDICTS[reply.verdict] ?? "" }),
    ...(figures ? [el("p", { class: "plate-soft" }, askedWords(figures, "turn-longest", turn("longestMm")))] : []),
  ], say("Set it by eye on the shadow, not on the source; tether it."));
}

/** @param {import("../../api/glasscall.js").FlagReply} reply */
function flagLengths({ verdict, shortestMm, longestMm, sureLongestMm, trust }) {
  if (verdict !== "fits" && verdict !== "impossible") return [];
  return [
    shortestMm === undefined ? say("No length shades the glass.") : say("{length} shades all the glass.", { length: lengthText(shortestMm, 0) }),
    longestMm === undefined ? say("Any length stays out of the picture.") : say("Up to {length} stays out of the picture.", { length: lengthText(longestMm, 0) }),
    ...(verdict === "fits" && trust === "look" ? [say("For certain only up to {length}; beyond it look through the lens.", { length: lengthText(sureLongestMm ?? 0, 0) })] : []),
  ];
}

/** @param {import("../../api/glasscall.js").FlagReply} reply @param {string} side */
function flagReach({ reachFromMm, reachToMm }, side) {
  if (reachFromMm === undefined || reachToMm === undefined) return [];
  const across = (/** @type {number} */ mm) => acrossText(mm, lengthText(Math.abs(mm), 0), ["left", "right"].includes(side));
  return [say("Its end must reach from {from} to {to}.", { from: across(reachFromMm), to: across(reachToMm) })];
}

/** @param {HTMLElement} root @param {App} app */
export function showGhost(root, app) {
  one(root, "[data-do=between]", HTMLSelectElement).value = app.setup.light.ghost.between;
  const { reply, refusal } = answerTo(GHOST, app.setup);
  if (!reply) return complain(root, "ghost", refusal);
  const clear = reply.tiltToClearDeg ?? 0;
  const angle = fixed(Math.abs(clear), 1);
  const turn = (/** @type {string} */ figure) => (/** @type {HTMLElement} */ opener) => turnGhost(opener, app, reply, figure);
  const tilts = [
    say("The tilt moves it by {length}.", { length: `${fixed(reply.shiftMm, 1)} mm` }),
    clear < 0
      ? say("{angle}° in all the other way would throw it out of the picture at its nearer side.", { angle })
      : say("{angle}° in all would throw it out of the picture at its nearer side.", { angle }),
  ].join(" ");
  return showAnswer(root, "ghost", [
    reply.weakerByStops === undefined
      ? el("p", { text: say("No ghost: one of the two reflects nothing.") })
      : askedLine(askedBack(fixed(reply.weakerByStops, 1), "turn-ghost", turn("weakerByStops")),
        askedWords(ghostPlace(reply.ghostMm, app.setup.light.ghost.lampMm ?? 0), "turn-ghost-place", turn("ghostMm"))),
    el("p", { class: "plate-soft" }, askedWords(tilts, "turn-tilt", turn("tiltToClearDeg"))),
  ]);
}

/** Where on the sensor a ghost lies. @param {number | undefined} ghostMm @param {number} lampMm */
function ghostPlace(ghostMm, lampMm) {
  if (ghostMm === undefined) return say("stops weaker than the lamp, beyond the field");
  const length = `${fixed(Math.abs(ghostMm), 1)} mm`;
  return lampMm * ghostMm < 0
    ? say("stops weaker than the lamp, {length} from the centre across from the lamp", { length })
    : say("stops weaker than the lamp, {length} from the centre on the lamp’s side", { length });
}
