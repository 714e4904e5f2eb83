// @ts-check
/** What this window knows of the log: what stands under each key, and what of it was taken back. */

/**
 * @template {{id: string}} R
 * @typedef {object} Held
 * @property {(key: string, value: unknown) => void} take
 * @property {(key: string) => boolean} has
 * @property {(keys: string[]) => void} takeBack
 * @property {(keys: string[]) => void} bringBack
 * @property {(keys: string[]) => boolean} setGone just these are taken back; whether that is news
 * @property {() => string[]} gone keys of what was taken back
 * @property {() => [string, unknown][]} all
 * @property {() => R[]} records all that can be shown
 * @property {() => unknown[]} unread what cannot be read, whole
 */

/**
 * @template {{id: string}} R
 * @param {(value: unknown) => value is R} isRecord
 * @returns {Held<R>}
 */
export function heldLog(isRecord) {
  /** Readable or not. @type {Map<string, unknown>} */
  const all = new Map();
  /** Of these, the records. @type {Map<string, R>} */
  const sound = new Map();
  /** @type {Set<string>} */
  let gone = new Set();
  /** @type {R[] | undefined} */
  let shown;

  return {
    take(key, value) {
      all.set(key, value);
      if (isRecord(value)) sound.set(key, value);
      shown = undefined;
    },
    has: (key) => all.has(key),
    takeBack(keys) {
      for (const key of keys) gone.add(key);
      shown = undefined;
    },
    bringBack(keys) {
      for (const key of keys) gone.delete(key);
      shown = undefined;
    },
    setGone(keys) {
      const was = gone;
      gone = new Set(keys);
      shown = undefined;
      return !same(was, gone);
    },
    gone: () => [...gone],
    all: () => [...all],
    records: () => (shown ??= shownOf(sound, gone)),
    unread: () => [...all].filter(([key]) => !sound.has(key)).map(([, value]) => value),
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

/** @param {Set<string>} a @param {Set<string>} b */
const same = (a, b) => a.size === b.size && [...a].every((one) => b.has(one));
