// @ts-check
/** Lens and rig as lists: picking one puts it on. */
import { say } from "../language/say.js";
import { fixed } from "../language/numbers.js";
import { putOnLens, putOnRig } from "../document/edits.js";
import { lensesToPick, rigName, rigsToPick } from "./in-use.js";
import { el, one } from "./dom.js";

/** @typedef {import("../start/start.js").App} App */
/** @typedef {import("../document/setup.js").Setup} Setup */

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountPicks(root, app) {
  const lens = /** @type {HTMLSelectElement} */ (one(root, "[data-pick=lens], [data-switch=lens]"));
  const rig = /** @type {HTMLSelectElement} */ (one(root, "[data-pick=rig], [data-switch=rig]"));
  lens.addEventListener("change", () => putOn(app, putOnLens, lens.value));
  rig.addEventListener("change", () => putOn(app, putOnRig, rig.value));
  return () => {
    const { setup } = app;
    showPick(lens, lensesToPick(setup), lensName(setup));
    showPick(rig, rigsToPick(setup), rigName(setup));
  };
}

/** Another record, another set of fields: what was half typed goes. @param {App} app @param {typeof putOnLens} edit @param {string} id */
function putOn(app, edit, id) {
  if (id) app.do(edit, id);
}

/** What is on first, or chosen. @param {HTMLSelectElement} select @param {{ids: string[], on: string | undefined}} list @param {string} unnamed what is on without a record */
function showPick(select, { ids, on }, unnamed) {
  const options = [...(on === undefined ? [{ value: "", text: unnamed }] : []), ...ids.map((id) => ({ value: id, text: lensText(select, id) }))];
  const drawn = JSON.stringify(options);
  if (select.dataset.drawn !== drawn) {
    select.dataset.drawn = drawn;
    select.replaceChildren(...options.map(({ value, text }) => el("option", { value, translate: "no" }, text)));
  }
  select.value = on ?? "";
  showWhole(select);
}

/** Nobody tells 24–2… from 24–2…: where there is room for a second line, a name is shown in two. @param {HTMLSelectElement} select */
function showWhole(select) {
  const pick = select.closest(".pick");
  if (!(pick instanceof HTMLElement)) return;
  const name = select.selectedOptions[0]?.textContent ?? "";
  pick.dataset.name = shortened(name);
  pick.classList.toggle("pick-long", name.length > ONE_LINE);
}

/** Signs that one line and two lines of a narrow phone hold. */
const ONE_LINE = 7;
const TWO_LINES = 22;

/** Names differ in their ends more often than in their middle. @param {string} name */
const shortened = (name) => (name.length <= TWO_LINES ? name : `${name.slice(0, TWO_LINES / 2)}…${name.slice(1 - TWO_LINES / 2)}`);

/** A lens that is called by its length is said with its unit. @param {HTMLSelectElement} select @param {string} id */
const lensText = (select, id) =>
  ((select.dataset.pick ?? select.dataset.switch) === "lens" && /^[\d.,–-]+$/.test(id) ? `${id} mm` : id);

/** What the lens in use is called. @param {Setup} setup */
export function lensName({ lens, inUse }) {
  if (inUse.lens) return /^[\d.,–-]+$/.test(inUse.lens) ? `${inUse.lens} mm` : inUse.lens;
  return lens.focalLengthMm === undefined ? say("lens not known") : `${fixed(lens.focalLengthMm, 1)} mm`;
}
