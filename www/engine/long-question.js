// @ts-check
/**
 * A question that may take long. It is asked in a worker with more and more
 * steps: each answer says what is best so far and what is not yet ruled out,
 * until it is proven or the user stops it.
 */
import { ask } from "./ask.js";
import { keepProven } from "./proven.js";
import { makeWorker } from "./worker-starter.js";

/** Steps of each round; the last takes minutes on a phone. */
const ROUNDS = [1e6, 2e7, 4e8, 1e10];
/** Without a worker the page would stand still: only what is quick. */
const STEPS_IN_PAGE = 1e6;
/** A worker that has not started by then will not; its part may never have come. */
const PATIENCE_MS = 8000;

/**
 * @typedef {object} Progress
 * @property {any} [reply] the best so far
 * @property {import("./ask.js").Refusal} [refusal]
 * @property {boolean} busy
 * @property {boolean} stopped whether the user stopped it
 * @property {boolean} alone whether no worker could be had, so that only a short search was made in the page
 */

/** @param {"orderDay" | "coverKit"} name @param {(progress: Progress) => void} tell */
export function longQuestion(name, tell) {
  /** @type {Worker | undefined} */
  let worker;
  let number = 0;
  let asked = "";
  /** @type {Progress} */
  let progress = { busy: false, stopped: false, alone: false };
  let round = 0;
  let request = /** @type {any} */ ({});

  const show = (/** @type {Partial<Progress>} */ change) => {
    progress = { ...progress, ...change };
    tell(progress);
  };
  const next = () => {
    number += 1;
    const steps = ROUNDS[round];
    worker?.postMessage({ number, name, request: { ...request, steps, explain: true } });
  };
  const hear = (/** @type {any} */ data) => {
    // An answer to a question that is no longer asked.
    if (data.number !== number) return undefined;
    if (data.refusal) return show({ refusal: data.refusal, reply: undefined, busy: false });
    round += 1;
    const more = !data.reply.proven && round < ROUNDS.length;
    keepProven(tell, name, request, data.reply);
    show({ reply: data.reply, refusal: undefined, busy: more });
    if (more) next();
    return undefined;
  };
  const start = () => {
    try {
      const made = makeWorker();
      // A page that may have no worker, in a frame say, answers itself.
      const fail = () => {
        clearTimeout(patience);
        made.terminate();
        if (worker !== made) return;
        worker = undefined;
        if (progress.busy) inPage();
      };
      const patience = setTimeout(fail, PATIENCE_MS);
      made.addEventListener("error", fail);
      made.addEventListener("message", ({ data }) => {
        if (data.failed) return fail();
        if (data.started) return clearTimeout(patience);
        return hear(data);
      });
      return made;
    } catch {
      return undefined;
    }
  };
  const inPage = () => {
    const { reply, refusal } = ask(name, { ...request, steps: STEPS_IN_PAGE, explain: true });
    keepProven(tell, name, request, /** @type {any} */ (reply));
    show({ reply, refusal, busy: false, stopped: false, alone: true });
  };

  return {
    /** Asks, unless it is what was asked last. @param {any} wanted */
    ask(wanted) {
      const text = JSON.stringify(wanted);
      if (text === asked) return;
      asked = text;
      request = wanted;
      round = 0;
      // A round under way cannot be interrupted: its worker goes.
      if (progress.busy) {
        worker?.terminate();
        worker = undefined;
      }
      worker ??= typeof Worker === "undefined" ? undefined : start();
      if (!worker) return inPage();
      // The answer to another question, proven or not, says nothing about this one.
      show({ reply: undefined, refusal: undefined, busy: true, stopped: false, alone: false });
      next();
    },
    /** Keeps what is best so far. */
    stop() {
      worker?.terminate();
      worker = undefined;
      number += 1;
      show({ busy: false, stopped: true });
    },
  };
}
