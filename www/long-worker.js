// @ts-check
/** The worker that answers long questions, from beside this page. */

/** @returns {Worker} */
export function makeWorker() {
  return new Worker(new URL("worker.js", document.baseURI), { type: "module" });
}
