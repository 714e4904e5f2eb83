// @ts-check
/** Match: a logged shot again today; and two bodies side by side. */
import { askProven } from "../../engine/proven.js";
import { DAY_WORDS } from "../../language/words/day.js";
import { refusalSentence, WORDS } from "../../language/words/shared.js";
import { say } from "../../language/say.js";
import { fixed, signed, stopsText } from "../../language/numbers.js";
import { tableElement } from "../../day/table.js";
import { differences, linesOf, MATCH, OTHER_BODY, otherRig, turnOf } from "../../day/matching.js";
import { momentText, SAID } from "../../day/notation.js";
import { amended } from "../../day/record.js";
import { askBodies } from "../../day/searched.js";
import { askedBack } from "../../parts/asked-back.js";
import { askedWords } from "../../parts/asked-words.js";
import { openWorking } from "../../parts/working.js";
import { turnBody, turnMatch } from "./turned.js";
import { answerTo } from "../../questions/question.js";
import { isRead, shotSettings } from "../../questions/open-up.js";
import { el, one } from "../../parts/dom.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../api/glasscall.js").OfferReply} Offer
 */

/** What the core has against a field of the match. @param {App} app @returns {import("../../parts/field.js").Check} */
export const matchCheck = (app) => (setup) => {
  const record = chosen(app);
  const other = answerTo(OTHER_BODY, setup).refusal;
  if (other?.field.startsWith("match.other.")) return other;
  return record && answerTo(MATCH, setup, record).refusal;
};

/** The record that is matched: the one chosen, or the latest. @param {App} app */
function chosen(app) {
  const shown = amended(app.records);
  return (shown.find((one_) => one_.record.id === app.setup.match.record) ?? shown[0])?.record;
}

/** @param {HTMLElement} root @param {App} app */
export function mountMatch(root, app) {
  const list = /** @type {HTMLSelectElement} */ (one(root, "[data-do=match-record]"));
  list.addEventListener("change", () => app.change((setup) => {
    setup.match.record = list.value;
  }));
  return {
    update() {
      const shown = amended(app.records);
      one(root, ".match-none").hidden = shown.length > 0;
      one(root, ".match-with").hidden = shown.length === 0;
      list.replaceChildren(...shown.map(({ record, slate }) => el("option", {
        value: record.id,
        text: [momentText(record.time), slate.camera, slate.scene, slate.take, SAID.label(record.stopToSet)].filter(Boolean).join(" "),
      })));
      const record = chosen(app);
      if (record) list.value = record.id;
      one(root, ".match-answer").replaceChildren(...(record ? matchLines(app, record) : []));
      one(root, ".bodies-answer").replaceChildren(...bodyLines(app.setup));
    },
  };
}

/** @param {Offer} stack */
const glassOf = (stack) =>
  [...(stack.wheel ? [say("wheel {density}", { density: fixed(stack.wheel, 2) })] : []), ...stack.slots.map((placed) => `${placed.slot}: ${placed.piece}`)].join(", ") || DAY_WORDS.nothingIn;

/** @param {Offer} stack */
const stopOf = ({ apertureLabel }) => (apertureLabel ? SAID.label(apertureLabel) : DAY_WORDS.noStop);

/** @param {App} app @param {import("../../day/record.js").ShotRecord} record */
function matchLines(app, record) {
  const { setup } = app;
  const { reply, refusal } = answerTo(MATCH, setup, record);
  if (!reply) return [el("p", { class: "complaint", text: refusalSentence(refusal) })];
  const [best, ...others] = reply.stacks;
  const lines = linesOf(setup, record);
  const turn = turnOf(setup, record);
  const rows = differences(setup, record, best);
  const rig = otherRig(setup, record);
  const again = (/** @type {string} */ text, /** @type {Offer} */ stack) => askedWords(text, "turn-match", (opener) => turnMatch(opener, app, record, stack));
  return [
    ...(rig ? [el("p", { class: "match-rig", text: DAY_WORDS.otherRig(rig.id) })] : []),
    el("p", { class: "say" },
      ...(best
        ? [el("strong", {}, again(DAY_WORDS.matchSet(stopOf(best)), best)), " ", again(DAY_WORDS.matchIn(glassOf(best), stopsText(best.stops), signed(best.leftOverStops)), best)]
        : [DAY_WORDS.matchNone(stopsText(reply.needStops))])),
    ...(turn ? [el("p", { text: DAY_WORDS.matchTurn(turn) })] : []),
    ...(record.slate.turn && !turn ? [el("p", { text: DAY_WORDS.matchTurnSaid(record.slate.turn) })] : []),
    ...lines.map(({ frame, is, was }) => el("p", { text: DAY_WORDS.matchLine(frame, is, was, lines.length > 1) })),
    ...(record.slate.line && lines.length === 0 ? [el("p", { text: DAY_WORDS.matchLineSaid(record.slate.line) })] : []),
    ...(others.length > 0 ? [el("ul", { class: "plain-list hint" }, ...others.map((stack) => el("li", {}, again(DAY_WORDS.matchOr(DAY_WORDS.matchStack(glassOf(stack), stopOf(stack), signed(stack.leftOverStops))), stack))))] : []),
    rows.length === 0
      ? el("p", { text: DAY_WORDS.noDifference })
      : tableElement({ caption: DAY_WORDS.differs, head: DAY_WORDS.differsHead, rows: rows.map((row) => [row.what, row.was, row.is]) }),
  ];
}

