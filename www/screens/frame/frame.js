// @ts-check
/** Frame: which grad, where its line goes, and the picture of what the glass does. */
import { askBalance, askLine, askMotion, fromRim, gradsBeside, gradsOf, profileIn, subjectKnown, sunOf, uniformStops } from "../../questions/frame.js";
import { askFit, fNumberOf, pupilOf } from "../../questions/fit.js";
import { say } from "../../language/say.js";
import { fixed } from "../../language/numbers.js";
import { cornerRangeText } from "../../language/words/fit.js";
import { stopsKnownText } from "../../language/words/known.js";
import { refusalSentence } from "../../language/words/shared.js";
import {
  EDGE_WORD, FRAME_WORDS, balanceText, balanceVerdict, cellText, edgeText, fromRimText, motionText, motionWord, percent, practiceText, remedyTexts,
  setLineText, sunText,
} from "../../language/words/frame.js";
import { askedWords } from "../../parts/asked-words.js";
import { all, el, one } from "../../parts/dom.js";
import { mountField } from "../../parts/field.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { speakAnswers } from "../../parts/speak.js";
import { mountGradAnswer } from "./answer.js";
import { mountFinger } from "./finger.js";
import { mountGrads, showGrads } from "./grads.js";
import { showGrips } from "./grips.js";
import { mountPicture } from "./picture.js";
import { mountSlides } from "./slides.js";
import { turnLeft, turnLine, turnMotion, turnPlace } from "./turned.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 */

/** Places of the table, as shares of the frame. */
const TABLE_ROWS = [0.95, 0.75, 0.5, 0.25, 0.05];
const TABLE_COLUMNS = [0.02, 0.5, 0.98];

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountFrame(root, app) {
  const picture = mountPicture(root);
  /** What a drag does not change. */
  const light = { uniform: 0, skyStops: 0 };
  /** @type {Setup | undefined} */
  let trial;
  let asked = 0;
  const answer = mountGradAnswer(root, app);

  const drawNow = () => {
    asked = 0;
    const setup = answer.drawn(trial ?? app.setup);
    const { refusal } = picture.draw(setup, light);
    const known = pupilOf(setup).place !== undefined;
    // What nothing is known of has no picture, and the answer says why.
    one(root, ".frame-picture").toggleAttribute("data-empty", refusal !== undefined || !known);
    one(root, ".frame-view").toggleAttribute("data-unknown", !known);
    one(root, ".frame-complaint").textContent = refusal && known ? refusalSentence(refusal) : "";
    showGrips(root, setup, answer.takeInHand);
    showEdge(root, app, setup);
  };
  /** Draws once before the next display frame, however often it is asked. @param {Setup | undefined} moved */
  const preview = (moved) => {
    trial = moved;
    asked ||= requestAnimationFrame(drawNow);
  };

  const check = (/** @type {Setup} */ moved) =>
    askLine(moved).refusal ?? askBalance(moved).refusal ?? askMotion(moved).refusal;
  const fields = all(root, ".field[data-field]").map((field) => mountField(field, app, check));
  const slides = mountSlides(root, app, preview, answer);
  mountPointing(root, app, { picture, preview, answer, light });
  mountChoices(root, app);

  const update = () => {
    if (root.hidden) return;
    const { frame, light: { aim } } = app.setup;
    trial = undefined;
    fields.forEach((show) => show());
    answer.update();
    slides.forEach((show) => show());
    one(root, "[data-do=invert]", HTMLInputElement).checked = frame.invert;
    one(root, "[data-do=polarized]", HTMLInputElement).checked = frame.sky.polarized;
    one(root, "[data-if=polarized]").hidden = !frame.sky.polarized;
    one(root, ".frame-sun-line").textContent = sunText(sunOf(app.setup), aim.azimuthDeg);
    one(root, ".frame-practice").textContent = practiceText();
    light.uniform = uniformStops(app.setup);
    light.skyStops = showBalance(root, app);
    showDrawn(root, app, answer.drawn(app.setup));
    showGrads(root, app);
    one(root, ".frame-list-line").textContent = gradsOf(app.setup).map(({ id }) => id).join(", ") || FRAME_WORDS.none;
    drawNow();
    showTable(root, (opener, place) => turnPlace(opener, answer.drawn(app.setup), place, picture.at(place), light.uniform), picture.at);
  };
  // A hidden screen has no size to draw in.
  new MutationObserver(update).observe(root, { attributeFilter: ["hidden"] });
  new ResizeObserver(() => root.hidden || preview(trial)).observe(one(root, ".frame-view"));
  new MutationObserver(() => root.hidden || preview(trial)).observe(document.documentElement, { attributeFilter: ["data-look"] });
  return update;
}

/** How well the picture is known: at its corners, and behind the grad at the subject. @param {Setup} setup */
function knownText(setup) {
  const { reply } = askFit(setup);
  const known = profileIn(setup) && subjectKnown(setup);
  const left = gradsBeside(setup).flatMap(({ id, said }) => (said ? [] : [id])).join(", ");
  return [
    left ? FRAME_WORDS.lineNotSaid(left) : "",
    reply ? cornerRangeText(reply) : "",
    known ? say("At the subject the grad is known to {known}.", { known: stopsKnownText(known) }) : "",
  ].filter(Boolean).join(" ");
}

