// @ts-check
/** The first minute: what the example is, the way out of it, and the guide. */
import { one } from "../parts/dom.js";

/** @param {import("./start.js").App} app */
export function mountGuide(app) {
  const example = one(document, ".now-demo");
  const guide = one(document, "#guide");
  one(example, "[data-do=guide]").addEventListener("click", () => {
    guide.open = true;
    guide.scrollIntoView();
    one(guide, "summary").focus({ preventScroll: true });
  });
  one(example, "[data-do=own]").addEventListener("click", () => {
    // The screen must show before its field can take the focus.
    window.addEventListener("hashchange", () => one(document, "#case [data-do=empty-case]").click(), { once: true });
    location.hash = "#case";
  });
  return () => {
    example.hidden = !app.setup.demo;
  };
}
