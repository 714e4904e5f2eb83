// @ts-check
/** Records of a case by key, and when each was last edited. */

/** @typedef {import("../api/glasscall.js").CaseContent} CaseContent */
/** When each record was last edited, by `list/key`. @typedef {Record<string, string>} Edited */

/** Fields that say which record it is; the others say what it is like. */
const NAMING = ["rig", "body", "day", "setUp", "id", "name", "fromMm", "toMm", "clamp", "aperture", "frameRate"];

/** @param {Record<string, any>} item */
export function keyOf(item) {
  const naming = NAMING.filter((field) => item[field] !== undefined).map((field) => String(item[field]));
  // What is always in front of a lens goes by the name of its opening.
  if (item.id === undefined && item.opening?.name) naming.push(item.opening.name);
  return naming.length === 0 ? ordered(item) : naming.join(" · ");
}

/** Records by key; where two go by one, the second is the second. @param {Record<string, any>[]} list @returns {Map<string, Record<string, any>>} */
export function keyed(list) {
  /** @type {Map<string, Record<string, any>>} */
  const all = new Map();
  for (const item of list) {
    const key = keyOf(item);
    let free = key;
    for (let nth = 2; all.has(free); nth += 1) free = `${key} (${nth})`;
    all.set(free, item);
  }
  return all;
}

/** The same text for the same content. @param {unknown} value @returns {string} */
export function ordered(value) {
  return JSON.stringify(value, (_, inner) =>
    inner && typeof inner === "object" && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
      : inner);
}

/** @param {CaseContent} content @returns {[string, Record<string, any>[]][]} */
export const lists = (content) => /** @type {any} */ (Object.entries(content).filter(([, list]) => Array.isArray(list)));

/**
 * Edit times after a change: what is new or different was edited now.
 * @param {CaseContent} before
 * @param {CaseContent} after
 * @param {Edited} edited
 * @param {string} now
 * @returns {Edited}
 */
export function stamped(before, after, edited, now) {
  const stamps = { ...edited };
  for (const [name, list] of lists(after)) {
    const old = keyed(/** @type {any} */ (before)[name] ?? []);
    for (const [key, item] of keyed(list)) {
      if (!old.has(key) || ordered(old.get(key)) !== ordered(item)) stamps[`${name}/${key}`] = now;
    }
  }
  return stamps;
}
