// @ts-check
/**
 * One case in several windows. Each keeps what it changes; the others take it
 * over at once. A record says which edits of which window are in it. Where two
 * windows changed the case in the same moment, one of them does its own edits
 * again on what the other kept, so that neither is lost.
 */

/** @typedef {import("../document/document.js").Document} Document */
/** @typedef {import("./store.js").Saved} Saved */

/** Edits that may have to be done again; older ones have long been seen. */
const REMEMBERED = 50;
/** Windows that are told apart in a record. */
const HEADS = 16;

/** @typedef {{edit: number, act: (document: Document) => Document}} Done */
/** @typedef {Record<string, number>} Heads the newest edit of each window */

/**
 * What to do about another window's record: nothing, say one's own again, take
 * it, or take it and do one's own edits again on it.
 * @typedef {{do: "wait" | "repeat" | "take", again: Done[]}} Meeting
 */

/** What this window has done to the case. @param {Pick<Saved, "edit" | "heads" | "by"> | undefined} saved @param {string} [me] */
export function windowOf(saved, me = Math.random().toString(36).slice(2)) {
  /** @type {Done[]} */
  let done = [];
  /** Whether more was done than is remembered. */
  let forgotten = false;
  let edit = saved?.edit ?? 0;
  let heads = saved?.heads ?? {};
  let by = saved?.by ?? "";

  return {
    /** Whether anything was done here. */
    hasEdited: () => done.length > 0,
    /** Whether all that was done here can be done again on another state. @param {(document: Document) => Document} never what cannot */
    canRepeat: (never) => !forgotten && done.every(({ act }) => act !== never),
    /** The marks of the record as it is. */
    marks: () => ({ edit, by, heads }),
    /** The next record's marks. @param {(document: Document) => Document} [act] what made it; nothing when two records were joined */
    next(act) {
      edit += 1;
      by = me;
      if (act) {
        forgotten ||= done.length === REMEMBERED;
        done = [...done, { edit, act }].slice(-REMEMBERED);
        heads = newest({ ...heads, [me]: edit });
      }
      return { edit, by, heads };
    },
    /** @param {Saved} other @returns {Meeting} */
    meet(other) {
      // What was long ago is everywhere, even where a record no longer says so.
      done = done.filter((own) => own.edit > other.edit - REMEMBERED);
      const again = done.filter((own) => own.edit > (other.heads[me] ?? 0));
      const together = again.length > 0 ? { ...other.heads, [me]: again.at(-1)?.edit ?? 0 } : other.heads;
      if (covers(heads, other.heads)) {
        // Two joined the same edits in another order: one order holds.
        if (!covers(other.heads, heads)) return { do: "repeat", again: [] };
        if (other.by <= by) return { do: "wait", again: [] };
      }
      // Joined here, an edit of a third window would be lost; joined there, not.
      if (!covers(together, heads)) return { do: "wait", again: [] };
      edit = Math.max(edit, other.edit);
      heads = newest(together);
      by = other.by;
      return { do: "take", again };
    },
  };
}

/** Whether one state holds the edits of another. @param {Heads} all @param {Heads} some */
export const covers = (all, some) => Object.entries(some).every(([name, edit]) => (all[name] ?? 0) >= edit);

/** @param {Heads} heads @returns {Heads} */
function newest(heads) {
  return Object.fromEntries(Object.entries(heads).sort((a, b) => b[1] - a[1]).slice(0, HEADS));
}

/**
 * Texts that are no values yet: what this window typed, over what others did.
 * @param {Record<string, string>} known as both last knew them
 * @param {Record<string, string>} own
 * @param {Record<string, string>} theirs
 */
export function mergedDrafts(known, own, theirs) {
  const merged = { ...theirs };
  for (const name of new Set([...Object.keys(known), ...Object.keys(own)])) {
    if (own[name] === known[name]) continue;
    if (own[name] === undefined) delete merged[name];
    else merged[name] = own[name];
  }
  return merged;
}
