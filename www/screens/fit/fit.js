// @ts-check
/** Fit: will this glass shade this lens on this sensor. */
import { ask } from "../../engine/ask.js";
import { askFit, fNumberOf, FIT, unsaid } from "../../questions/fit.js";
import { ringsInUse } from "../../questions/rings.js";
import { say } from "../../language/say.js";
import { fixed } from "../../language/numbers.js";
import { refusalSentence } from "../../language/words/shared.js";
import { FIT_WORDS, marginText, pupilText, zoomText } from "../../language/words/fit.js";
import { pathText } from "../../language/words/planning.js";
import { formatName, sourceText } from "../../language/words/sizes.js";
import { all, el, one } from "../../parts/dom.js";
import { mountField } from "../../parts/field.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { mountSlider } from "../../parts/slider.js";
import { mountPicks, lensName } from "../../parts/picks.js";
import { speakAnswers } from "../../parts/speak.js";
import { mountMap } from "./map.js";
import { mountOpenings } from "./openings.js";
import { showVerdict } from "./verdict.js";
import { pupilPart, turnFit } from "../../parts/turned-fit.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../api/glasscall.js").FitReply} FitReply
 */

/** Lenses people carry. Common practice, no source. */
const LENSES = [8, 10, 12, 14, 15, 16, 18, 20, 21, 24, 25, 27, 28, 29, 32, 35, 40, 47, 50, 58, 65, 75, 85, 90, 100, 110, 135, 150, 180, 200];

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountFit(root, app) {
  const check = checkIn(app);
  /** @type {Setup | undefined} */
  let trial;
  const preview = (/** @type {Setup | undefined} */ moved) => {
    trial = moved;
    // What a slider cannot reach is not worth a drawing.
    if (trial && !askFit(trial).refusal) show(trial);
  };
  const fields = all(root, ".field").map((field) => mountField(field, app, check(field)));
  const focal = mountSlider(one(root, "[data-slide='lens.focalLengthMm']"), app, {
    path: "lens.focalLengthMm",
    label: say("Focal length"),
    values: LENSES,
    show: (value) => `${value} mm`,
    preview,
  });
  const openings = mountOpenings(root, app, check, preview);
  mountChoices(root, app);
  speakAnswers(root);
  const picks = mountPicks(root, app);
  const map = mountMap(root, () => show(trial ?? app.setup));
  /** The last answer there was. @type {FitReply | undefined} */
  let good;

  /** @param {HTMLElement} opener */
  const turned = (opener) => {
    const request = FIT.request(app.setup);
    if (request && good) turnFit(opener, request, good, pupilPart(app.setup));
  };

  /** @param {Setup} setup */
  const show = (setup) => {
    const { reply, refusal, pupil } = askFit(setup, map.wants(setup));
    good = reply ?? good;
    one(root, ".fit-complaint").textContent = refusal ? [refusalSentence(refusal), good && FIT_WORDS.stale].filter(Boolean).join(" ") : "";
    showLens(root, setup, pupil?.place === undefined ? "" : pupilText(pupil.place, pupil.spreadMm));
    showVerdict(root, setup, reply ?? (refusal ? good : undefined), app, turned);
    map.show(setup, reply);
    one(root, ".fit-zoom-line").textContent = zoomText(reply?.zoom);
    openings.show(setup, reply);
    showRings(one(root, ".fit-rings"), setup, app);
  };

  const turn = one(root, "[data-do=turn]");
  turn.addEventListener("click", () => turned(turn));
  // Drawn only while it is seen: every screen is told of every change.
  new MutationObserver(() => !root.hidden && show(app.setup)).observe(root, { attributeFilter: ["hidden"] });

  return () => {
    picks();
    fields.forEach((update) => update());
    focal();
    openings.update();
    showChosen(root, app.setup);
    if (!root.hidden) show(trial ?? app.setup);
  };
}

/**
 * A value may be fine by itself and put another one out of its range: the
 * pupil in front of an opening, say. It is refused here, by that sentence.
 * @param {App} app
 * @returns {(field: HTMLElement) => import("../../parts/field.js").Check}
 */
