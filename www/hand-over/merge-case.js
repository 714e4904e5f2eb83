// @ts-check
/**
 * Two phones' cases as one, by id and edit time. What only one has is taken;
 * what differs stands side by side until somebody chooses. Pure.
 */

import { keyed, lists, ordered } from "../document/edited.js";

/**
 * @typedef {import("../api/glasscall.js").CaseContent} CaseContent
 * @typedef {import("../document/edited.js").Edited} Edited
 */

/**
 * One record that is not the same here and there.
 * @typedef {object} Conflict
 * @property {string} list
 * @property {string} key
 * @property {Record<string, any>} theirs
 * @property {string} [edited] when, there
 */

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
