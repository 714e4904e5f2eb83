// @ts-check
/**
 * Two phones' cases as one, by id and edit time. What only one has is taken;
 * what differs stands side by side until somebody chooses. Pure.
 */

/** @typedef {import("../api/glasscall.js").CaseContent} CaseContent */
/** When each record was last edited, by `list/key`. @typedef {Record<string, string>} Edited */

/**
 * One record that is not the same here and there.
 * @typedef {object} Conflict
 * @property {string} list
 * @property {string} key
 * @property {Record<string, any>} theirs
 * @property {string} [edited] when, there
 */

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
function ordered(value) {
  return JSON.stringify(value, (_, inner) =>
    inner && typeof inner === "object" && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
      : inner);
}

/** @param {CaseContent} content @returns {[string, Record<string, any>[]][]} */
const lists = (content) => /** @type {any} */ (Object.entries(content).filter(([, list]) => Array.isArray(list)));

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

/**
 * @param {{content: CaseContent, edited: Edited}} mine
 * @param {{content: CaseContent, edited: Edited}} theirs
 * @returns {{content: CaseContent, edited: Edited, added: number, same: number, conflicts: Conflict[]}}
 */
export function mergedCase(mine, theirs) {
  const content = /** @type {any} */ (structuredClone(mine.content));
  const edited = { ...mine.edited };
  let [added, same] = [0, 0];
  /** @type {Conflict[]} */
  const conflicts = [];
  for (const [name, list] of lists(theirs.content)) {
    content[name] ??= [];
    const here = keyed(content[name]);
    for (const [key, item] of keyed(list)) {
      const stamp = theirs.edited[`${name}/${key}`];
      const own = here.get(key);
      if (!own) {
        content[name].push(structuredClone(item));
        if (stamp) edited[`${name}/${key}`] = stamp;
        added += 1;
      } else if (ordered(own) === ordered(item)) same += 1;
      else conflicts.push({ list: name, key, theirs: structuredClone(item), ...(stamp ? { edited: stamp } : {}) });
    }
  }
  return { content, edited, added, same, conflicts };
}

/**
 * A conflict settled: theirs in the place of mine, or beside it under a name of its own.
 * @param {CaseContent} content
 * @param {Conflict} conflict
 * @param {"theirs" | "both"} how
 * @returns {CaseContent}
 */
export function settled(content, { list, key, theirs }, how) {
  const next = /** @type {any} */ (structuredClone(content));
  const at = [...keyed(next[list]).keys()].indexOf(key);
  if (how === "theirs") next[list].splice(at, at < 0 ? 0 : 1, theirs);
  else {
    const taken = new Set(next[list].map((/** @type {any} */ item) => item.id));
    let [id, nth] = [theirs.id, 1];
    while (taken.has(id)) id = `${theirs.id} (${(nth += 1)})`;
    next[list].push({ ...theirs, id });
  }
  return next;
}

/** The fields in which two records differ, side by side. @param {Record<string, any>} mine @param {Record<string, any>} theirs */
export function compared(mine, theirs) {
  return [...new Set([...Object.keys(mine), ...Object.keys(theirs)])]
    .map((field) => ({ field, mine: mine[field], theirs: theirs[field] }))
    .filter((row) => ordered(row.mine) !== ordered(row.theirs));
}