/**
 * A finger on the picture; what is read under it opens what stands there.
 * @param {HTMLElement} root @param {App} app
 * @param {{picture: ReturnType<typeof mountPicture>, preview: (moved: Setup | undefined) => void, answer: ReturnType<typeof mountGradAnswer>, light: import("./picture.js").Light}} drawn
 */
function mountPointing(root, app, { picture, preview, answer, light }) {
  mountFinger(root, app, picture, preview, answer);
  const readout = one(root, "[data-do=turn-place]");
  readout.addEventListener("click", () => {
    const { reading } = picture;
    turnPlace(readout, answer.drawn(app.setup), { ...reading, up: picture.middle(reading) }, picture.at(reading), light.uniform);
  });
}

/** @param {HTMLElement} root @param {App} app */
function mountChoices(root, app) {
  const onCheck = (/** @type {string} */ name, /** @type {(setup: Setup, on: boolean) => void} */ set) =>
    one(root, `[data-do=${name}]`).addEventListener("change", (/** @type {Event} */ event) =>
      app.change((setup) => set(setup, /** @type {HTMLInputElement} */ (event.target).checked)));
  onCheck("invert", (setup, on) => {
    setup.frame.invert = on;
  });
  onCheck("polarized", (setup, on) => {
    setup.frame.sky.polarized = on;
  });
  one(root, "[data-do=darkest]").addEventListener("click", () => app.change((setup) => {
    delete setup.frame.sky.turnDeg;
  }));
  mountGrads(root, app);
  speakAnswers(root);
}

/** @param {HTMLElement} root @param {App} app @param {Setup} setup */
function showEdge(root, app, setup) {
  const { reply } = askLine(setup);
  const lens = { focal: fixed(setup.lens.focalLengthMm ?? 0, 1), stop: KINDS_OF_FIELD.fNumber.show(fNumberOf(setup)) };
  const edge = reply?.edge;
  one(root, ".frame-edge-word").textContent = edge ? EDGE_WORD[/** @type {keyof typeof EDGE_WORD} */ (edge.suits)] : "—";
  const words = (/** @type {string} */ text, /** @type {string} */ figure) =>
    askedWords(text, `turn-${figure}`, (opener) => turnLine(opener, app, setup, figure));
  one(root, ".frame-edge-why").replaceChildren(...(edge ? [words(edgeText(edge, setup.frame.skyline, lens), "edge.hard.blendOfFrame")] : []));
  const [height, degree] = reply ? setLineText(reply) : [];
  one(root, ".frame-set").replaceChildren(...(height && degree ? [
    el("li", { text: fromRimText(fromRim(setup)) }), el("li", {}, words(height, "lineHeightMm")), el("li", {}, words(degree, "slidePerDegreeMm")),
  ] : []));
}

/** Gives how much brighter the sky is. @param {HTMLElement} root @param {App} app */
function showBalance(root, app) {
  const { setup } = app;
  const { reply } = askBalance(setup);
  const word = one(root, ".frame-balance-word");
  word.textContent = reply ? balanceVerdict(reply) : "—";
  one(root, ".frame-remedies").replaceChildren(...remedyTexts(reply?.remedies ?? {}).map((text) => el("li", { text })));
  one(root, ".frame-grads").replaceChildren(...(reply?.grads ?? []).map((/** @type {any} */ grad) =>
    el("li", {}, el("strong", { translate: "no", text: grad.id }), " ", askedWords(balanceText(grad), "turn-balance", (opener) =>
      turnLeft(opener, app, { ...setup, frame: { ...setup.frame, grad: grad.id } })))));
  return reply?.apartStops ?? 0;
}

/** What is told of what is drawn. @param {HTMLElement} root @param {App} app @param {Setup} setup */
function showDrawn(root, app, setup) {
  one(root, ".frame-known").textContent = knownText(setup);
  const { reply } = askMotion(setup);
  one(root, ".frame-motion-word").textContent = reply ? motionWord(reply) : "—";
  const beside = gradsBeside(setup).flatMap(({ id, said }) => (said ? [id] : []));
  one(root, ".frame-motion-why").replaceChildren(...(reply ? [askedWords(motionText(reply, beside), "turn-motion", (opener) => turnMotion(opener, app, setup))] : []));
}

/** @typedef {{across: number, up: number}} Place */

/** @param {HTMLElement} root @param {(opener: HTMLElement, place: Place) => void} turn @param {(place: Place) => number | undefined} at */
function showTable(root, turn, at) {
  one(root, ".frame-table tbody").replaceChildren(...TABLE_ROWS.map((up) =>
    el("tr", {}, el("th", { scope: "row", text: percent(up) }),
      ...TABLE_COLUMNS.map((across) => el("td", {}, askedWords(cellText(at({ across, up })), "turn-cell", (opener) => turn(opener, { across, up })))))));
}
