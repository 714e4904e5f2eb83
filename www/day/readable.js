// @ts-check
/**
 * Whether a record can be shown. Whoever wrote it, another program or a version
 * to come, it is tried alone: one that cannot be shown harms no other.
 */
import { migrate } from "../document/migrate.js";
import { damageOf } from "../questions/check.js";
import { factsOf } from "./columns.js";
import { amended, areRecords } from "./record.js";
import { sentence } from "./sentence.js";

/** @param {unknown} value @returns {value is import("./record.js").DayRecord} */
export function isReadable(value) {
  if (!areRecords([value])) return false;
  try {
    for (const shown of amended([/** @type {any} */ (value)])) {
      if (damageOf(migrate(shown.record.setup))) return false;
      sentence(shown.record, shown.slate);
      factsOf(shown);
    }
    return true;
  } catch {
    return false;
  }
}

/**
 * Of a list from elsewhere, what can be read.
 * @param {unknown} list
 * @returns {{records: import("./record.js").DayRecord[], bad: number} | undefined} nothing where it is no list
 */
export function readableOf(list) {
  if (!Array.isArray(list)) return undefined;
  const records = list.filter(isReadable);
  return { records, bad: list.length - records.length };
}
