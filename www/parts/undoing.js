// @ts-check
/** The way back beside a notice: it takes back what the notice tells of and nothing done since. */
import { say } from "../language/say.js";

/** @typedef {import("../start/start.js").App} App */

/** @param {App} app @returns {() => void} */
export function undoing(app) {
  const then = app.document;
  return () => {
    if (app.document === then) app.undo();
  };
}

/** Tells what has just been removed. @param {App} app @param {string} name */
export const tellRemoved = (app, name) => app.notify(say("{name} removed", { name }), say("Undo"), undoing(app));
