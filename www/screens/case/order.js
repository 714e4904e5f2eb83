// @ts-check
/** The set-ups of the day, and the order with the fewest moves. */
import { ask } from "../../engine/ask.js";
import { longQuestion } from "../../engine/long-question.js";
import { freeId } from "../../document/document.js";
import { ORDER } from "../../questions/plan.js";
import { SET_UPS } from "../../questions/case-lists.js";
import { answerTo } from "../../questions/question.js";
import { say } from "../../language/say.js";
import { fixed, signed, stopsText } from "../../language/numbers.js";
import { refusalSentence } from "../../language/words/shared.js";
import { movesText, PLAN_WORDS, proofText } from "../../language/words/planning.js";
import { askedWords } from "../../parts/asked-words.js";
import { all, el, one } from "../../parts/dom.js";
import { whileSeen } from "../../parts/seen.js";
import { turnMoves, turnStage } from "./turned.js";
import { checkField, field, nameField, rows } from "../../parts/rows.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {Setup["plan"]["setUps"][number]} Planned
 */

/** What the core has against the planned set-ups. @param {Setup} setup */
const planCheck = (setup) => answerTo(SET_UPS, setup).refusal;

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountDayOrder(root, app) {
  const setUps = rows(one(root, "[data-rows='plan.setUps']"), app, {
    path: "plan.setUps",
    fields: setUpFields,
    facts: (/** @type {Planned} */ { needStops, polarizer }) => (polarizer ? say("{stops}, polarizer", { stops: stopsText(needStops) }) : stopsText(needStops)),
    check: planCheck,
  });
  mountAdd(root, app);
  for (const choice of all(root, "[name=day-order]")) {
    choice.addEventListener("change", () => app.change((setup) => {
      setup.plan.order = /** @type {"fixed" | "free"} */ (/** @type {HTMLInputElement} */ (choice).value);
    }));
  }
  const answer = one(root, ".order-answer");
  const stop = one(root, "[data-do=stop-order]");
  const question = longQuestion("orderDay", (progress) => {
    stop.hidden = !progress.busy;
    answer.replaceChildren(...orderAnswer(app, progress));
  });
  stop.addEventListener("click", () => question.stop());
  const look = whileSeen([root, one(root, "[data-part=order]")], () => question.ask(ORDER.request(app.setup)));
  return () => {
    setUps();
    for (const choice of all(root, "[name=day-order]")) {
      /** @type {HTMLInputElement} */ (choice).checked = /** @type {HTMLInputElement} */ (choice).value === app.setup.plan.order;
    }
    look();
  };
}

/** @param {HTMLElement} root @param {App} app */
function mountAdd(root, app) {
  const box = one(root, "[data-draft=new-set-up]");
  const input = /** @type {HTMLInputElement} */ (one(box, "input"));
  const error = el("p", { class: "field-error", id: "new-set-up-error" });
  box.append(error);
  input.setAttribute("aria-describedby", error.id);
  input.value = app.drafts["new-set-up"] ?? "";
  input.addEventListener("input", () => {
    app.drafts["new-set-up"] = input.value;
    error.replaceChildren();
    app.keep();
  });
  const put = (/** @type {number} */ needStops, /** @type {string} */ name) =>
    app.change((setup) => {
      const { setUps } = setup.plan;
      setUps.push({ id: freeId(setUps, name || say("set-up {number}", { number: setUps.length + 1 })), needStops });
    });
  const add = () => {
    // “quay 5⅓”: the last word is the need, what stands before it the name.
    const [, name = "", text = ""] = /^(.*?)[\s,]*(\S+(?:\s+(?:stops?|blenden?))?)$/i.exec(input.value.trim()) ?? [];
    const { reply, refusal } = ask("readText", { text, as: "stops" });
    if (!reply) {
      error.replaceChildren(refusalSentence(refusal, { as: "stops", path: "needStops" }));
      return;
    }
    put(reply.value, name.trim());
    input.value = "";
    delete app.drafts["new-set-up"];
    app.keep();
    input.focus();
  };
  one(root, "[data-do=add-set-up]").addEventListener("click", add);
  input.addEventListener("keydown", (event) => {
    if (event.key === "Enter") add();
  });
  one(root, "[data-do=add-need]").addEventListener("click", () => {
    if (app.answer) put(app.answer.needStops, say("as read now"));
  });
}

/** @param {App} app @param {import("../../parts/rows.js").Entry<Planned>} record */
function setUpFields(app, record) {
  const { at, path, now, change } = record;
  return [
    nameField(app, record, (name) => change((planned) => {
      planned.id = name;
    })),
    field(say("Stops the glass must take"), `${path}.needStops`, "stops", undefined),
    field(say("Near enough, either way"), `${path}.toleranceStops`, "stops", say("⅓ stop")),
    checkField(say("with a polarizer"), Boolean(now().polarizer), (on) =>
      change((planned) => {
        planned.polarizer = on;
      })),
    ...(at === 0 ? [] : [el("button", {
      type: "button",
      class: "row-use",
      onclick: () => change((planned, { plan }) => {
        plan.setUps.splice(at, 1);
        plan.setUps.splice(at - 1, 0, planned);
      }),
    }, say("Earlier"))]),
  ];
}

/** @param {App} app @param {import("../../engine/long-question.js").Progress} progress */
function orderAnswer(app, progress) {
  const { reply, refusal } = progress;
  if (refusal) return [el("p", { class: "complaint", text: refusalSentence(refusal) })];
  if (!reply) return [el("p", { class: "hint", text: proofText(progress, "") })];
  if (reply.stages.length + reply.cannot.length === 0) return [el("p", { class: "hint", text: PLAN_WORDS.noSetUps })];
  const stages = reply.stages.map((/** @type {import("../../api/glasscall.js").StageReply} */ stage) => {
    const pieces = stage.slots.map(({ piece }) => piece).join(" + ") || say("glass|nothing");
    return el("li", { class: "stage" },
      el("span", { class: "stage-name", translate: "no", text: stage.setUp }),
      el("span", { class: "stage-moves", text: stage.moves ? movesText(stage.moves) : say("no move") }),
      el("span", { class: "stage-pieces", text: stage.wheel ? say("{pieces}, wheel {density}", { pieces, density: fixed(stage.wheel, 2) }) : pieces }),
      el("button", { type: "button", class: "stage-left asked-back", "data-opens": `turn stage ${stage.setUp}`, onclick: (/** @type {Event} */ event) =>
        turnStage(/** @type {HTMLElement} */ (event.currentTarget), stage, app.setup.plan.setUps.find(({ id }) => id === stage.setUp)?.needStops ?? 0) },
      say("{stops} left", { stops: signed(stage.leftOverStops) })));
  });
  const turn = (/** @type {HTMLElement} */ opener) => turnMoves(opener, app, reply);
  return [
    el("p", { class: "plan-sum" }, askedWords(movesText(reply.moves), "turn-moves", turn)),
    el("p", {}, reply.minutes === undefined ? PLAN_WORDS.noMinutes : askedWords(say("{minutes} minutes lost to them.", { minutes: fixed(reply.minutes, 1) }), "turn-minutes", turn)),
    el("p", { class: "hint", text: proofText(progress, movesText(reply.leastMoves)) }),
    ...(reply.cannot.length ? [el("p", { class: "complaint", text: PLAN_WORDS.cannot(reply.cannot) })] : []),
    el("ol", { class: "stages" }, ...stages),
  ];
}
