// @ts-check
/** The answer of Now as a picture of the moment, and what every screen of it shows. */
import { shotOf } from "../day/record.js";
import { needSentence, sentence } from "../day/sentence.js";
import { OPEN_UP } from "../questions/open-up.js";
import { answerTo } from "../questions/question.js";
import { say } from "../language/say.js";
import { fixed, stopsText } from "../language/numbers.js";
import { refusalSentence, WORDS } from "../language/words/shared.js";
import { all, el } from "../parts/dom.js";
import { stackCard } from "../parts/stack-card.js";

/** @typedef {import("../start/start.js").App} App */
/** @typedef {import("../document/setup.js").Setup} Setup */
/** Fills the box; what it gives draws what needs a size, once it stands in the page. @typedef {(box: HTMLElement, setup: Setup) => void | (() => void)} Still */

/** @returns {HTMLElement} */
export function caution() {
  return el("p", { class: "caution" }, el("strong", { text: WORDS.notEyeProtection }), ` ${WORDS.cautions}`);
}

/** @param {import("../api/glasscall.js").OpenUpReply} answer */
export function needParts({ needStops, needDensity }) {
  return [
    el("span", { class: "need-stops", text: stopsText(Math.abs(needStops)) }),
    el("span", { class: "need-more", text: needStops < -0.005 ? say("of light missing") : say("to take away: density {density}", { density: fixed(Math.max(0, needDensity ?? 0), 2) }) }),
  ];
}

/** @type {Still} */
export function showNow(box, setup) {
  const { reply, refusal } = answerTo(OPEN_UP, setup);
  const record = shotOf(setup, { id: "", time: "", zone: "" });
  const somethingIn = setup.inPlace.length > 0 || setup.wheelNow > 0;
  const app = /** @type {App} */ (/** @type {unknown} */ ({ setup, answer: reply }));
  const best = reply?.stacks[0];
  const card = best ? [stackCard(app, best, say("Best"), () => {})] : [];
  for (const button of card.flatMap((one) => all(one, "button"))) button.remove();
  box.replaceChildren(
    el("p", { class: "say", text: record && somethingIn ? sentence(record) : needSentence(setup, reply) }),
    ...(reply ? [el("div", { class: "need" }, ...needParts(reply))] : []),
    ...(refusal ? [el("p", { class: "complaint", text: refusalSentence(refusal) })] : []),
    ...card,
    caution(),
  );
}
