// @ts-check
/**
 * Puts the page together: one set-up, one way to change it, screens that show
 * it. Screens listen and ask; nothing here or there computes.
 */
import { ask } from "../engine/ask.js";
import { demoSetup, openUpRequest } from "../document/setup.js";
import { mergedDrafts, windowOf } from "../storage/windows.js";
import { BEYOND, backUpNow, earlierStates, giveUp, isOurs, keepAgain, keptElsewhere, load, PATIENCE_MS, save, shownAs } from "../storage/store.js";
import { openLog } from "../storage/log.js";
import { isReadable } from "../day/readable.js";
import { offerLink } from "../hand-over/offered-set-up.js";
import { stamped } from "../hand-over/merge-case.js";
import { caseToSend } from "../document/shared-case.js";
import { localIso } from "../questions/light.js";
import { language, sayAll } from "../language/say.js";
import { useUnits } from "../language/numbers.js";
import { refusalSentence, WORDS } from "../language/words/shared.js";
import { DAY_WORDS } from "../language/words/day.js";
import { mountDay } from "../screens/day/day.js";
import { mountFit } from "../screens/fit/fit.js";
import { mountFrame } from "../screens/frame/frame.js";
import { mountLight } from "../screens/light/light.js";
import { mountNow } from "../screens/now/now.js";
import { mountGuide } from "./guide.js";
import { mountSignal } from "./signal.js";
import { mountWholeCase } from "../screens/case/case.js";
import { watchArrivals } from "../hand-over/opened-files.js";
import { watchForUpdate } from "./update.js";
import { all, el, one } from "../parts/dom.js";
import { within } from "../storage/database.js";
import { offerFile } from "../parts/offer-file.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../api/glasscall.js").OpenUpReply} OpenUpReply
 * @typedef {import("../day/record.js").DayRecord} DayRecord
 */

/**
 * @typedef {object} App
 * @property {Setup} setup
 * @property {Record<string, string>} drafts texts that are not (yet) possible, by field
 * @property {string} look
 * @property {import("../storage/store.js").Shows} shows language and units
 * @property {OpenUpReply | undefined} answer the last good main answer
 * @property {string} complaint why there is no newer one, or nothing
 * @property {(edit: (setup: Setup) => void, ours?: boolean, visit?: object) => void} change edits a copy, keeps it, shows it; what is ours was edited now; edits of one visit to a field are one step back
 * @property {(setup: Setup) => boolean} take puts a set-up from elsewhere in its place, if every screen can show it
 * @property {DayRecord[]} records the log of the day
 * @property {(records: DayRecord[]) => void} append adds to the log
 * @property {() => unknown[]} unread what stands in the log and cannot be read
 * @property {(text: string, action?: string, act?: () => void) => void} notify
 * @property {() => void} keep saves without a change of the set-up
 * @property {number} unsaved changes of the case since it was saved as a file
 * @property {() => void} exported the case has just been saved as a file
 * @property {() => ReturnType<typeof earlierStates>} earlier states kept before
 */

/** A screen: mounted once, shows the set-up when told. */
const SCREENS = { now: mountNow, fit: mountFit, frame: mountFrame, light: mountLight, case: mountWholeCase, day: mountDay };
const STEPS_BACK = 100;

/** @param {unknown} setup */
const isSound = (setup) => {
  const { refusal } = ask("openUp", openUpRequest(/** @type {Setup} */ (setup)));
  // Pieces that find no room are an answer, not damage.
  return refusal === undefined || refusal.code === "noRoom";
};

const { saved, text, trouble, aside, late } = await load(isSound);

const log = openLog(isReadable, {
  changed: () => update(),
  trouble: (what) => notify(DAY_WORDS.log[what]),
});

/** What one step back restores: the set-up, and what had been logged by then. @type {{setup: Setup, logged: DayRecord[]}[]} */
const history = [];
const here = windowOf(saved);
/** The record this window knows, and the drafts in it. */
let known = { text: text ?? "", drafts: saved?.drafts ?? {} };

/** @type {App} */
const app = {
  setup: saved?.setup ?? demoSetup(),
  drafts: saved?.drafts ?? {},
  look: saved?.look ?? "system",
  shows: saved?.shows ?? shownAs(),
  answer: undefined,
  complaint: "",
  unsaved: saved?.unsaved ?? 0,
  change(edit, ours = true, visit = undefined) {
    catchUp();
    const next = structuredClone(app.setup);
    edit(next);
    if (JSON.stringify(next) === JSON.stringify(app.setup)) return update();
    const [before, after] = [caseToSend(app.setup), caseToSend(next)];
    if (ours) next.edited = stamped(before, after, next.edited, localIso(new Date()));
    if (!next.demo) {
      askToStay();
      if (JSON.stringify(before) !== JSON.stringify(after)) app.unsaved += 1;
    }
    remember(app.setup, visit);
    app.setup = next;
    keepNow(edit);
    return update();
  },
  take(setup) {
    const before = { setup: app.setup, drafts: app.drafts };
    try {
      app.drafts = {};
      app.setup = structuredClone(setup);
      update();
      refresh();
    } catch {
      // A screen could not show it; the one before comes back.
      Object.assign(app, before);
      update();
      return false;
    }
    remember(before.setup);
    keepNow(asItIs);
    update();
    return true;
  },
  get records() {
    return log.records();
  },
  append(records) {
    remember(app.setup, undefined, records);
    log.append(records);
    return update();
  },
  unread: log.unread,
  notify,
  keep() {
    catchUp();
    keepNow(asItIs);
  },
  exported() {
    app.unsaved = 0;
    app.keep();
    update();
  },
  earlier: () => earlierStates(isSound),
};

