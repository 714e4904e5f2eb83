// @ts-check
/** Under which key of the log's database what stands. */

/** What was kept before the log had a database of its own: all in one text. */
export const ONE_TEXT = "glasscall-day";
/** Records on their way into the database, in local storage. */
export const ON_ITS_WAY = "glasscall-log ";
export const TAKEN_BACK = "gone ";
const RECORD = "record ";
/** What is no list of records, put aside whole. */
const UNREAD = "unread ";

/** The same text for the same content, whatever order it was written in. @param {unknown} value @returns {string} */
export function ordered(value) {
  return JSON.stringify(value, (_, inner) =>
    inner && typeof inner === "object" && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
      : inner);
}

/** Tells contents of one id apart (FNV-1a, 32 bit). @param {string} text */
function nameOf(text) {
  let name = 0x811c9dc5;
  for (let at = 0; at < text.length; at += 1) name = Math.imul(name ^ text.charCodeAt(at), 0x01000193);
  return (name >>> 0).toString(16).padStart(8, "0");
}

/** Two things of one id are kept side by side. @param {any} record */
export const keyOf = (record) => `${RECORD}${typeof record?.id === "string" ? record.id : ""} ${nameOf(ordered(record))}`;

/** What an earlier version kept in one text. @param {string} text @returns {[string, unknown][]} */
export function entriesOf(text) {
  const value = parsed(text);
  if (Array.isArray(value)) return value.map((record) => [keyOf(record), record]);
  return [[UNREAD + nameOf(text), text]];
}

/** @param {any} value */
export const isNewer = (value) => value?.version > 1;

/** @param {string | undefined} text @returns {any} */
export function parsed(text) {
  try {
    return JSON.parse(text ?? "");
  } catch {
    return undefined;
  }
}
