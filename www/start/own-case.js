// @ts-check
/** A case of one's own, begun from wherever one is. */
import { ownDocument } from "../document/demo.js";
import { say } from "../language/say.js";
import { one } from "../parts/dom.js";

/** @param {import("./start.js").App} app */
export async function startOwn(app) {
  await app.take(ownDocument(app.document), say("undo|a case of your own"));
  // The first question is asked by buttons: no keyboard rises over it.
  const focus = () => one(document, ".holds [data-rig]").focus();
  if (location.hash === "#case") return focus();
  // The screen must show before its field can take the focus.
  window.addEventListener("hashchange", focus, { once: true });
  location.hash = "#case";
  return undefined;
}
