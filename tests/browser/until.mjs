/** Waiting is for a state, never for a duration. */

/** Long enough for a machine that does three other things. */
export const PATIENCE_MS = 60_000;

/**
 * Asks until there is something, and gives it back. What throws on the way is
 * no answer yet: a page that is just being replaced has no document.
 * @template T
 * @param {string} what what is waited for, said when it does not come
 * @param {() => T | Promise<T>} ask
 * @returns {Promise<NonNullable<T>>}
 */
export async function until(what, ask) {
  // A clock that no test and no library can set.
  const patience = performance.now() + PATIENCE_MS;
  for (let last = "nothing"; ;) {
    try {
      const found = await ask();
      if (found) return found;
      last = String(found);
    } catch (error) {
      last = String(error);
    }
    if (performance.now() > patience) throw new Error(`waited in vain for ${what}; last: ${last}`);
    await new Promise((done) => setTimeout(done, 50));
  }
}
