// @ts-check
/**
 * What is kept on this device: the set-up, drafts and the look, at every change,
 * in two places (see mirror.js). The newer of the two is what the page
 * starts from, by the number of its edit; clocks are not asked.
 */
import { within } from "./database.js";
import { backUp, backups, mirror, mirrored, unmirror } from "./mirror.js";
import { hasShape, isTexts } from "./shape.js";
import { dropText, putText, textAt } from "./texts.js";
import { covers } from "./windows.js";
import { migrate } from "../document/migrate.js";

const VERSION = 2;
const LOOKS = ["system", "day", "sun", "night"];
/** How things are shown, the first of each unless chosen. */
const SHOWS = { language: ["auto", "en", "de"], lengths: ["mm", "in"], distances: ["m", "ft"] };
/** Where the newest state stands. */
export const KEY = "glasscall";
/** A newer Glasscall wrote there: this one leaves it alone and keeps its own here. */
const APART = `glasscall-v${VERSION}`;
/** Records that could not be read are put aside under these; the first two for good. */
const LAST_ASIDE = "glasscall-aside-3";
const ASIDE = ["glasscall-aside", "glasscall-aside-2", LAST_ASIDE];

/**
 * @typedef {object} Saved
 * @property {import("../document/document.js").Document} setup the document
 * @property {Record<string, string>} drafts
 * @property {string} look
 * @property {Shows} shows
 * @property {number} edit counts every state that was ever kept
 * @property {string} by the window that kept it
 * @property {Record<string, number>} heads the newest edit of each window that is in it
 * @property {number} unsaved changes since the case was saved as a file
 */

/** @typedef {{language: string, lengths: string, distances: string}} Shows */

/** The one check. @typedef {(document: import("../document/document.js").Document) => import("../engine/ask.js").Refusal | undefined} RefusalOf */

/** @typedef {"newer" | "backup" | "damaged" | "fork"} Trouble what the user must be told */

let key = KEY;
/** The last record of another window that was looked at. */
let looked = "";
/** A database that does not answer must not keep the page from starting. */
export const PATIENCE_MS = 1500;
/** Longer where what stands in the first place cannot be read: then the second is all there is. */
const DAMAGED_PATIENCE_MS = 15_000;
/**
 * Where the second place did not answer, edits count on from beyond what any
 * other run can reach: what is edited now must not look older than what waits
 * there.
 */
export const BEYOND = 2 ** 32;
// Asked for at once: it takes as long as the core takes to start.
const second = Promise.all([KEY, APART].map(mirrored));

/** @param {string | undefined} text @returns {any} undefined where it is no record */
function parsed(text) {
  try {
    const kept = JSON.parse(text ?? "");
    return hasShape({}, kept) ? kept : undefined;
  } catch {
    return undefined;
  }
}

