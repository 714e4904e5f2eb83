// @ts-check
/** The log of the day: opened once the first answer stands, empty until then. */
import { within } from "../storage/database.js";
import { PATIENCE_MS } from "../storage/store.js";

/** @typedef {import("../day/record.js").DayRecord} DayRecord */

/** @param {() => void} changed @param {(text: string) => void} notify */
export function dayLog(changed, notify) {
  /** @type {import("../storage/log.js").Log<DayRecord> | undefined} */
  let log;
  /** @type {Promise<void> | undefined} */
  let opening;

  async function open() {
    const { openDayLog } = await import("../day/open-log.js");
    log = openDayLog(changed, notify);
    await within(log.read, PATIENCE_MS);
  }

  /** Whoever writes waits for it. */
  function opened() {
    if (!log) throw new Error("the log is not open");
    return log;
  }

  return {
    /** Fulfilled when it is open; what fails is tried again by the next who wants it. */
    stands() {
      opening ??= open().catch((error) => {
        opening = undefined;
        throw error;
      });
      return opening;
    },
    records: () => log?.records() ?? [],
    unread: () => log?.unread() ?? [],
    /** @param {DayRecord[]} records */
    append: (records) => opened().append(records),
    /** @param {DayRecord[]} records */
    withdraw: (records) => opened().withdraw(records),
  };
}
