// @ts-check
/** Fit: will this glass shade this lens on this sensor. */
import { ask } from "../../engine/ask.js";
import { askFit, fNumberOf, openingsOf, FIT } from "../../questions/fit.js";
import { ringsInUse } from "../../questions/rings.js";
import { say } from "../../language/say.js";
import { fixed } from "../../language/numbers.js";
import { refusalSentence } from "../../language/words/shared.js";
import {
  cornerRangeText, FIT_WORDS, LOOK, mapText, marginText, placeText, pointText, pupilText, remedies, settlesText, worstText, zoomText, zoomWorstText,
} from "../../language/words/fit.js";
import { stackFitText, verdictWord } from "../../language/words/stack-fit.js";
import { roomKnownText } from "../../language/words/known.js";
import { pathText } from "../../language/words/planning.js";
import { formatName, sourceText } from "../../language/words/sizes.js";
import { all, el, one } from "../../parts/dom.js";
import { mountField } from "../../parts/field.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { showLossMap } from "../../parts/loss-map.js";
import { mountSlider } from "../../parts/slider.js";
import { mountPicks, lensName } from "../../parts/picks.js";
import { speak, speakAnswers } from "../../parts/speak.js";
import { mountOpenings } from "./openings.js";
import { pupilPart, turnFit } from "../../parts/turned-fit.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../api/glasscall.js").FitReply} FitReply
 * @typedef {import("../../api/glasscall.js").FramePlace} Point
 */

/** Lenses people carry. Common practice, no source. */
const LENSES = [8, 10, 12, 14, 15, 16, 18, 20, 21, 24, 25, 27, 28, 29, 32, 35, 40, 47, 50, 58, 65, 75, 85, 90, 100, 110, 135, 150, 180, 200];
const MAP_COLUMNS = 72;

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountFit(root, app) {
  /**
   * A value may be fine by itself and put another one out of its range: the
   * pupil in front of an opening, say. It is refused here, by that sentence.
   * @param {HTMLElement} field
   * @returns {import("../../parts/field.js").Check}
   */
  const check = (field) => (moved) => {
    const path = String(field.dataset.field);
    const { refusal } = askFit(moved);
    if (!refusal || refusal.field.startsWith(path)) return refusal;
    // What was wrong before is not this field's doing.
    if (askFit(app.setup).refusal) return undefined;
    return { code: /** @type {any} */ ("elsewhere"), field: path, given: refusalSentence(refusal) };
  };
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
  /** @type {{reply: FitReply, found: import("../../questions/fit.js").Found[]} | undefined} */
  let good;
  /** @type {Point | undefined} where the loss map is read */
  let point;

  /** @param {Setup} setup */
  const show = (setup) => {
    const columns = MAP_COLUMNS;
    const shape = (setup.sensor.widthMm * (setup.lens.squeeze ?? 1)) / setup.sensor.heightMm;
    const rows = Math.max(8, Math.min(96, Math.round(columns / shape)));
    const { reply, refusal, pupil } = askFit(setup, { lossMap: { columns, rows }, points: point ? [point] : [] });
    const found = openingsOf(setup);
    if (reply) good = { reply, found };
    one(root, ".fit-complaint").textContent = refusal ? [refusalSentence(refusal), good && FIT_WORDS.stale].filter(Boolean).join(" ") : "";
    const known = pupil?.place === undefined ? "" : pupilText(pupil.place, pupil.spreadMm);
    one(root, ".fit-pupil-line").textContent = known;
    one(root, ".fit-known-lens").textContent = lensName(setup);
    one(root, ".fit-known-pupil").textContent = known === "" ? say("Pupil not known.") : `${known} ${KNOWN[setup.lens.pupil.by]}`;
    showVerdict(root, setup, reply ?? (refusal ? good?.reply : undefined), app);
    const map = one(root, ".fit-map");
    // A card that is even everywhere is not worth a picture.
    map.hidden = !reply?.lossMap || found.length === 0 || !losesLight(reply);
    if (reply?.lossMap && !map.hidden) {
      showLossMap(one(map, "canvas"), reply.lossMap, { columns, rows }, shape);
      const caption = [mapText(reply), cornerRangeText(reply)].filter(Boolean).join(" ");
      const [touched] = reply.points ?? [];
      const here = point && touched ? pointText(touched.lossStops, placeText(point)) : FIT_WORDS.touch;
      one(map, "figcaption").textContent = `${caption} ${here}`;
      one(map, "canvas").setAttribute("aria-label", say("Loss over the picture. {told}", { told: caption }));
    }
    one(root, ".fit-zoom-line").textContent = zoomText(reply?.zoom);
    openings.show(setup, reply);
    showRings(one(root, ".fit-rings"), setup, app);
  };

  const turn = one(root, "[data-do=turn]");
  turn.addEventListener("click", () => {
    const request = FIT.request(app.setup);
    if (request && good) turnFit(turn, request, good.reply, pupilPart(app.setup));
  });
  mountPoint(one(root, ".fit-map-view"), (touched) => {
    point = touched;
    show(trial ?? app.setup);
  });
  // Drawn only while it is seen: every screen is told of every change.
  new MutationObserver(() => !root.hidden && show(app.setup)).observe(root, { attributeFilter: ["hidden"] });

  return () => {
    picks();
    fields.forEach((update) => update());
    focal();
    openings.update();
    const { by } = app.setup.lens.pupil;
    one(root, "[data-do=pupil-by]", HTMLSelectElement).value = by;
    for (const part of all(root, "[data-by]")) part.hidden = part.dataset.by !== by;
    one(root, "[data-if=squeezes]").hidden = (app.setup.lens.squeeze ?? 1) === 1;
    const own = app.setup.lens.fNumber === undefined;
    one(root, ".fit-number-note").textContent = own
      ? say("The f-number is taken to be the stop you want, {stop}: T-stop for f-stop.", { stop: KINDS_OF_FIELD.fNumber.show(fNumberOf(app.setup)) })
      : say("The f-number is the one given here; exposure goes by the T-stop.");
    one(root, ".fit-margin").textContent = marginText();
    if (!root.hidden) show(trial ?? app.setup);
  };
}