/** A text as a state, completed and checked; undefined where it cannot be used. @param {string | undefined} text @param {RefusalOf} refusalOf @returns {Saved | undefined} */
function savedIn(text, refusalOf) {
  const kept = parsed(text);
  if (![1, VERSION].includes(kept?.version) || !hasShape({ setup: {} }, kept)) return undefined;
  try {
    const setup = migrate(kept.setup);
    // What is built like a document can be shown with what is against it, and mended.
    if (refusalOf(setup)?.code === "damaged") return undefined;
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

/** @typedef {(text: string | undefined) => Saved | undefined} Read */

/** Each text once. @param {Read} read @returns {Read} */
function remembered(read) {
  /** @type {Map<string | undefined, Saved | undefined>} */
  const all = new Map();
  return (text) => {
    if (!all.has(text)) all.set(text, read(text));
    return all.get(text);
  };
}

/** Whether a record stands there that nobody can read. @param {string | undefined} text @param {Read} read */
const isDamaged = (text, read) => text !== undefined && !(parsed(text)?.version > VERSION) && !read(text);

/** What was chosen, as far as it can be. @param {any} [kept] @returns {Shows} */
export function shownAs(kept = {}) {
  const chosen = Object.entries(SHOWS).map(([name, all]) => [name, all.includes(kept?.[name]) ? kept[name] : all[0]]);
  return Object.fromEntries(chosen);
}

/**
 * What was kept, from the newest place that holds it whole.
 * @param {RefusalOf} refusalOf asks the core
 * @returns {Promise<{saved?: Saved, text?: string, trouble?: Trouble, aside?: string, late?: Promise<Saved | undefined>}>}
 *   text: the record, where it stands in the first place; late: what the second brings when it answers at last
 */
export async function load(refusalOf) {
  // The same text mostly stands in both places.
  const read = remembered((text) => savedIn(text, refusalOf));
  const answer = await within(second, isDamaged(textAt(KEY), read) ? DAMAGED_PATIENCE_MS : PATIENCE_MS);
  const [main = [], apart = []] = answer ?? [];
  const newer = [textAt(KEY), ...main.map(({ text }) => text)].some((text) => parsed(text)?.version > VERSION);
  if (newer) key = APART;
  const text = textAt(key);
  const first = read(text);
  const mirrors = (newer ? apart : main).map((one) => ({ ...one, saved: read(one.text) }));
  const others = mirrors.flatMap(({ saved }) => saved ?? []).sort((a, b) => b.edit - a.edit);
  const saved = others[0] && !(first && first.edit >= others[0].edit) ? others[0] : first;
  const bad = [...(text && !first ? [text] : []), ...mirrors.flatMap((one) => (one.saved ? [] : one.text))];
  const safe = bad.map(putAside).every(Boolean);
  const known = saved && saved === first ? { text } : {};
  if (!answer) {
    const late = second.then(([found = []]) => newestOf(found, refusalOf));
    const start = { ...known, late, ...(saved ? { saved: { ...saved, edit: saved.edit + BEYOND } } : {}) };
    return newer ? { ...start, trouble: "newer" } : bad.length > 0 ? { ...start, aside: bad[0], trouble: "damaged" } : start;
  }
  const lost = saved ? [first, ...others].flatMap((one) => (one && one !== saved && !covers(saved.heads, one.heads) ? one : [])) : [];
  for (const one of lost) await backUpNow(one);
  // The newest stays until this window has written: what stands in the first place may not be on the disk yet.
  const over = mirrors.filter((one) => (one.saved ? one.saved !== others[0] : safe));
  if (over.length > 0) await unmirror(over.map(({ place }) => place));
  // What cannot be used says itself that it is newer.
  if (saved && text !== undefined && !first && parsed(text)?.edit > saved.edit) return { saved, aside: text, trouble: newer ? "newer" : "backup" };
  if (saved) return { saved, ...known, ...(newer ? { trouble: "newer" } : lost.length > 0 ? { trouble: "fork" } : {}) };
  const aside = bad[0] ?? ASIDE.map(textAt).findLast(Boolean);
  if (newer || aside === undefined) return newer ? { trouble: "newer" } : {};
  const before = (await backups(key)).map((one) => savedIn(one.text, refusalOf)).find(Boolean);
  return { aside, ...(before ? { saved: before, trouble: "backup" } : { trouble: "damaged" }) };
}

/** @param {{text: string}[]} found @param {RefusalOf} refusalOf */
const newestOf = (found, refusalOf) =>
  found.flatMap(({ text }) => savedIn(text, refusalOf) ?? []).sort((a, b) => b.edit - a.edit)[0];

/** @param {string} text @returns {boolean} whether it is there now */
function putAside(text) {
  if (ASIDE.some((name) => textAt(name) === text)) return true;
  const free = ASIDE.find((name) => textAt(name) === undefined) ?? LAST_ASIDE;
  if (putText(free, text)) return true;
  if (textAt(key) !== text) return false;
  // No room for both: it moves instead.
  dropText(key);
  if (putText(free, text)) return true;
  putText(key, text);
  return false;
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
  const now = putText(key, text);
  const later = mirror(key, { text, edit: saved.edit });
  if (now) tell(true);
  else {
    within(later, PATIENCE_MS).then((reached) => tell(reached ?? false));
    later.then(tell);
  }
  return text;
}

/** Another window wrote over a record that says more. @param {string} text */
export function keepAgain(text) {
  if (text && textAt(key) !== text) putText(key, text);
}

/** A state that was shown and worked, beside the newest ones. @param {Saved} saved */
export function backUpNow(saved) {
  return backUp(key, { text: recordOf(saved), edit: saved.edit, at: new Date().toISOString() });
}

/** The states kept before, newest first. @param {RefusalOf} refusalOf */
export async function earlierStates(refusalOf) {
  return (await backups(key)).flatMap(({ text, at }) => {
    const saved = savedIn(text, refusalOf);
    return saved ? [{ at, saved }] : [];
  });
}

/**
 * What another window kept meanwhile.
 * @param {string} known the record this window knows
 * @param {RefusalOf} refusalOf
 * @param {string | undefined} [text] as an event tells it
 * @returns {{saved?: Saved, newer?: boolean, text?: string}}
 */
export function keptElsewhere(known, refusalOf, text = textAt(key)) {
  if (text === undefined || text === known || text === looked) return {};
  looked = text;
  if (parsed(text)?.version > VERSION) {
    key = APART;
    return { newer: true };
  }
  return { text, saved: savedIn(text, refusalOf) };
}

/** Whether an event is about this record. @param {StorageEvent} event */
export const isOurs = (event) => event.key === key;
