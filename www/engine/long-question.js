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

/** @type {Progress} */
const IDLE = { busy: false, stopped: false, alone: false };

/** @param {"orderDay" | "coverKit"} name @param {(progress: Progress) => void} tell */
export function longQuestion(name, tell) {
  let number = 0;
  let asked = "";
  let progress = IDLE;
  let round = 0;
  let request = /** @type {any} */ ({});

  const show = (/** @type {Partial<Progress>} */ change) => {
    progress = { ...progress, ...change };
    tell(progress);
  };
  const next = () => {
    number += 1;
    worker.post({ number, name, request: { ...request, steps: ROUNDS[round], explain: true } });
  };
  const hear = (/** @type {any} */ { number: told, reply, refusal }) => {
    // An answer to a question that is no longer asked.
    if (told !== number) return;
    if (refusal) return show({ refusal, reply: undefined, busy: false });
    round += 1;
    const more = !reply.proven && round < ROUNDS.length;
    keepProven(tell, name, request, reply);
    show({ reply, refusal: undefined, busy: more });
    if (more) next();
  };
  const inPage = () => {
    const { reply, refusal } = ask(name, { ...request, steps: STEPS_IN_PAGE, explain: true });
    keepProven(tell, name, request, /** @type {any} */ (reply));
    show({ ...IDLE, reply, refusal, alone: true });
  };
  const worker = workerFor(hear, () => progress.busy && inPage());

  /** Asks, unless it is what was asked last. @param {any} wanted */
  function askNew(wanted) {
    const text = JSON.stringify(wanted);
    if (text === asked) return;
    asked = text;
    request = wanted;
    round = 0;
    // A round under way cannot be interrupted: its worker goes.
    if (progress.busy) worker.dismiss();
    if (!worker.isThere()) return inPage();
    // The answer to another question, proven or not, says nothing about this one.
    show({ ...IDLE, reply: undefined, refusal: undefined, busy: true });
    next();
  }
  /** Keeps what is best so far. */
  function stop() {
    worker.dismiss();
    number += 1;
    show({ busy: false, stopped: true });
  }
  return { ask: askNew, stop };
}

/**
 * A worker, started when it is wanted. A page that may have none, in a frame
 * say, gets none, or one that fails.
 * @param {(data: any) => void} hear @param {() => void} failed
 */
function workerFor(hear, failed) {
  /** @type {Worker | undefined} */
  let worker;

  function started() {
    const made = makeWorker();
    const fail = () => {
      clearTimeout(patience);
      made.terminate();
      if (worker !== made) return;
      worker = undefined;
      failed();
    };
    const patience = setTimeout(fail, PATIENCE_MS);
    made.addEventListener("error", fail);
    made.addEventListener("message", ({ data }) => {
      if (data.failed) return fail();
      if (data.started) return clearTimeout(patience);
      return hear(data);
    });
    return made;
  }

  return {
    isThere() {
      try {
        worker ??= typeof Worker === "undefined" ? undefined : started();
      } catch {
        // It may not be made here.
      }
      return worker !== undefined;
    },
    /** @param {unknown} message */
    post: (message) => worker?.postMessage(message),
    dismiss() {
      worker?.terminate();
      worker = undefined;
    },
  };
}
