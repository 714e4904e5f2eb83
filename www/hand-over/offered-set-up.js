// @ts-check
/** A set-up that arrives in a link: shown, and taken only when the user says so. */
import { ask } from "../engine/ask.js";
import { timedReading } from "../questions/light.js";
import { complete, demoSetup, openUpRequest } from "../document/setup.js";
import { DAY_WORDS } from "../language/words/day.js";
import { BadLink, linkIn, readLink } from "./link.js";
import { recordOf } from "../day/record.js";
import { sentence } from "../day/sentence.js";

/** What every set-up is about; always in the link, so that no later start can change it. */
const ALWAYS = ["version", "reading", "shot", "lens", "kit", "rig", "wheel", "wheelNow", "throughWheel", "inPlace", "keep", "slate"];

/** What is only about this phone. */
const NEVER = ["edited", "unsettled", "match"];

/** The parts worth sending: screens that were never touched are left out. @param {import("../document/setup.js").Setup} setup */
export function partsToSend(setup) {
  const start = /** @type {Record<string, unknown>} */ (/** @type {unknown} */ (demoSetup()));
  return Object.fromEntries(Object.entries(setup).filter(([part, value]) =>
    ALWAYS.includes(part) || (!NEVER.includes(part) && JSON.stringify(value) !== JSON.stringify(start[part]))));
}

/**
 * The set-up a link's text holds, if the core accepts it.
 * @param {string} text
 * @returns {Promise<import("../document/setup.js").Setup>}
 */
export async function setupFrom(text) {
  return soundSetup(await readLink(text));
}

/**
 * What came from elsewhere as a whole set-up, if the core accepts it.
 * @param {any} kept
 * @returns {import("../document/setup.js").Setup}
 */
export function soundSetup(kept) {
  try {
    const setup = complete(kept);
    // What older documents lack is added, so a bare number would pass as one.
    if (kept?.constructor === Object && isLike(setup, fullSetup())) {
      const { refusal } = ask("openUp", openUpRequest(setup));
      if (refusal === undefined || refusal.code === "noRoom") return setup;
    }
  } catch {
    // Not of the shape of a set-up.
  }
  throw new BadLink("damaged");
}

/** A set-up whose lists all hold something, to compare others with. */
function fullSetup() {
  const full = demoSetup();
  full.reading.through = full.keep = ["0.9"];
  full.wheel = full.behind.wheelMm = [0];
  full.inPlace = [{ slot: "tray 1", piece: "0.9" }];
  full.rig.always = [{ name: "hood", distanceFromRimMm: 0, shape: "circle", diameterMm: 77 }];
  full.light.timed = [timedReading(full, 16, true, new Date(0))];
  return full;
}

/** Words that stand where a number would. */
const INSTEAD_OF_NUMBERS = ["infinity", "darkest"];

/**
 * Whether a value is built like another: what is there is of the same type,
 * what a list holds is like its first. Fields may be more or fewer.
 * @param {any} value
 * @param {any} model
 * @returns {boolean}
 */
function isLike(value, model) {
  if (Array.isArray(model)) return Array.isArray(value) && (model.length === 0 || value.every((item) => isLike(item, model[0])));
  if (typeof model === "number") return Number.isFinite(value) || INSTEAD_OF_NUMBERS.includes(value);
  if (typeof model !== "object" || model === null) return typeof value === typeof model;
  return typeof value === "object" && value !== null && !Array.isArray(value)
    && Object.entries(model).every(([key, inner]) => value[key] === undefined || isLike(value[key], inner));
}

/** Shows a set-up from elsewhere and takes it when told. @param {import("../start/start.js").App} app @param {string | object} given a link's text, or what it holds */
export async function offerSetup(app, given) {
  const setup = typeof given === "string" ? await setupFrom(given) : soundSetup(given);
  const record = recordOf(setup, { id: "", time: "", zone: "" });
  app.notify(DAY_WORDS.arrived(record ? sentence(record) : ""), DAY_WORDS.takeIt, () => {
    app.notify(app.take(setup) ? DAY_WORDS.taken : DAY_WORDS.badLink.damaged);
  });
}

/** @param {import("../start/start.js").App} app */
export async function offerLink(app) {
  const text = linkIn(location.hash);
  if (!text) return;
  // Taken out of the address, so that a reload does not ask again.
  window.history.replaceState(null, "", location.hash.split("?")[0]);
  try {
    await offerSetup(app, text);
  } catch (error) {
    if (!(error instanceof BadLink)) throw error;
    app.notify(DAY_WORDS.badLink[error.code]);
  }
}
