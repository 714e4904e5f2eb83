// @ts-check
/** Depth beside the answer: what is sharp at the stop to set and next to it. */
import { ask } from "../../engine/ask.js";
import { ANY_BEHIND, CLOSE_FOCUS, DEPTH } from "../../questions/depth-and-colour.js";
import { answerTo } from "../../questions/question.js";
import { focusOf, WORKING_STOP } from "../../questions/stack.js";
import { say } from "../../language/say.js";
import { distanceText, even, fixed, limitText, stopLabel } from "../../language/numbers.js";
import { refusalSentence } from "../../language/words/shared.js";
import { formatName } from "../../language/words/sizes.js";
import { all, el, one } from "../../parts/dom.js";
import { blurPicture } from "../../parts/blur-picture.js";
import { mountField } from "../../parts/field.js";
import { glassNotes } from "../../parts/glass-notes.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { figureWords, workButton } from "./work-button.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../api/glasscall.js").OfferReply} Offer
 * @typedef {import("../../api/glasscall.js").DepthReply} Depth
 * @typedef {import("../../api/glasscall.js").NeighbourReply} Neighbour
 */

/** Fields whose range reads as a distance. */
const DISTANCES = ["focus.onMm", "focus.backgroundMm"];

/**
 * The lens as it works and the depth it gives, for a stop the sensor must see.
 * @param {Setup} setup
 * @param {number} aperture
 */
function depthAt(setup, aperture) {
  const working = answerTo(WORKING_STOP, setup, aperture, setup.lens.movesOut ?? false);
  if (working.refusal) return { refusal: working.refusal };
  const tNumber = working.reply.atInfinityForAsked ?? aperture;
  const depth = answerTo(DEPTH, setup, working.reply.focalLengthMm, tNumber);
  if (depth.refusal) return { refusal: depth.refusal };
  return { working: working.reply, depth: depth.reply };
}

/** What the core has against lens, focus and picture. @param {Setup} setup */
const depthCheck = (setup) => depthAt(setup, setup.shot.aperture).refusal ?? answerTo(CLOSE_FOCUS, setup).refusal;

/** @param {HTMLElement} root @param {App} app @returns {(stack: Offer | undefined) => void} */
export function mountDepth(root, app) {
  const box = one(root, ".now-depth");
  const checks = { "behind.nowMm": (/** @type {Setup} */ setup) => answerTo(ANY_BEHIND, setup).refusal };
  const fields = [...all(box, ".field"), ...all(root, ".now-body [data-other]")].map((field) =>
    mountField(field, app, checks[/** @type {keyof typeof checks} */ (field.dataset.field)] ?? depthCheck));
  const format = mountFormat(box, app);
  const movesOut = one(box, "[data-do=moves-out]", HTMLInputElement);
  movesOut.addEventListener("change", () => app.change((setup) => {
    setup.lens.movesOut = movesOut.checked;
  }));
  const loss = one(root, ".now-loss-told");
  const asked = loss.textContent;
  // A ring is set to what it shows, so the label counts, not what it misses.
  const shootAt = (/** @type {string} */ label) => app.change((setup) => {
    setup.shot.aperture = KINDS_OF_FIELD.aperture.read(label);
    delete app.drafts["shot.aperture"];
  });
  return (stack) => {
    fields.forEach((show) => show());
    format();
    movesOut.checked = app.setup.lens.movesOut ?? false;
    const { setup } = app;
    one(box, ".now-depth-line").textContent = lensLine(setup);
    loss.textContent = asked;
    const result = one(box, ".now-depth-result");
    result.textContent = say("not known");
    const out = one(box, ".now-depth-out");
    const why = one(box, ".now-depth-why");
    why.textContent = "";
    if (setup.lens.focalLengthMm === undefined) {
      return out.replaceChildren(el("p", { class: "hint", text: say("Give the focal length above to see what is sharp.") }));
    }
    const aperture = stack?.apertureToSet ?? setup.shot.aperture;
    const { working, depth, refusal } = depthAt(setup, aperture);
    if (!depth || !working) {
      const stale = out.childElementCount > 0 ? ` ${say("Below is the last good answer.")}` : "";
      why.textContent = refusal ? refusalSentence(refusal, { as: DISTANCES.includes(refusal.field) ? "distance" : undefined, path: refusal.field }) + stale : "";
      return undefined;
    }
    if (setup.lens.lossStops !== undefined) loss.textContent = say("{stop} is {f}", { stop: stopLabel(depth.tNumberLabel), f: stopLabel(depth.fNumberLabel) });
    const lens = lensNotes(setup, aperture, working).map((text) => figureWords(text, "turn-lens", (figures, opener) => figures.openLens(opener, app, aperture)));
    const glass = stack ? glassNotes(setup, depth, stack).map(([text, name]) => figureWords(text, `turn-${name}`, (figures, opener) =>
      (name === "close-up" ? figures.openCloseUp(opener, app, stack) : figures.openFlatGlass(opener, app, depth, stack)))) : [];
    const turn = (/** @type {string} */ text, /** @type {string} */ path, tNumber = depth.tNumber) =>
      figureWords(text, `turn-${path}`, (figures, opener) => figures.openDepth(opener, app, working.focalLengthMm, tNumber, path));
    const { picture, strip } = blurPicture(columns(depth).map((column) => ({
      label: column.tNumberLabel, share: column.backgroundBlurOfFrame ?? 0, chosen: column === depth,
    })));
    result.textContent = say("{near} to {far}, focused at {focus}", {
      near: limitText(depth.nearMm, depth.depthMm), far: limitText(depth.farMm, depth.depthMm), focus: distanceText(focusOf(setup)),
    });
    return out.replaceChildren(
      el("ul", { class: "notes" }, ...[...lens, ...glass].map((words) => el("li", {}, words)), ...depthNotes(depth, setup).map(([text, path]) => el("li", {}, turn(text, path)))),
      table(depth, shootAt, turn),
      picture,
      el("p", { class: "hint blur-hint", text: stripText(setup, strip) }),
      workButton("depth", (worked, opener) => worked.openDepthWorking(opener, setup, aperture, stack)),
    );
  };
}

