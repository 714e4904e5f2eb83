// @ts-check
/** Steps back and forward. */

/**
 * @typedef {import("../document/document.js").Document} Document
 * @typedef {{document: Document, drafts: Record<string, string>}} Held
 * @typedef {Held & {name: string, undo?: () => void, redo?: () => void}} Step
 */

const STEPS_BACK = 100;

/** @param {Held} held what a step puts back into its place */
export function stepsOf(held) {
  /** @type {Step[]} */
  const back = [];
  /** @type {Step[]} */
  const forward = [];
  /** The visit the last step belongs to. @type {object | undefined} */
  let lastVisit;

  /** @param {Step[]} from @param {Step[]} to @param {"undo" | "redo"} act @returns {boolean} whether there was one */
  function step(from, to, act) {
    const one = from.pop();
    if (!one) return false;
    lastVisit = undefined;
    const { document, drafts } = one;
    // The same step on the other side: whoever holds it can still take it back.
    to.push(Object.assign(one, { document: held.document, drafts: { ...held.drafts } }));
    Object.assign(held, { document, drafts: { ...drafts } });
    one[act]?.();
    return true;
  }

  return {
    /** What is held, before it changes; gives the last step. @param {{visit?: object, name?: string} & Pick<Step, "undo" | "redo">} told */
    remember({ visit, name = "", undo, redo }) {
      forward.length = 0;
      // Every key typed is an edit; one step back undoes the word.
      if (visit === undefined || visit !== lastVisit) {
        lastVisit = visit;
        back.push({ document: held.document, drafts: { ...held.drafts }, name, undo, redo });
        back.splice(0, back.length - STEPS_BACK);
      }
      return /** @type {Step} */ (back.at(-1));
    },
    forget: () => back.pop(),
    /** @param {Step} one */
    isLast: (one) => one === back.at(-1),
    /**
     * Takes back one step beside the document, whatever came after it: it changed
     * nothing that another step stands on. Nothing where undo has taken it back already.
     * @param {Step} one
     */
    takeBack(one) {
      if (forward.includes(one)) return false;
      const at = back.indexOf(one);
      if (at >= 0) back.splice(at, 1);
      one.undo?.();
      return true;
    },
    undo: () => step(back, forward, "undo"),
    redo: () => step(forward, back, "redo"),
    /** What a step back undoes; nothing where there is none. */
    undoes: () => back.at(-1)?.name,
    redoes: () => forward.at(-1)?.name,
  };
}
