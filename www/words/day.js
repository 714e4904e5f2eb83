// @ts-check
/** Sentences of the day and of what leaves the phone. */

export const DAY_WORDS = {
  damaged: "The log kept here could not be read. It is put aside untouched.",
  arrived: (/** @type {string} */ sentence) => `This link holds a set-up. ${sentence} Yours is still here.`,
  takeIt: "Take it up",
  taken: "Taken up. Undo brings yours back.",
  badLink: {
    version: "This link was made by a newer version. Update, then open it again.",
    damaged: "This link is damaged: part of it is missing or changed. Ask for it again.",
    tooLong: "This link is longer than any set-up and was not opened.",
  },
  logged: (/** @type {string} */ sentence) => `Logged. ${sentence}`,
  showLog: "See the log",
  notLogged: "The set-up is not possible yet, so there is nothing to log.",
  empty: "Nothing logged yet. “Log this” on Now keeps the set-up with date, time and zone.",
  nothingFound: "No record has all of these words.",
  copied: "Copied.",
  copyByHand: "Copying is blocked here: the text is selected, copy it by hand.",
  saved: (/** @type {string} */ name) => `Saved as ${name}.`,
  added: (/** @type {number} */ added, /** @type {number} */ disputed) =>
    `${added === 1 ? "1 record" : `${added} records`} added${disputed > 0 ? `, ${disputed} beside a different one of the same id` : ""}.`,
  notALog: "This file holds no log that can be read.",
  disputed: (/** @type {string[]} */ parts) => `Amended more than once: ${parts.join(", ")}. The latest stands above.`,
  amended: (/** @type {string} */ time, /** @type {string[]} */ changes) => `${time}: ${changes.join("; ")}`,
};
