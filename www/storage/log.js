// @ts-check
/**
 * The log: one record to a key of a database, added and never written over. A
 * step back puts a mark beside the record that it takes back, and touches no
 * other. Windows need not agree on anything: each reads what it does not know
 * yet whenever another says that it wrote, and when it wakes.
 *
 * A record stands in local storage as well, from the moment it is made until the
 * database says it is on the disk: so it survives a tab killed in that moment,
 * and a database that is slow, full or not there.
 */
import { database } from "./database.js";
import { mirrored, unmirror } from "./mirror.js";
import { dropText, namesAt, putText, textAt } from "./texts.js";

/**
 * @template {{id: string}} R
 * @typedef {object} Log
 * @property {() => R[]} records all that can be shown
 * @property {(records: R[]) => void} append adds records, and those taken back come again
 * @property {() => unknown[]} unread what was kept and cannot be read, whole
 * @property {(records: R[]) => void} withdraw takes back these and no others
 * @property {Promise<void>} read when what was kept has been read
 */

/** What the page must say. @typedef {"notKept" | "unread" | "newer" | "deleted"} LogTrouble */

/** How much that cannot be read has been told of. */
const TOLD = "glasscall-log-unread";
/** What was kept before the log had a database of its own: all in one text. */
const ONE_TEXT = "glasscall-day";
/** Records on their way into the database, in local storage. */
const ON_ITS_WAY = "glasscall-log ";
const RECORD = "record ";
const TAKEN_BACK = "gone ";
/** What is no list of records, put aside whole. */
const UNREAD = "unread ";

/** The same text for the same content, whatever order it was written in. @param {unknown} value @returns {string} */
export function ordered(value) {
  return JSON.stringify(value, (_, inner) =>
    inner && typeof inner === "object" && !Array.isArray(inner)
      ? Object.fromEntries(Object.entries(inner).sort(([a], [b]) => (a < b ? -1 : 1)))
      : inner);
}

/** Tells contents of one id apart (FNV-1a, 32 bit). @param {string} text */
function nameOf(text) {
  let name = 0x811c9dc5;
  for (let at = 0; at < text.length; at += 1) name = Math.imul(name ^ text.charCodeAt(at), 0x01000193);
  return (name >>> 0).toString(16).padStart(8, "0");
}

/** Two things of one id are kept side by side. @param {any} record */
const keyOf = (record) => `${RECORD}${typeof record?.id === "string" ? record.id : ""} ${nameOf(ordered(record))}`;

/**
 * @template {{id: string}} R
 * @param {(value: unknown) => value is R} isRecord
 * @param {{changed: () => void, trouble: (what: LogTrouble) => void}} tell
 * @returns {Log<R>}
 */
