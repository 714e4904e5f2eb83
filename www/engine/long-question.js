// @ts-check
/**
 * A question that may take long. It is asked in a worker with more and more
 * steps: each answer says what is best so far and what is not yet ruled out,
 * until it is proven or the user stops it.
 */
import { ask } from "./ask.js";
import { makeWorker } from "./worker-starter.js";

/** Steps of each round; the last takes minutes on a phone. */
const ROUNDS = [1e6, 2e7, 4e8, 1e10];
/** Without a worker the page would stand still: only what is quick. */
const ROUNDS_IN_PAGE = [1e6];

/**
 * @typedef {object} Progress
 * @property {any} [reply] the best so far
 * @property {import("./ask.js").Refusal} [refusal]
 * @property {boolean} busy
 * @property {boolean} stopped whether the user stopped it
 */

/** @param {"orderDay" | "coverKit"} name @param {(progress: Progress) => void} tell */
export function longQuestion(name, tell) {
  /** @type {Worker | undefined} */
  let worker;
  let number = 0;
  let asked = "";
  /** @type {Progress} */
  let progress = { busy: false, stopped: false };
  let round = 0;
  let request = /** @type {any} */ ({});

  const show = (/** @type {Partial<Progress>} */ change) => {
    progress = { ...progress, ...change };
    tell(progress);
  };
  const next = () => {
    number += 1;
    const steps = ROUNDS[round];
    worker?.postMessage({ number, name, request: { ...request, steps } });
  };
  const hear = (/** @type {MessageEvent} */ { data }) => {
    // An answer to a question that is no longer asked.
    if (data.number !== number) return;
    if (data.refusal) return show({ refusal: data.refusal, reply: undefined, busy: false });
    round += 1;
    const more = !data.reply.proven && round < ROUNDS.length;
    show({ reply: data.reply, refusal: undefined, busy: more });
    if (more) next();
    return undefined;
  };
  const start = () => {
    try {
      const made = makeWorker();
      made.addEventListener("message", hear);
      // A page that may have no worker, in a frame say, answers itself.
      made.addEventListener("error", () => {
        worker = undefined;
        inPage();
      });
      return made;
    } catch {
      return undefined;
    }
  };
  const inPage = () => {
    for (const steps of ROUNDS_IN_PAGE) {
      const { reply, refusal } = ask(name, { ...request, steps });
      show({ reply, refusal, busy: false, stopped: reply ? !reply.proven : false });
    }
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
      show({ reply: undefined, refusal: undefined, busy: true, stopped: false });
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
