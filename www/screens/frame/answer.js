// @ts-check
/** The grad that two readings ask for: its name, its line, one warning, one button; beside it the others. */
import { pullGrad, putInGrad } from "../../document/edits.js";
import { gradAnswer, gradIn, roomFor } from "../../questions/frame.js";
import { say } from "../../language/say.js";
import { refusalSentence } from "../../language/words/shared.js";
import { FRAME_WORDS, blendText, gradNote, leftText, lineUpText, remedyTexts } from "../../language/words/frame.js";
import { logNow } from "../../day/log-now.js";
import { el, one } from "../../parts/dom.js";
import { undoing } from "../../parts/undoing.js";
import { speak } from "../../parts/speak.js";
import { turnLeft, turnLine } from "./turned.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../questions/frame.js").GradAnswer} GradAnswer
 */

/** @param {HTMLElement} root @param {App} app */
export function mountGradAnswer(root, app) {
  /** The grad that was tapped, as long as the readings are the same. */
  let chosen = "";
  let question = "";
  /** Where the line stood when they were read: until it is slid, the answer may propose another place. */
  let lineThen = NaN;
  /** Where it was slid to. */
  let slidTo = NaN;
  /** The grad that was named before: sliding its line does not change it. */
  let named = "";
  /** Whether the picture is looked at without any grad. */
  let without = false;
  /** @type {GradAnswer} */
  let shown = {};

  const act = one(root, ".frame-plate .plate-act");
  act.addEventListener("click", () => {
    if (act.dataset.do === "log-frame") return void logNow(app);
    const held = shown.held;
    if (!held) return void app.do(pullGrad);
    return putIn(held.frame.grad, held.frame.invert, held.frame.line);
  });

  for (const what of /** @type {const} */ (["line", "left", "blend"])) {
    const figure = one(root, `[data-do=turn-${what}]`);
    figure.addEventListener("click", () => {
      if (!shown.held) return;
      if (what === "left") turnLeft(figure, shown.held);
      else turnLine(figure, app, shown.held, what);
    });
  }

  /** Choosing a grad is putting it in; one that no slot takes is held up. @param {string} id @param {boolean} invert @param {number} [line] */
  function putIn(id, invert, line = app.setup.frame.line) {
    const slots = roomFor(app.setup, id);
    chosen = id;
    without = false;
    if (slots) return void app.do(putInGrad, slots, id, invert, line);
    const others = gradIn(app.setup);
    app.change((setup) => {
      setup.inPlace = setup.inPlace.filter(({ piece }) => piece !== others);
      Object.assign(setup.frame, { grad: id, line });
    }, true, undefined, FRAME_WORDS.held(id));
    return app.notify(FRAME_WORDS.held(id), say("Undo"), undoing(app));
  }

  const takeOut = () => {
    without = !without || gradIn(app.setup) !== undefined;
    app.do(pullGrad);
  };

  const update = () => {
    const { frame, kit, reading } = app.setup;
    const asked = JSON.stringify([frame.bright, reading, frame.allowedStops, kit]);
    if (asked !== question) {
      chosen = named = "";
      lineThen = frame.line;
      slidTo = NaN;
    }
    question = asked;
    const free = frame.line === lineThen && frame.line !== slidTo && gradIn(app.setup) === undefined;
    shown = gradAnswer(app.setup, chosen || (free ? "" : named), free);
    if (free) named = shown.held?.frame.grad ?? "";
    showPlate(root, app.setup, shown);
    showStrip(one(root, "[data-chips=grad]"), app.setup, shown, putIn, takeOut);
    one(root, ".frame-in").textContent = whatIsDrawn(app.setup, drawn(app.setup));
  };

  /**
   * What the picture shows: what is in; with no grad in, the one that is
   * proposed as it would be, one held up that no slot takes, or none.
   * @param {Setup} setup the set-up, or a trial of it
   */
  function drawn(setup) {
    if (gradIn(app.setup) !== undefined) return setup;
    const bare = { ...setup, frame: { ...setup.frame, grad: "" } };
    if (without) return bare;
    const heldUp = app.setup.frame.grad;
    if (heldUp !== "" && !roomFor(app.setup, heldUp)) return setup;
    if (!shown.held) return bare;
    const { inPlace, frame: { grad, invert, line: proposed } } = shown.held;
    const line = setup.frame.line === app.setup.frame.line ? proposed : setup.frame.line;
    return { ...setup, inPlace, frame: { ...setup.frame, grad, invert, line } };
  }

  return {
    update,
    drawn,
    /** The place of the line that is drawn. */
    lineNow: () => drawn(app.setup).frame.line,
    /** Somebody puts the line there. @param {number} line */
    slides(line) {
      slidTo = line;
      // To where the document has it is no edit of it.
      if (line === app.setup.frame.line) update();
    },
  };
}

/** @param {Setup} setup @param {Setup} seen */
function whatIsDrawn(setup, { frame: { grad } }) {
  if (grad === "") return FRAME_WORDS.drawnBare;
  const slot = setup.inPlace.find(({ piece }) => piece === grad)?.slot;
  if (slot !== undefined) return FRAME_WORDS.isIn(grad, slot);
  return roomFor(setup, grad) ? FRAME_WORDS.notInYet(grad) : FRAME_WORDS.heldUp(grad);
}

