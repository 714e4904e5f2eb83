// @ts-check
/** One box for a whole case: typed, pasted or dictated; read back while it is written. */
import { ask } from "../../engine/ask.js";
import { addListed } from "../../document/listed.js";
import { say, sayCount } from "../../language/say.js";
import { fixed } from "../../language/numbers.js";
import { FAULTS, gotText, TAKEN } from "../../language/words/list.js";
import { listedText } from "./listed-text.js";
import { refusalSentence } from "../../language/words/shared.js";
import { el, one } from "../../parts/dom.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../api/glasscall.js").ListEntryReply} Entry
 * @typedef {import("../../api/glasscall.js").ListChoiceReply} Choice
 * @typedef {import("../../api/glasscall.js").ListedReply} Listed
 */

/** A case file begins as JSON does, or with the heads of its table. */
const isCaseFile = (/** @type {string} */ text) => /^\s*\{|^\s*"?list"?[,;\t]"?id\b/.test(text);

/**
 * @param {HTMLElement} box holds the text, what is read of it, the button
 * @param {App} app
 * @param {{draft: string, of: "anything" | "lenses", readFile: (text: string) => Promise<boolean>}} plan
 */
export function mountListBox(box, app, { draft, of, readFile }) {
  const input = /** @type {HTMLTextAreaElement} */ (one(box, "textarea"));
  const back = one(box, ".list-back");
  const add = one(box, "[data-do=add-piece], [data-do=add-lenses]", HTMLButtonElement);
  const told = one(box, ".list-told");
  /** What was chosen, by what was written. @type {Map<string, number>} */
  const chosen = new Map();
  /** @type {Entry[]} */
  let entries = [];

  const written = (/** @type {Entry} */ { from, to }) => input.value.slice(from, to);
  /** @param {Entry} entry @returns {Listed | undefined} */
  const meant = (entry) => {
    if (entry.listed) return entry.listed;
    const choice = entry.choices?.[chosen.get(written(entry)) ?? -1];
    return choice && named(choice, written(entry));
  };

  const put = (/** @type {string} */ text) => {
    input.value = text;
    if (text === "") delete app.drafts[draft];
    else app.drafts[draft] = text;
    app.keep();
    show();
  };
  const show = () => {
    input.rows = Math.min(8, Math.max(3, input.value.split("\n").length + 1));
    if (isCaseFile(input.value)) {
      entries = [];
      back.replaceChildren();
      add.textContent = say("Read this case file");
      add.disabled = false;
      return;
    }
    const { reply, refusal } = input.value.trim() === "" ? {} : ask("readList", { text: input.value, of });
    entries = reply?.entries ?? [];
    told.textContent = refusal ? refusalSentence(refusal) : "";
    const ready = entries.map(meant).filter((listed) => listed !== undefined);
    add.disabled = ready.length === 0;
    add.textContent = ready.length === 0 ? say("Add") : say("Add {what}", { what: gotText(ready) });
    back.replaceChildren(...(entries.length === 0 ? [] : [table()]));
  };

  const table = () => el("table", { class: "list-table" },
    el("caption", { text: say("Read as") }),
    el("tbody", {}, ...entries.map(line)));

  /** @param {Entry} entry */
  function line(entry) {
    const text = written(entry);
    const is = meant(entry);
    const edit = el("button", { type: "button", class: "list-name", translate: "no", "aria-label": say("Change “{text}”", { text }), onclick: () => {
      input.focus();
      input.setSelectionRange(entry.from, entry.to);
    } }, is?.piece?.id ?? is?.lens?.id ?? text);
    const away = el("button", { type: "button", class: "list-away", "aria-label": say("Leave out “{text}”", { text }), onclick: () => put(without([entry])) }, "×");
    const state = is ? "" : entry.fault ? "list-refused" : "list-asked";
    return el("tr", { class: state },
      el("th", { scope: "row" }, edit),
      el("td", {}, ...(entry.fault ? [FAULTS[entry.fault]] : is ? [listedText(is)] : []), ...choices(entry, text)),
      el("td", {}, away));
  }

  /** @param {Entry} entry @param {string} text */
  function choices(entry, text) {
    if (!entry.choices?.length) return [];
    const buttons = entry.choices.map((choice, nth) => el("button", {
      type: "button", class: "choice", "aria-pressed": String(chosen.get(text) === nth),
      onclick: () => {
        chosen.set(text, nth);
        show();
        // The button that was tapped is another now.
        /** @type {HTMLElement} */ (back.querySelectorAll(".list-choices")[asked().indexOf(entry)]?.children[nth])?.focus();
      },
    }, choiceText(choice)));
    return [el("div", { class: "list-choices", role: "group", "aria-label": say("What is “{text}”?", { text }) }, ...buttons)];
  }
  const asked = () => entries.filter((entry) => entry.choices?.length);

  /** The text without these entries; what heads others stays. @param {Entry[]} gone */
  function without(gone) {
    let text = input.value;
    for (const { from, to } of gone.toSorted((a, b) => b.from - a.from)) text = `${text.slice(0, from)}\u0000${text.slice(to)}`;
    const left = entries.length > gone.length;
    return left ? tidy(text) : "";
  }

  const take = async () => {
    if (isCaseFile(input.value)) {
      if (await readFile(input.value)) put("");
      return;
    }
    const ready = entries.filter(meant);
    const listed = ready.flatMap((entry) => meant(entry) ?? []);
    const refusal = app.do(addListed, listed);
    if (refusal) {
      told.textContent = refusalSentence(refusal);
      return;
    }
    put(without(ready));
    told.textContent = say("In the case: {what}.", { what: gotText(listed) });
    if (entries.length > 0) told.textContent += ` ${sayCount(entries.length, "{count} entry waits above.", "{count} entries wait above.")}`;
    input.focus({ preventScroll: true });
    // What was read back stood above the button and is gone: else the page stands somewhere below.
    if (input.getBoundingClientRect().top < 0) input.scrollIntoView({ block: "start" });
  };
  input.value = app.drafts[draft] ?? "";
  input.addEventListener("input", () => put(input.value));
  input.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) take();
  });
  add.addEventListener("click", take);
  show();
  return () => {
    if (input.value !== (app.drafts[draft] ?? "")) {
      input.value = app.drafts[draft] ?? "";
      show();
    }
  };
}