const checkIn = (app) => (field) => (moved) => {
  const path = String(field.dataset.field);
  const { refusal } = askFit(moved);
  if (!refusal || refusal.field.startsWith(path)) return refusal;
  // What was wrong before is not this field's doing.
  if (askFit(app.setup).refusal) return undefined;
  return { code: /** @type {any} */ ("elsewhere"), field: path, given: refusalSentence(refusal) };
};

/** How the pupil came to be known. @type {Record<string, string>} */
const KNOWN = {
  figure: say("pupil|Given as a figure."), cards: say("pupil|By two cards."), ring: say("pupil|By a ring."), front: say("pupil|By its front only."),
};

/** What must be said first. */
const NOT_KNOWN = { lens: say("Focal length not said."), sensor: say("Sensor not said: see below."), pupil: say("Pupil not known.") };

/** @param {HTMLElement} root @param {Setup} setup @param {string} pupil what is known of it */
function showLens(root, setup, pupil) {
  one(root, ".fit-pupil-line").textContent = pupil;
  one(root, ".fit-known-lens").textContent = lensName(setup);
  one(root, ".fit-known-pupil").textContent = pupil === "" ? NOT_KNOWN[unsaid(setup)] : `${pupil} ${KNOWN[setup.lens.pupil.by]}`;
}

/** What was chosen, and which fields that asks for. @param {HTMLElement} root @param {Setup} setup */
function showChosen(root, setup) {
  const { pupil: { by }, squeeze = 1, fNumber } = setup.lens;
  one(root, "[data-do=pupil-by]", HTMLSelectElement).value = by;
  for (const part of all(root, "[data-by]")) part.hidden = part.dataset.by !== by;
  one(root, "[data-if=squeezes]").hidden = squeeze === 1;
  one(root, ".fit-number-note").textContent = fNumber === undefined
    ? say("The f-number is taken to be the stop you want, {stop}: T-stop for f-stop.", { stop: KINDS_OF_FIELD.fNumber.show(fNumberOf(setup)) })
    : say("The f-number is the one given here; exposure goes by the T-stop.");
  one(root, ".fit-assumed-sensor").hidden = setup.sensorSaid;
  one(root, ".fit-margin").textContent = marginText();
}

/** The rings of the lens are counted in, in plain sight. @param {HTMLElement} box @param {Setup} setup @param {App} app */
function showRings(box, setup, app) {
  const path = ringsInUse(setup);
  box.hidden = !path;
  if (!path) return;
  box.replaceChildren(
    say("On {lens} by ring {rings}. Distances below count from the last ring.", { lens: setup.lens.id ?? "", rings: pathText({ ...path, spareMm: undefined }) }), " ",
    el("button", { type: "button", onclick: () => app.change(({ lens }) => {
      lens.withoutRings = true;
    }) }, say("Leave the rings out")));
}

/** Lists of the trade and the way the pupil is known. @param {HTMLElement} root @param {App} app */
function mountChoices(root, app) {
  one(root, "[data-do=pupil-by]").addEventListener("change", (/** @type {Event} */ event) => {
    const by = /** @type {any} */ (event.target).value;
    app.change((setup) => {
      setup.lens.pupil.by = by;
    });
  });
  const { sensors = [], panels = [], threads = [] } = ask("sizes", {}).reply ?? {};
  // Each size says where it comes from; most say the same.
  const sources = /** @type {[string, {source: string}[]][]} */ ([[say("Panels"), panels], [say("Threads"), threads], [say("Formats"), sensors]])
    .map(([name, list]) => ({ name, from: new Set(list.map(({ source }) => sourceText(source))) }));
  one(root, ".fit-sources").replaceChildren(...sources.map(({ name, from }) =>
    el("li", { text: `${name}: ${[...from].join("; ")}.` })));
  const format = one(root, "[data-do=take-format]", HTMLSelectElement);
  format.append(...sensors.map((sensor, at) => el("option", { value: String(at), title: sourceText(sensor.source) },
    `${formatName(sensor.name)}, ${fixed(sensor.widthMm, 2)} × ${fixed(sensor.heightMm, 2)}`)));
  format.addEventListener("change", () => {
    const chosen = sensors[Number(format.value)];
    if (format.value && chosen) {
      for (const side of ["widthMm", "heightMm"]) delete app.drafts[`sensor.${side}`];
      app.change((setup) => {
        setup.sensor = { widthMm: chosen.widthMm, heightMm: chosen.heightMm };
      });
    }
    format.value = "";
  });
}
