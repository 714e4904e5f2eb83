// @ts-check
/** Depth beside the answer: what is sharp at the stop to set and next to it. */
import { ask } from "../engine.js";
import {
  behindLensRequest, closeUpRequest, depthRequest, onPage, workingStopRequest,
} from "../other-glass.js";
import { distanceText, even, fixed, limitText } from "../show.js";
import { refusalSentence } from "../words.js";
import { all, el, one } from "../parts/dom.js";
import { blurPicture } from "../parts/blur-picture.js";
import { mountField } from "../parts/field.js";
import { KINDS_OF_FIELD } from "../parts/kinds.js";

/**
 * @typedef {import("../app.js").App} App
 * @typedef {import("../setup.js").Setup} Setup
 * @typedef {import("../api/glasscall.js").OfferReply} Offer
 * @typedef {import("../api/glasscall.js").DepthReply} Depth
 * @typedef {import("../api/glasscall.js").NeighbourReply} Neighbour
 */

/** Close focus that takes less than this is not worth a word: a sixth of a stop. */
const WORTH_A_WORD = 1 / 6;

/** Fields whose range reads as a distance. */
const DISTANCES = /^focus\.(on|background)Mm$/;

/**
 * The lens as it works and the depth it gives, for a stop the sensor must see.
 * @param {Setup} setup
 * @param {number} aperture
 */
export function depthAt(setup, aperture) {
  const working = ask("workingStop", workingStopRequest(setup, aperture, setup.lens.movesOut ?? false));
  if (working.refusal) return { refusal: onPage(working.refusal) };
  const tNumber = working.reply.atInfinityForAsked ?? aperture;
  const depth = ask("depth", depthRequest(setup, working.reply.focalLengthMm, tNumber));
  if (depth.refusal) return { refusal: onPage(depth.refusal) };
  return { working: working.reply, depth: depth.reply };
}

/** What the core has against lens, focus and picture. @param {Setup} setup */
export function depthCheck(setup) {
  const { lens } = setup;
  const closeUp = lens.nearMm === undefined ? undefined : ask("closeUp", { dioptres: [1], lensNearMm: lens.nearMm }).refusal;
  return depthAt(setup, setup.shot.aperture).refusal ?? onPage(closeUp);
}

/** @param {HTMLElement} root @param {App} app @returns {(stack: Offer | undefined) => void} */
export function mountDepth(root, app) {
  const box = one(root, ".now-depth");
  const fields = all(box, ".field").map((field) => mountField(field, app, depthCheck));
  const format = mountFormat(box, app);
  const movesOut = one(box, "[data-do=moves-out]");
  movesOut.addEventListener("change", () => app.change((setup) => {
    setup.lens.movesOut = movesOut.checked;
  }));
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
    const out = one(box, ".now-depth-out");
    const why = one(box, ".now-depth-why");
    why.textContent = "";
    if (setup.lens.focalLengthMm === undefined) {
      return out.replaceChildren(el("p", { class: "hint", text: "Give the focal length above to see what is sharp." }));
    }
    const aperture = stack?.apertureToSet ?? setup.shot.aperture;
    const { working, depth, refusal } = depthAt(setup, aperture);
    if (!depth || !working) {
      const stale = out.childElementCount > 0 ? " Below is the last good answer." : "";
      why.textContent = refusal ? refusalSentence(refusal, { as: DISTANCES.test(refusal.field) ? "distance" : undefined, path: refusal.field }) + stale : "";
      return undefined;
    }
    const notes = [...lensNotes(setup, aperture, working), ...(stack ? glassNotes(setup, depth, stack) : []), ...depthNotes(depth, setup)];
    const { picture, strip } = blurPicture(columns(depth).map((column) => ({
      label: column.tNumberLabel, share: column.backgroundBlurOfFrame ?? 0, chosen: column === depth,
    })));
    return out.replaceChildren(
      table(depth, shootAt),
      picture,
      el("p", { class: "hint blur-hint", text: `A point of light ${background(setup)} at each stop, on a strip of ${strip} of the picture.` }),
      el("ul", { class: "notes" }, ...notes.map((text) => el("li", { text }))),
    );
  };
}

