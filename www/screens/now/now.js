// @ts-check
/** Now: from a reading to the glass. */
import { ask } from "../../engine/ask.js";
import { pull, putInForPicture, putInStack, readBare, turnWheel } from "../../document/edits.js";
import { placeRequest, shotSettings, withWhatIsInRequest } from "../../questions/open-up.js";
import { say } from "../../language/say.js";
import { fixed, signed, stopLabel, stopsText } from "../../language/numbers.js";
import { WORDS } from "../../language/words/shared.js";
import { all, el, one } from "../../parts/dom.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { mountField } from "../../parts/field.js";
import { showChips } from "../../parts/chips.js";
import { stackCard, stackLine } from "../../parts/stack.js";
import { flickerRows } from "../../parts/flicker.js";
import { mountColour } from "./colour.js";
import { mountDepth } from "./depth.js";
import { mountRamp } from "./ramp.js";
import { mountWish } from "./wish.js";

/** @typedef {import("../../start/start.js").App} App */

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountNow(root, app) {
  const fields = all(root, ".field:not([data-other])").map((field) => mountField(field, app));
  const wish = mountWish(root, app);
  const ramp = mountRamp(root, app);
  const beside = [mountDepth(root, app), mountColour(root, app)];
  let chosen = 0;
  let message = "";

  const through = all(root, "[name=through]").map((radio) => /** @type {HTMLInputElement} */ (radio));
  for (const radio of through) {
    radio.addEventListener("change", () => {
      const bare = radio.value === "bare";
      throughOpen = !bare;
      // Most readings through glass are taken through what is in.
      app.do(readBare, bare);
    });
  }
  let throughOpen = app.setup.reading.through.length > 0;

  const tapThrough = (/** @type {string} */ id) =>
    app.change(({ reading, wheel }) => {
      const density = wheel.find((one_) => WORDS.wheelAt(one_) === id);
      if (density === undefined) reading.through = toggled(reading.through, id);
      else if (reading.wheelDensity === density) delete reading.wheelDensity;
      else reading.wheelDensity = density;
    });
  const tapWheel = (/** @type {string} */ id) =>
    app.do(turnWheel, app.setup.wheel.find((density) => WORDS.wheelAt(density) === id) ?? 0);
  const tapKeep = (/** @type {string} */ id) =>
    app.change((setup) => {
      setup.keep = toggled(setup.keep, id);
    });
  const tapIn = (/** @type {string} */ id) => {
    const isIn = app.setup.inPlace.some((placed) => placed.piece === id);
    if (isIn) {
      message = "";
      return app.do(pull, id);
    }
    const { reply } = ask("openUp", placeRequest(app.setup, id));
    message = reply ? "" : WORDS.noSlot(id, app.setup.rig.slots.length);
    if (!reply) return update();
    app.do(putInForPicture, reply.stacks[0].slots, id);
    return undefined;
  };

  const putIn = (/** @type {import("../../parts/stack.js").Offer} */ stack) => {
    message = "";
    chosen = 0;
    app.do(putInStack, stack);
  };

  const update = () => {
    fields.forEach((show) => show());
    const { setup } = app;
    one(root, ".now-camera-line").textContent = cameraLine(setup);
    throughOpen ||= setup.reading.through.length > 0 || setup.reading.wheelDensity !== undefined;
    for (const radio of through) radio.checked = (radio.value === "through") === throughOpen;
    const throughChips = one(root, "[data-chips=through]");
    throughChips.hidden = !throughOpen;
    const chip = (/** @type {string[]} */ on) => (/** @type {import("../../document/setup.js").Piece} */ piece) => ({
      id: piece.id,
      on: on.includes(piece.id),
    });
    const { wheelDensity } = setup.reading;
    const wheelRead = setup.wheel.filter((density) => density > 0 && (density === setup.wheelNow || density === wheelDensity))
      .map((density) => ({ id: WORDS.wheelAt(density), on: density === wheelDensity }));
    // Nobody reads light through a graduated filter.
    const even = setup.kit.filter(({ kind }) => kind !== "grad");
    showChips(throughChips, [...even.map(chip(setup.reading.through)), ...wheelRead], tapThrough);
    showChips(one(root, "[data-chips=wheel]"), setup.wheel.map((density) => ({
      id: WORDS.wheelAt(density),
      on: density === setup.wheelNow,
    })), tapWheel);
    // It takes a slot and moves no stop: chosen under what must be in, it stands here.
    const inPlace = setup.inPlace.map(({ piece }) => piece);
    const wanted = setup.kit.filter(({ id, kind }) => kind !== "grad" || inPlace.includes(id) || setup.keep.includes(id));
    showChips(one(root, "[data-chips=in]"), wanted.map(chip(inPlace)), tapIn);
    showChips(one(root, "[data-chips=keep]"), setup.kit.map(chip(setup.keep)), tapKeep);
    one(root, ".now-keep-line").textContent = setup.keep.join(", ") || say("none");
    one(root, ".now-through-line").textContent = setup.reading.retaken ? WORDS.retaken(throughNames(setup)) : "";
    showNeed(root, app);
    one(root, ".now-in-result").replaceChildren(...whatIsIn(app, message));
    const stacks = app.answer?.stacks ?? [];
    if (chosen >= stacks.length) chosen = 0;
    one(root, ".best").replaceChildren(...bestStacks(app, chosen, putIn, (at) => {
      chosen = at;
      update();
    }));
    wish();
    ramp();
    beside.forEach((show) => show(stacks[chosen]));
    const shot = shotSettings(setup);
    one(root, ".flicker").replaceChildren(...flickerRows(shot.frameRate, shot, (degrees) =>
      app.change((next) => {
        next.shot.shutterAngleDeg = degrees;
        delete next.shot.shutterSeconds;
        delete app.drafts["shot.shutter"];
      })));
    one(root, ".assumed").replaceChildren(...assumptions(app).map((text) => el("li", { text })));
  };
  return update;
}