/** The wider neighbour, the stop itself, the narrower one. @param {Depth} depth @returns {(Depth | Neighbour)[]} */
function columns(depth) {
  const wider = depth.neighbours.filter(({ byStops }) => byStops < 0);
  const narrower = depth.neighbours.filter(({ byStops }) => byStops > 0);
  return [...wider, depth, ...narrower];
}

/** @param {Depth} depth @param {(label: string) => void} shootAt @param {(text: string, path: string, tNumber: number) => Node} turn */
function table(depth, shootAt, turn) {
  const shown = columns(depth);
  /** @type {[string, (column: Depth | Neighbour) => string, keyof Neighbour][]} */
  const rows = [
    [say("Sharp from"), ({ nearMm, depthMm }) => limitText(nearMm, depthMm), "nearMm"],
    [say("table|to"), ({ farMm, depthMm }) => limitText(farMm, depthMm), "farMm"],
    [say("Depth"), ({ depthMm }) => distanceText(depthMm), "depthMm"],
    [say("Background blur, mm"), ({ backgroundBlurMm }) => even(backgroundBlurMm, 2), "backgroundBlurMm"],
    [say("of the height"), ({ backgroundBlurOfFrame }) => `${even((backgroundBlurOfFrame ?? 0) * 100, 1)} %`, "backgroundBlurOfFrame"],
    [say("Diffraction, mm"), ({ diffractionMm }) => even(diffractionMm, 4), "diffractionMm"],
  ];
  const head = shown.map((column) => {
    const sub = el("span", { class: "depth-f", text: stopLabel(column.fNumberLabel) });
    const stop = stopLabel(column.tNumberLabel);
    if (column === depth) return el("th", { scope: "col", class: "depth-chosen" }, stop, sub);
    return el("th", { scope: "col" }, el("button", {
      type: "button", class: "depth-stop", onclick: () => shootAt(column.tNumberLabel),
    }, el("span", { class: "unseen", text: `${say("Shoot at")} ` }), `${stop} `, sub));
  });
  return el("table", { class: "depth-table" },
    el("thead", {}, el("tr", {}, el("td", {}), ...head)),
    el("tbody", {}, ...rows.map(([name, text, path]) =>
      el("tr", {}, el("th", { scope: "row", text: name }), ...shown.map((column) =>
        el("td", { class: column === depth ? "depth-chosen" : "" }, turn(text(column), path, column.tNumber)))))));
}

