// @ts-check
/** What is in goes into the log: more than an answer waits for. */
import { logNow } from "../../day/log-now.js";

/** @param {import("../../start/start.js").App} app @param {import("../../day/log-now.js").Tapped} tapped */
export const logIt = (app, tapped) => logNow(app, tapped);