/** The visit the last step belongs to. @type {object | undefined} */
let lastVisit;

/** @param {Setup} [setup] @param {object} [visit] @param {DayRecord[]} [logged] by this step */
function remember(setup = app.setup, visit = undefined, logged = []) {
  // Every key typed is an edit; one step back undoes the word.
  if (visit !== undefined && visit === lastVisit) return;
  lastVisit = visit;
  history.push({ setup, logged });
  history.splice(0, history.length - STEPS_BACK);
}

/** What cannot be done again on another state, or has nothing to do with it. */
const asItIs = () => {};

/** @param {(setup: Setup) => void} [edit] what made this state; nothing when it joins two */
function keepNow(edit) {
  const { setup, drafts, look, shows, unsaved } = app;
  const marks = here.next(edit);
  const tell = (/** @type {boolean} */ kept) => (one(document, "#keeping").textContent = kept ? "" : WORDS.notKept);
  const text = save({ setup, drafts, look, shows, unsaved, ...marks }, tell);
  known = { text, drafts: { ...drafts } };
}

/** Takes what another window kept meanwhile. @param {string} [text] as an event tells it */
function catchUp(text) {
  const { saved: other, newer, text: theirs } = keptElsewhere(known.text, isSound, text);
  if (newer) notify(WORDS.newer);
  if (!other || !theirs) return false;
  const { do: what, again } = here.meet(other);
  if (what === "repeat") keepAgain(known.text);
  if (what !== "take") return false;
  const next = other.setup;
  const redone = doneAgain(next, again);
  app.drafts = mergedDrafts(known.drafts, app.drafts, other.drafts);
  app.look = other.look;
  app.shows = other.shows;
  app.unsaved = other.unsaved;
  if (JSON.stringify(next) !== JSON.stringify(app.setup)) {
    remember();
    app.setup = next;
  }
  known = { text: theirs, drafts: { ...other.drafts } };
  if (redone) keepNow();
  else keepAgain(theirs);
  return true;
}

/** @param {Setup} setup @param {import("../storage/windows.js").Done[]} again @returns {boolean} whether it changed anything */
function doneAgain(setup, again) {
  for (const { act } of again) {
    try {
      act(setup);
    } catch {
      // What it was about is gone; a step back still has it.
    }
  }
  return again.length > 0;
}

let asked = false;
/** A case of one's own should not be thrown out when the device runs full. */
function askToStay() {
  if (asked || window.top !== window) return;
  asked = true;
  // Where it is not offered, or not granted, what is kept is kept as before.
  navigator.storage?.persist?.().catch(() => {});
}

/** @type {{name: string, mount: (root: HTMLElement, app: App) => () => void, update?: () => void}[]} */
const screens = Object.entries(SCREENS).map(([name, mount]) => ({ name, mount }));
/** Those that have not shown the set-up as it is: a screen out of sight waits until it is wanted. */
const stale = new Set(screens);

// Before anything reads the page or writes into it.
sayAll(document.body);
document.documentElement.dataset.said = "yes";

const showGuide = mountGuide(app);

function update() {
  const { reply, refusal } = ask("openUp", openUpRequest(app.setup));
  app.answer = reply ?? app.answer;
  app.complaint = refusal ? refusalSentence(refusal) : "";
  one(document, "[data-do=undo]").disabled = history.length === 0;
  for (const screen of screens) stale.add(screen);
  refresh(openName());
  showGuide();
}

/** Shows the set-up as it is. @param {string} [name] of one screen; of all unless said */
function refresh(name) {
  for (const screen of screens) {
    if (stale.has(screen) && (name === undefined || screen.name === name)) {
      screen.update ??= screen.mount(one(document, `#${screen.name}`), app);
      screen.update();
      stale.delete(screen);
    }
  }
}

/** @param {string} [hash] */
function openName(hash = location.hash) {
  const wanted = hash.slice(1).split("?")[0];
  return Object.hasOwn(SCREENS, wanted) ? wanted : "now";
}

