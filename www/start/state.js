// @ts-check
/**
 * The state of the page: one document, the one way to change it, steps back and
 * forward, and who is told. It knows no page: what keeps it, what checks it and
 * what the clock says are given to it.
 */
import { caseToSend } from "../document/case-content.js";
import { same } from "../document/document.js";
import { resolve, written } from "../document/resolve.js";
import { stamped } from "../document/edited.js";

/**
 * @typedef {import("../document/document.js").Document} Document
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../engine/ask.js").Refusal} Refusal
 */

/** An edit that can be done again on what another window kept. @typedef {(document: Document) => Document} Act */

/**
 * What is around the state.
 * @typedef {object} Around
 * @property {(document: Document) => Refusal | undefined} refusalOf the one check
 * @property {(act: Act) => void} keep keeps the document as it is now; `act` made it
 * @property {() => string} now an ISO moment
 * @property {(document: Document) => Setup} [setupOf] what `resolve` gives, remembered
 */

/** One step. @typedef {{document: Document, drafts: Record<string, string>, name: string, undo?: () => void, redo?: () => void}} Step */

/**
 * What else is told of an edit.
 * @typedef {object} Told
 * @property {boolean} [ours] whether it was edited now and here
 * @property {object} [visit] edits of one visit to a field are one step back
 * @property {string} [name] what undo says that it undoes
 */

const STEPS_BACK = 100;

/** An edit of the set-up in use as one of the document. @param {(setup: Setup) => void} edit @returns {Act} */
export function actOf(edit) {
  return (document) => {
    const before = resolve(document);
    const after = structuredClone(before);
    edit(after);
    return written(document, before, after);
  };
}

/** Another document in the place of one: it cannot be done again on a third. @type {Act} */
export const replaced = (document) => document;

/** @param {{document: Document, drafts: Record<string, string>, unsaved?: number}} start @param {Around} around */
export function createState(start, { refusalOf, keep, now, setupOf = resolve }) {
  let { document, drafts, unsaved = 0 } = start;
  /** @type {Step[]} */
  const back = [];
  /** @type {Step[]} */
  const forward = [];
  /** The visit the last step belongs to. @type {object | undefined} */
  let lastVisit;
  /** @type {Set<() => void>} */
  const listeners = new Set();
  const notify = () => listeners.forEach((listen) => listen());

  /** @param {Told & Pick<Step, "undo" | "redo">} told */
  function remember({ visit, name = "", undo, redo }) {
    forward.length = 0;
    // Every key typed is an edit; one step back undoes the word.
    if (visit !== undefined && visit === lastVisit) return;
    lastVisit = visit;
    back.push({ document, drafts: { ...drafts }, name, undo, redo });
    back.splice(0, back.length - STEPS_BACK);
  }

  /**
   * Takes back one step beside the document, whatever came after it: it changed
   * nothing that another step stands on.
   * @param {Step} one
   */
  function takeBack(one) {
    if (one === back.at(-1)) return step(back, forward, "undo");
    // Undo has taken it back already.
    if (forward.includes(one)) return undefined;
    const at = back.indexOf(one);
    if (at >= 0) back.splice(at, 1);
    one.undo?.();
    notify();
    return undefined;
  }

  /**
   * The one way to change the document; gives what is against it, if anything.
   * What was refused before may be mended in any order.
   * @param {Act} act @param {Told} [told] @returns {Refusal | undefined}
   */
  function edit(act, { ours = true, ...told } = {}) {
    const next = stampedNow(act(document), ours);
    if (same(next, document)) {
      notify();
      return undefined;
    }
    const take = () => {
      remember(told);
      document = next;
      keep(act);
    };
    try {
      const refusal = refusalOf(next);
      if (refusal && !refusalOf(document)) return refusal;
    } catch (error) {
      // Nobody could say anything against it: it must not be lost with what broke.
      take();
      throw error;
    }
    take();
    notify();
    return undefined;
  }

  /** @param {Document} next @param {boolean} ours */
  function stampedNow(next, ours) {
    if (same(next, document)) return next;
    const [before, after] = [caseToSend(document), caseToSend(next)];
    if (same(before, after)) return next;
    if (!next.demo) unsaved += 1;
    return ours ? { ...next, edited: stamped(before, after, next.edited, now()) } : next;
  }

  /** @param {Step[]} from @param {Step[]} to @param {"undo" | "redo"} act */
  function step(from, to, act) {
    const one = from.pop();
    if (!one) return;
    lastVisit = undefined;
    const { document: then, drafts: texts } = one;
    // The same step on the other side: whoever holds it can still take it back.
    to.push(Object.assign(one, { document, drafts: { ...drafts } }));
    document = then;
    drafts = { ...texts };
    one[act]?.();
    keep(replaced);
    notify();
  }

  return {
    get document() {
      return document;
    },
    /** The set-up in use. */
    get setup() {
      return setupOf(document);
    },
    /** Texts that are not (yet) possible, by field. */
    get drafts() {
      return drafts;
    },
    set drafts(texts) {
      drafts = texts;
    },
    /** Changes of the case since it was saved as a file. */
    get unsaved() {
      return unsaved;
    },
    set unsaved(count) {
      unsaved = count;
    },
    edit,
    /** Another document in the place of this one, and its drafts gone. @param {Document} next @param {string} name */
    replace(next, name) {
      remember({ name });
      document = next;
      if (!next.demo) unsaved += 1;
      drafts = {};
      keep(replaced);
      notify();
    },
    /** What another window kept; one step back like any. @param {Document} next @param {Record<string, string>} texts @param {number} count */
    follow(next, texts, count) {
      if (!same(next, document)) {
        remember({});
        document = next;
      }
      drafts = texts;
      unsaved = count;
    },
    /** Puts it back as it was, as if nothing had been tried. @param {Document} before @param {Record<string, string>} texts */
    restore(before, texts) {
      back.pop();
      document = before;
      drafts = texts;
      keep(replaced);
      notify();
    },
    /** A step of something beside the document; edits of the same visit belong to it. @param {string} name @param {() => void} undo @param {() => void} redo @param {object} [visit] @returns {() => void} takes back this step and no other */
    stepBeside(name, undo, redo, visit) {
      remember({ name, undo, redo, visit });
      const one = /** @type {Step} */ (back.at(-1));
      return () => takeBack(one);
    },
    undo: () => step(back, forward, "undo"),
    redo: () => step(forward, back, "redo"),
    /** What a step back undoes; nothing where there is none. */
    get undoes() {
      return back.at(-1)?.name;
    },
    get redoes() {
      return forward.at(-1)?.name;
    },
    /** @param {() => void} listen */
    subscribe(listen) {
      listeners.add(listen);
      return () => listeners.delete(listen);
    },
  };
}
