// @ts-check
/** The case as a file, out and in. */
import { ask } from "../engine.js";
import { caseContent, takeCase } from "../case-content.js";
import { refusalSentence } from "../words.js";
import { PLAN_WORDS } from "../words/planning.js";
import { all, el, one } from "../parts/dom.js";

/**
 * @typedef {import("../app.js").App} App
 * @typedef {import("../engine.js").Refusal} Refusal
 */

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountCaseFile(root, app) {
  const told = one(root, ".file-answer");
  for (const button of all(root, "[data-do=write-case]")) {
    const form = /** @type {"json" | "csv"} */ (button.dataset.form);
    button.addEventListener("click", () => {
      const { reply, refusal } = ask("writeCase", { case: caseContent(app.setup), as: form });
      if (reply) offer(reply.text, `case.${form}`, form === "json" ? "application/json" : "text/csv");
      else told.replaceChildren(el("p", { class: "complaint", text: refusalSentence(refusal) }));
    });
  }
  const file = /** @type {HTMLInputElement} */ (one(root, "#case-file"));
  file.addEventListener("change", async () => {
    const chosen = file.files?.[0];
    if (!chosen) return;
    const text = await chosen.text();
    // The same file can be chosen again.
    file.value = "";
    read(text, false);
  });

  /** @param {string} text @param {boolean} takePart */
  function read(text, takePart) {
    const { reply, refusal } = ask("readCase", { text, takePart });
    if (!reply) return refuse(text, refusal);
    app.change((setup) => takeCase(setup, reply.case));
    told.replaceChildren(
      el("p", { text: PLAN_WORDS.imported(reply.case.pieces?.length ?? 0) }),
      ...(reply.skipped.length ? [
        el("p", { class: "complaint", text: PLAN_WORDS.skipped(reply.skipped.length) }),
        el("ul", { class: "plain-list" }, ...reply.skipped.map((skipped) => el("li", { text: `Line ${skipped.line ?? "?"}: ${why(skipped)}` }))),
      ] : []));
    return undefined;
  }

  /** @param {string} text @param {Refusal} refusal */
  function refuse(text, refusal) {
    told.replaceChildren(
      el("p", { class: "complaint", text: PLAN_WORDS.fileBad(refusal.line, why(refusal)) }),
      el("button", { type: "button", onclick: () => read(text, true) }, "Take what is sound"));
  }
  return () => {};
}

/** @param {Refusal} refusal */
const why = (refusal) => (refusal.code === "damaged" ? PLAN_WORDS.damagedText : refusalSentence(refusal));

/** @param {string} text @param {string} name @param {string} type */
function offer(text, name, type) {
  const url = URL.createObjectURL(new Blob([text], { type }));
  const link = el("a", { href: url, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
