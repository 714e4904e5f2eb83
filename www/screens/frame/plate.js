// @ts-check
/** What Frame says of the grad that is named, and the strip of the others. */
import { unsaid } from "../../questions/fit.js";
import { gradIn, gradMore, gradsBeside, roomFor } from "../../questions/frame.js";
import { say } from "../../language/say.js";
import { refusalSentence } from "../../language/words/shared.js";
import { FRAME_WORDS, besideNote, blendText, gradNote, leftText, lineUpText, remedyTexts } from "../../language/words/frame.js";
import { el, one } from "../../parts/dom.js";
import { speak } from "../../parts/speak.js";

/**
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../questions/frame.js").GradAnswer} GradAnswer
 */

/** What each of several takes between sky and land, and what all leave. @param {Setup} setup @param {GradAnswer} answer */
function togetherText(setup, { balance, grad, held }) {
  const beside = gradsBeside(setup).filter(({ said }) => said);
  if (!balance || !grad || beside.length === 0 || held?.frame.grad !== gradIn(setup)) return "";
  const each = beside.map(({ id }, nth) => FRAME_WORDS.takes(id, balance.others?.[nth]?.deliveredStops ?? 0));
  return FRAME_WORDS.together(each, FRAME_WORDS.takes(grad.id, grad.deliveredStops), leftText(balance.apartStops, grad.leftStops));
}

/** @param {Setup} setup @param {Setup} seen @param {GradAnswer} answer */
export function whatIsDrawn(setup, { frame: { grad } }, answer) {
  if (grad === "") return FRAME_WORDS.drawnBare;
  const slot = setup.inPlace.find(({ piece }) => piece === grad)?.slot;
  if (slot !== undefined) return [FRAME_WORDS.isIn(grad, slot), togetherText(setup, answer)].filter(Boolean).join(" ");
  return roomFor(setup, grad) ? FRAME_WORDS.notInYet(grad) : FRAME_WORDS.heldUp(grad);
}

/** @param {HTMLElement} root @param {Setup} setup @param {GradAnswer} answer */
export function showPlate(root, setup, answer) {
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
    why.replaceChildren(...whyNone(setup, answer, refusal));
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

/** Why no grad is named. @param {Setup} setup @param {GradAnswer} answer @param {import("../../engine/ask.js").Refusal} [refusal] @returns {(Node | string)[]} */
function whyNone(setup, { balance }, refusal) {
  const link = (/** @type {string} */ text, /** @type {string} */ href, /** @type {string} */ place) => [text, " ", el("a", { href }, place)];
  if (refusal?.code === "missing" && setup.reading.aperture !== undefined) return [FRAME_WORDS.skyUnread];
  if (refusal) return [refusalSentence(refusal)];
  if (!balance) return link(FRAME_WORDS.unsaid[unsaid(setup)], "#fit", say("Say it on Fit"));
  if (balance.verdict === "notNeeded") return [FRAME_WORDS.notNeeded(balance.apartStops)];
  return link([FRAME_WORDS.noGrads(balance.apartStops), ...remedyTexts(balance.remedies)].join(" "), "#case", say("To the case"));
}

/** The gravest thing to say of the grad that is named. @param {GradAnswer} answer @param {number} allowed */
function warningOf({ balance, held, grad, slots }, allowed) {
  if (!balance || !held || !grad) return "";
  if (!slots) return FRAME_WORDS.noSlot;
  if (!grad.meets) {
    const { upsideDown: _, sparing: __, ...others } = balance.remedies;
    return [grad.leftStops > 0 ? say("Too weak.") : say("Too strong."), ...remedyTexts(others).slice(0, 1)].join(" ");
  }
  if (grad.steals) return FRAME_WORDS.steals(grad.stolenStops ?? 0, balance.remedies.sparing);
  if (grad.flattens) return FRAME_WORDS.flattens(grad.leftStops, allowed);
  return "";
}

/**
 * The grads of the case, in the place of the one in hand; those that are in
 * beside it, to be taken in hand; one more; none.
 * @param {HTMLElement} strip @param {Setup} setup @param {GradAnswer} answer
 * @param {Pick<ReturnType<typeof import("./grad-choice.js").gradChoice>, "putIn" | "takeInHand" | "putMore" | "takeOut">} choice
 */
export function showStrip(strip, setup, { balance }, choice) {
  const focused = strip.contains(document.activeElement) ? /** @type {HTMLElement} */ (document.activeElement).dataset.id : undefined;
  const isIn = gradIn(setup);
  const ways = balance?.grads ?? [];
  const more = gradMore(setup).grad;
  const way = (/** @type {string} */ id, /** @type {string} */ text, /** @type {string} */ note, /** @type {boolean} */ on, /** @type {() => void} */ act) => {
    const button = el("button", { type: "button", class: "strip-way", "aria-pressed": String(on), onclick: act },
      el("span", { class: "strip-pieces", text }), ...(note ? [el("span", { class: "strip-note", text: note })] : []));
    button.dataset.id = id;
    return button;
  };
  strip.hidden = ways.length === 0;
  strip.replaceChildren(
    ...ways.map((grad) => way(grad.id, grad.id, gradNote(grad), grad.id === isIn, () => choice.putIn(grad.id, setup.frame.invert))),
    ...gradsBeside(setup).map(({ id, slot, said }) => way(`in ${slot}`, id, besideNote(slot, said), false, () => choice.takeInHand(id))),
    ...(more ? [way("more", `+ ${more.id}`, FRAME_WORDS.more(gradNote(more)), false, choice.putMore)] : []),
    way("", FRAME_WORDS.none, "", isIn === undefined, choice.takeOut));
  if (focused !== undefined) /** @type {HTMLElement | null} */ (strip.querySelector(`[data-id="${CSS.escape(focused)}"]`))?.focus({ preventScroll: true });
}
