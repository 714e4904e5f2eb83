// @ts-check
/**
 * Puts the page together: one set-up, one way to change it, screens that show
 * it. Screens listen and ask; nothing here or there computes.
 */
import { NotThere, onceWhole, ready, whole, withWhole } from "../engine/ask.js";
import { demoDocument } from "../document/demo.js";
import { resolve } from "../document/resolve.js";
import { answerOf, refusalOf } from "../questions/check.js";
import { isRead } from "../questions/open-up.js";
import { actOf, createState, replaced } from "./state.js";
import { mergedDrafts, windowOf } from "../storage/windows.js";
import { BEYOND, backUpNow, earlierStates, isOurs, keepAgain, keptElsewhere, load, save, shownAs } from "../storage/store.js";
import { localIso } from "../document/moment.js";
import { say, sayAll } from "../language/say.js";
import { refusalSentence, WORDS } from "../language/words/shared.js";
import { nameOfEdit } from "../language/words/edits.js";
import { belowStands, mountNow } from "../screens/now/now.js";
import { notify } from "./notice.js";
import { screensStand } from "./screens-apart.js";
import { dayLog } from "./day-log.js";
import { mountShell } from "./shell.js";
import { mountGuide } from "./guide.js";
import { mountHead } from "./head.js";
import { keepAnswer } from "./kept-answer.js";
import { mountSignal } from "./signal.js";
import { watchArrivals } from "../hand-over/opened-files.js";
import { askToStay } from "./stay.js";
import { watchForBreaks } from "./broken.js";
import { watchForUpdate } from "./update.js";
import { all, one } from "../parts/dom.js";
import { offerFile } from "../parts/offer-file.js";
import { turn } from "../parts/turn.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../document/document.js").Document} Document
 * @typedef {import("../engine/ask.js").Refusal} Refusal
 * @typedef {import("../api/glasscall.js").OpenUpReply} OpenUpReply
 * @typedef {import("../day/record.js").DayRecord} DayRecord
 */

/**
 * @typedef {object} App
 * @property {Document} document all that is kept; changed by `change` and `do` only
 * @property {Setup} setup the set-up in use, made of the document
 * @property {Record<string, string>} drafts texts that are not (yet) possible, by field
 * @property {string} look
 * @property {import("../storage/store.js").Shows} shows language and units
 * @property {OpenUpReply | undefined} answer the last good main answer
 * @property {string} complaint why there is no newer one, or nothing
 * @property {(edit: (setup: Setup) => void, ours?: boolean, visit?: object, name?: string) => Refusal | undefined} change edits a copy of the set-up in use, keeps it, shows it, or says what is against it; what is ours was edited now; edits of one visit to a field are one step back, called `name` by undo
 * @property {<A extends any[]>(edit: (document: Document, ...given: A) => Document, ...given: A) => Refusal | undefined} do a named edit of the document (document/edits.js)
 * @property {(act: (document: Document) => Document) => Promise<Refusal | undefined>} merge an edit that was made elsewhere; its times stay, and the state before it is kept as an earlier one
 * @property {(document: Document, name: string) => Promise<boolean>} take puts a document from elsewhere in its place, if every screen can show it; the one before is kept as an earlier state
 * @property {DayRecord[]} records the log of the day
 * @property {(records: DayRecord[], visit?: object) => () => void} append adds to the log, with edits of the same visit; gives what takes back these and no others
 * @property {() => Promise<void>} logStands fulfilled when the log is open; before, it can take nothing
 * @property {() => unknown[]} unread what stands in the log and cannot be read
 * @property {(text: string, action?: string, act?: () => void, stays?: boolean) => void} notify one line that goes by itself, unless it must be answered
 * @property {() => void} undo takes back the last step
 * @property {() => void} keep saves without a change of the set-up
 * @property {number} unsaved changes of the case since it was saved as a file
 * @property {() => void} exported the case has just been saved as a file
 * @property {() => ReturnType<typeof earlierStates>} earlier states kept before
 * @property {Partial<Record<"case" | "log", (file: File) => void>>} readers what reads a file from elsewhere; each is there once its screen is
 * @property {(hash: string) => Promise<void>} open shows a screen; done when it is there
 */

/** @typedef {(root: HTMLElement, app: App) => () => void} Mount mounts a screen, which shows the set-up when told */

/** Screens, each loaded when it is wanted: Now is the page's own. @type {Record<string, () => Promise<Mount>>} */
const SCREENS = {
  now: async () => mountNow,
  fit: async () => (await import("../screens/fit/fit.js")).mountFit,
  frame: async () => (await import("../screens/frame/frame.js")).mountFrame,
  light: async () => (await import("../screens/light/light.js")).mountLight,
  case: async () => (await import("../screens/case/case.js")).mountWholeCase,
  day: async () => (await import("../screens/day/day.js")).mountDay,
};
const NOW = "now";

