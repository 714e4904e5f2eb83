// @ts-check
/**
 * The converter: one density in every face it has, and the light of a stop.
 * Each field can be typed; the others follow. It leaves the set-up as it is.
 */
import { ask } from "../engine/ask.js";
import { shotSettings } from "../questions/open-up.js";
import { say } from "../language/say.js";
import { openDrawer } from "./drawer.js";
import { el } from "./dom.js";
import { mountField } from "./field.js";
import { workingOf } from "../questions/workings.js";
import { workingPart } from "./working.js";

/**
 * @typedef {import("../start/start.js").App} App
 * @typedef {import("../engine/ask.js").Refusal} Refusal
 * @typedef {{shutterAngleDeg?: number, shutterSeconds?: number}} Shutter
 * @typedef {{density: number, stops: number, factor: number, transmittance: number, frameRate: number, bare: Shutter, through: Shutter, face: string, asked?: any}} Glass
 * @typedef {{aperture: number, exposureIndex: number, frameRate: number, at: Shutter, illuminanceLux: number, luminanceCdM2: number, ev100: number, asked?: any}} Light
 */

/** One side of the converter: its fields, and what they ask when one of them leads. @template T @typedef {{state: T, fields: [path: string, kind: string, label: string][], follow: (state: T, lead: string) => Refusal | undefined}} Side */

const FACES = ["stops", "density", "factor", "transmittance", "through.shutter"];

/** What is asked with one face given. @param {Glass} glass */
function glassRequest({ frameRate, bare, through, face: lead, ...faces }) {
  const face = lead === "through.shutter"
    ? { throughSeconds: through.shutterSeconds ?? ask("convertDensity", { density: 0, frameRate, ...through }).reply?.through?.shutterSeconds }
    : { [lead]: /** @type {any} */ (faces)[lead] };
  return { ...face, frameRate, ...bare };
}

/** The face that was typed last stays when shutter or rate are. @param {Glass} glass @param {string} lead */
function followGlass(glass, lead) {
  if (FACES.includes(lead)) glass.face = lead;
  // Another bare shutter asks how long this glass makes it, never which glass.
  else if (glass.face === "through.shutter") glass.face = "density";
  const request = glassRequest(glass);
  const { reply, refusal } = ask("convertDensity", request);
  if (!reply) return refusal;
  const { density, stops, factor, transmittance, through } = reply;
  Object.assign(glass, { density, stops, factor, transmittance, asked: request });
  if (through) {
    const { shutterAngleDeg, shutterSeconds } = through;
    glass.through = shutterAngleDeg === undefined || glass.bare.shutterSeconds !== undefined ? { shutterSeconds } : { shutterAngleDeg };
  }
  return undefined;
}

const LIGHTS = ["illuminanceLux", "luminanceCdM2", "ev100"];

/** What is typed of the light asks for the stop; all else tells the light. @param {Light} light @param {string} lead */
function followLight(light, lead) {
  const { aperture, exposureIndex, frameRate, at } = light;
  const settings = { exposureIndex, frameRate, ...at };
  const request = LIGHTS.includes(lead) ? { ...settings, [lead]: /** @type {any} */ (light)[lead] } : { ...settings, aperture };
  const { reply, refusal } = ask("exposure", request);
  if (!reply) return refusal;
  const { illuminanceLux, luminanceCdM2, ev100 } = reply;
  Object.assign(light, { aperture: reply.aperture, illuminanceLux, luminanceCdM2, ev100, asked: request });
  return undefined;
}

/** @param {App} app @returns {[Side<Glass>, Side<Light>]} */
function sidesOf({ setup, answer }) {
  const { aperture: _, exposureIndex: __, frameRate, ...bare } = shotSettings(setup);
  const { reading } = setup;
  const { shutterAngleDeg, shutterSeconds } = reading;
  /** @type {Glass} */
  const glass = { density: answer?.needDensity ?? 0.9, stops: 0, factor: 1, transmittance: 1, frameRate, bare, through: {}, face: "density" };
  /** @type {Light} */
  const light = {
    aperture: reading.aperture ?? setup.shot.aperture, exposureIndex: reading.exposureIndex, frameRate: reading.frameRate,
    at: shutterSeconds === undefined ? { shutterAngleDeg } : { shutterSeconds }, illuminanceLux: 0, luminanceCdM2: 0, ev100: 0,
  };
  return [
    {
      state: glass,
      follow: followGlass,
      fields: [
        ["stops", "thirds", say("convert|Stops")],
        ["density", "density", say("convert|Density")],
        ["factor", "factor", say("convert|Factor")],
        ["transmittance", "share", say("Light passed")],
        ["bare.shutter", "shutter", say("Shutter without it")],
        ["through.shutter", "shutterTyped", say("Shutter with it")],
        ["frameRate", "rate", say("Frame rate")],
      ],
    },
    {
      state: light,
      follow: followLight,
      fields: [
        ["aperture", "aperture", say("Stop")],
        ["illuminanceLux", "light", say("On the subject, lux")],
        ["luminanceCdM2", "light", say("From the subject, cd/m²")],
        ["ev100", "number", say("EV at EI 100")],
        ["exposureIndex", "index", say("Exposure index")],
        ["at.shutter", "shutter", say("Shutter")],
        ["frameRate", "rate", say("Frame rate")],
      ],
    },
  ];
}

