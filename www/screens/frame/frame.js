// @ts-check
/** Frame: the picture of what the glass does. */
import { askBalance, askLine, askMotion, asField, fromRim, gradsOf, profileIn, sunOf, uniformStops } from "../../questions/frame.js";
import { fNumberOf, pupilOf } from "../../questions/fit.js";
import { ask } from "../../engine/ask.js";
import { putInForPicture } from "../../document/edits.js";
import { placeRequest } from "../../questions/open-up.js";
import { say } from "../../language/say.js";
import { fixed } from "../../language/numbers.js";
import { refusalSentence, WORDS } from "../../language/words/shared.js";
import {
  EDGE_WORD, FRAME_WORDS, MOTION_WORD, balanceText, balanceVerdict, cellText, edgeText, fromRimText, motionText, percent, practiceText, remedyTexts,
  setLineText, sunText,
} from "../../language/words/frame.js";
import { showChips } from "../../parts/chips.js";
import { all, el, one } from "../../parts/dom.js";
import { mountField } from "../../parts/field.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { mountSlider } from "../../parts/slider.js";
import { mountFinger } from "./finger.js";
import { mountGrads, showGrads } from "./grads.js";
import { mountPicture } from "./picture.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 */

/** @param {number} from @param {number} to @param {number} step */
const range = (from, to, step) => Array.from({ length: Math.round((to - from) / step) + 1 }, (_, nth) => Number((from + nth * step).toFixed(6)));

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

  const drawNow = () => {
    asked = 0;
    const setup = trial ?? app.setup;
    const { refusal } = picture.draw(setup, light);
    const noPupil = pupilOf(setup).place === undefined ? FRAME_WORDS.noPupil : "";
    one(root, ".frame-complaint").textContent = refusal ? refusalSentence(asField(refusal)) : noPupil;
    showGrip(root, setup);
    showEdge(root, setup);
  };
  /** Draws once before the next display frame, however often it is asked. @param {Setup | undefined} moved */
  const preview = (moved) => {
    trial = moved;
    asked ||= requestAnimationFrame(drawNow);
  };

  const check = (/** @type {Setup} */ moved) =>
    askLine(moved).refusal ?? askBalance(moved).refusal ?? askMotion(moved).refusal;
  const fields = all(root, ".field[data-field]").map((field) => mountField(field, app, check));
  const slides = mountSlides(root, app, preview);
  mountFinger(root, app, picture, preview);
  mountChoices(root, app);

  const update = () => {
    if (root.hidden) return;
    const { frame } = app.setup;
    trial = undefined;
    fields.forEach((show) => show());
    slides.forEach((show) => show());
    showChips(one(root, "[data-chips=grad]"), [
      { id: FRAME_WORDS.none, on: frame.grad === "" },
      ...gradsOf(app.setup).map(({ id }) => ({ id, on: id === frame.grad })),
    ], (id) => app.change((setup) => {
      setup.frame.grad = id === FRAME_WORDS.none ? "" : id;
    }));
    showWhereItIs(root, app);
    one(root, "[data-do=invert]").checked = frame.invert;
    one(root, "[data-do=polarized]").checked = frame.sky.polarized;
    one(root, "[data-if=polarized]").hidden = !frame.sky.polarized;
    one(root, "[value=turn]").disabled = !frame.sky.polarized;
    one(root, ".frame-sun-line").textContent = sunText(sunOf(app.setup), app.setup.light.aim.azimuthDeg);
    one(root, ".frame-practice").textContent = practiceText();
    light.uniform = uniformStops(app.setup);
    light.skyStops = showBalance(root, app.setup);
    showMotion(root, app.setup);
    showGrads(root, app);
    drawNow();
    showTable(root, picture.at);
  };
  // A hidden screen has no size to draw in.
  new MutationObserver(update).observe(root, { attributeFilter: ["hidden"] });
  new ResizeObserver(() => root.hidden || preview(trial)).observe(one(root, ".frame-view"));
  new MutationObserver(() => root.hidden || preview(trial)).observe(document.documentElement, { attributeFilter: ["data-look"] });
  return update;
}

