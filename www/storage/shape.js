// @ts-check
/** Whether something read back has the shape it was kept in. */

/** @param {unknown} value */
const kind = (value) => (Array.isArray(value) ? "list" : value === null ? "null" : typeof value);

/**
 * Lists are lists and records are records, as deep as the model goes. What is
 * missing, and single values, which may be of several kinds, are for the core
 * and the screens to judge.
 * @param {any} model
 * @param {any} kept
 * @returns {boolean}
 */
export function hasShape(model, kept) {
  const wanted = kind(model);
  if (wanted !== "list" && wanted !== "object") return true;
  if (kind(kept) !== wanted) return false;
  if (wanted === "list") {
    // All of one list are alike; an empty model says nothing of its items.
    return model.length === 0 || kept.every((/** @type {unknown} */ item) => kind(item) === kind(model[0]));
  }
  return Object.keys(model).every((name) => kept[name] === undefined || hasShape(model[name], kept[name]));
}

/** Texts by name, and nothing else. @param {unknown} value @returns {value is Record<string, string>} */
export function isTexts(value) {
  return kind(value) === "object" && Object.values(/** @type {object} */ (value)).every((text) => typeof text === "string");
}
