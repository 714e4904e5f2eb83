// @ts-check
/** The answer: pieces, stop, fit, one warning, one button; beside it the other ways. */
import { withWhole } from "../../engine/ask.js";
import { WORKING_STOP } from "../../questions/stack.js";
import { putInStack } from "../../document/edits.js";
import { isRead, stackNow } from "../../questions/open-up.js";
import { answerTo } from "../../questions/question.js";
import { say } from "../../language/say.js";
import { fixed, signed, stopLabel } from "../../language/numbers.js";
import { WORDS } from "../../language/words/shared.js";
import { fitWord, isGrave } from "../../language/words/stack-fit.js";
import { el, one } from "../../parts/dom.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { speak } from "../../parts/speak.js";
import { movesText, pieces } from "../../parts/stack.js";
import { warningOf } from "./warning.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../api/glasscall.js").OfferReply} Offer
 * @typedef {{stack: Offer, note: string}} Way
 */

/** What tells two ways apart. @param {Offer} stack */
const keyOf = ({ slots, wheel }) => JSON.stringify([slots.map(({ slot, piece }) => [slot, piece]), wheel]);

/** @param {HTMLElement} root @param {App} app @param {(stack: Offer | undefined) => void} tell @returns {() => void} */
export function mountAnswer(root, app, tell) {
  /** The way that was tapped, as long as the question is the same. */
  let chosen = "";
  let question = "";
  /** @type {Offer | undefined} */
  let shown;

  const act = one(root, ".plate-act");
  act.addEventListener("click", async () => {
    if (!shown) return;
    if (act.dataset.do === "log") {
      const { setup, document } = app;
      const when = new Date();
      return (await withWhole(import("./log-it.js"))).logIt(app, { setup, document, when });
    }
    chosen = keyOf(shown);
    app.do(putInStack, shown);
  });

  for (const figure of [one(root, "[data-do=turn]"), one(root, "[data-do=turn-stop]")]) {
    figure.addEventListener("click", async () => {
      const { turnStack } = await withWhole(import("./turned.js"));
      if (shown) turnStack(figure, app, shown);
    });
  }

  const update = () => {
    const ways = waysOf(app);
    const asked = JSON.stringify([app.answer?.needStops, app.setup.keep, app.setup.kit, app.setup.rig, app.setup.shot.aperture]);
    if (asked !== question) chosen = "";
    question = asked;
    const way = ways.find(({ stack }) => keyOf(stack) === chosen) ?? ways[0];
    shown = way?.stack;
    showPlate(root, app, way);
    showStrip(one(root, ".strip"), ways, way, (picked) => {
      chosen = keyOf(picked.stack);
      update();
    });
    tell(shown);
  };
  return update;
}

/** Best first; then what fits, if the best does not, and what is in. @param {App} app @returns {Way[]} */
function waysOf({ setup, answer, complaint }) {
  if (complaint || !answer || setup.kit.length + setup.wheel.length === 0) return [];
  const ways = answer.stacks.map((stack) => ({ stack, note: "" }));
  const { fitting } = answer;
  if (fitting) ways.splice(1, 0, { stack: fitting, note: say("fits") });
  const now = stackNow(setup);
  if (now && !ways.some(({ stack }) => stack.moves === 0)) ways.push({ stack: now, note: say("as it is") });
  return ways;
}

/** What a ring is set to so that the sensor sees this stop; near focus may cost light as well. @param {App} app @param {Offer} stack */
function ringLabel({ setup }, stack) {
  if (stack.apertureToSet === undefined) return undefined;
  const { movesOut = false, extender } = setup.lens;
  // The answer knows the extender of a lens whose widest stop is known.
  if (!movesOut && (extender === undefined || stack.ringLabel)) return stack.ringLabel ?? stack.apertureLabel;
  const { reply } = answerTo(WORKING_STOP, setup, stack.apertureToSet, movesOut);
  const moved = reply && Math.abs(reply.lossStops) >= 0.005 && reply.setForAskedLabel;
  return moved ? `T${reply.setForAskedLabel}` : stack.apertureLabel;
}

