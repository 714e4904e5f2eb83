// @ts-check
/**
 * The second place: a database of the browser. The first one, local storage,
 * is written at once but reaches the disk seconds later, so that it survives a
 * killed tab and not a killed browser; this one reaches the disk before it
 * answers, but only some milliseconds after the edit. Each has what the other
 * lacks. It also holds what was kept before, and is where a full local storage
 * overflows to.
 */

const NAME = "glasscall";
const STORE = "kept";
const BACKUPS_KEPT = 5;
/** A database that does not answer must not keep the page from starting. */
const PATIENCE_MS = 1500;

/** @typedef {{text: string, edit: number, at?: string}} Mirrored */

/** @type {Promise<IDBDatabase | undefined>} */
const opened = new Promise((done) => {
  setTimeout(done, PATIENCE_MS, undefined);
  try {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => request.result.createObjectStore(STORE);
    request.onsuccess = () => {
      // Another window that wants to delete or upgrade must not wait for this one.
      request.result.onversionchange = () => request.result.close();
      done(request.result);
    };
    request.onerror = () => done(undefined);
  } catch {
    done(undefined);
  }
});

/**
 * Runs one transaction; false or nothing where it cannot be.
 * @param {IDBTransactionMode} mode
 * @param {(store: IDBObjectStore) => void} act
 * @returns {Promise<boolean>} whether it reached the disk
 */
async function transact(mode, act) {
  const database = await opened;
  if (!database) return false;
  return new Promise((done) => {
    setTimeout(done, PATIENCE_MS, false);
    try {
      const transaction = database.transaction(STORE, mode, { durability: "strict" });
      transaction.oncomplete = () => done(true);
      transaction.onabort = () => done(false);
      act(transaction.objectStore(STORE));
    } catch {
      done(false);
    }
  });
}

/** What was mirrored under a key. @param {string} key @returns {Promise<Mirrored | undefined>} */
export async function mirrored(key) {
  /** @type {Mirrored | undefined} */
  let found;
  await transact("readonly", (store) => {
    const request = store.get(key);
    request.onsuccess = () => (found = request.result);
  });
  return found;
}

/** @type {Map<string, Mirrored>} */
const waiting = new Map();
/** @type {Promise<boolean> | undefined} */
let writing;

/**
 * Mirrors a text, unless a newer one stands there. While one write is under way
 * only the newest of those that wait is written after it.
 * @param {string} key
 * @param {Mirrored} kept
 * @returns {Promise<boolean>} whether what waits has reached the disk
 */
export function mirror(key, kept) {
  waiting.set(key, kept);
  writing ??= drain();
  return writing;
}

async function drain() {
  let reached = true;
  while (waiting.size > 0) {
    const batch = [...waiting];
    waiting.clear();
    reached = await transact("readwrite", (store) => {
      for (const [key, kept] of batch) putNewer(store, key, kept);
    });
  }
  writing = undefined;
  return reached;
}

/** @param {IDBObjectStore} store @param {string} key @param {Mirrored} kept */
function putNewer(store, key, kept) {
  const request = store.get(key);
  request.onsuccess = () => {
    if (!(request.result?.edit > kept.edit)) store.put(kept, key);
  };
}

/** @param {string} key */
const backupsOf = (key) => IDBKeyRange.bound(`${key}-backup-`, `${key}-backup-\uffff`);

/** @param {string} key @param {number} edit */
const backupKey = (key, edit) => `${key}-backup-${String(edit).padStart(16, "0")}`;

/** Forgets a state that cannot be used, and its backups. @param {string} key @param {number} edit */
export function unmirror(key, edit) {
  return transact("readwrite", (store) => {
    store.delete(key);
    store.delete(IDBKeyRange.bound(backupKey(key, edit), `${key}-backup-\uffff`));
  });
}

/**
 * Keeps a state beside the newest ones; the oldest goes. Numbered by edit, not
 * by a clock that may have been set back.
 * @param {string} key
 * @param {Mirrored} kept
 */
export function backUp(key, kept) {
  return transact("readwrite", (store) => {
    store.put(kept, backupKey(key, kept.edit));
    const request = store.getAllKeys(backupsOf(key));
    request.onsuccess = () => {
      for (const old of request.result.slice(0, -BACKUPS_KEPT)) store.delete(old);
    };
  });
}

/** The states kept before, newest first. @param {string} key @returns {Promise<Mirrored[]>} */
export async function backups(key) {
  /** @type {Mirrored[]} */
  let found = [];
  await transact("readonly", (store) => {
    const request = store.getAll(backupsOf(key));
    request.onsuccess = () => (found = request.result.reverse());
  });
  return found;
}
