// @ts-check
/**
 * One field of the set-up: reads the spoken form, steps, shows what is wrong
 * beside itself and keeps the last good value until the text is good.
 */
import { written } from "../document/resolve.js";
import { refusalOf } from "../questions/check.js";
import { OPEN_UP } from "../questions/open-up.js";
import { answerTo } from "../questions/question.js";
import { setAt, valueAt } from "../document/path.js";
import { say } from "../language/say.js";
import { stopLabel } from "../language/numbers.js";
import { refusalSentence } from "../language/words/shared.js";
import { choiceLabel, choiceText } from "./choices.js";
import { KINDS_OF_FIELD, kindNamed } from "./kinds.js";
import { mountStopPad } from "./stop-pad.js";
import { el, one } from "./dom.js";

/**
 * @typedef {import("../start/start.js").App} App
 * @typedef {import("../engine/ask.js").Refusal} Refusal
 * @typedef {import("../document/setup.js").Setup} Setup
 */

/**
 * @typedef {object} FieldPlan
 * @property {string} path where the value stands in the set-up
 * @property {import("./kinds.js").Kind} kind
 * @property {number | undefined} start where the steppers start from an empty field
 * @property {string | undefined} emptyMeans what an empty field means; undefined: it must be filled
 */

/** A shutter is two fields of the set-up of which one is there. @param {Setup} setup @param {string} path */
function read(setup, path) {
  if (!path.endsWith(".shutter")) return valueAt(setup, path);
  const { shutterAngleDeg, shutterSeconds } = valueAt(setup, path.replace(/\.shutter$/, ""));
  const set = shutterAngleDeg !== undefined || shutterSeconds !== undefined;
  return set ? { shutterAngleDeg, shutterSeconds } : undefined;
}

/** Lists are empty rather than absent. */
const LISTS = ["wheel", "behind.wheelMm", "plan.wanted", "plan.frameRates"];

/** @param {Setup} setup @param {string} path @param {any} value */
function write(setup, path, value) {
  if (!path.endsWith(".shutter")) return setAt(setup, path, LISTS.includes(path) ? (value ?? []) : value);
  const of = path.replace(/\.shutter$/, "");
  setAt(setup, `${of}.shutterAngleDeg`, value?.shutterAngleDeg);
  setAt(setup, `${of}.shutterSeconds`, value?.shutterSeconds);
}

/** What the core has against a set-up; the field's path is the page's. @typedef {(setup: Setup) => Refusal | undefined} Check */

/** @type {Check} */
const mainQuestion = (setup) => answerTo(OPEN_UP, setup).refusal;

/**
 * The refusal that this value would meet: of its own field, or of the document,
 * for what the page would not start with it does not take.
 * @param {App} app @param {FieldPlan} plan @param {any} value @param {Check} check
 */
function refused({ setup, document }, plan, value, check) {
  const trial = structuredClone(setup);
  write(trial, plan.path, value);
  const refusal = check(trial);
  if (refusal?.field.startsWith(plan.path)) return refusal;
  // An embedded set-up is not kept; what was refused before is not this field's doing.
  return document && !refusalOf(document) ? refusalOf(written(document, setup, trial)) : undefined;
}

/** What is figures alone; stops have their pad, a distance may be ∞. */
const KEYPAD = new Set(["mm", "length", "number", "index", "rate", "fNumber", "widest"]);
/** What may be less than nothing: many a keypad of figures has no minus. */
const SIGNED = /pupil|shift|offset|lamp|hinge|dioptres|middle|fromRim/i;

/**
 * Mounts one `.field` element. `data-field` is its path, `data-kind` its kind,
 * `data-optional` what an empty field means.
 * @param {HTMLElement} root
 * @param {App} app
 * @param {Check} [check] asks the core about a trial set-up; the main question if left out
 * @returns {() => void} shows the set-up's value
 */
export function mountField(root, app, check = mainQuestion) {
  const plan = planOf(root);
  const { input, error } = dressed(root, plan);
  addSteppers(root, input, plan, app);

  // Inside an embedded tree the document only knows the host of it.
  const isFocused = () => /** @type {Document | ShadowRoot} */ (root.getRootNode()).activeElement === input;
  let visit = {};
  const commit = (/** @type {any} */ value) => {
    const refusal = refused(app, plan, value, check);
    if (refusal) return refuse(refusal);
    delete app.drafts[plan.path];
    app.change((setup) => write(setup, plan.path, value), true, visit, root.querySelector("label")?.textContent ?? "");
    return undefined;
  };
  const refuse = (/** @type {Refusal} */ refusal) => {
    app.drafts[plan.path] = input.value;
    showRefusal(error, input, refusal, plan, (choice) => {
      input.value = choice;
      take();
    });
    app.keep();
  };
  // Shown rounded; typed back as it was shown, it is what it was.
  let stood = { text: "", value: /** @type {any} */ (undefined) };
  const take = () => {
    const text = input.value.trim();
    if (text !== "" && text === stood.text) return commit(stood.value);
    if (text === "" && plan.emptyMeans !== undefined) return commit(undefined);
    try {
      return commit(plan.kind.read(text));
    } catch (refusal) {
      return refuse(/** @type {Refusal} */ (refusal));
    }
  };
  input.addEventListener("input", take);
  input.addEventListener("blur", () => update());
  input.addEventListener("focus", () => {
    visit = {};
    if (app.drafts[plan.path] === undefined) stood = { text: input.value.trim(), value: read(app.setup, plan.path) };
    input.select();
  });

  const update = () => {
    const draft = app.drafts[plan.path];
    if (draft !== undefined) {
      if (!isFocused()) input.value = draft;
      if (!error.textContent) take();
      return;
    }
    clearRefusal(error, input);
    // Typing is never rewritten under the finger.
    if (isFocused()) return;
    const value = read(app.setup, plan.path);
    const empty = value === undefined || (Array.isArray(value) && value.length === 0);
    input.value = empty ? "" : plan.kind.show(value);
  };
  update();
  return update;
}

