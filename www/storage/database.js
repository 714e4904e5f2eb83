// @ts-check
/**
 * A database of the browser with one list of things by key. It is opened when it
 * is first needed, and again when it was closed or deleted under the page.
 */

/**
 * @typedef {object} Database
 * @property {(mode: IDBTransactionMode, act: (store: IDBObjectStore) => void) => Promise<boolean>} transact whether it reached the disk
 * @property {(put: [string, unknown][], drop?: string[]) => Promise<boolean>} write in this very task, where the database is open
 */

/**
 * @param {string} name
 * @param {string} store
 * @param {() => void} [deleted] it was deleted from outside: what was in it must be written again
 * @returns {Database}
 */
export function database(name, store, deleted = () => {}) {
  /** @type {IDBDatabase | undefined} */
  let open;
  /** @type {Promise<IDBDatabase> | undefined} */
  let opening;

  const lost = () => {
    open = undefined;
    opening = undefined;
  };

  function opened() {
    opening ??= opensAnew(name, store, lost, deleted).then((made) => (open = made));
    opening.catch(lost);
    return opening;
  }

  /** @param {IDBDatabase} on @param {IDBTransactionMode} mode @param {(store: IDBObjectStore) => void} act @returns {Promise<boolean>} */
  const run = (on, mode, act) => new Promise((done) => {
    const transaction = on.transaction(store, mode, { durability: "strict" });
    transaction.oncomplete = () => done(true);
    transaction.onabort = () => done(false);
    act(transaction.objectStore(store));
  });

  /** @type {Database["transact"]} */
  async function transact(mode, act) {
    try {
      // No turn of a busy page between an edit and its writing.
      if (open) return await run(open, mode, act);
    } catch {
      // Closing under our hands: once more with a new one.
      lost();
    }
    try {
      return await run(await opened(), mode, act);
    } catch {
      return false;
    }
  }

  return {
    transact,
    write: (put, drop = []) => transact("readwrite", (all) => {
      for (const [key, value] of put) all.put(value, key);
      for (const key of drop) all.delete(key);
      // Without it the browser waits until the page has a moment to say it is done.
      all.transaction.commit?.();
    }),
  };
}

/** @param {string} name @param {string} store @param {() => void} lost it was closed @param {() => void} deleted @returns {Promise<IDBDatabase>} */
const opensAnew = (name, store, lost, deleted) => new Promise((done, fail) => {
  const request = indexedDB.open(name, 1);
  request.onupgradeneeded = () => request.result.createObjectStore(store);
  request.onsuccess = () => {
    const made = request.result;
    // Another window that wants to delete or upgrade must not wait for this one.
    made.onversionchange = ({ newVersion }) => {
      made.close();
      lost();
      if (newVersion === null) deleted();
    };
    // The browser itself threw it out.
    made.onclose = () => {
      lost();
      deleted();
    };
    done(made);
  };
  request.onerror = () => fail(request.error);
});

/**
 * What a promise brings, or nothing after a while: what does not answer must not
 * keep the page from starting.
 * @template T
 * @param {Promise<T>} promise
 * @param {number} ms
 * @returns {Promise<T | undefined>}
 */
export const within = (promise, ms) =>
  Promise.race([promise, new Promise((/** @type {(nothing: undefined) => void} */ done) => setTimeout(done, ms, undefined))]);
