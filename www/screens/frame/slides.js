// @ts-check
/** The sliders of the picture: line, horizon, stop, turns; and where things were read. */
import { fNumberOf } from "../../questions/fit.js";
import { say } from "../../language/say.js";
import { fixed } from "../../language/numbers.js";
import { FRAME_WORDS, heightText, percent } from "../../language/words/frame.js";
import { el, one } from "../../parts/dom.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { mountSlider } from "../../parts/slider.js";

/** @typedef {import("../../document/setup.js").Setup} Setup */
/** @typedef {{path: string, label: string, values: number[], show: (value: number) => string, only?: "polarized"}} Slide */

/** @param {number} from @param {number} to @param {number} step */
const range = (from, to, step) => Array.from({ length: Math.round((to - from) / step) + 1 }, (_, nth) => Number((from + nth * step).toFixed(6)));

const degrees = (/** @type {number} */ value) => `${fixed(value, 1)}°`;

/** Beside the picture. @returns {Slide[]} */
function slidesOfPicture() {
  const stops = KINDS_OF_FIELD.aperture.steps?.().filter((value) => value >= 1.2 && value <= 23) ?? [];
  return [
    { path: "frame.line", label: say("Line"), values: range(0, 1, 0.005), show: percent },
    { path: "frame.horizon", label: say("Horizon"), values: range(0, 1, 0.005), show: percent },
    { path: "lens.fNumber", label: say("Stop"), values: stops, show: KINDS_OF_FIELD.fNumber.show },
    { path: "frame.rotationDeg", label: say("Filter turned"), values: range(-90, 90, 1), show: degrees },
    { path: "light.aim.rollDeg", label: say("Camera rolled"), values: range(-45, 45, 1), show: degrees },
    { path: "frame.sky.turnDeg", label: say("Polarizer"), values: range(0, 179, 1), show: degrees, only: "polarized" },
  ];
}

/** Where the page says more of them. @returns {Slide[]} */
const slidesOfLines = () => [
  { path: "frame.skyline", label: say("How far the skyline strays"), values: range(0, 0.6, 0.01), show: percent },
  { path: "frame.bright.at", label: say("Height of the bright reading"), values: range(0, 1, 0.01), show: heightText },
  { path: "frame.dark.at", label: say("Height of the dark reading"), values: range(0, 1, 0.01), show: heightText },
  { path: "frame.subject", label: say("Height of the subject"), values: range(0, 1, 0.01), show: heightText },
];

/** @typedef {{lineNow: () => number, slides: (line: number) => void}} Answer */

/** @param {HTMLElement} root @param {import("../../start/start.js").App} app @param {(trial: Setup | undefined) => void} preview @param {Answer} answer */
export function mountSlides(root, app, preview, answer) {
  const beside = slidesOfPicture();
  for (const { path, label } of beside) {
    const slide = el("div", { class: "slide" }, el("span", { class: "slide-label" }, `${label} `, el("output")));
    slide.dataset.slide = path;
    one(root, ".frame-slides").append(slide);
  }
  return [...beside, ...slidesOfLines()].map((plan) => mountSlide(root, app, preview, plan, answer));
}

/** @param {HTMLElement} root @param {import("../../start/start.js").App} app @param {(trial: Setup | undefined) => void} preview @param {Slide} plan @param {Answer} answer */
function mountSlide(root, app, preview, { path, label, values, show, only }, answer) {
  const slide = one(root, `[data-slide="${path}"]`);
  const output = one(slide, "output");
  // What is said while it moves is said by the slider itself.
  output.setAttribute("aria-live", "off");
  const value = path === "lens.fNumber" ? fNumberOf : path === "frame.line" ? answer.lineNow : undefined;
  if (path === "frame.line") {
    // Before it is taken: what is put there by hand stays there.
    slide.addEventListener("change", ({ target }) => {
      const line = values[Number(/** @type {HTMLInputElement} */ (target).value)];
      if (line !== undefined) answer.slides(line);
    }, { capture: true });
  }
  const update = mountSlider(slide, app, { path, label, values, show, preview, value });
  const input = /** @type {HTMLInputElement} */ (one(slide, "input"));
  const tell = () => {
    const darkest = path === "frame.sky.turnDeg" && app.setup.frame.sky.turnDeg === undefined && document.activeElement !== input;
    output.textContent = darkest ? FRAME_WORDS.darkest : input.getAttribute("aria-valuetext");
  };
  input.addEventListener("input", tell);
  return () => {
    slide.hidden = only === "polarized" && !app.setup.frame.sky.polarized;
    update();
    tell();
  };
}
