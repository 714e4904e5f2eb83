// @ts-check
/**
 * The state of the page: one document, the one way to change it, and who is told.
 * It knows no page: what keeps it, what checks it and what the clock says are
 * given to it.
 */
import { caseToSend } from "../document/case-content.js";
import { same } from "../document/document.js";
import { resolve, written } from "../document/resolve.js";
import { stamped } from "../document/edited.js";
import { stepsOf } from "./steps.js";

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

/**
 * What else is told of an edit.
 * @typedef {object} Told
 * @property {boolean} [ours] whether it was edited now and here
 * @property {object} [visit] edits of one visit to a field are one step back
 * @property {string} [name] what undo says that it undoes
 */

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
export function createState({ document, drafts, unsaved = 0 }, around) {
  const { keep, setupOf = resolve } = around;
  /** @type {Set<() => void>} */
  const listeners = new Set();
  const notify = () => listeners.forEach((listen) => listen());
  const held = {
    document,
    /** Texts that are not (yet) possible, by field. */
    drafts,
    /** Changes of the case since it was saved as a file. */
    unsaved,
    /** The set-up in use. */
    get setup() {
      return setupOf(held.document);
    },
  };
  const steps = stepsOf(held);
  const moved = () => {
    keep(replaced);
    notify();
  };

  return Object.assign(held, {
    edit: editing(held, steps.remember, around, notify),
    /** Another document in the place of this one, and its drafts gone. @param {Document} next @param {string} name */
    replace(next, name) {
      steps.remember({ name });
      Object.assign(held, { document: next, drafts: {}, unsaved: held.unsaved + (next.demo ? 0 : 1) });
      moved();
    },
    /** What another window kept; one step back like any. @param {Document} next @param {Record<string, string>} texts @param {number} count */
    follow(next, texts, count) {
      if (!same(next, held.document)) steps.remember({});
      Object.assign(held, { document: next, drafts: texts, unsaved: count });
    },
    /** Puts it back as it was, as if nothing had been tried. @param {Document} before @param {Record<string, string>} texts */
    restore(before, texts) {
      steps.forget();
      Object.assign(held, { document: before, drafts: texts });
      moved();
    },
    /** A step of something beside the document; edits of the same visit belong to it. @param {string} name @param {() => void} undo @param {() => void} redo @param {object} [visit] @returns {() => void} takes back this step and no other */
    stepBeside(name, undo, redo, visit) {
      const one = steps.remember({ name, undo, redo, visit });
      return () => {
        if (steps.isLast(one)) return steps.undo() && moved();
        return steps.takeBack(one) && notify();
      };
    },
    undo: () => steps.undo() && moved(),
    redo: () => steps.redo() && moved(),
    undoes: steps.undoes,
    redoes: steps.redoes,
    /** @param {() => void} listen */
    subscribe(listen) {
      listeners.add(listen);
      return () => listeners.delete(listen);
    },
  });
}

/**
 * The one way to change the document; gives what is against it, if anything.
 * What was refused before may be mended in any order.
 * @param {{document: Document, unsaved: number}} held @param {(told: Told) => void} remember @param {Around} around @param {() => void} notify
 */
function editing(held, remember, { refusalOf, keep, now }, notify) {
  /** @param {Document} next @param {boolean} ours */
  const stampedNow = (next, ours) => {
    if (same(next, held.document)) return next;
    const [before, after] = [caseToSend(held.document), caseToSend(next)];
    if (same(before, after)) return next;
    if (!next.demo) held.unsaved += 1;
    return ours ? { ...next, edited: stamped(before, after, next.edited, now()) } : next;
  };

  /** @param {Act} act @param {Told} [told] @returns {Refusal | undefined} */
  return (act, { ours = true, ...told } = {}) => {
    const next = stampedNow(act(held.document), ours);
    if (same(next, held.document)) {
      notify();
      return undefined;
    }
    const take = () => {
      remember(told);
      held.document = next;
      keep(act);
    };
    try {
      const refusal = refusalOf(next);
      if (refusal && !refusalOf(held.document)) return refusal;
    } catch (error) {
      // Nobody could say anything against it: it must not be lost with what broke.
      take();
      throw error;
    }
    take();
    notify();
    return undefined;
  };
}
