// @ts-check
/** A set-up that arrives in a link: shown, and taken only when the user says so. */
import { demoDocument } from "../document/demo.js";
import { same } from "../document/document.js";
import { emptySlate } from "../document/slate.js";
import { migrate } from "../document/migrate.js";
import { answerOf, refusalOf } from "../questions/check.js";
import { say } from "../language/say.js";
import { badLinkText, DAY_WORDS } from "../language/words/day.js";
import { refusalSentence } from "../language/words/shared.js";
import { BadLink, linkIn, readLink } from "./link.js";
import { shotOf } from "../day/record.js";
import { sentence } from "../day/sentence.js";
import { undoing } from "../parts/undoing.js";

/** @typedef {import("../document/document.js").Document} Document */

/** What every set-up is about; always in the link, so that no later start can change it. */
const ALWAYS = ["version", "reading", "shot", "kit", "inUse", "today", "keep", "slate"];

/** Lists of which a set-up needs what is in use. @type {["lenses" | "rigs" | "bodies" | "days", "lens" | "rig" | "body" | "day"][]} */
const LISTS = [["lenses", "lens"], ["rigs", "rig"], ["bodies", "body"], ["days", "day"]];

/** What is only about this phone. */
const NEVER = ["edited", "unsettled", "match", "seen"];

/** The parts worth sending: what was never touched is left out. @param {Document} document */
export function partsToSend(document) {
  const start = demoDocument();
  const parts = /** @type {any} */ (Object.fromEntries(Object.entries(document).filter(([part, value]) =>
    ALWAYS.includes(part) || (!NEVER.includes(part) && !same(value, /** @type {any} */ (start)[part])))));
  for (const [list, kind] of LISTS) {
    // Of the demo's own lists only what is in use says anything.
    if (same(document[list], start[list])) parts[list] = /** @type {any[]} */ (document[list]).filter(({ id }) => id === document.inUse[kind]);
  }
  return parts;
}

/**
 * The set-up alone, as a code has room for it: what is on the camera, said or
 * tried, and nothing else of the case.
 * @param {Document} document
 */
export function partsInUse(document) {
  const { inUse, today, reading, keep, frame } = document;
  const inRig = today.rigs[String(inUse.rig)]?.inPlace ?? [];
  const meant = new Set([...inRig.map(({ piece }) => piece), ...reading.through, ...keep, ...(frame.bright.through ?? []), frame.grad]);
  const parts = { ...partsToSend({ ...document, rings: [], wares: [], ringOffers: [] }), kit: document.kit.filter(({ id }) => meant.has(id)) };
  for (const [list, kind] of LISTS) parts[list] = /** @type {any[]} */ (document[list]).filter(({ id }) => id === inUse[kind]);
  parts.today = Object.fromEntries(Object.entries(today).map(([list, all]) => [list,
    Object.fromEntries(Object.entries(all).filter(([id]) => Object.values(inUse).includes(id)))]));
  // What every phone begins with, it has.
  const start = demoDocument();
  const begun = { slate: emptySlate(), light: start.light, frame: start.frame };
  for (const [part, first] of Object.entries(begun)) parts[part] = unlike(/** @type {any} */ (document)[part], first);
  return parts;
}

/** @param {Record<string, any>} part @param {Record<string, any>} first */
const unlike = (part, first) => Object.fromEntries(Object.entries(part).filter(([name, value]) => !same(value, first[name])));

/**
 * The document a link's text holds, if the core accepts it.
 * @param {string} text
 * @returns {Promise<Document>}
 */
export async function documentFrom(text) {
  return soundDocument(await readLink(text));
}

/**
 * What came from elsewhere as a whole document, if it passes the check.
 * @param {any} kept
 * @returns {Document}
 */
export function soundDocument(kept) {
  /** @type {import("../engine/ask.js").Refusal | undefined} */
  let refusal;
  try {
    // What older documents lack is added, so a bare number would pass as one.
    if (kept?.constructor !== Object) throw new BadLink("damaged");
    const document = migrate(kept);
    refusal = refusalOf(document);
    if (refusal === undefined) return document;
  } catch {
    // Not of the shape of a document.
  }
  throw new BadLink("damaged", refusal && refusalSentence(refusal));
}

/** Why something from elsewhere is not taken. @param {BadLink} bad */
export const badText = (bad) => [badLinkText(bad), bad.why].filter(Boolean).join(" ");

/** Shows a set-up from elsewhere and takes it when told. @param {import("../start/start.js").App} app @param {string | object} given a link's text, or what it holds */
export async function offerSetup(app, given) {
  const document = typeof given === "string" ? await documentFrom(given) : soundDocument(given);
  const record = shotOf(answerOf(document).setup, { id: "", time: "", zone: "" });
  app.notify(DAY_WORDS.arrived(record ? sentence(record) : ""), DAY_WORDS.takeIt, async () => {
    tellTaken(app, await app.take(document, say("undo|a set-up taken up")));
  }, true);
}

/** Whether a set-up was taken, and the way back. @param {import("../start/start.js").App} app @param {boolean} taken */
export const tellTaken = (app, taken) =>
  (taken ? app.notify(DAY_WORDS.taken, say("Undo"), undoing(app)) : app.notify(DAY_WORDS.badLink.damaged));

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
    app.notify(badText(error));
  }
}
