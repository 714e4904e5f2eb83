// @ts-check
/** Depth first: a wanted depth or blur gives the stop to shoot at. */
import { WISH } from "../../questions/depth-and-colour.js";
import { WORKING_STOP } from "../../questions/stack.js";
import { answerTo } from "../../questions/question.js";
import { say } from "../../language/say.js";
import { distanceText, fixed, limitText, stopLabel } from "../../language/numbers.js";
import { refusalSentence } from "../../language/words/shared.js";
import { all, el, one } from "../../parts/dom.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { mountField } from "../../parts/field.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 */

/** The stop that grants the wish, as the sensor must see it. @param {Setup} setup */
function granted(setup) {
  if (setup.lens.focalLengthMm === undefined) return {};
  const bare = answerTo(WORKING_STOP, setup, setup.shot.aperture, false);
  if (bare.refusal) return { refusal: bare.refusal };
  const { reply, refusal } = answerTo(WISH, setup, bare.reply.focalLengthMm);
  if (refusal) return { refusal };
  if (!setup.lens.movesOut) return { depth: reply, aperture: reply.tNumber, label: reply.tNumberLabel };
  const focus = { ...setup.focus, onMm: reply.focusMm };
  const near = answerTo(WORKING_STOP, { ...setup, focus, lens: { ...setup.lens, extender: undefined } }, reply.tNumber, true);
  if (near.refusal) return { refusal: near.refusal };
  return { depth: reply, aperture: near.reply.workingAperture, label: `T${near.reply.workingLabel}` };
}

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountWish(root, app) {
  const box = one(root, ".now-wish");
  const kind = /** @type {HTMLSelectElement} */ (one(box, "[data-do=wish-kind]"));
  const fields = all(box, ".field");
  const shows = fields.map((field) => mountField(field, app, (setup) => granted(setup).refusal));
  kind.addEventListener("change", () => app.change((setup) => {
    setup.wish.kind = /** @type {Setup["wish"]["kind"]} */ (kind.value);
  }));
  return () => {
    const { setup } = app;
    kind.value = setup.wish.kind;
    for (const field of fields) field.hidden = field.dataset.wish !== setup.wish.kind;
    shows.forEach((show) => show());
    const out = one(box, ".wish-out");
    const line = one(box, ".now-wish-line");
    if (setup.wish.kind === "none") {
      line.textContent = say("let depth or blur choose the stop");
      return out.replaceChildren();
    }
    const { depth, aperture, label, refusal } = granted(setup);
    line.textContent = wishLine(setup);
    if (!depth || aperture === undefined || label === undefined) {
      const why = refusal ? refusalSentence(refusal, { path: refusal.field }) : say("Give the focal length first, under Depth.");
      return out.replaceChildren(el("p", { class: "complaint", text: why }));
    }
    // What a ring can be set to; the exact stop stands beside it.
    const onRing = KINDS_OF_FIELD.aperture.read(label);
    const isSet = setup.shot.aperture === onRing;
    const focusHere = setup.wish.kind === "places" && depth.focusMm !== setup.focus.onMm;
    out.replaceChildren(
      el("p", {}, el("strong", { class: "wish-stop", text: stopLabel(label) }), ` ${say("(exactly {stop}, {fNumber}) for {wish}: {outcome}.", {
        stop: fixed(aperture, 2), fNumber: stopLabel(depth.fNumberLabel), wish: wishLine(setup), outcome: consequences(setup, depth),
      })}`),
      ...(setup.lens.widestAperture !== undefined && aperture < setup.lens.widestAperture
        ? [el("p", { class: "complaint", text: say("Wider than the lens opens.") })] : []),
      ...(isSet && !focusHere
        ? [el("p", { class: "hint", text: say("That is the stop you want.") })]
        : [el("button", { type: "button", class: "wish-take", onclick: () => app.change((next) => {
            next.shot.aperture = onRing;
            if (focusHere) next.focus.onMm = depth.focusMm;
            delete app.drafts["shot.aperture"];
          }) }, say("Shoot at {stop}", { stop: stopLabel(label) }))]),
    );
    return undefined;
  };
}

/** What the wish does not name itself. @param {Setup} setup @param {import("../../api/glasscall.js").DepthReply} depth */
function consequences({ wish }, depth) {
  const near = limitText(depth.nearMm, depth.depthMm);
  const far = limitText(depth.farMm, depth.depthMm);
  const blur = fixed(depth.backgroundBlurMm, 2);
  if (wish.kind === "places") return say("focused at {focus}, background blur {blur} mm", { focus: distanceText(depth.focusMm), blur });
  if (wish.kind === "blur") return say("sharp from {near} to {far}, {percent} % of the height", { near, far, percent: fixed((depth.backgroundBlurOfFrame ?? 0) * 100, 1) });
  return say("sharp from {near} to {far}, background blur {blur} mm", { near, far, blur });
}

/** @param {Setup} setup */
function wishLine({ wish }) {
  switch (wish.kind) {
    case "depth": return say("a depth of {depth}", { depth: distanceText(wish.depthMm) });
    case "places": return say("sharp from {near} to {far}", { near: distanceText(wish.nearMm), far: distanceText(wish.farMm) });
    case "blur": return say("a background blur of {blur} mm", { blur: fixed(wish.blurMm, 3) });
    default: return say("a background blur of {percent} % of the height", { percent: fixed(wish.share * 100, 1) });
  }
}
