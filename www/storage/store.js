// @ts-check
/**
 * What is kept on this device: the set-up, drafts and the look, at every change,
 * in two places (see database.js). The newer of the two is what the page
 * starts from, by the number of its edit; clocks are not asked.
 */
import { backUp, backups, mirror, mirrored, unmirror } from "./database.js";
import { hasShape, isTexts } from "./shape.js";
import { complete, demoSetup } from "../document/setup.js";

const VERSION = 1;
const LOOKS = ["system", "day", "sun", "night"];
/** How things are shown, the first of each unless chosen. */
const SHOWS = { language: ["auto", "en", "de"], lengths: ["mm", "in"], distances: ["m", "ft"] };
/** Where the newest state stands. */
export const KEY = "glasscall";
/** A newer Glasscall wrote there: this one leaves it alone and keeps its own here. */
const APART = `glasscall-v${VERSION}`;
/** Records that could not be read are put aside under these; the first two for good. */
const ASIDE = ["glasscall-aside", "glasscall-aside-2", "glasscall-aside-3"];

/**
 * @typedef {object} Saved
 * @property {import("../document/setup.js").Setup} setup
 * @property {Record<string, string>} drafts
 * @property {string} look
 * @property {Shows} shows
 * @property {number} edit counts every state that was ever kept
 * @property {string} by the window that kept it
 * @property {Record<string, number>} heads the newest edit of each window that is in it
 * @property {number} unsaved changes since the case was saved as a file
 */

/** @typedef {{language: string, lengths: string, distances: string}} Shows */

/** @typedef {"newer" | "backup" | "damaged"} Trouble what the user must be told */

let key = KEY;
/** The last record of another window that was looked at. */
let looked = "";
// Asked for at once: it takes as long as the core takes to start.
const second = Promise.all([KEY, APART].map(mirrored));

/** Whether this window may keep anything; a sandboxed one may not. */
function place() {
  try {
    return window.localStorage;
  } catch {
    return undefined;
  }
}

/** @param {string} name */
export function textAt(name) {
  try {
    return place()?.getItem(name) ?? undefined;
  } catch {
    return undefined;
  }
}

/** @param {string} name @param {string} text @returns {boolean} */
export function put(name, text) {
  try {
    const kept = place();
    kept?.setItem(name, text);
    return kept !== undefined;
  } catch {
    return false;
  }
}

/** @param {string | undefined} text @returns {any} undefined where it is no record */
function parsed(text) {
  try {
    const kept = JSON.parse(text ?? "");
    return hasShape({}, kept) ? kept : undefined;
  } catch {
    return undefined;
  }
}

/** A text as a state, completed and checked; undefined where it cannot be used. @param {string | undefined} text @param {(setup: any) => boolean} isSound @returns {Saved | undefined} */
export function savedIn(text, isSound) {
  const kept = parsed(text);
  if (kept?.version !== VERSION || !hasShape({ setup: {} }, kept)) return undefined;
  try {
    const setup = complete(kept.setup);
    if (!hasShape(demoSetup(), setup) || !isSound(setup)) return undefined;
    return {
      setup,
      drafts: isTexts(kept.drafts) ? kept.drafts : {},
      look: LOOKS.includes(kept.look) ? kept.look : LOOKS[0],
      shows: shownAs(kept.shows),
      edit: Number.isSafeInteger(kept.edit) ? kept.edit : 0,
      by: String(kept.by ?? ""),
      heads: hasShape({}, kept.heads) ? kept.heads : {},
      unsaved: Number.isSafeInteger(kept.unsaved) ? kept.unsaved : 0,
    };
  } catch {
    return undefined;
  }
}

/** What was chosen, as far as it can be. @param {any} [kept] @returns {Shows} */
export function shownAs(kept = {}) {
  const chosen = Object.entries(SHOWS).map(([name, all]) => [name, all.includes(kept?.[name]) ? kept[name] : all[0]]);
  return Object.fromEntries(chosen);
}

/**
 * What was kept, from the newest place that holds it whole.
 * @param {(setup: unknown) => boolean} isSound asks the core
 * @returns {Promise<{saved?: Saved, text?: string, trouble?: Trouble, aside?: string}>} text: the record, where it stands in the first place
 */
