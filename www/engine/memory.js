// @ts-check
/**
 * Answers that were given, by question. One edit asks the same from many places
 * (a field that checks, the answer, a note), and the next edit asks most of it
 * again.
 */

/** Questions of so many characters are held for sure, twice as many at most. */
const HELD = 1_000_000;

/** @returns {<A extends object>(name: string, request: unknown, answer: () => A) => A} what was answered, or is now; nobody may change it */
export function memory() {
  // Two generations: what was not asked for while one filled up is forgotten.
  /** @type {Map<string, any>} */
  let newer = new Map();
  /** @type {Map<string, any>} */
  let older = new Map();
  let held = 0;
  return (name, request, answer) => {
    const question = questionOf(name, request);
    if (question === undefined) return answer();
    const known = newer.get(question);
    if (known) return known;
    const found = older.get(question) ?? kept(answer());
    if ((held += question.length) > HELD) [newer, older, held] = [new Map(), newer, question.length];
    newer.set(question, found);
    return found;
  };
}

/** The question as a text that no other question has; undefined where there is none. @param {string} name @param {unknown} request */
function questionOf(name, request) {
  const text = JSON.stringify(request);
  // JSON writes null for what is no number, and the core refuses the two in
  // other words.
  return text === undefined || text.includes("null") ? undefined : name + text;
}

/** Frozen, all the way down: many hold it. @template T @param {T} value @returns {T} */
function kept(value) {
  // The elements of a typed array cannot be frozen.
  if (typeof value !== "object" || value === null || ArrayBuffer.isView(value)) return value;
  Object.values(value).forEach(kept);
  return Object.freeze(value);
}