/** @param {HTMLElement} root @param {Setup} setup @param {GradAnswer} answer */
function showPlate(root, setup, answer) {
  const plate = one(root, ".frame-plate");
  const { balance, refusal, held, grad, line, slots } = answer;
  const isIn = held !== undefined && gradIn(setup) === held.frame.grad && held.frame.invert === setup.frame.invert;
  plate.classList.toggle("plate-in", isIn);
  const why = one(plate, ".plate-why");
  why.hidden = held !== undefined;
  for (const part of [".frame-best", ".plate-left"]) one(plate, part).hidden = held === undefined;
  const act = one(plate, ".plate-act");
  act.hidden = held === undefined && gradIn(setup) === undefined;
  act.dataset.do = isIn ? "log-frame" : "put-grad";
  act.textContent = isIn ? say("act|Log") : held ? say("Put in") : say("Take {piece} out", { piece: gradIn(setup) ?? "" });
  const warn = one(plate, ".plate-warn");
  const warning = balance ? warningOf(answer, setup.frame.allowedStops) : "";
  warn.hidden = warning === "";
  warn.textContent = warning;
  if (!held || !grad || !balance) {
    for (const name of ["grad", "line", "left", "blend"]) one(plate, `[data-answer=${name}]`).replaceChildren();
    why.replaceChildren(...whyNone(answer, refusal));
    return speak(why.textContent ?? "");
  }
  const slot = (slots ?? []).find(({ piece }) => piece === held.frame.grad)?.slot ?? say("held in front");
  one(plate, "[data-answer=grad]").replaceChildren(el("span", { class: "plate-piece", "data-slot": slot, text: held.frame.grad }));
  const up = lineUpText(line, held.frame.invert);
  one(plate, "[data-answer=line]").textContent = up;
  const left = leftText(balance.apartStops, grad.leftStops);
  one(plate, "[data-answer=left]").textContent = left;
  one(plate, "[data-answer=blend]").textContent = line ? blendText(line) : "";
  return speak([held.frame.grad, up, left].join(", "));
}

/** Why no grad is named. @param {GradAnswer} answer @param {import("../../engine/ask.js").Refusal} [refusal] @returns {(Node | string)[]} */
function whyNone({ balance }, refusal) {
  const link = (/** @type {string} */ text, /** @type {string} */ href, /** @type {string} */ place) => [text, " ", el("a", { href }, place)];
  if (refusal) return [refusalSentence(refusal)];
  if (!balance) return link(FRAME_WORDS.noPupil, "#fit", say("Say it on Fit"));
  if (balance.verdict === "notNeeded") return [FRAME_WORDS.notNeeded(balance.apartStops)];
  return link([FRAME_WORDS.noGrads(balance.apartStops), ...remedyTexts(balance.remedies)].join(" "), "#case", say("To the case"));
}

/** The gravest thing to say of the grad that is named. @param {GradAnswer} answer @param {number} allowed */
function warningOf({ balance, held, grad, slots }, allowed) {
  if (!balance || !held || !grad) return "";
  if (!slots) return say("No slot of the rig takes it: hold it, or change the rig.");
  if (!grad.meets) {
    const { upsideDown: _, sparing: __, ...others } = balance.remedies;
    return [grad.leftStops > 0 ? say("Too weak.") : say("Too strong."), ...remedyTexts(others).slice(0, 1)].join(" ");
  }
  if (grad.steals) return FRAME_WORDS.steals(grad.stolenStops ?? 0, balance.remedies.sparing);
  if (grad.flattens) return FRAME_WORDS.flattens(grad.leftStops, allowed);
  return "";
}

/**
 * @param {HTMLElement} strip @param {Setup} setup @param {GradAnswer} answer
 * @param {(id: string, invert: boolean) => void} putIn @param {() => void} takeOut
 */
function showStrip(strip, setup, { balance }, putIn, takeOut) {
  const focused = strip.contains(document.activeElement) ? /** @type {HTMLElement} */ (document.activeElement).dataset.id : undefined;
  const isIn = gradIn(setup);
  const ways = balance?.grads ?? [];
  const way = (/** @type {string} */ id, /** @type {string} */ text, /** @type {string} */ note, /** @type {boolean} */ on, /** @type {() => void} */ act) => {
    const button = el("button", { type: "button", class: "strip-way", "aria-pressed": String(on), onclick: act },
      el("span", { class: "strip-pieces", text }), ...(note ? [el("span", { class: "strip-note", text: note })] : []));
    button.dataset.id = id;
    return button;
  };
  strip.hidden = ways.length === 0;
  strip.replaceChildren(
    ...ways.map((grad) => way(grad.id, grad.id, gradNote(grad), grad.id === isIn, () => putIn(grad.id, setup.frame.invert))),
    way("", FRAME_WORDS.none, "", isIn === undefined, takeOut));
  if (focused !== undefined) /** @type {HTMLElement | null} */ (strip.querySelector(`[data-id="${CSS.escape(focused)}"]`))?.focus({ preventScroll: true });
}