/** @param {HTMLElement} root @param {App} app @param {Way | undefined} way */
function showPlate(root, app, way) {
  const plate = one(root, ".plate");
  const why = one(plate, ".plate-why");
  const act = one(plate, ".plate-act");
  for (const part of [".plate-pieces", ".plate-set"]) one(plate, part).hidden = !way;
  const warn = one(plate, ".plate-warn");
  why.hidden = Boolean(way);
  if (!way) {
    warn.hidden = true;
    act.hidden = true;
    for (const name of ["pieces", "stop", "fit", "left"]) one(plate, `[data-answer=${name}]`).replaceChildren();
    one(plate, "[data-answer=left]").hidden = true;
    const { complaint, setup } = app;
    const isEmpty = setup.kit.length === 0 && !(complaint && isRead(setup));
    const text = isEmpty ? WORDS.noPieces : complaint || say("No answer to this question.");
    const [href, place] = complaint && !isEmpty ? ["#case?systems", say("Change the rig")] : ["#case", say("To the case")];
    // What is to be typed stands above.
    why.replaceChildren(text, ...(isEmpty || isRead(setup) ? [" ", el("a", { href }, place)] : []));
    return speak(text);
  }
  const { stack } = way;
  const isIn = stack.moves === 0;
  one(plate, "[data-answer=pieces]").replaceChildren(...pieceSpans(app, stack));
  const ring = ringLabel(app, stack);
  const stop = ring === undefined ? say("no iris") : stopLabel(ring);
  one(plate, "[data-answer=stop]").textContent = stop;
  const fit = one(plate, "[data-answer=fit]");
  fit.textContent = fitWord(stack.fit);
  fit.classList.toggle("plate-fit-bad", isGrave(stack.fit));
  one(plate, "[data-answer=left]").hidden = false;
  one(plate, "[data-answer=left]").replaceChildren(...leftText(app, stack).map((text) => el("span", { text })));
  const warning = warningOf(app, stack);
  warn.hidden = warning === "";
  warn.textContent = warning;
  act.hidden = false;
  act.dataset.do = isIn ? "log" : "put-in";
  act.textContent = isIn ? say("act|Log") : say("Put in");
  plate.classList.toggle("plate-in", isIn);
  const echo = `${pieces(stack)}, ${stop}`;
  one(root, ".now-echo").textContent = echo;
  const glass = pieces(stack).replaceAll(" + ", ", ");
  return speak([one(root, ".need-stops").textContent, isIn ? say("in: {pieces}", { pieces: glass }) : glass, stop, fitWord(stack.fit)].join(", "));
}

/** Each piece as a figure to be asked back. @param {App} app @param {Offer} stack @returns {(Node | string)[]} */
function pieceSpans(app, stack) {
  /** @type {HTMLElement[]} */
  const parts = stack.slots.map(({ slot, piece }) => el("button", {
    type: "button", class: "plate-piece", "data-slot": slot, "data-opens": `turn ${piece}`, onclick: async (/** @type {Event} */ event) => {
      const opener = /** @type {HTMLElement} */ (event.currentTarget);
      const { turnPiece } = await withWhole(import("./turned.js"));
      turnPiece(opener, app, stack, piece);
    },
  }, piece));
  if (stack.wheel) parts.unshift(el("span", { class: "plate-piece", "data-slot": say("wheel"), text: fixed(stack.wheel, 2) }));
  if (parts.length === 0) return [say("nothing")];
  return parts.flatMap((part, nth) => (nth === 0 ? [part] : [" + ", part]));
}

/** What is left once the ring is set, how sure that is, and how far it is from the wish. @param {App} app @param {Offer} stack */
function leftText({ setup }, stack) {
  const unsure = `± ${fixed(stack.uncertainty.stops, 2)}`;
  // The ring has taken its thirds: nobody is to close by them once more.
  const left = say("{stops} left", { stops: signed(stack.leftAtLabelStops ?? stack.leftOverStops) });
  if (stack.iris.thirds === 0) return [left, unsure];
  const wanted = KINDS_OF_FIELD.aperture.show(setup.shot.aperture);
  return [left, unsure, say("{stops} from {stop}", { stops: signed(stack.leftOverStops), stop: wanted })];
}

/** @param {HTMLElement} strip @param {Way[]} ways @param {Way | undefined} shown @param {(way: Way) => void} pick */
function showStrip(strip, ways, shown, pick) {
  const focused = strip.contains(document.activeElement);
  strip.hidden = ways.length < 2;
  strip.replaceChildren(...ways.map((way) => {
    const { stack, note } = way;
    const stop = stack.apertureLabel === undefined ? say("no iris") : stopLabel(stack.apertureLabel);
    return el("button", { type: "button", class: isGrave(stack.fit) ? "strip-way strip-bad" : "strip-way", "aria-pressed": String(way === shown), onclick: () => pick(way) },
      el("span", { class: "strip-pieces", text: `${pieces(stack)} → ${stop}` }),
      el("span", { class: "strip-note", text: [note, signed(stack.leftOverStops), note ? "" : movesText(stack), isGrave(stack.fit) ? fitWord(stack.fit) : ""].filter(Boolean).join(", ") }));
  }));
  if (focused) /** @type {HTMLElement | null} */ (strip.querySelector("[aria-pressed=true]"))?.focus({ preventScroll: true });
}