/** @param {HTMLElement} root @returns {FieldPlan} */
const planOf = ({ dataset }) => ({
  path: String(dataset.field),
  kind: kindNamed(String(dataset.kind)),
  emptyMeans: dataset.optional,
  start: dataset.start === undefined ? undefined : Number(dataset.start),
});

/** Its keys, its hint, and the place for what is wrong, each told to whom hears. @param {HTMLElement} root @param {FieldPlan} plan */
function dressed(root, plan) {
  const input = one(root, "input", HTMLInputElement);
  if (KEYPAD.has(String(root.dataset.kind)) && !SIGNED.test(plan.path) && !input.inputMode) input.inputMode = "decimal";
  const error = el("p", { class: "field-error", id: `${input.id}-error` });
  const hint = root.querySelector(".field-hint, .field-unit");
  if (hint) hint.id = `${input.id}-hint`;
  input.setAttribute("aria-describedby", [hint?.id, error.id].filter(Boolean).join(" "));
  if (plan.emptyMeans) input.placeholder = stopLabel(plan.emptyMeans);
  root.append(error);
  return { input, error };
}

/** @param {HTMLElement} root @param {HTMLInputElement} input @param {FieldPlan} plan @param {App} app */
function addSteppers(root, input, plan, app) {
  const { steps, pad, stepNames = [say("step|less"), say("step|more")] } = plan.kind;
  const take = (/** @type {any} */ next) => {
    delete app.drafts[plan.path];
    app.change((setup) => write(setup, plan.path, next), true, undefined, root.querySelector("label")?.textContent ?? "");
    input.value = plan.kind.show(next);
  };
  // Where nothing else steps by thirds the pad does.
  const padded = root.dataset.pad ?? (steps ? "no" : "yes");
  if (pad && padded !== "no") mountStopPad(root, input, pad, { now: () => read(app.setup, plan.path), take });
  // Where room is dear the pad alone steps.
  if (!steps || root.dataset.pad === "only") return;
  const size = (/** @type {any} */ value) => value?.shutterAngleDeg ?? value;
  const step = (/** @type {number} */ direction) => {
    const now = read(app.setup, plan.path) ?? read(app.setup, plan.path.replace(/^shot/, "reading")) ?? plan.start;
    // 2.8 typed as a number is called T2.8: the next step is not T2.8 again.
    const from = isAperture(plan.kind) && now !== undefined ? plan.kind.read(plan.kind.show(now)) : size(now);
    // A hair of room: a value read back from its label is not another step.
    const hair = Math.abs(from) * 0.000001;
    const next = direction > 0
      ? steps().find((value) => size(value) > from + hair) ?? (plan.kind.wraps ? steps()[0] : undefined)
      : steps().findLast((value) => size(value) < from - hair) ?? (plan.kind.wraps ? steps().at(-1) : undefined);
    if (next !== undefined) take(next);
  };
  const label = root.querySelector("label")?.textContent ?? "";
  const button = (/** @type {number} */ direction, /** @type {string} */ sign) =>
    el("button", {
      type: "button",
      class: "step",
      "aria-label": `${label}: ${stepNames[direction > 0 ? 1 : 0]}`,
      onclick: () => step(direction),
    }, sign);
  const thirds = isAperture(plan.kind) || plan.kind === KINDS_OF_FIELD.thirds || plan.kind === KINDS_OF_FIELD.signedThirds;
  input.before(button(-1, thirds ? "−⅓" : "−"));
  input.after(button(1, thirds ? "+⅓" : "+"));
}

/** @param {import("./kinds.js").Kind} kind */
const isAperture = ({ as }) => as === "aperture" || as === "engravedAperture";

/**
 * @param {HTMLElement} error
 * @param {HTMLInputElement} input
 * @param {Refusal} refusal
 * @param {FieldPlan} plan
 * @param {(text: string) => void} choose
 */
function showRefusal(error, input, refusal, plan, choose) {
  input.setAttribute("aria-invalid", "true");
  error.replaceChildren(refusalSentence(refusal, { as: plan.kind.as, path: plan.path, label: input.labels?.[0]?.textContent }));
  for (const choice of refusal.choices ?? []) {
    const text = choiceText(choice);
    error.append(" ", el("button", { type: "button", class: "choice", onclick: () => choose(text) }, choiceLabel(choice)));
  }
}

/** @param {HTMLElement} error @param {HTMLInputElement} input */
function clearRefusal(error, input) {
  input.removeAttribute("aria-invalid");
  error.replaceChildren();
}
