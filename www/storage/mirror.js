// @ts-check
/**
 * The second place: a database of the browser. The first one, local storage,
 * is written at once but reaches the disk seconds later, so that it survives a
 * killed tab and not a killed browser; this one reaches the disk within
 * milliseconds. Each has what the other lacks. It also holds what was kept
 * before, and is where a full local storage overflows to.
 *
 * Each window writes under a key of its own and without looking first: what is
 * newer is settled at the next start, by the number of the edit.
 */
import { database } from "./database.js";

const BACKUPS_KEPT = 5;
/**
 * Writes that are handed over and not yet answered. The browser does them one
 * after the other without the page; with one at a time each would wait for a
 * turn of a page that is busy showing the edit before.
 */
const UNDER_WAY = 6;

/** @typedef {{text: string, edit: number, at?: string}} Mirrored */
/** @typedef {Mirrored & {place: string}} Found */

const me = Math.random().toString(36).slice(2);
/** What this window wrote last, by key. @type {Map<string, Mirrored>} */
const written = new Map();
const kept = database("glasscall", "kept", () => {
  for (const [key, one] of written) mirror(key, one);
});

/**
 * What windows mirrored under a key; nothing where the database cannot be asked.
 * It may take as long as the database takes.
 * @param {string} key
 * @returns {Promise<Found[]>}
 */
export async function mirrored(key) {
  /** @type {Found[]} */
  let found = [];
  // Earlier versions wrote under the bare key.
  const range = IDBKeyRange.bound(key, `${key} \uffff`);
  await kept.transact("readonly", (store) => {
    const [places, values] = [store.getAllKeys(range), store.getAll(range)];
    values.onsuccess = () => {
      found = values.result.flatMap((value, at) => (typeof value?.text === "string" ? [{ ...value, place: String(places.result[at]) }] : []));
    };
  });
  return found;
}

/** By key, what waits for one of the writes under way, and who asks whether it is written. @type {Map<string, {one: Mirrored, tell: ((reached: boolean) => void)[]}>} */
const waiting = new Map();
let underWay = 0;

/**
 * Mirrors a text. Where too many writes are under way only the newest of those
 * that wait is written after them.
 * @param {string} key
 * @param {Mirrored} one
 * @returns {Promise<boolean>} whether it, or a newer one, has reached the disk
 */
export function mirror(key, one) {
  written.set(key, one);
  if (underWay < UNDER_WAY) return put(key, one);
  return new Promise((done) => waiting.set(key, { one, tell: [...waiting.get(key)?.tell ?? [], done] }));
}

/** @param {string} key @param {Mirrored} one */
async function put(key, one) {
  underWay += 1;
  const reached = await kept.write([[`${key} ${me}`, one]]);
  underWay -= 1;
  for (const [name, next] of waiting) {
    waiting.delete(name);
    put(name, next.one).then((there) => next.tell.forEach((tell) => tell(there)));
    break;
  }
  return reached;
}

/** @param {string} key */
const backupsOf = (key) => IDBKeyRange.bound(`${key}-backup-`, `${key}-backup-\uffff`);

/** @param {string} key @param {number} edit */
const backupKey = (key, edit) => `${key}-backup-${String(edit).padStart(16, "0")}`;

/** Forgets what windows that are gone mirrored. @param {string[]} places */
export const unmirror = (places) => kept.write([], places);

/**
 * Keeps a state beside the newest ones; the oldest goes. Numbered by edit, not
 * by a clock that may have been set back.
 * @param {string} key
 * @param {Mirrored} one
 */
export function backUp(key, one) {
  return kept.transact("readwrite", (store) => {
    store.put(one, backupKey(key, one.edit));
    const request = store.getAllKeys(backupsOf(key));
    request.onsuccess = () => {
      for (const old of request.result.slice(0, -BACKUPS_KEPT)) store.delete(old);
    };
  });
}

/** The states kept before, newest first. @param {string} key @returns {Promise<Mirrored[]>} */
export async function backups(key) {
  /** @type {Mirrored[]} */
  let found = [];
  await kept.transact("readonly", (store) => {
    const request = store.getAll(backupsOf(key));
    request.onsuccess = () => (found = request.result.reverse());
  });
  return found;
}
