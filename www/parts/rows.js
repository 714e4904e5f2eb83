// @ts-check
/** Lists of records that open to their fields, and the fields made for them. */
import { say } from "../language/say.js";
import { lengthUnit } from "../language/numbers.js";
import { valueAt } from "../document/path.js";
import { all, el } from "./dom.js";
import { mountField } from "./field.js";
import { tellRemoved } from "./undoing.js";

/**
 * @typedef {import("../start/start.js").App} App
 * @typedef {import("../document/setup.js").Setup} Setup
 */

/**
 * One record of a list, for the fields made of it.
 * @template T
 * @typedef {object} Entry
 * @property {number} at its place
 * @property {string} path
 * @property {() => T} now as it is; where it has gone, as it was
 * @property {() => T[]} others the rest of the list
 * @property {(edit: (item: T, setup: Setup) => void) => void} change
 */

/**
 * @template T
 * @typedef {object} RowPlan
 * @property {string} path of the list in the set-up
 * @property {(item: T) => string} [kind] what decides which fields there are; its own kind if left out
 * @property {(app: App, record: Entry<T>) => HTMLElement[]} fields
 * @property {(item: T) => string} facts
 * @property {(item: T) => void} [removes] where more goes than the record
 * @property {(setup: Setup) => import("../engine/ask.js").Refusal | undefined} [check] the main question if left out
 */

/** The list that stands at a path. @param {Setup} setup @param {string} path */
const listAt = (setup, path) => /** @type {any[]} */ (valueAt(setup, path));

/** @param {App} app @param {string} list @param {number} at @param {any} first @returns {Entry<any>} */
const entryAt = (app, list, at, first) => ({
  at,
  path: `${list}[${at}]`,
  now: () => listAt(app.setup, list)[at] ?? first,
  others: () => listAt(app.setup, list).filter((_, other) => other !== at),
  change: (edit) => app.change((setup) => {
    const item = listAt(setup, list)[at];
    if (item) edit(item, setup);
  }),
});

/** Shows the rows as they are; `open` opens one and takes the focus into it. @typedef {(() => void) & {open: (at: number) => void}} Rows */

/**
 * A list of rows that open to their fields; rebuilt only when the list changes
 * length or its hints their unit, so that typing keeps its place. What stands
 * open stays open, whatever is chosen in it.
 * @template T
 * @param {HTMLElement} root
 * @param {App} app
 * @param {RowPlan<T>} plan
 * @returns {Rows}
 */
export function rows(root, app, plan) {
  /** @type {ReturnType<typeof rowOf>[]} */
  let shown = [];
  let built = "";
  const show = () => {
    const list = listAt(app.setup, plan.path);
    const now = list.length + lengthUnit();
    if (now !== built) {
      // Another number of rows: those that stood open stay so.
      const open = new Set(shown.filter((one) => one.details.open).map((one) => one.id()));
      built = now;
      shown = list.map((item, at) => rowOf(app, plan, item, at));
      for (const one of shown) if (open.has(one.id())) one.open();
      root.replaceChildren(...shown.map(({ details }) => el("li", { class: "row" }, details)));
    }
    shown.forEach((one, at) => one.update(list[at]));
  };
  return Object.assign(show, {
    open: (/** @type {number} */ at) => {
      const one = shown.at(at);
      one?.open();
      one?.details.querySelector("input")?.focus();
    },
  });
}

/** @param {App} app @param {RowPlan<any>} plan @param {any} item @param {number} at */
function rowOf(app, plan, item, at) {
  const entry = entryAt(app, plan.path, at, item);
  const kindOf = plan.kind ?? ((/** @type {any} */ { kind = "" }) => kind);
  const name = el("span", { class: "row-name", translate: "no" });
  const facts = el("span", { class: "row-facts" });
  const inside = el("div", { class: "row-fields" });
  /** Made when the row is first opened: most never are. @type {(() => void)[] | undefined} */
  let fields;
  const fill = () => {
    if (fields) return;
    inside.replaceChildren(...plan.fields(app, entry));
    fields = all(inside, ".field[data-field]").map((field) => mountField(field, app, plan.check));
  };
  // Another kind has other fields; the hand stays where it was.
  const refill = () => {
    if (!fields) return;
    const held = inside.contains(document.activeElement) ? labelOf(document.activeElement) : undefined;
    fields = undefined;
    fill();
    const again = all(inside, "input, select").find((control) => labelOf(control) === held);
    if (held !== undefined) again?.focus({ preventScroll: true });
  };
  const remove = () => {
    const { textContent } = name;
    if (plan.removes) plan.removes(entry.now());
    else app.change((setup) => void listAt(setup, plan.path).splice(at, 1));
    tellRemoved(app, textContent || facts.textContent || "");
  };
  // What opens it in another way than by a click is told a moment later.
  const details = el("details", { ontoggle: fill },
    el("summary", { onclick: fill }, name, " ", facts),
    inside,
    el("button", { type: "button", class: "row-remove", "data-do": "remove-row", onclick: remove }, say("Remove")));
  let [id, kind] = [keyOf(item, at), kindOf(item)];
  return {
    details,
    id: () => id,
    open() {
      fill();
      details.open = true;
    },
    /** @param {any} is the record now */
    update(is) {
      const was = kind;
      [id, kind] = [keyOf(is, at), kindOf(is)];
      if (kind !== was) refill();
      name.textContent = is.id;
      facts.textContent = plan.facts(is);
      fields?.forEach((show) => show());
    },
  };
}

