// @ts-check
/** The records of the day, kept on this device apart from the set-up. */
import { place } from "../store.js";
import { areRecords } from "./record.js";

export const KEY = "glasscall-day";
/** What could not be read is put aside here, never thrown away. */
const ASIDE = "glasscall-day-aside";

/** @typedef {import("./record.js").DayRecord} DayRecord */

/** @returns {{records: DayRecord[], damaged: boolean}} */
export function loadRecords() {
  const text = place()?.getItem(KEY);
  if (!text) return { records: [], damaged: false };
  try {
    const records = JSON.parse(text);
    if (areRecords(records)) return { records, damaged: false };
  } catch {
    // Falls through: what cannot be read is put aside.
  }
  place()?.setItem(ASIDE, text);
  return { records: [], damaged: true };
}

/** @param {DayRecord[]} records @returns {boolean} whether they were kept */
export function saveRecords(records) {
  try {
    const kept = place();
    kept?.setItem(KEY, JSON.stringify(records));
    return kept !== undefined;
  } catch {
    // Full, or blocked: the page goes on and says so.
    return false;
  }
}
