// @ts-check
/** A slider beside a field: shows while it moves, changes when it is let go. */
import { setAt, valueAt } from "../document/path.js";
import { el } from "./dom.js";

/**
 * @typedef {object} SliderPlan
 * @property {string} path where the value stands in the set-up
 * @property {string} label
 * @property {number[]} values it goes through, rising
 * @property {(value: number) => string} show
 * @property {(setup: import("../document/setup.js").Setup) => number} [value] what is shown, where it is not what stands there
 * @property {(trial: import("../document/setup.js").Setup | undefined) => void} preview shows a trial; undefined is the set-up itself
 */

/**
 * @param {HTMLElement} root
 * @param {import("../start/start.js").App} app
 * @param {SliderPlan} plan
 * @returns {() => void}
 */
export function mountSlider(root, app, plan) {
  const { values } = plan;
  const input = el("input", {
    type: "range", class: "slide-range", min: "0", max: String(values.length - 1), step: "1", "aria-label": plan.label,
  });
  root.append(input);
  const value = () => values[Number(input.value)] ?? NaN;
  const trial = () => {
    const setup = structuredClone(app.setup);
    setAt(setup, plan.path, value());
    return setup;
  };
  const speak = () => input.setAttribute("aria-valuetext", plan.show(value()));
  input.addEventListener("input", () => {
    speak();
    plan.preview(trial());
  });
  input.addEventListener("change", () => {
    plan.preview(undefined);
    delete app.drafts[plan.path];
    app.change((setup) => setAt(setup, plan.path, value()));
  });
  return () => {
    const now = Number(plan.value?.(app.setup) ?? valueAt(app.setup, plan.path) ?? 0);
    const away = values.map((one) => Math.abs(one - now));
    input.value = String(away.indexOf(Math.min(...away)));
    speak();
  };
}
