// @ts-check
/**
 * Puts the page together: one set-up, one way to change it, screens that show
 * it. Screens listen and ask; nothing here or there computes.
 */
import { ask } from "./engine.js";
import { demoSetup, openUpRequest } from "./setup.js";
import { KEY as DAY, loadRecords, saveRecords } from "./day/keep.js";
import { load, save } from "./store.js";
import { offerLink } from "./day/arrive.js";
import { stamped } from "./day/merge-case.js";
import { caseToSend } from "./day/shared-case.js";
import { localIso } from "./light.js";
import { refusalSentence, WORDS } from "./words.js";
import { DAY_WORDS } from "./words/day.js";
import { mountDay } from "./screens/day.js";
import { mountFit } from "./screens/fit.js";
import { mountFrame } from "./screens/frame.js";
import { mountLight } from "./screens/light.js";
import { mountNow } from "./screens/now.js";
import { mountWholeCase } from "./screens/whole-case.js";
import { watchForUpdate } from "./update.js";
import { all, el, one } from "./parts/dom.js";

/**
 * @typedef {import("./setup.js").Setup} Setup
 * @typedef {import("./api/glasscall.js").OpenUpReply} OpenUpReply
 * @typedef {import("./day/record.js").DayRecord} DayRecord
 */

/**
 * @typedef {object} App
 * @property {Setup} setup
 * @property {Record<string, string>} drafts texts that are not (yet) possible, by field
 * @property {string} look
 * @property {OpenUpReply | undefined} answer the last good main answer
 * @property {string} complaint why there is no newer one, or nothing
 * @property {(edit: (setup: Setup) => void, ours?: boolean) => void} change edits a copy, keeps it, shows it; what is ours was edited now
 * @property {(setup: Setup) => boolean} take puts a set-up from elsewhere in its place, if every screen can show it
 * @property {DayRecord[]} records the log of the day
 * @property {(records: DayRecord[]) => void} write puts a longer log in its place
 * @property {(text: string, action?: string, act?: () => void) => void} notify
 * @property {() => void} keep saves without a change of the set-up
 */

/** A screen: mounted once, shows the set-up when told. */
const SCREENS = { now: mountNow, fit: mountFit, frame: mountFrame, light: mountLight, case: mountWholeCase, day: mountDay };
const STEPS_BACK = 100;

const { saved, damaged } = load((setup) => {
  const { refusal } = ask("openUp", openUpRequest(/** @type {Setup} */ (setup)));
  // Pieces that find no room are an answer, not damage.
  return refusal === undefined || refusal.code === "noRoom";
});

const log = loadRecords();

/** What one step back restores. @type {{setup: Setup, records: DayRecord[]}[]} */
const history = [];

/** @type {App} */
const app = {
  setup: saved?.setup ?? demoSetup(),
  drafts: saved?.drafts ?? {},
  look: saved?.look ?? "system",
  answer: undefined,
  complaint: "",
  change(edit, ours = true) {
    const next = structuredClone(app.setup);
    edit(next);
    if (JSON.stringify(next) === JSON.stringify(app.setup)) return update();
    if (ours) next.edited = stamped(caseToSend(app.setup), caseToSend(next), next.edited, localIso(new Date()));
    remember();
    app.setup = next;
    keep();
    return update();
  },
  take(setup) {
    const before = { setup: app.setup, drafts: app.drafts };
    try {
      app.drafts = {};
      app.setup = structuredClone(setup);
      update();
    } catch {
      // A screen could not show it; the one before comes back.
      Object.assign(app, before);
      update();
      return false;
    }
    remember(before.setup);
    keep();
    update();
    return true;
  },
  records: log.records,
  write(records) {
    remember();
    app.records = records;
    keep();
    return update();
  },
  notify,
  keep,
};

/** @param {Setup} [setup] */
function remember(setup = app.setup) {
  history.push({ setup, records: app.records });
  history.splice(0, history.length - STEPS_BACK);
}

let keptRecords = app.records;

function keep() {
  const logKept = keptRecords === app.records || saveRecords(app.records);
  if (logKept) keptRecords = app.records;
  const kept = save({ setup: app.setup, drafts: app.drafts, look: app.look }) && logKept;
  one(document, "#keeping").textContent = kept ? "" : WORDS.notKept;
}

const shown = Object.entries(SCREENS).map(([name, mount]) => ({
  name,
  update: mount(one(document, `#${name}`), app),
}));

function update() {
  const { reply, refusal } = ask("openUp", openUpRequest(app.setup));
  app.answer = reply ?? app.answer;
  app.complaint = refusal ? refusalSentence(refusal) : "";
  one(document, "[data-do=undo]").disabled = history.length === 0;
  for (const screen of shown) screen.update();
}

function showScreen() {
  const wanted = location.hash.slice(1).split("?")[0];
  const name = wanted in SCREENS ? wanted : "now";
  for (const screen of shown) one(document, `#${screen.name}`).hidden = screen.name !== name;
  for (const link of all(document, ".tabs a")) {
    const here = link.getAttribute("href") === `#${name}`;
    if (here) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  window.scrollTo(0, 0);
}

function showLook() {
  document.documentElement.dataset.look = app.look;
  one(document, "[data-do=look]").value = app.look;
}

one(document, "[data-do=undo]").addEventListener("click", () => {
  const before = history.pop();
  if (!before) return;
  app.setup = before.setup;
  app.records = before.records;
  app.drafts = {};
  keep();
  update();
});
one(document, "[data-do=look]").addEventListener("change", (/** @type {Event} */ event) => {
  app.look = /** @type {HTMLSelectElement} */ (event.target).value;
  showLook();
  keep();
});
// Every field is live; a form that is sent would only reload the page.
document.addEventListener("submit", (event) => event.preventDefault());
window.addEventListener("hashchange", () => {
  showScreen();
  offerLink(app);
});
// Another window wrote to the log: it must not be overwritten from here.
window.addEventListener("storage", (event) => {
  if (event.key !== DAY) return;
  app.records = loadRecords().records;
  keptRecords = app.records;
  update();
});

/** @param {string} text @param {string} [action] @param {() => void} [act] */
function notify(text, action, act) {
  const notice = one(document, "#notice");
  notice.replaceChildren(text);
  if (action && act) notice.append(" ", el("button", { type: "button", onclick: act }, action));
  notice.hidden = false;
}

showLook();
keep();
update();
showScreen();
if (damaged) notify(WORDS.damaged);
if (log.damaged) notify(DAY_WORDS.damaged);
offerLink(app);
watchForUpdate((takeOver) => notify(WORDS.update, WORDS.updateNow, takeOver));
document.documentElement.dataset.ready = "yes";
