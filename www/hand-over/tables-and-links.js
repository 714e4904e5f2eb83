// @ts-check
/** What leaves the phone: tables, JSON, a link; and a log that comes back. */
import { localIso } from "../document/moment.js";
import { workingsToHandOver } from "../day/searched.js";
import { language, say } from "../language/say.js";
import { stopLabel, stopsText } from "../language/numbers.js";
import { WORDS } from "../language/words/shared.js";
import { badLinkText, DAY_WORDS } from "../language/words/day.js";
import { partsToSend } from "./offered-set-up.js";
import { tryCopy } from "./clipboard.js";
import { answerTable, kitTable, logTable, workingTable } from "../day/columns.js";
import { hasAddress, pageAddress } from "./address.js";
import { BadLink, writeLink } from "./link.js";
import { FORMS } from "../day/markup.js";
import { stillPicture } from "./still-picture.js";
import { elementSnippet, frameSnippet } from "./snippet.js";
import { readableOf } from "../day/readable.js";
import { amended } from "../day/record.js";
import { addLog } from "./brought.js";
import { shareOut } from "./share-out.js";
import { el, one } from "../parts/dom.js";
import { offerFile } from "../parts/offer-file.js";

/** The form of a log as a file. */
const LOG_VERSION = 1;

/** @typedef {import("../start/start.js").App} App */

/** @param {HTMLElement} root @param {App} app */
export function mountHandOver(root, app) {
  const what = one(root, "[data-do=what]", HTMLSelectElement);
  const form = one(root, "[data-do=form]", HTMLSelectElement);
  const text = one(root, ".day-text", HTMLTextAreaElement);
  const message = one(root, ".day-message");
  const button = (/** @type {string} */ name) => one(root, `[data-do=${name}]`);

  /** Copies; what cannot be copied stands selected in view. @param {string} given */
  const give = async (given) => {
    const copied = await tryCopy(given);
    message.textContent = copied ? DAY_WORDS.copied : DAY_WORDS.copyByHand;
    text.value = given;
    text.hidden = false;
    if (!copied) text.select();
  };

  const written = async () => {
    if (form.value === "json") return json(app, what.value);
    if (form.value in FORMS) return inForm(app, what.value, form.value);
    // Another page shows a set-up, not a list.
    if (what.value !== "answer") what.value = "answer";
    return snippet(app, form.value);
  };
  one(form, "[value=wiki]").after(el("option", { value: "caret", text: say("Wiki table, ^ and |") }));
  const buttons = button("copy-link").parentElement ?? root;
  buttons.append(el("button", { type: "button", "data-do": "save-picture" }, say("Save the picture")));
  /** What cannot be written says why. @param {() => Promise<void>} act */
  const orSayWhy = async (act) => {
    try {
      await act();
    } catch (error) {
      if (!(error instanceof BadLink)) throw error;
      message.textContent = badLinkText(error);
    }
  };

  button("copy-out").addEventListener("click", () => orSayWhy(async () => give((await written()).text)));
  button("save-out").addEventListener("click", () => orSayWhy(async () => {
    const { text: content, type, end } = await written();
    const name = `${nameOf(what.value)}.${end}`;
    offerFile(content, name, type);
    message.textContent = DAY_WORDS.saved(name);
  }));
  button("copy-link").addEventListener("click", () => orSayWhy(async () =>
    give(`${pageAddress()}#now?s=${await writeLink(partsToSend(app.document))}`)));
  button("save-picture").addEventListener("click", () => {
    offerFile(picture(app), `glasscall-answer-${localIso(new Date()).slice(0, 10)}.svg`, "image/svg+xml");
  });
  buttons.append(...shareOut(message, async () => ({ ...await written(), name: nameOf(what.value) }), give, orSayWhy));
  mountLogReader(button("add-log"), app, message);

  return { give, update: () => undefined };
}

