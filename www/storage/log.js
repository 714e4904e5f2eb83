// @ts-check
/** The records of the day, kept on this device apart from the set-up. */
import { mirror } from "./database.js";
import { put, textAt } from "./store.js";
import { areRecords } from "../day/record.js";

export const KEY = "glasscall-day";
/** What could not be read is put aside here, never thrown away. */
const ASIDE = "glasscall-day-aside";

/** @typedef {import("../day/record.js").DayRecord} DayRecord */

/** @param {string} [text] the log, where another place knows it better @returns {{records: DayRecord[], damaged: boolean}} */
export function loadRecords(text = textAt(KEY)) {
  if (!text) return { records: [], damaged: false };
  try {
    const records = JSON.parse(text);
    if (areRecords(records)) return { records, damaged: false };
  } catch {
    // Falls through: what cannot be read is put aside.
  }
  put(ASIDE, text);
  return { records: [], damaged: true };
}

/** @param {DayRecord[]} records @param {number} edit number of the state they are kept with */
export function saveRecords(records, edit) {
  const text = JSON.stringify(records);
  put(KEY, text);
  mirror(KEY, { text, edit });
}