// Database and words are on their way as well by now.
await ready;
const { saved, text, trouble, aside, late } = await load(refusalOf);

const log = dayLog(() => update(), notify);

const here = windowOf(saved ?? (late && { edit: BEYOND, heads: {}, by: "" }));
/** The record this window knows, and the drafts in it. */
let known = { text: text ?? "", drafts: saved?.drafts ?? {} };

const state = createState(
  { document: saved?.setup ?? demoDocument(), drafts: saved?.drafts ?? {}, unsaved: saved?.unsaved ?? 0 },
  { refusalOf, keep: keepNow, now: () => localIso(new Date()), setupOf: setupShown },
);

/** A core that breaks off is told by whoever asks; what was typed needs none of it. @param {import("../document/document.js").Document} document */
function setupShown(document) {
  try {
    return answerOf(document).setup;
  } catch {
    return resolve(document);
  }
}

/** @type {App} */
const app = {
  get document() {
    return state.document;
  },
  get setup() {
    return state.setup;
  },
  get drafts() {
    return state.drafts;
  },
  set drafts(texts) {
    state.drafts = texts;
  },
  look: saved?.look ?? "system",
  shows: saved?.shows ?? shownAs(),
  answer: undefined,
  complaint: "",
  get unsaved() {
    return state.unsaved;
  },
  change: (edit, ours = true, visit = undefined, name = "") => changed(actOf(edit), { ours, visit, name }),
  do: (edit, ...given) => changed((document) => edit(document, ...given), { name: nameOfEdit(edit) }),
  undo: () => state.undo(),
  merge: (act) => keepEarlier().then(() => changed(act, { ours: false, name: say("undo|two cases made one") })),
  async take(document, name) {
    const { document: before, drafts } = state;
    // What is replaced can be gone back to after a reload too.
    await keepEarlier();
    try {
      state.replace(structuredClone(document), name);
      for (const { name: screen } of screens) {
        await loaded(screen);
        draw(screen);
      }
    } catch {
      // A screen could not show it; the one before comes back.
      state.restore(before, drafts);
      return false;
    }
    return true;
  },
  get records() {
    return log.records();
  },
  logStands: log.stands,
  append(records, visit) {
    const add = () => log.append(records);
    // This step's entries and no others: another window may log meanwhile.
    const takeBack = state.stepBeside(say("undo|the log"), () => log.withdraw(records), add, visit);
    add();
    update();
    return takeBack;
  },
  unread: log.unread,
  notify,
  keep() {
    catchUp();
    keepNow(asItIs);
  },
  exported() {
    state.unsaved = 0;
    app.keep();
    update();
  },
  earlier: () => earlierStates(refusalOf),
  readers: {},
  async open(hash) {
    location.hash = hash;
    await refreshLoaded(openName(hash));
  },
};

/** @param {import("./state.js").Act} act @param {import("./state.js").Told} told */
function changed(act, told) {
  catchUp();
  const refusal = state.edit(act, told);
  if (refusal) notify(refusalSentence(refusal));
  else if (!state.document.demo) askToStay();
  return refusal;
}

/** The state as it is, among the earlier ones. */
async function keepEarlier() {
  if (state.document.demo) return;
  const { look, shows } = app;
  await backUpNow({ setup: state.document, drafts: state.drafts, look, shows, unsaved: state.unsaved, ...here.marks() });
}

/** What has nothing to do with the document. @type {import("./state.js").Act} */
const asItIs = (document) => document;

/** @param {import("./state.js").Act} [edit] what made this state; nothing when it joins two */
function keepNow(edit) {
  const { document: setup, drafts, unsaved } = state;
  const { look, shows } = app;
  const marks = here.next(edit);
  const tell = (/** @type {boolean} */ kept) => (one(document, "#keeping").textContent = kept ? "" : WORDS.notKept);
  const text = save({ setup, drafts, look, shows, unsaved, ...marks }, tell);
  known = { text, drafts: { ...drafts } };
}

/** Takes what another window kept meanwhile. @param {string} [text] as an event tells it */
function catchUp(text) {
  const { saved: other, newer, text: theirs } = keptElsewhere(known.text, refusalOf, text);
  if (newer) notify(WORDS.newer, "", undefined, true);
  if (!other || !theirs) return false;
  const { do: what, again } = here.meet(other);
  if (what === "repeat") keepAgain(known.text);
  if (what !== "take") return false;
  takeOver(other, again);
  known = { text: theirs, drafts: { ...other.drafts } };
  if (again.length > 0) keepNow();
  else keepAgain(theirs);
  return true;
}

