// @ts-check
/** Reading and writing the set-up by a path such as `kit[2].density`. */

/** @param {string} path */
const keys = (path) => path.split(/[.[\]]+/).filter(Boolean);

/** @param {any} tree @param {string} path */
export function valueAt(tree, path) {
  return keys(path).reduce((inner, key) => inner?.[key], tree);
}

/** Undefined takes the field away; what holds it is made. @param {any} tree @param {string} path @param {unknown} value */
export function setAt(tree, path, value) {
  const way = keys(path);
  const last = /** @type {string} */ (way.pop());
  const made = (/** @type {any} */ inner, /** @type {string} */ key) => (value === undefined ? inner?.[key] : (inner[key] ??= {}));
  const holder = way.reduce(made, tree);
  if (value === undefined) delete holder?.[last];
  else holder[last] = value;
}