/** @template T @param {Side<T>} side @param {"convertDensity" | "exposure"} name @returns {HTMLElement} */
function sideOf({ state, fields, follow }, name) {
  /** What `mountField` asks of the page, where the set-up is the converter's own. */
  const own = /** @type {App} */ (/** @type {unknown} */ ({
    setup: state,
    drafts: {},
    keep() {},
    change(/** @type {(state: T) => void} */ edit) {
      edit(state);
      follow(state, lead);
      for (const show of shows) show();
      work();
    },
  }));
  let lead = "";
  const check = (/** @type {string} */ path) => (/** @type {any} */ trial) => {
    lead = path;
    const refusal = follow(trial, path);
    // Whatever is in the way, it is this field that was typed.
    return refusal && /** @type {Refusal} */ ({ code: refusal.code, field: path, given: refusal.given, min: refusal.min, max: refusal.max });
  };
  const boxes = fields.map(([path, kind, label]) => {
    const id = `convert-${name === "exposure" ? "light" : "glass"}-${path.replace(".", "-")}`;
    return el("div", { class: "field", "data-field": path, "data-kind": kind, ...(kind === "aperture" ? { "data-pad": "" } : {}) },
      el("label", { for: id }, label),
      el("input", { id, autocomplete: "off", spellcheck: "false", inputmode: kind.startsWith("shutter") ? "text" : "decimal" }));
  });
  follow(state, name === "convertDensity" ? "density" : "aperture");
  const shows = boxes.map((box) => {
    const path = String(box.dataset.field);
    // Steppers write without a check: what leads is said beforehand.
    box.addEventListener("click", () => {
      lead = path;
    }, { capture: true });
    return mountField(box, own, /** @type {any} */ (check(path)));
  });
  const summary = el("summary", {}, say("How it is worked out"));
  const working = el("details", { class: "convert-working", ontoggle: () => work() }, summary);
  /** What was asked last, as a sum; where nobody looks, none is made. */
  const work = () => {
    if (working.hasAttribute("open")) working.replaceChildren(summary, ...workingPart(workingOf(name, /** @type {any} */ (state).asked)).slice(1));
  };
  return el("div", { class: "convert-fields" }, ...boxes, working);
}

/** @param {HTMLElement} opener @param {App} app */
export function openConverter(opener, app) {
  openDrawer(opener, say("Convert"), (close) => {
    const [glass, light] = sidesOf(app);
    const ofLight = sideOf(/** @type {Side<any>} */ (light), "exposure");
    const parts = [sideOf(glass, "convertDensity"), ofLight];
    const take = el("button", { type: "button", class: "convert-take", onclick: () => {
      const { aperture, exposureIndex, frameRate, at } = light.state;
      app.change(({ reading }) => {
        Object.assign(reading, { aperture, exposureIndex, frameRate });
        delete reading.shutterAngleDeg;
        delete reading.shutterSeconds;
        Object.assign(reading, at);
      }, true, undefined, say("convert|the light read"));
      close();
    } }, say("Take it as the light read"));
    ofLight.append(take, el("p", { class: "hint" }, say("Lux for a flat receptor, C = 250; cd/m² with K = 12.5: the equations of ISO 2720.")));
    const tabs = [say("convert|Glass"), say("convert|Light")].map((text, nth) => el("button", { type: "button", class: "chip", "aria-pressed": String(nth === 0), onclick: () => {
      for (const [at, tab] of tabs.entries()) tab.setAttribute("aria-pressed", String(at === nth));
      for (const [at, part] of parts.entries()) part.hidden = at !== nth;
    } }, text));
    ofLight.hidden = true;
    return [el("div", { class: "chips convert-tabs" }, ...tabs), ...parts];
  });
}
