// @ts-check
/** What the log's database holds. */
import { TAKEN_BACK } from "./log-keys.js";

/**
 * @typedef {import("./database.js").Database} Database
 * @typedef {import("./log-held.js").Held<any>} Held
 */

/** Reads what this window does not know yet. @param {Database} place @param {Held} held @returns {Promise<boolean>} whether there was anything */
export async function catchUp(place, held) {
  let news = false;
  const reached = await place.transact("readonly", (store) => {
    const keys = store.getAllKeys();
    keys.onsuccess = () => {
      const names = keys.result.map(String);
      const marks = names.filter((key) => key.startsWith(TAKEN_BACK));
      const fresh = names.filter((key) => !key.startsWith(TAKEN_BACK) && !held.has(key));
      news = held.setGone(marks.map((key) => key.slice(TAKEN_BACK.length))) || fresh.length > 0;
      readFresh(store, names, fresh, held);
    };
  });
  return reached && news;
}

/** @param {IDBObjectStore} store @param {string[]} names of all that is there @param {string[]} fresh @param {Held} held */
function readFresh(store, names, fresh, held) {
  if (fresh.length > names.length / 2) {
    // All of it, as at a start, is asked for in one go.
    const values = store.getAll();
    values.onsuccess = () => {
      const wanted = new Set(fresh);
      names.forEach((key, at) => wanted.has(key) && held.take(key, values.result[at]));
    };
    return;
  }
  for (const key of fresh) {
    const value = store.get(key);
    value.onsuccess = () => held.take(key, value.result);
  }
}

/** Whether all of them are in the database. @param {Database} place @param {string[]} keys */
export async function areThere(place, keys) {
  let all = false;
  const asked = await place.transact("readonly", (store) => {
    const found = store.getAllKeys();
    found.onsuccess = () => {
      const names = new Set(found.result.map(String));
      all = keys.every((key) => names.has(key));
    };
  });
  return asked && all;
}
