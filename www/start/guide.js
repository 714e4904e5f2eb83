// @ts-check
/** The first minute: what the example is, the way out of it, and the guide. */
import { one } from "../parts/dom.js";
import { startOwn } from "./own-case.js";

/** @param {import("./start.js").App} app */
export function mountGuide(app) {
  const example = one(document, ".now-demo");
  const guide = one(document, "#guide", HTMLDetailsElement);
  one(example, "[data-do=guide]").addEventListener("click", () => {
    guide.open = true;
    guide.scrollIntoView();
    one(guide, "summary").focus({ preventScroll: true });
  });
  one(example, "[data-do=own]").addEventListener("click", () => startOwn(app));
  return () => {
    example.hidden = !app.setup.demo;
  };
}
