// @ts-check
/** Day: the log, the sentence for the radio, and what leaves the phone. */
import { localIso } from "../../document/moment.js";
import { say } from "../../language/say.js";
import { WORDS } from "../../language/words/shared.js";
import { isRead, stackNow } from "../../questions/open-up.js";
import { DAY_WORDS, slateText } from "../../language/words/day.js";
import { BadLink } from "../../hand-over/link.js";
import { badText, soundDocument, tellTaken } from "../../hand-over/offered-set-up.js";
import { mountHandOver } from "../../hand-over/tables-and-links.js";
import { mountCodes } from "../../hand-over/codes.js";
import { mountScan } from "../../hand-over/scan.js";
import { mountUnsettled } from "../../hand-over/unsettled.js";
import { matchCheck, mountMatch } from "./match.js";
import { turnRecord } from "./turned.js";
import { mountPrint } from "../../day/print.js";
import { copyText } from "../../hand-over/clipboard.js";
import { factsOf } from "../../day/columns.js";
import { logNow, newId } from "../../day/log-now.js";
import { amended, isFoundBy, recordOf } from "../../day/record.js";
import { SLATE } from "../../document/slate.js";
import { momentText, SAID } from "../../day/notation.js";
import { sentence } from "../../day/sentence.js";
import { all, el, one } from "../../parts/dom.js";
import { mountField } from "../../parts/field.js";
import { offerFile } from "../../parts/offer-file.js";
import { speakAnswers } from "../../parts/speak.js";

/** @typedef {import("../../start/start.js").App} App */
/** @typedef {ReturnType<typeof amended>[number]} Shown */

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountDay(root, app) {
  const anything = () => undefined;
  const fields = all(root, ".field").map((field) => mountField(field, app, field.closest(".day-match, .match-bodies") ? matchCheck(app) : anything));
  const match = mountMatch(root, app);
  speakAnswers(root);
  const handOver = mountHandOver(root, app);
  const others = [mountCodes(root, app), mountScan(root, app), mountUnsettled(root, app)];
  const print = mountPrint(root, app);
  const spoken = one(root, ".say");
  const search = /** @type {HTMLInputElement} */ (one(root, "[data-do=search]"));
  /** Ids of the records that stand open. @type {Set<string>} */
  const open = new Set();

  one(root, "[data-do=log]").addEventListener("click", () => logNow(app));
  const ways = /** @type {HTMLDetailsElement[]} */ (all(root, ".day-part"));
  const show = (/** @type {string} */ name) => ways.forEach((way) => {
    way.open = way.dataset.day === name;
    if (way.open) way.scrollIntoView({ block: "start" });
  });
  one(root, "[data-do=copy-sentence]").addEventListener("click", () => handOver.give(spoken.textContent ?? ""));
  search.addEventListener("input", () => showLog());

  const showLog = () => {
    const records = amended(app.records);
    const found = records.filter((shown) => isFoundBy(shown, search.value));
    one(root, ".day-empty").textContent =
      records.length === 0 ? DAY_WORDS.empty : found.length === 0 ? DAY_WORDS.nothingFound : "";
    one(root, ".day-search").hidden = records.length === 0;
    one(root, ".day-log").replaceChildren(...found.map((shown) => row(app, shown, open, () => {
      app.change((setup) => {
        setup.match.record = shown.record.id;
      });
      show("match");
    })), ...unreadLine(app));
  };

  return () => {
    fields.forEach((show) => show());
    const record = recordOf(app.setup, { id: "", time: "", zone: "" });
    spoken.textContent = record ? sentence(record) : isRead(app.setup) ? DAY_WORDS.notLogged : WORDS.unread;
    one(root, ".day-next-line").replaceChildren(...(record ? nextLine(app, record) : []));
    one(root, ".day-slate-line").textContent =
      SLATE.filter(([part]) => part !== "scene" && part !== "take" && app.setup.slate[part]).map(([part, name]) => `${SAID.word(name)} ${app.setup.slate[part]}`).join(", ") || DAY_WORDS.nothingSaid;
    showLog();
    match.update();
    handOver.update();
    others.forEach((part) => part.update());
    print.update();
  };
}

/** What one tap would log; its stop can be asked back. @param {App} app @param {import("../../day/record.js").ShotRecord} record */
function nextLine(app, record) {
  const glass = record.pieces.map((piece) => piece.id).join(" + ") || DAY_WORDS.nothingIn;
  const before = [lensOf({ record, slate: record.slate }), glass].filter(Boolean).join(" · ");
  return [`${before} · `, asked(SAID.label(record.stopToSet), "turn-next", async (opener) => {
    const stack = stackNow(app.setup);
    if (stack) (await import("../now/turned.js")).turnStack(opener, app, stack);
  })];
}

/** @param {string} text @param {string} name @param {(opener: HTMLElement) => void} open */
const asked = (text, name, open) => el("button", {
  type: "button", class: "asked-back", "data-do": name, "data-opens": name,
  onclick: (/** @type {Event} */ event) => open(/** @type {HTMLElement} */ (event.currentTarget)),
}, text);

