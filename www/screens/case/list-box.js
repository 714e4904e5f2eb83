// @ts-check
/** One box for a whole case: typed, pasted or dictated; read back while it is written. */
import { ask } from "../../engine/ask.js";
import { addListed } from "../../document/listed.js";
import { say, sayCount } from "../../language/say.js";
import { gotText } from "../../language/words/list.js";
import { isCaseFile, meant, without } from "./list-entries.js";
import { listTable } from "./list-back.js";
import { refusalSentence } from "../../language/words/shared.js";
import { one } from "../../parts/dom.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("./list-back.js").Line} Line
 */

/**
 * @param {HTMLElement} box holds the text, what is read of it, the button
 * @param {App} app
 * @param {{draft: string, of: "anything" | "lenses", readFile: (text: string) => Promise<boolean>}} plan
 */
export function mountListBox(box, app, { draft, of, readFile }) {
  const input = /** @type {HTMLTextAreaElement} */ (one(box, "textarea"));
  const told = one(box, ".list-told");
  const { show, lines } = readBack(box, of, put);

  /** @param {string} text */
  function put(text) {
    input.value = text;
    if (text === "") delete app.drafts[draft];
    else app.drafts[draft] = text;
    app.keep();
    show();
  }

  const take = async () => {
    if (isCaseFile(input.value)) {
      if (await readFile(input.value)) put("");
      return;
    }
    const ready = lines().filter(({ is }) => is);
    const listed = ready.flatMap(({ is }) => is ?? []);
    const refusal = app.do(addListed, listed);
    if (refusal) {
      told.textContent = refusalSentence(refusal);
      return;
    }
    put(rest(input.value, lines(), ready));
    const waiting = lines().length;
    told.textContent = say("In the case: {what}.", { what: gotText(listed) });
    if (waiting > 0) told.textContent += ` ${sayCount(waiting, "{count} entry waits above.", "{count} entries wait above.")}`;
    input.focus({ preventScroll: true });
    // What was read back stood above the button and is gone: else the page stands somewhere below.
    if (input.getBoundingClientRect().top < 0) input.scrollIntoView({ block: "start" });
  };
  input.value = app.drafts[draft] ?? "";
  input.addEventListener("input", () => put(input.value));
  input.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) take();
  });
  one(box, ADD).addEventListener("click", take);
  show();
  return () => {
    if (input.value !== (app.drafts[draft] ?? "")) {
      input.value = app.drafts[draft] ?? "";
      show();
    }
  };
}

/**
 * What is read of the text, below it.
 * @param {HTMLElement} box @param {"anything" | "lenses"} of @param {(text: string) => void} put writes another text
 */
function readBack(box, of, put) {
  const input = /** @type {HTMLTextAreaElement} */ (one(box, "textarea"));
  const back = one(box, ".list-back");
  const add = one(box, ADD, HTMLButtonElement);
  /** What was chosen, by what was written. @type {Map<string, number>} */
  const chosen = new Map();
  /** @type {Line[]} */
  let lines = [];

  const show = () => {
    input.rows = Math.min(8, Math.max(3, input.value.split("\n").length + 1));
    if (isCaseFile(input.value)) {
      lines = [];
      back.replaceChildren();
      add.textContent = say("Read this case file");
      add.disabled = false;
      return;
    }
    const { reply, refusal } = input.value.trim() === "" ? {} : ask("readList", { text: input.value, of });
    lines = (reply?.entries ?? []).map((entry) => {
      const text = input.value.slice(entry.from, entry.to);
      const nth = chosen.get(text);
      return { entry, text, nth, is: meant(entry, text, nth) };
    });
    one(box, ".list-told").textContent = refusal ? refusalSentence(refusal) : "";
    const ready = lines.flatMap(({ is }) => is ?? []);
    add.disabled = ready.length === 0;
    add.textContent = ready.length === 0 ? say("Add") : say("Add {what}", { what: gotText(ready) });
    back.replaceChildren(...(lines.length === 0 ? [] : [listTable(lines, { edit, leaveOut, choose })]));
  };

  /** @param {Line} line */
  const edit = ({ entry: { from, to } }) => {
    input.focus();
    input.setSelectionRange(from, to);
  };
  const leaveOut = (/** @type {Line} */ line) => put(rest(input.value, lines, [line]));
  /** @param {Line} line @param {number} nth */
  const choose = ({ entry, text }, nth) => {
    const place = lines.filter(asks).findIndex((line) => line.entry === entry);
    chosen.set(text, nth);
    show();
    // The button that was tapped is another now.
    /** @type {HTMLElement} */ (back.querySelectorAll(".list-choices")[place]?.children[nth])?.focus();
  };
  return { show, lines: () => lines };
}

const ADD = "[data-do=add-piece], [data-do=add-lenses]";

const asks = (/** @type {Line} */ { entry }) => (entry.choices?.length ?? 0) > 0;

/** What is left of the text; a heading over nothing is not. @param {string} text @param {Line[]} lines @param {Line[]} gone */
const rest = (text, lines, gone) => (lines.length > gone.length ? without(text, gone.map(({ entry }) => entry)) : "");