function showScreen(name = openName()) {
  refresh(name);
  for (const screen of screens) one(document, `#${screen.name}`).hidden = screen.name !== name;
  for (const link of all(document, ".tabs a")) {
    const here = link.getAttribute("href") === `#${name}`;
    if (here) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  window.scrollTo(0, 0);
}

// A tap shows its screen at once; the address and its event follow.
one(document, ".tabs").addEventListener("click", (/** @type {Event} */ event) => {
  const link = /** @type {Element} */ (event.target).closest("a");
  if (link) showScreen(openName(link.hash));
});

for (const select of all(document, "[data-shows]")) {
  select.addEventListener("change", () => {
    const { dataset, value } = /** @type {HTMLSelectElement} */ (select);
    app.shows = { ...app.shows, [String(dataset.shows)]: value };
    app.keep();
    // Words are said in many places; a page in another language starts anew.
    if (dataset.shows === "language") return location.reload();
    showLook();
    return update();
  });
}

function showLook() {
  useUnits(app.shows);
  for (const select of all(document, "[data-shows]")) {
    /** @type {HTMLSelectElement} */ (select).value = app.shows[/** @type {keyof typeof app.shows} */ (select.dataset.shows)];
  }
  one(document, ".shows-now").textContent = `${language.toUpperCase()} ${app.shows.lengths} ${app.shows.distances}`;
  const root = document.documentElement;
  root.dataset.look = app.look;
  // The bar of the device above an installed page; at night it must not shine.
  one(document, "meta[name=theme-color]").content = getComputedStyle(root).getPropertyValue("--deep");
  one(document, "[data-do=look]").value = app.look;
}

one(document, "[data-do=undo]").addEventListener("click", () => {
  const before = history.pop();
  if (!before) return;
  lastVisit = undefined;
  app.setup = before.setup;
  // This step's entries and no others: another window may have logged since.
  if (before.logged.length > 0) log.withdraw(before.logged);
  app.drafts = {};
  keepNow(asItIs);
  update();
});
one(document, "[data-do=look]").addEventListener("change", (/** @type {Event} */ event) => {
  app.look = /** @type {HTMLSelectElement} */ (event.target).value;
  showLook();
  app.keep();
});
// Every field is live; a form that is sent would only reload the page.
document.addEventListener("submit", (event) => event.preventDefault());
window.addEventListener("hashchange", () => {
  showScreen();
  offerLink(app);
});

/** @param {string} text @param {string} [action] @param {() => void} [act] */
function notify(text, action, act) {
  const notice = one(document, "#notice");
  notice.replaceChildren(text);
  if (action && act) notice.append(" ", el("button", { type: "button", onclick: act }, action));
  notice.hidden = false;
}

/** Another window's change, when it comes or when this window wakes. @param {string} [text] */
function follow(text) {
  if (!catchUp(text)) return;
  showLook();
  update();
}
window.addEventListener("storage", (event) => {
  if (isOurs(event) && event.newValue !== null) follow(event.newValue);
});
window.addEventListener("pageshow", () => follow());
document.addEventListener("visibilitychange", () => follow());

// The core never breaks off as far as anyone knows. If it does, it cannot be
// asked again before the page starts anew, and everything is kept.
const broken = (/** @type {unknown} */ reason) => {
  if (reason instanceof WebAssembly.RuntimeError) notify(WORDS.broken, WORDS.startAnew, () => location.reload());
};
window.addEventListener("error", (event) => broken(event.error));
window.addEventListener("unhandledrejection", (event) => broken(event.reason));

async function start() {
  showLook();
  try {
    update();
    showScreen();
  } catch (error) {
    return insteadOf(error);
  }
  // Where the database may hold more than this, nothing is kept that nobody said.
  if (known.text === "" && !late) keepNow(asItIs);
  if (trouble && aside) notify(WORDS[trouble], WORDS.saveAside, () => offerFile(aside, "glasscall-put-aside.json", "application/json"));
  else if (trouble) notify(WORDS[trouble]);
  late?.then(takeLate);
  await within(log.read, PATIENCE_MS);
  offerLink(app);
  watchArrivals(app);
  mountSignal();
  watchForUpdate((takeOver) => notify(WORDS.update, WORDS.updateNow, takeOver));
  document.documentElement.dataset.ready = "yes";
  setTimeout(showRest);
  return undefined;
}

/**
 * A database that was slow at the start may hold a newer state than this page
 * started from. Where nothing was done here it is taken; otherwise it is kept
 * among the earlier states.
 * @param {import("../storage/store.js").Saved | undefined} found
 */
async function takeLate(found) {
  if (!found || found.edit <= (saved?.edit ?? 0) - BEYOND) return;
  if (here.hasEdited()) {
    await backUpNow(found);
    notify(WORDS.lateState);
    return;
  }
  Object.assign(app, { setup: found.setup, drafts: found.drafts, unsaved: found.unsaved });
  keepNow(asItIs);
  update();
}

/** The first answer stands; now the screens out of sight, one by one, which proves the record sound. */
async function showRest() {
  try {
    for (const { name } of screens) {
      refresh(name);
      // Whoever taps meanwhile comes first.
      await new Promise((done) => setTimeout(done));
    }
    if (saved && trouble !== "backup") backUpNow(saved);
  } catch (error) {
    insteadOf(error);
  }
}

/** Better an earlier state than a page that shows nothing. @param {unknown} error */
async function insteadOf(error) {
  if (saved && await giveUp(saved)) return location.reload();
  throw error;
}

await start();