/** Commas and spaces that stood about what is gone. @param {string} text */
const tidy = (text) => text
  .replace(/[ \t]*\u0000[ \t]*/g, "\u0000")
  .replace(/\u0000(?:,?[ \t]*\u0000)*(,[ \t]*)?/g, " ")
  .replace(/[ \t]+/g, " ")
  .replace(/(^|[:;\n]) ?,/g, "$1")
  .replace(/[ ,]+(?=[;\n]|$)/g, "")
  .replace(/\n[ \t]*(?=\n\n)/g, "")
  // A heading with nothing left under it.
  .replace(/(^|[;\n])[^;\n:]*:\s*$/, "")
  .trim();

/** What was chosen says by its name how it was taken, where what was written does not. @param {Choice} choice @param {string} text @returns {Listed} */
function named({ takenAs, listed }, text) {
  const { piece } = listed;
  if (!piece) return listed;
  const bare = /^\d+$/.test(piece.id);
  const id = takenAs === "strength" && /^[\d/½¼⅛ ]+$/.test(text) ? say("id|diffusion {strength}", { strength: piece.id })
    : takenAs === "factor" && bare ? `ND${piece.id}`
      : ["stops", "density", "densityInTenths"].includes(takenAs) ? fixed(piece.density ?? 0, 2) : piece.id;
  return { piece: { ...piece, id } };
}

/** @param {Choice} choice */
function choiceText({ takenAs, listed: { piece } }) {
  const how = TAKEN[takenAs];
  return piece?.density === undefined ? how : `${how}: D ${fixed(piece.density, 2)}`;
}