/** How the pupil came to be known. @type {Record<string, string>} */
const KNOWN = {
  figure: say("pupil|Given as a figure."), cards: say("pupil|By two cards."), ring: say("pupil|By a ring."), front: say("pupil|By its front only."),
};

/** Whether any place of the picture loses light that could be seen. @param {FitReply} told */
const losesLight = ({ lossMap, cornerLossStops }) =>
  cornerLossStops === undefined || cornerLossStops >= 0.005 || (lossMap ?? []).some((stops) => stops === undefined || stops >= 0.005);

/** Reads the loss map under the finger. @param {HTMLElement} view @param {(point: Point) => void} read */
function mountPoint(view, read) {
  const mark = one(view, ".fit-map-mark");
  const share = (/** @type {number} */ at, /** @type {number} */ of) => Math.min(1, Math.max(0, at / of));
  const follow = (/** @type {PointerEvent} */ { clientX, clientY, buttons }) => {
    if (buttons === 0) return;
    const box = view.getBoundingClientRect();
    const [across, down] = [share(clientX - box.left, box.width), share(clientY - box.top, box.height)];
    Object.assign(mark.style, { left: `${across * 100}%`, top: `${down * 100}%` });
    mark.hidden = false;
    read({ acrossFrame: across, atFrameHeight: 1 - down });
  };
  view.addEventListener("pointerdown", follow);
  view.addEventListener("pointermove", follow);
}

/** @param {HTMLElement} root @param {Setup} setup @param {FitReply | undefined} reply @param {App} app */
function showVerdict(root, setup, reply, app) {
  const box = one(root, ".fit-verdict");
  const found = openingsOf(setup);
  // A last good answer may be from before there was any opening.
  const told = found.length > 0 && reply?.openings.length ? reply : undefined;
  /** @type {HTMLButtonElement} */ (one(box, ".fit-room")).disabled = told?.spareMm === undefined;
  box.dataset.verdict = told?.trust ?? "none";
  one(box, ".fit-known-room").textContent = told ? roomKnownText(told.openings[told.worst ?? 0]?.spareKnown) : "";
  const notes = one(root, ".fit-notes");
  const close = one(root, ".fit-close-told");
  close.textContent = "";
  const worst = told?.openings[told.worst ?? 0];
  if (!told || !worst) {
    one(box, ".fit-word").textContent = say("verdict|Not known");
    const noLens = setup.lens.focalLengthMm === undefined ? FIT_WORDS.noLens : setup.sensorSaid ? FIT_WORDS.noPupil : FIT_WORDS.noSensor;
    one(box, ".fit-room").textContent = found.length === 0 ? FIT_WORDS.noOpenings : noLens;
    notes.replaceChildren();
    speak(one(box, ".fit-room").textContent);
    return;
  }
  one(box, ".fit-word").textContent = verdictWord(told);
  one(box, ".fit-room").textContent = told.verdict !== worst.computed
    ? FIT_WORDS.asSeen
    : worstText(worst);
  const verdict = `${one(box, ".fit-word").textContent}, ${one(box, ".fit-room").textContent}`;
  // What is said of close focus stands far below the verdict: it is told there too.
  if (setup.lens.closeFocalMm !== undefined || setup.lens.closePupilMm !== undefined) close.textContent = verdict;
  speak(verdict);
  const zoomed = zoomWorstText(told, setup.lens.focalLengthMm ?? 0);
  const texts = [...(told.trust === "look" ? [settlesText(told) || LOOK] : []), ...(zoomed ? [zoomed] : []), ...remedies(told, setup.lens.widestAperture)];
  if (setup === app.setup && setup.inPlace.length > 0) {
    const { reply: inNow } = askFit({ ...setup, rig: onlyFilled(setup) });
    const narrowest = inNow?.openings[inNow.worst ?? 0];
    if (inNow && narrowest) {
      const { spareMm, name, computed } = narrowest;
      texts.push(say("With only what is in now: {told}", { told: stackFitText({ ...inNow, fNumber: fNumberOf(setup), spareMm, computed, worstSlot: name }) }));
    }
  }
  notes.replaceChildren(...texts.map((text) => el("li", { text })));
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

/** The rig with the slots that hold something. @param {Setup} setup */
function onlyFilled({ rig, inPlace }) {
  return { ...rig, slots: rig.slots.filter((slot) => inPlace.some((placed) => placed.slot === slot.id)) };
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
