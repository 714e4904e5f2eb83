// @ts-check
/** Where the fields of a question stand in the set-up: one way to say it for all questions. */

/** @typedef {import("../engine/ask.js").Refusal} Refusal */

/**
 * The core's path of a field, or the beginning of one, and the page's. `[]`
 * stands for any place in a list; a name that ends in `.*` takes what is below
 * along and leaves it out. A place may be worked out of that number and of what
 * the request was made of.
 * @typedef {Record<string, string | ((at: number, ...given: any[]) => string)>} Paths
 */

/** A refusal with its field as the page knows it. @template {Refusal | undefined} R @param {R} refusal @param {Paths} paths @param {any[]} given @returns {R} */
export function refusedOnPage(refusal, paths, ...given) {
  // A copy: what is thrown has fields that a spread leaves behind.
  return refusal && { ...refusal, field: pagePath(refusal.field, paths, ...given) };
}

/** The longest beginning that is known decides. @param {string} field @param {Paths} paths @param {any[]} given @returns {string} */
export function pagePath(field, paths, ...given) {
  for (const end of endsOf(field)) {
    const begun = field.slice(0, end);
    const below = field.slice(end);
    const whole = below && placeOf(`${begun}.*`, paths, given);
    if (whole) return whole;
    const place = placeOf(begun, paths, given);
    if (place !== undefined) return joined(place, below);
  }
  return field;
}

/** Where a part of a path ends, the last first. @param {string} field */
const endsOf = (field) => [...field.matchAll(/(?=[.[]|$)|^/g)].map(({ index }) => index).reverse();

/** @param {string} begun @param {Paths} paths @param {any[]} given */
function placeOf(begun, paths, given) {
  const place = paths[begun] ?? paths[begun.replace(/\d+(?=\])/g, "")];
  return typeof place === "function" ? place(Number(begun.match(/\[(\d+)\]/)?.[1]), ...given) : place;
}

/** @param {string} place @param {string} below */
function joined(place, below) {
  if (place === "") return below.replace(/^\./, "");
  return below === "" || /^[.[]/.test(below) ? place + below : `${place}.${below}`;
}