/** @param {HTMLElement} input of a file @param {App} app @param {HTMLElement} message what came of it */
function mountLogReader(input, app, message) {
  const readLog = async (/** @type {File} */ file) => {
    const log = logIn(await file.text());
    const theirs = readableOf(log?.records);
    // A file may be opened from elsewhere: what came of it is to be seen.
    message.closest("details")?.setAttribute("open", "");
    if (log?.version > LOG_VERSION) message.textContent = badLinkText(new BadLink("version"));
    else message.textContent = theirs ? addLog(app, theirs) : DAY_WORDS.notALog;
  };
  input.addEventListener("change", (/** @type {Event} */ event) => {
    const chosen = /** @type {HTMLInputElement} */ (event.target);
    const file = chosen.files?.[0];
    if (file) readLog(file);
    // The same file can be chosen again.
    chosen.value = "";
  });
  app.readers.log = readLog;
}

/** @param {string} text @returns {any} nothing where it is no JSON */
function logIn(text) {
  try {
    return JSON.parse(text) ?? undefined;
  } catch {
    return undefined;
  }
}

/** @param {App} app @param {string} what */
function json(app, what) {
  const content = what === "working"
    ? { format: "glasscall-working", version: 1, workings: workingsToHandOver(app.setup, app.answer) }
    : what === "log"
    ? { format: "glasscall-log", version: LOG_VERSION, records: app.records }
    : what === "kit"
      ? { format: "glasscall-kit", version: 1, kit: app.setup.kit }
      : { format: "glasscall-answer", version: 1, setup: app.document, answer: app.answer };
  return { text: `${JSON.stringify(content, null, 2)}\n`, type: "application/json", end: "json" };
}

/** @param {App} app @param {string} what @param {string} form */
async function inForm(app, what, form) {
  const { write, type, end, under } = FORMS[/** @type {keyof typeof FORMS} */ (form)];
  return { text: write(tableOf(app, what)) + (what === "answer" ? under(await underOf(app)) : ""), type, end };
}

/** What an answer that leaves the page says besides. @param {App} app @returns {Promise<import("../day/markup.js").Under>} */
async function underOf(app) {
  const told = { strong: WORDS.notEyeProtection, more: WORDS.cautions };
  if (!hasAddress()) return told;
  const address = `${pageAddress()}#now?s=${await writeLink(partsToSend(app.document))}`;
  return { ...told, link: { text: say("Open this set-up"), address } };
}

/** @param {string} what */
const nameOf = (what) => `glasscall-${what}-${localIso(new Date()).slice(0, 10)}`;

/** The best stack of the answer. @param {App} app */
function picture({ answer }) {
  const best = answer?.stacks[0];
  const wheel = best?.wheel ? [{ id: say("wheel"), stops: best.stops - best.slots.reduce((sum, { stops }) => sum + stops, 0) }] : [];
  return stillPicture({
    need: answer ? stopsText(answer.needStops) : say("verdict|Not known"),
    needStops: answer?.needStops ?? 0,
    bars: [...wheel, ...(best?.slots.map(({ piece, stops }) => ({ id: piece, stops })) ?? [])],
    set: best?.apertureLabel ? `${say("iris|Set")} ${stopLabel(best.apertureLabel)}` : "",
    caution: WORDS.notEyeProtection,
  });
}

/** The set-up for another page; always the set-up, whatever else is chosen. @param {App} app @param {string} form */
async function snippet(app, form) {
  const link = await writeLink(partsToSend(app.document));
  const text = form === "frame"
    ? frameSnippet(link, pageAddress(), language)
    : elementSnippet(link, pageAddress(), FORMS.html.write(answerTable(app.setup, app.answer)) + FORMS.html.under(await underOf(app)));
  return { text, type: FORMS.html.type, end: "html" };
}

/** @param {App} app @param {string} what */
function tableOf(app, what) {
  if (what === "log") return logTable(amended(app.records));
  if (what === "kit") return kitTable(app.setup);
  if (what === "working") return workingTable(workingsToHandOver(app.setup, app.answer));
  return answerTable(app.setup, app.answer);
}