/** The wider neighbour, the stop itself, the narrower one. @param {Depth} depth @returns {(Depth | Neighbour)[]} */
function columns(depth) {
  const wider = depth.neighbours.filter(({ byStops }) => byStops < 0);
  const narrower = depth.neighbours.filter(({ byStops }) => byStops > 0);
  return [...wider, depth, ...narrower];
}

/** @param {Depth} depth @param {(label: string) => void} shootAt */
function table(depth, shootAt) {
  const shown = columns(depth);
  /** @type {[string, (column: Depth | Neighbour) => string][]} */
  const rows = [
    ["Sharp from", ({ nearMm, depthMm }) => limitText(nearMm, depthMm)],
    ["to", ({ farMm, depthMm }) => limitText(farMm, depthMm)],
    ["Depth", ({ depthMm }) => distanceText(depthMm)],
    ["Background blur, mm", ({ backgroundBlurMm }) => even(backgroundBlurMm, 2)],
    ["of the height", ({ backgroundBlurOfFrame }) => `${even((backgroundBlurOfFrame ?? 0) * 100, 1)} %`],
    ["Diffraction, mm", ({ diffractionMm }) => even(diffractionMm, 4)],
  ];
  const head = shown.map((column) => {
    const sub = el("span", { class: "depth-f", text: column.fNumberLabel });
    if (column === depth) return el("th", { scope: "col", class: "depth-chosen" }, column.tNumberLabel, sub);
    return el("th", { scope: "col" }, el("button", {
      type: "button", class: "depth-stop", onclick: () => shootAt(column.tNumberLabel),
    }, el("span", { class: "unseen", text: "Shoot at " }), `${column.tNumberLabel} `, sub));
  });
  return el("table", { class: "depth-table" },
    el("thead", {}, el("tr", {}, el("td", {}), ...head)),
    el("tbody", {}, ...rows.map(([name, text]) =>
      el("tr", {}, el("th", { scope: "row", text: name }), ...shown.map((column) =>
        el("td", { class: column === depth ? "depth-chosen" : "", text: text(column) }))))));
}

/** @param {Setup} setup */
function background({ focus }) {
  return focus.backgroundMm === undefined || focus.backgroundMm === "infinity"
    ? "at infinity"
    : `${distanceText(focus.backgroundMm)} away`;
}

/** @param {Setup} setup */
function lensLine(setup) {
  const { lens, focus, sensor } = setup;
  const focal = lens.focalLengthMm === undefined ? "focal length not known" : `${fixed(lens.focalLengthMm, 1)} mm`;
  const extender = lens.extender === undefined ? "" : ` × ${fixed(lens.extender, 2)}`;
  return `${focal}${extender} at ${distanceText(focus.onMm)}, background ${background(setup)}, picture ${fixed(sensor.widthMm, 1)} × ${fixed(sensor.heightMm, 1)} mm`;
}

/** What extender and close focus do to the ring. @param {Setup} setup @param {number} aperture @param {import("../api/glasscall.js").WorkingStopReply} working */
function lensNotes(setup, aperture, working) {
  const texts = [];
  if (Math.abs(working.lossStops) >= 0.005 && working.setForAskedLabel) {
    const costs = [
      working.extenderLossStops === 0 ? "" : `the extender takes ${fixed(working.extenderLossStops, 2)}`,
      working.closeFocusLossStops === 0 ? "" : `close focus takes ${fixed(working.closeFocusLossStops, 2)}`,
    ];
    texts.push(`Ring to T${working.setForAskedLabel}: ${costs.filter(Boolean).join(", ")} stops. In front of the lens all is as at that ring: the pupil stays.`);
  }
  if (!setup.lens.movesOut) {
    const near = ask("workingStop", workingStopRequest(setup, aperture, true)).reply;
    if (near && near.closeFocusLossStops >= WORTH_A_WORD) {
      texts.push(`Focused this near, a lens that moves out as a whole loses ${fixed(near.closeFocusLossStops, 2)} stops. Say so above if yours does.`);
    }
  }
  return texts;
}

