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
  const options = [...(on === undefined ? [["", unnamed]] : []), ...ids.map((id) => [id, lensText(select, id)])];
  const drawn = JSON.stringify(options);
  if (select.dataset.drawn !== drawn) {
    select.dataset.drawn = drawn;
    select.replaceChildren(...options.map(([value, text]) => el("option", { value, translate: "no" }, text)));
  }
  select.value = on ?? "";
}

/** A lens that is called by its length is said with its unit. @param {HTMLSelectElement} select @param {string} id */
const lensText = (select, id) =>
  ((select.dataset.pick ?? select.dataset.switch) === "lens" && /^[\d.,–-]+$/.test(id) ? `${id} mm` : id);

/** What the lens in use is called. @param {Setup} setup */
export function lensName({ lens, inUse }) {
  if (inUse.lens) return /^[\d.,–-]+$/.test(inUse.lens) ? `${inUse.lens} mm` : inUse.lens;
  return lens.focalLengthMm === undefined ? say("lens not known") : `${fixed(lens.focalLengthMm, 1)} mm`;
}
