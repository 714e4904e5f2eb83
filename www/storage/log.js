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
import { heldLog } from "./log-held.js";
import { ONE_TEXT, ON_ITS_WAY, TAKEN_BACK, entriesOf, isNewer, keyOf, parsed } from "./log-keys.js";
import { areThere, catchUp } from "./log-read.js";
import { meetWindows } from "./log-windows.js";
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

/** @typedef {{changed: () => void, trouble: (what: LogTrouble) => void}} Tell */

/** How much that cannot be read has been told of. */
const TOLD = "glasscall-log-unread";

/**
 * @template {{id: string}} R
 * @param {(value: unknown) => value is R} isRecord
 * @param {Tell} tell
 * @returns {Log<R>}
 */
export function openLog(isRecord, tell) {
  const held = heldLog(isRecord);
  const { put, place } = shelf(held, tell, () => written());
  const takeOld = () => moveIn(held, place, put, tell);
  const follow = async () => {
    const before = held.all().length;
    takeOnItsWay(held);
    // What came by local storage is no news to the database any more, and must be shown all the same.
    if (await catchUp(place, held) || held.all().length !== before) tell.changed();
  };
  const written = meetWindows(follow, () => takeOld().then(follow));

  /** @param {R[]} records */
  function append(records) {
    const entries = records.map((record) => /** @type {[string, unknown]} */ ([keyOf(record), record]));
    const keys = entries.map(([key]) => key);
    const safe = entries.map(([key, record]) => {
      held.take(key, record);
      return putText(ON_ITS_WAY + key, JSON.stringify(record));
    });
    held.bringBack(keys);
    put(entries, keys.map((key) => TAKEN_BACK + key)).then((there) => {
      if (!there && !safe.every(Boolean)) tell.trouble("notKept");
    });
  }

  /** @param {R[]} records */
  function withdraw(records) {
    const keys = records.map(keyOf);
    held.takeBack(keys);
    // Where there is no database, local storage is the log.
    for (const key of keys) dropText(ON_ITS_WAY + key);
    put(keys.map((key) => [TAKEN_BACK + key, true]));
  }

  async function start() {
    await Promise.all([takeOld(), catchUp(place, held)]);
    const waiting = new Set(namesAt(ON_ITS_WAY).map((name) => name.slice(ON_ITS_WAY.length)));
    const known = held.all().filter(([key]) => waiting.has(key));
    if (known.length > 0) put(known);
    tellUnread(held.unread(), tell);
  }

  takeOnItsWay(held);
  const read = start();
  read.then(tell.changed);
  return { records: held.records, unread: held.unread, append, withdraw, read };
}

/**
 * @typedef {(entries: [string, unknown][], drop?: string[]) => Promise<boolean>} Put whether they are in the database
 * @typedef {import("./log-held.js").Held<any>} Held
 */

/** The database of the log. @param {Held} held @param {Tell} tell @param {() => void} written something was */
function shelf(held, tell, written) {
  const place = database("glasscall-log", "records", again);

  /** @type {Put} */
  async function put(entries, drop) {
    const there = await place.write(entries, drop);
    if (there) {
      for (const [key] of entries) dropText(ON_ITS_WAY + key);
      written();
    }
    return there;
  }

  /** The database was deleted under this page: what stands here is written again. */
  async function again() {
    const marks = held.gone().map((key) => /** @type {[string, unknown]} */ ([TAKEN_BACK + key, true]));
    if (held.all().length === 0) return;
    tell.trouble(await put([...held.all(), ...marks]) ? "deleted" : "notKept");
  }

  return { place, put };
}

/** What is on its way is asked for first: it is there at once. @param {Held} held */
function takeOnItsWay(held) {
  for (const name of namesAt(ON_ITS_WAY)) {
    const key = name.slice(ON_ITS_WAY.length);
    // Not even half of a text is thrown away.
    if (!held.has(key)) held.take(key, parsed(textAt(name)) ?? textAt(name));
  }
}

/**
 * What earlier versions kept goes to its new place; it stays in the old one until it is proven there.
 * @param {Held} held @param {import("./database.js").Database} place @param {Put} put @param {Tell} tell
 */
async function moveIn(held, place, put, tell) {
  const old = [textAt(ONE_TEXT), ...(await mirrored(ONE_TEXT)).map(({ text }) => text)].filter((text) => text !== undefined);
  const newer = old.filter((text) => isNewer(parsed(text)));
  const texts = old.filter((text) => !isNewer(parsed(text)));
  if (newer.length > 0) tell.trouble("newer");
  const entries = texts.flatMap(entriesOf);
  for (const [key, value] of entries) if (!held.has(key)) held.take(key, value);
  if (texts.length === 0 || !(await put(entries))) return;
  if (!(await areThere(place, entries.map(([key]) => key)))) return;
  if (newer.length > 0) return;
  dropText(ONE_TEXT);
  await unmirror([ONE_TEXT]);
}

/** Says once what cannot be read; it stays where it is. @param {unknown[]} values @param {Tell} tell */
function tellUnread(values, tell) {
  const told = Number(textAt(TOLD) ?? 0);
  if (values.length === told) return;
  putText(TOLD, String(values.length));
  if (values.length > told) tell.trouble(values.some(isNewer) ? "newer" : "unread");
}