/** Another state, with what was done here on it. @param {import("../storage/store.js").Saved} other @param {import("../storage/windows.js").Done[]} again */
function takeOver(other, again) {
  const next = again.reduce((document, { act }) => doneAgain(document, act), other.setup);
  state.follow(next, mergedDrafts(known.drafts, app.drafts, other.drafts), other.unsaved);
  app.look = other.look;
  app.shows = other.shows;
}

/** @param {Document} document @param {import("./state.js").Act} act */
function doneAgain(document, act) {
  try {
    const next = act(document);
    return refusalOf(next) ? document : next;
  } catch {
    // What it was about is gone; a step back still has it.
    return document;
  }
}

/** The state whose answer stands on Now. */
const shownNow = () => (openName() === NOW && app.answer && !app.complaint && state.setup.kit.length > 0 ? { ...here.marks(), demo: Boolean(state.document.demo), setup: state.setup } : undefined);

/** @type {{name: string, load: () => Promise<Mount>, mount?: Mount, update?: () => void}[]} */
const screens = Object.entries(SCREENS).map(([name, load]) => ({ name, load }));
/** Those that have not shown the set-up as it is: a screen out of sight waits until it is wanted. */
const stale = new Set(screens);

// Before anything reads the page or writes into it.
sayAll(document.body);
document.documentElement.dataset.said = "yes";

const showGuide = mountGuide(app);
const { showLook, showSteps } = mountHead(app, state, update);

function update() {
  const { setup, reply, refusal, waits } = answerOf(state.document);
  // The last good answer is one to a reading.
  app.answer = isRead(setup) && !waits ? reply ?? app.answer : undefined;
  app.complaint = waits ? WORDS.onItsWay : refusal ? refusalSentence(refusal) : "";
  if (waits) answerLater();
  showSteps();
  for (const screen of screens) stale.add(screen);
  refresh(openName());
  showGuide();
  keepAnswer(shownNow);
}

/** What waits for the whole module is answered when that is there. */
const answerLater = onceWhole(() => {
  checkWhole();
  update();
});
window.addEventListener("online", () => answerOf(state.document).waits && answerLater());

/** Once a screen is there to be mounted. @param {string} name */
async function loaded(name) {
  const screen = screens.find((one) => one.name === name);
  if (!screen || screen.mount) return;
  // Now asks only what the first half of the module answers.
  const [mount] = await Promise.all([screen.load(), ...(name === NOW ? [] : [whole(), screensStand(), log.stands()])]);
  screen.mount = mount;
}

/** Listens to its fields, if it is loaded. @param {string} name of a screen */
function mounted(name) {
  const screen = screens.find((one) => one.name === name);
  if (screen?.mount) screen.update ??= screen.mount(one(document, `#${name}`), app);
}

/** The same in a turn of its own. @param {string} name of a screen */
async function listening(name) {
  try {
    mounted(name);
  } catch {
    // Tried again, and said, where it is drawn.
  }
  await turn();
}

/** Shows the set-up as it is. @param {string} name of a screen */
function draw(name) {
  for (const screen of screens) {
    if (!screen.mount || !stale.has(screen) || screen.name !== name) continue;
    mounted(name);
    screen.update?.();
    one(document, `#${name}`).inert = false;
    stale.delete(screen);
  }
}

/** The same, where a screen that cannot show it leaves the others alone. @param {string} name @returns {boolean} whether it could */
function refresh(name) {
  try {
    draw(name);
    return true;
  } catch (error) {
    if (error instanceof WebAssembly.RuntimeError) throw error;
    // Drawn when the rest of the module is there.
    return error instanceof NotThere ? false : failed(name, error);
  }
}

/** Nothing that is kept is suspected for a screen that fails. @param {string} name @param {unknown} error */
function failed(name, error) {
  notify(WORDS.screenFailed(tabName(name)));
  console.warn(error);
  return false;
}

/** The same as soon as it is loaded. @param {string} name */
async function refreshLoaded(name) {
  try {
    await loaded(name);
  } catch (error) {
    return failed(name, error);
  }
  return refresh(name);
}

/** @param {string} name of a screen */
const tabName = (name) => one(document, `.tabs a[href="#${name}"]`).textContent ?? name;

/** @param {string} [hash] */
function openName(hash = location.hash) {
  const [wanted = ""] = hash.slice(1).split("?");
  return Object.hasOwn(SCREENS, wanted) ? wanted : "now";
}

/** Whether a screen has been shown. */
let isShown = false;