/** @param {string[]} list @param {string} id */
function toggled(list, id) {
  return list.includes(id) ? list.filter((other) => other !== id) : [...list, id];
}

/** What the light was read through. @param {import("../../document/setup.js").Setup} setup */
const throughNames = ({ reading: { through, wheelDensity } }) => [...through, ...(wheelDensity === undefined ? [] : [WORDS.wheelAt(wheelDensity)])];

/** @param {import("../../document/setup.js").Setup} setup */
function cameraLine({ reading, shot }) {
  const of = (/** @type {import("../../document/setup.js").Light} */ light, /** @type {string[]} */ parts) => {
    if (light.exposureIndex !== undefined) parts.push(say("EI {index}", { index: fixed(light.exposureIndex, 0) }));
    if (light.frameRate !== undefined) parts.push(say("{rate} fps", { rate: fixed(light.frameRate, 3) }));
    if (light.shutterAngleDeg !== undefined || light.shutterSeconds !== undefined) {
      parts.push(KINDS_OF_FIELD.shutter.show(light));
    }
    return parts.join(", ");
  };
  const own = of(shot, []);
  const read = of(reading, []);
  return own ? say("{read}; shot at {shot}", { read, shot: own }) : read;
}

/** @param {HTMLElement} root @param {App} app */
function showNeed(root, app) {
  const need = one(root, ".need");
  const stops = app.answer?.needStops ?? 0;
  need.classList.toggle("need-dark", stops < -0.005 && !app.answer?.needIsNothing);
  if (app.answer?.needIsNothing) {
    one(need, ".need-stops").textContent = signed(stops);
    one(need, ".need-more").textContent = say("as good as nothing: known to ± {stops}", { stops: stopsText(app.answer.needUncertainty.stops) });
    return;
  }
  if (stops < -0.005) {
    one(need, ".need-stops").textContent = stopsText(-stops);
    one(need, ".need-more").textContent = say("of light missing: open up, raise EI or light it");
    return;
  }
  one(need, ".need-stops").textContent = stopsText(Math.max(0, stops));
  const { reply } = ask("convertDensity", { stops: Math.max(0, stops) });
  one(need, ".need-more").textContent = reply
    ? say("to take away: density {density}, {factor} times", { density: fixed(reply.density, 2), factor: fixed(reply.factor, reply.factor < 10 ? 1 : 0) })
    : say("to take away");
}

