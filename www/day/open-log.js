// @ts-check
/** The log, with what can tell which of its records can be shown: more than a start waits for. */
import { DAY_WORDS } from "../language/words/day.js";
import { openLog } from "../storage/log.js";
import { isReadable } from "./readable.js";

/** @param {() => void} changed @param {(text: string) => void} notify */
export const openDayLog = (changed, notify) => openLog(isReadable, { changed, trouble: (what) => notify(DAY_WORDS.log[what]) });
