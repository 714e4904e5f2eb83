// @ts-check
/** A set-up that arrives in a link: shown, and taken only when the user says so. */
import { ask } from "../engine.js";
import { complete, demoSetup, openUpRequest } from "../setup.js";
import { DAY_WORDS } from "../words/day.js";
import { BadLink, linkIn, readLink } from "./link.js";
import { recordOf } from "./record.js";
import { sentence } from "./say.js";

/** What every set-up is about; always in the link, so that no later start can change it. */
const ALWAYS = ["version", "reading", "shot", "lens", "kit", "rig", "wheel", "wheelNow", "throughWheel", "inPlace", "keep", "slate"];

/** The parts worth sending: screens that were never touched are left out. @param {import("../setup.js").Setup} setup */
export function partsToSend(setup) {
  const start = /** @type {Record<string, unknown>} */ (/** @type {unknown} */ (demoSetup()));
  return Object.fromEntries(Object.entries(setup).filter(([part, value]) =>
    ALWAYS.includes(part) || JSON.stringify(value) !== JSON.stringify(start[part])));
}

/**
 * The set-up a link's text holds, if the core accepts it.
 * @param {string} text
 * @returns {Promise<import("../setup.js").Setup>}
 */
export async function setupFrom(text) {
  const kept = await readLink(text);
  try {
    const setup = complete(kept);
    const { refusal } = ask("openUp", openUpRequest(setup));
    if (refusal === undefined || refusal.code === "noRoom") return setup;
  } catch {
    // Not of the shape of a set-up.
  }
  throw new BadLink("damaged");
}

/** @param {import("../app.js").App} app */
export async function offerLink(app) {
  const text = linkIn(location.hash);
  if (!text) return;
  // Taken out of the address, so that a reload does not ask again.
  window.history.replaceState(null, "", location.hash.split("?")[0]);
  try {
    const setup = await setupFrom(text);
    const record = recordOf(setup, { id: "", time: "", zone: "" });
    app.notify(DAY_WORDS.arrived(record ? sentence(record) : ""), DAY_WORDS.takeIt, () => {
      app.drafts = {};
      app.change((now) => {
        for (const key of Object.keys(now)) delete (/** @type {any} */ (now)[key]);
        Object.assign(now, setup);
      });
      app.notify(DAY_WORDS.taken);
    });
  } catch (error) {
    if (!(error instanceof BadLink)) throw error;
    app.notify(DAY_WORDS.badLink[error.code]);
  }
}
