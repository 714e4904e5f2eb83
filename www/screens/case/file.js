// @ts-check
/** The case as a file, out and in. */
import { ask } from "../../engine/ask.js";
import { caseContent, takeCase } from "../../document/case-content.js";
import { BadLink } from "../../hand-over/link.js";
import { badText, soundDocument } from "../../hand-over/offered-set-up.js";
import { refusalOf } from "../../questions/check.js";
import { say } from "../../language/say.js";
import { refusalSentence } from "../../language/words/shared.js";
import { PLAN_WORDS } from "../../language/words/planning.js";
import { all, el, one } from "../../parts/dom.js";
import { offerFile } from "../../parts/offer-file.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../engine/ask.js").Refusal} Refusal
 */

/** What the core reads at most. */
const LARGEST_BYTES = 4_000_000;
/** Changes of the case after which a file is worth a word. */
const REMIND_FROM = 20;

/**
 * Reads the text of a case file in place of this case, and says what came of it.
 * @param {App} app @param {HTMLElement} told
 * @returns {(text: string, takePart?: boolean) => Promise<boolean>} whether the case is another now
 */
export function caseReader(app, told) {
  /** @param {string} text @param {boolean} [takePart] */
  async function read(text, takePart = false) {
    const kept = keptIn(text);
    if (kept) return readKept(kept);
    const { reply, refusal } = ask("readCase", { text, takePart });
    if (!reply) return refuse(text, refusal);
    const next = takeCase(app.document, reply.case);
    // What the page would not start with it does not take.
    const against = refusalOf(next);
    if (against) {
      told.replaceChildren(el("p", { class: "complaint", text: PLAN_WORDS.fileBad(undefined, refusalSentence(against)) }));
      return false;
    }
    const taken = await app.take(next, say("undo|a case file read"));
    told.replaceChildren(
      el("p", { text: PLAN_WORDS.imported(reply.case.pieces?.length ?? 0) }),
      ...(reply.skipped.length ? [
        el("p", { class: "complaint", text: PLAN_WORDS.skipped(reply.skipped.length) }),
        el("ul", { class: "plain-list" }, ...reply.skipped.map((skipped) => el("li", { text: say("Line {line}: {why}", { line: skipped.line ?? "?", why: why(skipped) }) }))),
      ] : []));
    return taken;
  }

  /** What this page put aside or kept, read back. @param {any} kept */
  async function readKept(kept) {
    try {
      const document = soundDocument(kept);
      const taken = await app.take(document, say("undo|a case file read"));
      told.replaceChildren(el("p", { text: PLAN_WORDS.imported(document.kit.length) }));
      return taken;
    } catch (error) {
      if (!(error instanceof BadLink)) throw error;
      told.replaceChildren(el("p", { class: "complaint", text: badText(error) }));
      return false;
    }
  }

  /** @param {string} text @param {Refusal} refusal */
  function refuse(text, refusal) {
    told.replaceChildren(
      el("p", { class: "complaint", text: PLAN_WORDS.fileBad(refusal.line, why(refusal)) }),
      el("button", { type: "button", onclick: () => read(text, true) }, say("Take what is sound")));
    return false;
  }
  return read;
}

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountCaseFile(root, app) {
  const told = one(root, ".file-answer");
  const read = caseReader(app, told);
  for (const button of all(root, "[data-do=write-case]")) {
    const form = /** @type {"json" | "csv"} */ (button.dataset.form);
    button.addEventListener("click", () => {
      const { reply, refusal } = ask("writeCase", { case: caseContent(app.document), as: form });
      if (reply) {
        offerFile(reply.text, `case.${form}`, form === "json" ? "application/json" : "text/csv");
        app.exported();
      } else told.replaceChildren(el("p", { class: "complaint", text: refusalSentence(refusal) }));
    });
  }
  const file = /** @type {HTMLInputElement} */ (one(root, "#case-file"));
  file.addEventListener("change", () => {
    const chosen = file.files?.[0];
    if (chosen) readFile(chosen);
    // The same file can be chosen again.
    file.value = "";
  });
  app.readers.case = readFile;

  /** @param {File} chosen */
  async function readFile(chosen) {
    // Longer than the core reads: not worth the memory to be told so.
    if (chosen.size <= LARGEST_BYTES) return read(await chosen.text(), false);
    return told.replaceChildren(el("p", { class: "complaint", text: PLAN_WORDS.fileTooLarge }));
  }

  mountEarlier(one(root, ".earlier"), app);
  return () => {
    one(root, ".file-reminder").textContent = app.unsaved >= REMIND_FROM ? PLAN_WORDS.unsaved(app.unsaved) : "";
  };
}

/** States of earlier days, to go back to. @param {HTMLElement} box @param {App} app */
function mountEarlier(box, app) {
  box.addEventListener("toggle", async () => {
    if (!(/** @type {HTMLDetailsElement} */ (box).open)) return;
    const states = await app.earlier();
    const list = one(box, "ul");
    list.replaceChildren(...states.map(({ at, saved }) => {
      const take = () => app.take(saved.setup, say("undo|back to an earlier state"));
      return el("li", {}, PLAN_WORDS.earlier(at, saved.setup.kit.length), " ", el("button", { type: "button", onclick: take }, say("Go back to it")));
    }));
    if (states.length === 0) list.append(el("li", { text: PLAN_WORDS.noEarlier }));
  });
}

/** The document of a record of this page, as it is kept and put aside. @param {string} text @returns {any} */
function keptIn(text) {
  try {
    const kept = JSON.parse(text);
    return typeof kept?.setup === "object" && kept.format === undefined ? kept.setup : undefined;
  } catch {
    return undefined;
  }
}

/** @param {Refusal} refusal */
const why = (refusal) => (refusal.code === "damaged" ? PLAN_WORDS.damagedText : refusalSentence(refusal));
