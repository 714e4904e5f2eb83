// @ts-check
/** What is in goes into the log: more than an answer waits for. */
import { logNow } from "../../day/log-now.js";

/** @param {import("../../start/start.js").App} app */
export const logIt = (app) => logNow(app);