export function openLog(isRecord, tell) {
  /** What stands under each key, readable or not. @type {Map<string, unknown>} */
  const held = new Map();
  /** Of these, the records. @type {Map<string, R>} */
  const sound = new Map();
  /** Keys of what was taken back. @type {Set<string>} */
  let gone = new Set();
  /** @type {R[] | undefined} */
  let shown;
  const place = database("glasscall-log", "records", again);
  const others = channel();

  /** @param {string} key @param {unknown} value */
  function take(key, value) {
    held.set(key, value);
    if (isRecord(value)) sound.set(key, value);
    shown = undefined;
  }

  /** What is on its way is asked for first: it is there at once. */
  function takeOnItsWay() {
    for (const name of namesAt(ON_ITS_WAY)) {
      const key = name.slice(ON_ITS_WAY.length);
      // Not even half of a text is thrown away.
      if (!held.has(key)) take(key, parsed(textAt(name)) ?? textAt(name));
    }
  }

  /** Reads what this window does not know yet. @returns {Promise<boolean>} whether there was anything */
  async function catchUp() {
    const before = held.size;
    let was = gone;
    const reached = await place.transact("readonly", (store) => {
      const keys = store.getAllKeys();
      keys.onsuccess = () => {
        const names = keys.result.map(String);
        was = gone;
        gone = new Set(names.filter((key) => key.startsWith(TAKEN_BACK)).map((key) => key.slice(TAKEN_BACK.length)));
        const fresh = names.filter((key) => !key.startsWith(TAKEN_BACK) && !held.has(key));
        if (fresh.length > names.length / 2) {
          // All of it, as at a start, is asked for in one go.
          const values = store.getAll();
          values.onsuccess = () => {
            const wanted = new Set(fresh);
            names.forEach((key, at) => wanted.has(key) && take(key, values.result[at]));
          };
        } else {
          for (const key of fresh) {
            const value = store.get(key);
            value.onsuccess = () => take(key, value.result);
          }
        }
      };
    });
    const changed = reached && (held.size !== before || !same(was, gone));
    if (changed) shown = undefined;
    return changed;
  }

  /** @param {[string, unknown][]} entries @returns {Promise<boolean>} whether they are in the database */
  async function put(entries, drop = /** @type {string[]} */ ([])) {
    const there = await place.write(entries, drop);
    if (there) {
      for (const [key] of entries) dropText(ON_ITS_WAY + key);
      others?.postMessage("written");
    }
    return there;
  }

  /** @param {R[]} records */
  function append(records) {
    const entries = records.map((record) => /** @type {[string, unknown]} */ ([keyOf(record), record]));
    const safe = entries.map(([key, record]) => {
      take(key, record);
      return putText(ON_ITS_WAY + key, JSON.stringify(record));
    });
    for (const [key] of entries) gone.delete(key);
    put(entries, entries.map(([key]) => TAKEN_BACK + key)).then((there) => {
      if (!there && !safe.every(Boolean)) tell.trouble("notKept");
    });
  }

  /** @param {R[]} records */
  function withdraw(records) {
    const keys = records.map(keyOf);
    for (const key of keys) {
      gone.add(key);
      // Where there is no database, local storage is the log.
      dropText(ON_ITS_WAY + key);
    }
    shown = undefined;
    put(keys.map((key) => [TAKEN_BACK + key, true]));
  }

  /** The database was deleted under this page: what stands here is written again. */
  async function again() {
    const marks = [...gone].map((key) => /** @type {[string, unknown]} */ ([TAKEN_BACK + key, true]));
    if (held.size === 0) return;
    if (await put([...held, ...marks])) tell.trouble("deleted");
    else tell.trouble("notKept");
  }

  /** What earlier versions kept goes to its new place; it stays in the old one until it is proven there. */
  async function moveIn() {
    const old = [textAt(ONE_TEXT), ...(await mirrored(ONE_TEXT)).map(({ text }) => text)].filter((text) => text !== undefined);
    const newer = old.filter((text) => isNewer(parsed(text)));
    const texts = old.filter((text) => !isNewer(parsed(text)));
    if (newer.length > 0) tell.trouble("newer");
    const entries = texts.flatMap(entriesOf);
    for (const [key, value] of entries) if (!held.has(key)) take(key, value);
    if (texts.length === 0 || !(await put(entries))) return;
    if (!(await isThere(entries.map(([key]) => key)))) return;
    if (newer.length > 0) return;
    dropText(ONE_TEXT);
    await unmirror([ONE_TEXT]);
  }

  /** @param {string[]} keys */
  async function isThere(keys) {
    let all = false;
    const asked = await place.transact("readonly", (store) => {
      const found = store.getAllKeys();
      found.onsuccess = () => {
        const names = new Set(found.result.map(String));
        all = keys.every((key) => names.has(key));
      };
    });
    return asked && all;
  }

  async function start() {
    await Promise.all([moveIn(), catchUp()]);
    const waiting = [...namesAt(ON_ITS_WAY)].map((name) => name.slice(ON_ITS_WAY.length)).filter((key) => held.has(key));
    if (waiting.length > 0) put(waiting.map((key) => [key, held.get(key)]));
    tellUnread();
  }

  /** Says once what cannot be read; it stays where it is. */
  function tellUnread() {
    const values = unread();
    const told = Number(textAt(TOLD) ?? 0);
    if (values.length === told) return;
    putText(TOLD, String(values.length));
    if (values.length > told) tell.trouble(values.some(isNewer) ? "newer" : "unread");
  }

  const unread = () => [...held].filter(([key]) => !sound.has(key)).map(([, value]) => value);

  const follow = async () => {
    const before = held.size;
    takeOnItsWay();
    // What came by local storage is no news to the database any more, and must be shown all the same.
    if (await catchUp() || held.size !== before) tell.changed();
  };
  if (others) others.onmessage = follow;
  // A window that was asleep was told nothing.
  for (const event of ["pageshow", "focus", "online"]) addEventListener(event, follow);
  for (const event of ["visibilitychange", "resume"]) document.addEventListener(event, follow);
  addEventListener("storage", (event) => {
    if (event.key?.startsWith(ON_ITS_WAY) && event.newValue !== null) follow();
    // A window of an earlier version is still open beside this one.
    if (event.key === ONE_TEXT && event.newValue !== null) moveIn().then(follow);
  });

  takeOnItsWay();
  const read = start();
  read.then(tell.changed);
  return {
    records: () => (shown ??= shownOf(sound, gone)),
    unread,
    append,
    withdraw,
    read,
  };
}

/**
 * What can be shown; the second thing of one id goes by another.
 * @template {{id: string}} R
 * @param {Map<string, R>} sound
 * @param {Set<string>} gone
 */
function shownOf(sound, gone) {
  /** @type {Map<string, R>} */
  const all = new Map();
  for (const key of [...sound.keys()].sort()) {
    const record = /** @type {R} */ (sound.get(key));
    if (gone.has(key)) continue;
    let { id } = record;
    for (let n = 2; all.has(id); n += 1) id = `${record.id} (${n})`;
    all.set(id, id === record.id ? record : { ...record, id });
  }
  return [...all.values()];
}

/** @param {string} text @returns {[string, unknown][]} */
function entriesOf(text) {
  const value = parsed(text);
  if (Array.isArray(value)) return value.map((record) => [keyOf(record), record]);
  return [[UNREAD + nameOf(text), text]];
}

/** @param {any} value */
const isNewer = (value) => value?.version > 1;

/** @param {string | undefined} text @returns {any} */
function parsed(text) {
  try {
    return JSON.parse(text ?? "");
  } catch {
    return undefined;
  }
}

/** Other windows; none where they cannot be reached. */
function channel() {
  try {
    return new BroadcastChannel("glasscall-log");
  } catch {
    return undefined;
  }
}

/** @param {Set<string>} a @param {Set<string>} b */
const same = (a, b) => a.size === b.size && [...a].every((one) => b.has(one));