function showScreen(name = openName()) {
  refresh(name);
  // Nothing is to be done where it has shown itself.
  refreshLoaded(name);
  // Where nobody listens yet nothing can be typed.
  for (const screen of screens) Object.assign(one(document, `#${screen.name}`), { hidden: screen.name !== name, inert: !screen.update });
  for (const link of all(document, ".tabs a")) {
    const here = link.getAttribute("href") === `#${name}`;
    if (here) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  // A start stands at its top, and asking would lay it out at once.
  if (isShown) one(document, ".page").scrollTo(0, 0);
  isShown = true;
}

// A tap shows its screen at once; the address and its event follow.
one(document, ".tabs").addEventListener("click", (/** @type {Event} */ event) => {
  const link = /** @type {Element} */ (event.target).closest("a");
  if (link) showScreen(openName(link.hash));
});

// Every field is live; a form that is sent would only reload the page.
document.addEventListener("submit", (event) => event.preventDefault());
window.addEventListener("hashchange", () => {
  showScreen();
  offered();
});

state.subscribe(update);

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

watchForBreaks();

async function start() {
  showLook();
  await loaded(openName()).catch(() => {});
  // Nobody can type yet: a picture, or a tap on a tab, comes between.
  await turn();
  // What was kept stands meanwhile.
  if (answerOf(state.document).waits) await whole().catch(console.warn);
  await turn();
  await listening(openName());
  update();
  showScreen();
  // What was kept is confirmed or gone.
  document.documentElement.dataset.answered = "yes";
  // Where the database may hold more than this, nothing is kept that nobody said.
  if (known.text === "" && !late) keepNow(asItIs);
  if (trouble && aside) notify(WORDS[trouble], WORDS.saveAside, () => offerFile(aside, "glasscall-put-aside.json", "application/json"), true);
  else if (trouble) notify(WORDS[trouble], "", undefined, true);
  late?.then(takeLate);
  // A log that does not come is asked for again by whoever wants it.
  await log.stands().catch(console.warn);
  offered();
  watchArrivals(app);
  mountSignal();
  mountShell();
  watchForUpdate((takeOver) => notify(WORDS.update, WORDS.updateNow, takeOver, true));
  await belowStands();
  document.documentElement.dataset.ready = "yes";
  setTimeout(showRest);
  return undefined;
}

/**
 * A database that was slow at the start may hold a newer state than this page
 * started from. It is taken, and what was done here meanwhile is done again on
 * it; what cannot be done again stays, and the other is an earlier state.
 * @param {import("../storage/store.js").Saved | undefined} found
 */
async function takeLate(found) {
  if (!found || found.edit <= (saved?.edit ?? BEYOND) - BEYOND) {
    // Now it is known that nothing is written over.
    if (known.text === "") keepNow(asItIs);
    return;
  }
  const edited = here.hasEdited();
  const meeting = here.canRepeat(replaced) ? here.meet(found) : undefined;
  if (meeting?.do !== "take") {
    await backUpNow(found);
    notify(WORDS.lateState);
    return;
  }
  if (edited) {
    await keepEarlier();
    notify(WORDS.lateTaken);
  }
  takeOver(found, meeting.again);
  keepNow(meeting.again.length > 0 ? undefined : asItIs);
  update();
}

/** A set-up in the address is shown, and taken when told. */
async function offered() {
  if (location.hash.includes("?")) await (await withWhole(import("./offered.js"))).offer(app);
}

/** The first half lets an edit pass that only the whole module can refuse: it is taken back, and said. */
function checkWhole() {
  const begun = saved?.setup ?? demoDocument();
  const refusal = refusalOf(state.document);
  if (!refusal || refusalOf(begun)) return;
  while (state.undoes() !== undefined && refusalOf(state.document)) state.undo();
  notify(refusalSentence(refusal));
}

/** The first answer stands; now the screens out of sight, one by one, which proves the record sound. */
async function showRest() {
  let sound = true;
  try {
    await whole();
    checkWhole();
    for (const screen of screens) stale.add(screen);
  } catch (error) {
    // A screen that wants it tries again, and says so.
    console.warn(error);
  }
  for (const { name } of screens) {
    // Whoever taps meanwhile comes first.
    await loaded(name).then(() => listening(name), () => {});
    sound = await refreshLoaded(name) && sound;
    await turn();
  }
  // What the browser prints must be made at once when it says so.
  await import("../day/print-screen.js").then(({ mountPrintOfScreens }) => mountPrintOfScreens(app), console.warn);
  document.documentElement.dataset.ready = "every screen";
  keepAnswer(shownNow);
  if (saved && sound && trouble !== "backup") backUpNow(saved);
}

// Not waited for: a screen that is loaded waits for this script to end.
start();