/** @param {Setup} setup */
function bodyLines(setup) {
  const { first, stack, request, reply, refusal, list } = askBodies(setup);
  if (!first) return [el("p", { class: "hint", text: isRead(setup) ? DAY_WORDS.notLogged : WORDS.unread })];
  if (!reply) return refusal ? [el("p", { class: "complaint", text: refusalSentence(refusal) })] : [];
  const other = reply.stacks[0];
  const shot = shotSettings(setup);
  const column = (/** @type {any} */ settings, /** @type {number} */ need, /** @type {Offer | undefined} */ offer) => [
    SAID.aperture(settings.aperture), fixed(settings.exposureIndex ?? setup.reading.exposureIndex, 0), fixed(settings.frameRate ?? setup.reading.frameRate, 3), SAID.shutter(settings),
    ...(offer
      ? [bodyWords(stopsText(need), setup, settings, offer), glassOf(offer), bodyWords(stopOf(offer), setup, settings, offer), bodyWords(signed(offer.leftOverStops), setup, settings, offer)]
      : [stopsText(need), DAY_WORDS.notReached, DAY_WORDS.noStop, ""]),
  ];
  const a = column(shot, first.needStops, stack);
  const b = column(request.shot, reply.needStops, other);
  const names = [say("Stop wanted"), say("EI"), say("Frames a second"), say("Shutter"), say("Glass must take"), say("bodies|Put in"), say("stop|Set"), say("Left over")];
  return [
    el("p", { class: "say", text: `${say("Second body")}: ${[other ? glassOf(other) : DAY_WORDS.notReached, ...(other ? [stopOf(other)] : [])].join(", ")}` }),
    tableElement({ caption: DAY_WORDS.twoBodies, head: DAY_WORDS.bodiesHead, rows: names.map((name, at) => [name, a[at] ?? "", b[at] ?? ""]) }),
    ...(list ? listLines(list) : []),
  ];
}

/** What a body needs, is set to, or has left, as a tap. @param {string} text @param {Setup} setup @param {Setup["shot"]} shot @param {Offer} offer */
const bodyWords = (text, setup, shot, offer) => askedBack(text, "turn-body", (opener) => turnBody(opener, setup, shot, offer));

/** Both through the list of the day's set-ups. @param {import("../../api/glasscall.js").TwoBodiesRequest} list */
function listLines(list) {
  const { reply, refusal } = askProven("twoBodies", list, listLines);
  if (!reply) return [el("p", { class: "complaint", text: refusalSentence(refusal) })];
  if (reply.setUps.length === 0) return [el("p", { class: "hint" }, el("a", { href: "#case?order" }, DAY_WORDS.noList))];
  const glass = (/** @type {import("../../api/glasscall.js").BodyStackReply | undefined} */ body) =>
    (body ? askedWords(`${glassAlone(body)} (${signed(body.leftOverStops)})`, "work-body", work) : DAY_WORDS.notReached);
  const work = (/** @type {HTMLElement} */ opener) => openWorking(opener, reply.working);
  const taken = (/** @type {import("../../api/glasscall.js").TakenReply[]} */ list) =>
    list.map(({ piece, count }) => (count > 1 ? `${count} × ${piece}` : piece)).join(", ") || DAY_WORDS.nothingIn;
  return [
    tableElement({
      caption: DAY_WORDS.throughList,
      head: DAY_WORDS.listHead,
      rows: reply.setUps.map(({ setUp, first, second, conflicts }) => [setUp, glass(first), glass(second), conflicts.map(DAY_WORDS.bothWant).join("; ")]),
    }),
    el("p", { text: DAY_WORDS.takes(taken(reply.firstTakes), taken(reply.secondTakes)) }),
    el("p", { class: "hint", text: reply.proven ? DAY_WORDS.listProven : DAY_WORDS.listNotProven }),
    askedBack(say("How it is worked out"), "work-bodies", work),
  ];
}

/** @param {import("../../api/glasscall.js").BodyStackReply} body */
const glassAlone = ({ slots, wheel }) =>
  [...(wheel ? [say("wheel {density}", { density: fixed(wheel, 2) })] : []), ...slots.map(({ piece }) => piece)].join(" + ") || DAY_WORDS.nothingIn;