/** What stands in the log and cannot be read, to be saved by hand. @param {App} app */
function unreadLine(app) {
  const unread = app.unread();
  if (unread.length === 0) return [];
  const save = () => offerFile(`${JSON.stringify({ format: "glasscall-log", version: 1, records: unread }, null, 2)}\n`, "glasscall-log-unread.json", "application/json");
  return [el("li", { class: "row day-unread" }, el("p", { class: "hint", text: DAY_WORDS.unread(unread.length) }),
    el("button", { type: "button", onclick: save }, DAY_WORDS.saveUnread))];
}

/** @param {App} app @param {Shown} shown @param {Set<string>} open @param {() => void} match */
function row(app, shown, open, match) {
  const { record, slate, amendments, disputed } = shown;
  const glass = record.pieces.map((piece) => piece.id).join(" + ") || DAY_WORDS.nothingIn;
  const name = [slate.scene, slate.take].filter(Boolean).join(" / ");
  const details = el("details", {},
    el("summary", {},
      el("span", { class: "row-name", text: [record.time.slice(11, 16), slate.camera, name].filter(Boolean).join(" ") }),
      el("span", { class: "row-facts", text: [`${SAID.label(record.stopToSet)}, ${glass}`, lensOf(shown)].filter(Boolean).join(", ") })),
    el("p", { class: "say say-record", text: sentence(record, slate) }),
    el("dl", { class: "day-facts" }, ...factsOf(shown).flatMap(([fact, text]) => [el("dt", { text: fact }), el("dd", { text })])),
    ...(disputed.length > 0 ? [el("p", { class: "complaint", text: DAY_WORDS.disputed(disputed.map(nameOf)) })] : []),
    ...(amendments.length > 0 ? [el("ul", { class: "day-amendments" }, ...amendments.map((one) => el("li", {
      text: `${momentText(one.time)}: ${SLATE.flatMap(([part, name]) => (one.slate[part] === undefined ? [] : slateText(name, one.slate[part]))).join("; ")}`,
    })))] : []),
    amendForm(app, shown),
    el("div", { class: "day-buttons" },
      el("button", { type: "button", "data-do": "match-this", onclick: match }, say("Match it")),
      el("button", { type: "button", "data-do": "turn-record", "data-opens": `turn ${record.id}`, onclick: (/** @type {Event} */ event) =>
        turnRecord(/** @type {HTMLElement} */ (event.currentTarget), app, record) }, say("With the glass in now")),
      el("button", { type: "button", onclick: () => takeUp(app, record) }, say("Use it again")),
      el("button", { type: "button", onclick: (/** @type {Event} */ event) => copyText(sentence(record, slate), /** @type {HTMLElement} */ (event.target)) }, say("Copy the sentence"))));
  const disclosure = /** @type {HTMLDetailsElement} */ (details);
  disclosure.open = open.has(record.id);
  disclosure.addEventListener("toggle", () => (disclosure.open ? open.add(record.id) : open.delete(record.id)));
  return el("li", { class: "row" }, details);
}

/** The lens of a record, as it was said or as it was on. @param {Pick<Shown, "record" | "slate">} shown */
function lensOf({ record: { lens: { id, focalLengthMm } = {} }, slate }) {
  const focal = focalLengthMm === undefined ? "" : `${SAID.number(focalLengthMm, 1)} mm`;
  return slate.lens || (id === undefined || id === String(focalLengthMm) ? focal : [id, focal].filter(Boolean).join(", "));
}

/** @param {string} part */
const nameOf = (part) => SLATE.find(([key]) => key === part)?.[1] ?? part;

/** @param {App} app @param {Shown} shown */
function amendForm(app, { record, slate, amendments }) {
  const part = /** @type {HTMLSelectElement} */ (el("select", { "aria-label": say("What to amend") },
    ...SLATE.map(([key, name]) => el("option", { value: key, text: SAID.word(name) }))));
  part.value = "note";
  // What is typed and not yet said is a draft, kept like any.
  const draft = () => `amend ${record.id} ${part.value}`;
  const written = SLATE.find(([key]) => app.drafts[`amend ${record.id} ${key}`] !== undefined);
  if (written) [part.value] = written;
  const stands = () => app.drafts[draft()] ?? slate[/** @type {keyof typeof slate} */ (part.value)] ?? "";
  const text = /** @type {HTMLInputElement} */ (el("input", { "aria-label": say("How it reads now"), autocomplete: "off", value: stands() }));
  part.addEventListener("change", () => {
    text.value = stands();
  });
  text.addEventListener("input", () => {
    app.drafts[draft()] = text.value;
    app.keep();
  });
  const amend = () => {
    const now = text.value.trim();
    delete app.drafts[draft()];
    app.keep();
    if (now === (slate[/** @type {keyof typeof slate} */ (part.value)] ?? "")) return;
    const last = amendments.at(-1);
    app.append([{ version: 1, id: newId(), time: localIso(new Date()), amends: record.id, ...(last ? { after: last.id } : {}), slate: { [part.value]: now } }]);
  };
  return el("div", { class: "day-amend" }, part, text, el("button", { type: "button", onclick: amend }, say("Amend")));
}

/** @param {App} app @param {import("../../day/record.js").ShotRecord} record */
async function takeUp(app, record) {
  try {
    const document = soundDocument(record.setup);
    const { edited, unsettled } = app.document;
    tellTaken(app, await app.take({ ...document, edited, unsettled }, say("undo|a record taken up")));
  } catch (error) {
    if (!(error instanceof BadLink)) throw error;
    app.notify(badText(error));
  }
}