/** @param {App} app @param {string} message @returns {(Node | string)[]} */
function whatIsIn(app, message) {
  const complaint = message ? [el("span", { class: "complaint", text: message }), " "] : [];
  if (app.setup.kit.length === 0) return [WORDS.noPieces];
  const { reply } = ask("openUp", withWhatIsInRequest(app.setup));
  const stack = reply?.stacks[0];
  if (!stack) return complaint;
  const inIt = app.setup.inPlace.map((placed) => placed.piece);
  if (app.setup.wheelNow > 0) inIt.push(WORDS.wheelAt(app.setup.wheelNow));
  const told = inIt.length === 0
    ? say("exposes right with nothing in.")
    : say("exposes right with {pieces}: {taken} taken, {left} left to {stop}.", {
        pieces: inIt.join(" + "), taken: stopsText(stack.stops), left: signed(stack.leftOverStops), stop: labelOf(app.setup.shot.aperture),
      });
  const stop = stack.apertureLabel === undefined ? say("stack|beyond any iris") : stopLabel(stack.apertureLabel);
  return [...complaint, el("strong", { class: "now-in-stop", text: stop }), ` ${told}`];
}

/** @param {number} aperture */
function labelOf(aperture) {
  return KINDS_OF_FIELD.aperture.show(aperture);
}

/**
 * @param {App} app
 * @param {number} chosen
 * @param {(stack: import("../../parts/stack.js").Offer) => void} putIn
 * @param {(at: number) => void} choose
 */
function bestStacks(app, chosen, putIn, choose) {
  if (app.complaint) {
    const stale = app.answer ? ` ${say("The answer below is the last good one.")}` : "";
    const complaint = el("p", { class: "complaint", text: app.complaint + stale });
    return app.answer ? [complaint, ...listed()] : [complaint];
  }
  return listed();

  function listed() {
    const stacks = app.answer?.stacks ?? [];
    const fitting = app.answer?.fitting;
    const cards = stacks.map((stack, at) =>
      at === chosen
        ? stackCard(app, stack, at === 0 ? say("stack|Best") : say("stack|Chosen"), () => putIn(stack))
        : stackLine(stack, () => choose(at)),
    );
    // Right below the best, which shades: the best that does not.
    const shades = stacks[0]?.fit !== undefined && stacks[0].fit.verdict !== "clear";
    if (shades && !fitting) cards.splice(1, 0, el("p", { class: "hint", text: WORDS.nothingFits }));
    if (fitting) cards.splice(1, 0, stackCard(app, fitting, say("Fits this lens"), () => putIn(fitting)));
    return cards;
  }
}

/** @param {import("../../document/setup.js").Piece[]} pieces */
const named = (pieces) => pieces.map(({ id }) => id).join(", ");

/** What the answer rests on that nobody has said. @param {App} app */
function assumptions({ setup, answer }) {
  const texts = [];
  const polarizer = setup.kit.find((piece) =>
    piece.kind === "polarizer" && piece.measuredDensity === undefined && piece.lossStops === undefined && piece.density === undefined);
  if (polarizer) texts.push(say("{piece} (polarizer) costs 1⅔ stops: common practice, not measured.", { piece: polarizer.id }));
  const marked = setup.kit.filter((piece) => piece.kind === "nd" && piece.measuredDensity === undefined);
  if (marked.length) texts.push(say("Taken as marked: {pieces}.", { pieces: named(marked) }));
  const unknown = setup.kit.filter((piece) => piece.kind === "nd" && piece.infraredDensity === undefined);
  if (unknown.length) texts.push(say("Stops no infrared, for all we know: {pieces}.", { pieces: named(unknown) }));
  if (answer?.stacks[0]?.fit && setup.lens.focalLengthMm !== undefined) {
    texts.push(say("The fit is for {focal} mm on {width} × {height} mm, as the Fit screen has it.", {
      focal: fixed(setup.lens.focalLengthMm, 1), width: fixed(setup.sensor.widthMm, 2), height: fixed(setup.sensor.heightMm, 2),
    }));
  }
  if (setup.lens.widestAperture === undefined) texts.push(say("How wide the lens opens is not known (under camera settings)."));
  if (answer && setup.shot.exposureIndex === undefined) texts.push(say("You shoot at the settings the light was read for, where none are given."));
  if (setup.lens.lossStops === undefined) texts.push(say("Depth is counted with the T-number as if it were the f-number: light lost in the lens is not known (under depth)."));
  texts.push(say("Stops are T-stops; a stop without a letter counts as T. Labels such as 2.8 stand for their exact value."));
  return texts;
}