/** @param {HTMLElement} root @param {App} app @param {(trial: Setup | undefined) => void} preview */
function mountSlides(root, app, preview) {
  const degrees = (/** @type {number} */ value) => `${fixed(value, 1)}°`;
  const stops = KINDS_OF_FIELD.aperture.steps?.().filter((value) => value >= 1.2 && value <= 23) ?? [];
  const held = one(root, ".frame-slides");
  /** @type {[string, string, number[], (value: number) => string, string][]} */
  const plans = [
    ["frame.line", say("Line"), range(0, 1, 0.005), percent, ""],
    ["frame.horizon", say("Horizon"), range(0, 1, 0.005), percent, ""],
    ["lens.fNumber", say("Stop"), stops, KINDS_OF_FIELD.fNumber.show, ""],
    ["frame.rotationDeg", say("Filter turned"), range(-90, 90, 1), degrees, ""],
    ["light.aim.rollDeg", say("Camera rolled"), range(-45, 45, 1), degrees, ""],
    ["frame.sky.turnDeg", say("Polarizer"), range(0, 179, 1), degrees, "polarized"],
  ];
  for (const [path, label, , , only] of plans) {
    const slide = el("div", { class: "slide" }, el("span", { class: "slide-label" }, `${label} `, el("output")));
    slide.dataset.slide = path;
    if (only) slide.dataset.only = only;
    held.append(slide);
  }
  /** @type {[string, string, number[], (value: number) => string][]} */
  const more = [
    ["frame.skyline", say("How far the skyline strays"), range(0, 0.6, 0.01), percent],
    ["frame.bright.at", say("Height of the bright reading"), range(0, 1, 0.01), percent],
    ["frame.dark.at", say("Height of the dark reading"), range(0, 1, 0.01), percent],
    ["frame.subject", say("Height of the subject"), range(0, 1, 0.01), percent],
  ];
  return [...plans.map(([path, label, values, show]) => /** @type {const} */ ([path, label, values, show])), ...more].map(([path, label, values, show]) => {
    const slide = one(root, `[data-slide="${path}"]`);
    const output = one(slide, "output");
    const value = path === "lens.fNumber" ? fNumberOf : undefined;
    const update = mountSlider(slide, app, { path, label, values, show, preview, value });
    const input = /** @type {HTMLInputElement} */ (one(slide, "input"));
    const tell = () => {
      const darkest = path === "frame.sky.turnDeg" && app.setup.frame.sky.turnDeg === undefined && document.activeElement !== input;
      output.textContent = darkest ? FRAME_WORDS.darkest : input.getAttribute("aria-valuetext");
    };
    input.addEventListener("input", tell);
    return () => {
      slide.hidden = slide.dataset.only === "polarized" && !app.setup.frame.sky.polarized;
      update();
      tell();
    };
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
}

/** Whether the filter that is looked through is the one in the rig; one that is only tried says so. @param {HTMLElement} root @param {App} app */
function showWhereItIs(root, app) {
  const { frame: { grad }, inPlace } = app.setup;
  const slot = inPlace.find(({ piece }) => piece === grad)?.slot;
  const put = () => {
    const { reply } = ask("openUp", placeRequest(app.setup, grad));
    if (reply) app.do(putInForPicture, reply.stacks[0].slots, grad);
    else app.notify(WORDS.noSlot(grad, app.setup.rig.slots.length));
  };
  one(root, ".frame-in").replaceChildren(...(grad === "" ? [] : slot !== undefined
    ? [FRAME_WORDS.isIn(grad, slot)]
    : [FRAME_WORDS.onlyTried(grad), " ", el("button", { type: "button", "data-do": "put-grad", onclick: put }, say("Put it in"))]));
}

/** The filter's line over the picture. @param {HTMLElement} root @param {Setup} setup */
function showGrip(root, setup) {
  const { frame } = setup;
  const grip = one(root, ".frame-grip");
  grip.hidden = profileIn(setup) === undefined;
  grip.style.top = `${(1 - frame.line) * 100}%`;
  grip.style.transform = `rotate(${-frame.rotationDeg}deg)`;
}

/** @param {HTMLElement} root @param {Setup} setup */
function showEdge(root, setup) {
  const { reply } = askLine(setup);
  const lens = { focal: fixed(setup.lens.focalLengthMm ?? 0, 1), stop: KINDS_OF_FIELD.fNumber.show(fNumberOf(setup)) };
  const edge = reply?.edge;
  one(root, ".frame-edge-word").textContent = edge ? EDGE_WORD[/** @type {keyof typeof EDGE_WORD} */ (edge.suits)] : "";
  one(root, ".frame-edge-why").textContent = edge ? edgeText(edge, setup.frame.skyline, lens) : "";
  one(root, ".frame-set").replaceChildren(...(reply ? [fromRimText(fromRim(setup)), ...setLineText(reply)] : []).map((text) => el("li", { text })));
}

/** Gives how much brighter the sky is. @param {HTMLElement} root @param {Setup} setup */
function showBalance(root, setup) {
  const { reply } = askBalance(setup);
  const word = one(root, ".frame-balance-word");
  if (!reply) {
    word.textContent = "";
    return 0;
  }
  word.textContent = balanceVerdict(reply);
  one(root, ".frame-remedies").replaceChildren(...remedyTexts(reply.remedies).map((text) => el("li", { text })));
  one(root, ".frame-grads").replaceChildren(...reply.grads.map((/** @type {any} */ grad) =>
    el("li", {}, el("strong", { translate: "no", text: grad.id }), ` ${balanceText(grad)}`)));
  return reply.apartStops;
}

/** @param {HTMLElement} root @param {Setup} setup */
function showMotion(root, setup) {
  const { reply } = askMotion(setup);
  one(root, ".frame-motion-word").textContent = reply ? MOTION_WORD[/** @type {keyof typeof MOTION_WORD} */ (reply.verdict)] : "";
  one(root, ".frame-motion-why").textContent = reply ? motionText(reply) : "";
}

/** @param {HTMLElement} root @param {(place: {across: number, up: number}) => number | undefined} at */
function showTable(root, at) {
  one(root, ".frame-table tbody").replaceChildren(...TABLE_ROWS.map((up) =>
    el("tr", {}, el("th", { scope: "row", text: percent(up) }),
      ...TABLE_COLUMNS.map((across) => el("td", { text: cellText(at({ across, up })) })))));
}
