// @ts-check
/** Records of the case that two phones have differently: side by side until somebody chooses. */
import { say } from "../language/say.js";
import { caseFieldName, caseValueText, LIST_NAMES } from "../language/words/case-fields.js";
import { DAY_WORDS } from "../language/words/day.js";
import { compared, settled } from "./merge-case.js";
import { keyed } from "../document/edited.js";
import { momentText } from "../day/notation.js";
import { caseToSend, takeShared } from "../document/case-content.js";
import { el, one } from "../parts/dom.js";

/**
 * @typedef {import("../start/start.js").App} App
 * @typedef {import("./merge-case.js").Conflict} Conflict
 */

/** @param {HTMLElement} root @param {App} app */
export function mountUnsettled(root, app) {
  return {
    update() {
      const { unsettled } = app.setup;
      const box = one(root, ".unsettled");
      box.hidden = unsettled.length === 0;
      box.replaceChildren(
        el("h4", { text: DAY_WORDS.unsettled(unsettled.length) }),
        ...unsettled.map((conflict) => sideBySide(app, conflict)));
    },
  };
}

/** @param {App} app @param {Conflict} conflict */
function sideBySide(app, conflict) {
  const { list, key, theirs, edited } = conflict;
  const mine = ownOf(app, conflict);
  const here = app.setup.edited[`${list}/${key}`];
  const age = here && edited ? Date.parse(here) - Date.parse(edited) : NaN;
  const head = (/** @type {string} */ where, /** @type {string | undefined} */ time) =>
    el("th", { scope: "col" }, where, el("small", { text: time ? momentText(time) : DAY_WORDS.timeUnknown }));
  const name = `${LIST_NAMES[list] ?? list}: ${key}`;
  const settle = (/** @type {"mine" | "theirs" | "both"} */ how) => app.do((document) => {
    const unsettled = document.unsettled.filter((one_) => one_.list !== list || one_.key !== key);
    const next = how === "mine" ? document : takeShared(document, settled(caseToSend(document), conflict, how));
    return { ...next, unsettled };
  });
  return el("section", { class: "conflict", "aria-label": name },
    el("table", {},
      el("caption", { text: name }),
      el("thead", {}, el("tr", {}, el("td"), head(age >= 0 ? say("Here, newer") : say("Here"), here), head(age < 0 ? say("There, newer") : say("There"), edited))),
      el("tbody", {}, ...compared(mine ?? {}, theirs).map((row) =>
        el("tr", {}, el("th", { scope: "row", text: caseFieldName(row.field) }), ...[row.mine, row.theirs].map((value) => el("td", { text: caseValueText(row.field, value) })))))),
    el("div", { class: "day-buttons" },
      el("button", { type: "button", onclick: () => settle("mine") }, say("Keep mine")),
      el("button", { type: "button", onclick: () => settle("theirs") }, say("Take theirs")),
      ...(theirs.id === undefined ? [] : [el("button", { type: "button", onclick: () => settle("both") }, say("Keep both"))])));
}

/** @param {App} app @param {Conflict} conflict */
function ownOf(app, { list, key }) {
  const items = /** @type {Record<string, any[]>} */ (/** @type {any} */ (caseToSend(app.document)))[list] ?? [];
  return keyed(items).get(key);
}