/** What the picture below the table shows. @param {Setup} setup @param {number} strip a share of the height */
function stripText({ focus: { backgroundMm = "infinity" } }, strip) {
  const high = strip === 1 ? say("the whole height") : say("{percent} % of the height", { percent: fixed(strip * 100, 0) });
  return backgroundMm === "infinity"
    ? say("A point of light at infinity at each stop, on a strip of {height} of the picture.", { height: high })
    : say("A point of light {distance} away at each stop, on a strip of {height} of the picture.", { distance: distanceText(backgroundMm), height: high });
}

/** @param {Setup} setup */
function lensLine(setup) {
  const { lens, focus: { backgroundMm = "infinity" }, sensor } = setup;
  const focal = lens.focalLengthMm === undefined ? say("focal length not known") : `${fixed(lens.focalLengthMm, 1)} mm`;
  const extender = lens.extender === undefined ? "" : ` × ${fixed(lens.extender, 2)}`;
  const told = { lens: focal + extender, focus: distanceText(focusOf(setup)), width: fixed(sensor.widthMm, 1), height: fixed(sensor.heightMm, 1) };
  return backgroundMm === "infinity"
    ? say("{lens} at {focus}, background at infinity, picture {width} × {height} mm", told)
    : say("{lens} at {focus}, background {distance} away, picture {width} × {height} mm", { ...told, distance: distanceText(backgroundMm) });
}

/** What extender and close focus do to the ring. @param {Setup} setup @param {number} aperture @param {import("../../api/glasscall.js").WorkingStopReply} working */
function lensNotes(setup, aperture, working) {
  const texts = [];
  if (Math.abs(working.lossStops) >= 0.005 && working.setForAskedLabel) {
    const costs = [
      working.extenderLossStops === 0 ? "" : say("the extender takes {stops}", { stops: fixed(working.extenderLossStops, 2) }),
      working.closeFocusLossStops === 0 ? "" : say("close focus takes {stops}", { stops: fixed(working.closeFocusLossStops, 2) }),
    ];
    texts.push(say("Ring to {stop}: {costs} stops. In front of the lens all is as at that ring: the pupil stays.", {
      stop: stopLabel(`T${working.setForAskedLabel}`), costs: costs.filter(Boolean).join(", "),
    }));
  }
  if (!setup.lens.movesOut) {
    const near = answerTo(WORKING_STOP, setup, aperture, true).reply;
    if (near?.closeFocusShows) {
      texts.push(say("Focused this near, a lens that moves out as a whole loses {stops} stops. Say so above if yours does.", { stops: fixed(near.closeFocusLossStops, 2) }));
    }
  }
  return texts;
}

/** Each with the figure it opens as. @param {Depth} depth @param {Setup} setup @returns {[string, string][]} */
function depthNotes(depth, { focus }) {
  const rule = depth.circleRule === "given" ? say("as given") : say("diagonal/{parts}, common practice", { parts: fixed(focus.diagonalParts ?? 1500, 0) });
  const circle = say("Circle of confusion {circle} mm ({rule}).", { circle: fixed(depth.circleMm, 4), rule });
  const diffraction = depth.diffractionFromFNumber === undefined
    ? "" : say("Diffraction is larger than that from {stop} on.", { stop: `f/${fixed(depth.diffractionFromFNumber, 1)}` });
  return [
    [[circle, diffraction].filter(Boolean).join(" "), "diffractionFromFNumber"],
    [say("Hyperfocal at this stop {distance}. Distances count from the sensor.", { distance: distanceText(depth.hyperfocalMm) }), "hyperfocalMm"],
  ];
}

/** Formats to start from. @param {HTMLElement} box @param {App} app */
function mountFormat(box, app) {
  const choice = /** @type {HTMLSelectElement} */ (one(box, "[data-do=take-format]"));
  const { reply } = ask("sizes", {});
  const formats = reply?.sensors ?? [];
  choice.append(...formats.map((format, at) => el("option", { value: String(at) }, formatName(format.name))));
  choice.addEventListener("change", () => {
    const format = formats[Number(choice.value)];
    if (format) {
      app.change((setup) => {
        setup.sensor = { widthMm: format.widthMm, heightMm: format.heightMm };
        delete app.drafts["sensor.widthMm"];
        delete app.drafts["sensor.heightMm"];
      });
    }
  });
  return () => {
    const { widthMm, heightMm } = app.setup.sensor;
    const at = formats.findIndex((format) => format.widthMm === widthMm && format.heightMm === heightMm);
    choice.value = at < 0 ? "" : String(at);
  };
}