/** Close-up lenses in the stack and glass behind the lens. @param {Setup} setup @param {Depth} depth @param {Offer} stack */
function glassNotes(setup, depth, stack) {
  const texts = [];
  const closeUp = closeUpRequest(setup, stack);
  if (closeUp) {
    const { reply, refusal } = ask("closeUp", closeUp);
    if (refusal) texts.push(refusalSentence(/** @type {any} */ (onPage(refusal))));
    else {
      const size = (/** @type {number | undefined} */ m) => (m === undefined ? "" : ` (${fixed(m, 2)} of life size)`);
      texts.push(`With ${fixed(reply.dioptres, 2)} dioptres the lens focuses from ${distanceText(reply.nearMm)}${size(reply.nearMagnification)} to ${distanceText(reply.farMm)}${size(reply.farMagnification)}, counted from the close-up lens${reply.at?.fieldWidthMm === undefined ? "" : `; at its nearest it takes in ${fixed(reply.at.fieldWidthMm, 0)} × ${fixed(reply.at.fieldHeightMm ?? 0, 0)} mm`}.${setup.lens.nearMm === undefined ? " Closest setting taken as 1 m: give yours above." : ""}`);
      if (reply.fieldFactor !== undefined) texts.push(`Where it stands it narrows the field in front to ${fixed(reply.fieldFactor * 100, 0)} %; what its rim shades is told with the fit.`);
      if (reply.gap) texts.push(`Out of reach: ${distanceText(reply.gap.fromMm)} to ${distanceText(reply.gap.toMm)}, with it on or off.`);
      if (reply.beside) texts.push(`Beside the split lens the scale holds as it is: ${distanceText(reply.beside.nearMm)} to infinity.`);
      texts.push("The table above leaves the close-up lens out.");
    }
  }
  const behind = behindLensRequest(setup, depth.fNumber, depth.circleMm, stack);
  if (behind) {
    const { reply, refusal } = ask("behindLens", behind);
    if (refusal) texts.push(refusalSentence(/** @type {any} */ (onPage(refusal))));
    else {
      const mark = (/** @type {import("../api/glasscall.js").Mark} */ place) =>
        place === "beyondInfinity" ? "beyond its infinity mark" : distanceText(place);
      const depthOfFocus = `the depth of focus (± ${fixed(reply.depthOfFocusMm, 3)} mm)`;
      if (reply.shiftMm !== 0) {
        texts.push(reply.verdict === "within"
          ? `Glass behind the lens moves focus ${fixed(reply.shiftMm, 3)} mm, within ${depthOfFocus}.`
          : `Glass behind the lens moves focus ${fixed(reply.shiftMm, 3)} mm, beyond ${depthOfFocus}: focus by eye. Infinity reads ${mark(reply.infinityReadsMm)}, ${distanceText(setup.focus.onMm)} reads ${mark(reply.scaleReadsMm)}.`);
      }
      if (reply.inFrontShiftMm > 0) {
        texts.push(setup.focus.onMm === "infinity"
          ? "Flat glass in front moves nothing at infinity."
          : `Through the flat glass in front things seem ${fixed(reply.inFrontShiftMm, 2)} mm nearer: ${distanceText(setup.focus.onMm, 3)} reads ${distanceText(reply.inFrontReadsMm, 3)}. None at infinity.`);
      }
      const moved = reply.wheel.filter(({ verdict }) => verdict === "beyond").length;
      if (moved > 0) texts.push(`${moved} of ${reply.wheel.length} wheel positions move focus beyond the depth of focus at this stop.`);
    }
  }
  return texts;
}

/** @param {Depth} depth @param {Setup} setup */
function depthNotes(depth, { focus }) {
  const rule = depth.circleRule === "given" ? "as given" : `diagonal/${fixed(focus.diagonalParts ?? 1500, 0)}, common practice`;
  const diffraction = depth.diffractionFromFNumber === undefined
    ? "" : ` Diffraction is larger than that from f/${fixed(depth.diffractionFromFNumber, 1)} on.`;
  return [
    `Circle of confusion ${fixed(depth.circleMm, 4)} mm (${rule}).${diffraction}`,
    `Hyperfocal at this stop ${distanceText(depth.hyperfocalMm)}. Distances count from the sensor.`,
  ];
}

/** Formats to start from. @param {HTMLElement} box @param {App} app */
function mountFormat(box, app) {
  const choice = /** @type {HTMLSelectElement} */ (one(box, "[data-do=take-format]"));
  const { reply } = ask("sizes", {});
  const formats = reply?.sensors ?? [];
  choice.append(...formats.map((format, at) => el("option", { value: String(at) }, format.name)));
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