/** What tells a row from others; rings have no name. @param {any} item @param {number} at */
const keyOf = (item, at) => item.id ?? `row ${at}`;

/** What a control of a row is called. @param {Element | null} control */
const labelOf = (control) => /** @type {HTMLInputElement | null} */ (control)?.labels?.[0]?.firstChild?.textContent;

let fieldCount = 0;

/** A field of the set-up by its path. @param {string} label @param {string} path @param {string} kind @param {string | undefined} optional @param {string} [hint] */
export function field(label, path, kind, optional, hint) {
  fieldCount += 1;
  const id = `row-field-${fieldCount}`;
  const made = el("div", { class: "field" },
    el("label", { for: id }, label),
    el("input", { id, autocomplete: "off", spellcheck: "false" }),
    ...(hint ? [el("span", { class: "field-hint" }, hint)] : []));
  made.dataset.field = path;
  made.dataset.kind = kind;
  if (optional !== undefined) made.dataset.optional = optional;
  return made;
}

/**
 * A name. Until the field is left it is a draft, kept like any.
 * @param {App} app
 * @param {string} label
 * @param {string} path
 * @param {string} value
 * @param {(text: string) => string} take gives the complaint, or nothing
 */
function textField(app, label, path, value, take) {
  fieldCount += 1;
  const id = `row-field-${fieldCount}`;
  const error = el("p", { class: "field-error", id: `${id}-error` });
  const input = el("input", { id, autocomplete: "off", spellcheck: "false", maxlength: "40", "aria-describedby": error.id });
  input.value = app.drafts[path] ?? value;
  input.addEventListener("input", () => {
    app.drafts[path] = input.value;
    app.keep();
  });
  const leave = () => {
    const name = input.value.trim();
    if (app.drafts[path] === undefined && name === value) return;
    const { [path]: _, ...others } = app.drafts;
    const complaint = name === "" ? say("A name is needed.") : "";
    if (complaint === "") app.drafts = others;
    const refused = complaint || (name === value ? "" : take(name));
    if (refused) app.drafts[path] = input.value;
    else value = name;
    app.keep();
    error.textContent = refused;
    input.toggleAttribute("aria-invalid", refused !== "");
  };
  input.addEventListener("change", leave);
  // What was typed before a restart is still to be taken.
  input.addEventListener("blur", leave);
  return el("div", { class: "field" }, el("label", { for: id }, label), input, error);
}

/** The name, which no other of the list has; of modes and slots, none of the same body or rig. @param {App} app @param {Entry<any>} record @param {(name: string) => void} put */
export function nameField(app, { path, now, others }, put) {
  return textField(app, say("Name"), `${path}.id`, now().id, (name) => {
    const { body, rig } = now();
    if (others().some((other) => other.id === name && other.body === body && other.rig === rig)) return say("“{name}” is used already.", { name });
    put(name);
    return "";
  });
}

/**
 * @param {string} label
 * @param {Record<string, string>} choices by value
 * @param {string} value
 * @param {string | undefined} none what no choice means; undefined: one must be made
 * @param {(value: string) => void} take
 */
export function choiceField(label, choices, value, none, take) {
  const options = Object.entries(choices).map(([name, text]) => el("option", { value: name }, text));
  const select = el("select", {
    onchange: (event) => take(/** @type {HTMLSelectElement} */ (event.target).value),
  }, ...(none === undefined ? [] : [el("option", { value: "" }, none)]), ...options);
  select.value = value;
  return el("label", { class: "row-kind" }, el("span", { text: label }), select);
}

/** @param {string} label @param {boolean} on @param {(on: boolean) => void} take */
export function checkField(label, on, take) {
  const box = el("input", {
    type: "checkbox",
    onchange: (event) => take(/** @type {HTMLInputElement} */ (event.target).checked),
  });
  box.checked = on;
  return el("label", { class: "row-check" }, box, ` ${label}`);
}