export async function load(isSound) {
  const [main, apart] = await second;
  const newer = [textAt(KEY), main?.text].some((text) => parsed(text)?.version > VERSION);
  if (newer) key = APART;
  const texts = [textAt(key), (newer ? apart : main)?.text];
  const [first, other] = texts.map((text) => savedIn(text, isSound));
  const saved = other && !(first && first.edit >= other.edit) ? other : first;
  const bad = texts.filter((text, at) => text && ![first, other][at]);
  bad.forEach((text) => putAside(String(text)));
  // It would stand in the way of what is kept from now on.
  if (texts[1] && !other) await unmirror(key, Number.MAX_SAFE_INTEGER);
  if (saved) return { saved, ...(saved === first ? { text: texts[0] } : {}), ...(newer ? { trouble: "newer" } : {}) };
  const aside = bad[0] ?? ASIDE.map(textAt).findLast(Boolean);
  if (newer || aside === undefined) return newer ? { trouble: "newer" } : {};
  const before = (await backups(key)).map(({ text }) => savedIn(text, isSound)).find(Boolean);
  return { aside, ...(before ? { saved: before, trouble: "backup" } : { trouble: "damaged" }) };
}

/** @param {string} text */
function putAside(text) {
  if (ASIDE.some((name) => textAt(name) === text)) return;
  const free = ASIDE.find((name) => textAt(name) === undefined) ?? ASIDE[ASIDE.length - 1];
  if (put(free, text)) return;
  // No room for both: it moves instead.
  remove(key);
  if (!put(free, text)) put(key, text);
}

/** @param {string} name */
function remove(name) {
  try {
    place()?.removeItem(name);
  } catch {
    // Not ours to change.
  }
}

/**
 * The page cannot show what is kept: out of the way with it, so that the next
 * start takes an earlier state.
 * @param {Saved} shown
 * @returns {Promise<boolean>} whether the next start will find something else
 */
export async function giveUp({ edit }) {
  const texts = [textAt(key), (await mirrored(key))?.text];
  for (const text of texts) if (text) putAside(text);
  remove(key);
  await unmirror(key, edit);
  return textAt(key) === undefined;
}

/** @param {Saved} saved */
const recordOf = (saved) => JSON.stringify({ version: VERSION, ...saved });

/**
 * Keeps it all.
 * @param {Saved} saved
 * @param {(kept: boolean) => void} tell whether it was kept; told again when the second place knows
 * @returns {string} the record
 */
export function save(saved, tell) {
  const text = recordOf(saved);
  const now = put(key, text);
  const later = mirror(key, { text, edit: saved.edit });
  if (now) tell(true);
  else later.then(tell);
  return text;
}

/** Another window wrote over a record that says more. @param {string} text */
export function keepAgain(text) {
  if (text && textAt(key) !== text) put(key, text);
}

/** What the second place holds of something else that is kept. @param {string} name */
export const mirroredText = async (name) => (await mirrored(name))?.text;

/** A state that was shown and worked, beside the newest ones. @param {Saved} saved */
export function backUpNow(saved) {
  return backUp(key, { text: recordOf(saved), edit: saved.edit, at: new Date().toISOString() });
}

/** The states kept before, newest first. @param {(setup: unknown) => boolean} isSound */
export async function earlierStates(isSound) {
  return (await backups(key)).flatMap(({ text, at }) => {
    const saved = savedIn(text, isSound);
    return saved ? [{ at, saved }] : [];
  });
}

/**
 * What another window kept meanwhile.
 * @param {string} known the record this window knows
 * @param {(setup: unknown) => boolean} isSound
 * @param {string | undefined} [text] as an event tells it
 * @returns {{saved?: Saved, newer?: boolean, text?: string}}
 */
export function keptElsewhere(known, isSound, text = textAt(key)) {
  if (text === undefined || text === known || text === looked) return {};
  looked = text;
  if (parsed(text)?.version > VERSION) {
    key = APART;
    return { newer: true };
  }
  return { text, saved: savedIn(text, isSound) };
}

/** Whether an event is about this record. @param {StorageEvent} event */
export const isOurs = (event) => event.key === key;
