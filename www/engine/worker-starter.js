// @ts-check
/** The worker that answers long questions, from beside this page. */
import { scriptUrl } from "./script-address.js";

/** @returns {Worker} */
export function makeWorker() {
  return new Worker(scriptUrl("worker.js"), { type: "module" });
}
