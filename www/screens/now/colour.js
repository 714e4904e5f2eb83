// @ts-check
/** Colour and infrared of the stack, beside it. */
import { COLOUR, INFRARED_LIMITS, TEMPERATURES } from "../../questions/depth-and-colour.js";
import { STACK_INFRARED, piecesOf } from "../../questions/stack.js";
import { answerTo } from "../../questions/question.js";
import { say } from "../../language/say.js";
import { fixed, shiftText, stopsText } from "../../language/numbers.js";
import { refusalSentence } from "../../language/words/shared.js";
import { CONVERSIONS, INFRARED, LEAN, MIXED_INFRARED } from "../../language/words/depth-and-colour.js";
import { all, el, one } from "../../parts/dom.js";
import { mountField } from "../../parts/field.js";
import { figureWords, workButton } from "./work-button.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../api/glasscall.js").OfferReply} Offer
 */

/** @param {Setup} setup */
const colourCheck = (setup) => answerTo(TEMPERATURES, setup).refusal ?? answerTo(INFRARED_LIMITS, setup).refusal;

/** @param {HTMLElement} root @param {App} app @returns {(stack: Offer | undefined) => void} */
export function mountColour(root, app) {
  const box = one(root, ".now-colour");
  const fields = all(box, ".field").map((field) => mountField(field, app, colourCheck));
  return (stack) => {
    fields.forEach((show) => show());
    const out = one(box, ".now-colour-out");
    const line = one(box, ".now-colour-line");
    line.textContent = stack ? resultLine(app.setup, stack) : "";
    if (!stack) return out.replaceChildren();
    const { setup } = app;
    return out.replaceChildren(...colourLines(app, stack), ...infraredLines(app, stack),
      workButton("colour", (worked, opener) =>
        worked.openWorked(opener, [["colour", COLOUR.request(setup, stack)], ["infrared", STACK_INFRARED.request(setup, stack)]])));
  };
}

/** Both in one line. @param {Setup} setup @param {Offer} stack */
function resultLine(setup, stack) {
  const colour = answerTo(COLOUR, setup, stack).reply;
  const infrared = answerTo(STACK_INFRARED, setup, stack).reply;
  const shift = colour?.shifts ? shiftText(colour.sumMired) : say("no shift known");
  const words = { fine: say("infrared fine"), watch: say("infrared may show"), cutNeeded: say("needs an infrared cut") };
  return [shift, infrared ? /** @type {Record<string, string>} */ (words)[infrared.verdict] ?? "" : ""].filter(Boolean).join(", ");
}

/** @param {App} app @param {Offer} stack */
function colourLines(app, stack) {
  const { setup } = app;
  const ownShiftsMired = shiftingPieces(setup).map(({ miredShift = 0 }) => miredShift);
  const { reply, refusal } = answerTo(COLOUR, setup, stack, ownShiftsMired);
  if (refusal) return [el("p", { class: "complaint", text: refusalSentence(refusal) })];
  const shifted = piecesOf(setup, stack).some((piece) => piece.miredShift);
  const known = setup.colour.lightKelvin !== undefined;
  const lines = [];
  if (!shifted && !known) {
    lines.push(say("No piece in this stack is known to shift colour."));
  } else {
    const seen = reply.seen === "none" ? say("bluer than any colour temperature") : kelvinText(reply.seen.kelvin);
    const [kelvin, mired] = [kelvinText(reply.light.kelvin), fixed(reply.light.mired, 0)];
    const light = known ? say("{kelvin} ({mired} mired)", { kelvin, mired }) : say("{kelvin} ({mired} mired), assumed", { kelvin, mired });
    lines.push(shifted
      ? say("The stack shifts {shift}: light of {light} looks like {seen}.", { shift: shiftText(reply.sumMired), light, seen })
      : say("Light of {light}; the stack is not known to shift it.", { light }));
  }
  const { cast, otherBody } = reply;
  if (cast) lines.push(...castLines(setup, cast));
  if (otherBody) {
    lines.push(otherBody.lean === "even"
      ? say("The other body sees the same.")
      : say("The other body: add {shift} to every balance carried over, here {kelvin}.", {
          shift: shiftText(otherBody.mismatchMired), kelvin: kelvinText(otherBody.balance.kelvin),
        }));
  }
  return lines.map((text) => el("p", {}, /\d/.test(text) ? figureWords(text, "turn-colour", (figures, opener) => figures.openColour(opener, app, stack)) : text));
}

/** @param {Setup} setup */
const shiftingPieces = ({ kit }) => kit.filter(({ miredShift }) => miredShift);

/** @param {number} kelvin */
const kelvinText = (kelvin) => `${fixed(kelvin, 0)} K`;

/** What the picture leans to, and what would make it even. @param {Setup} setup @param {import("../../api/glasscall.js").CastReply} cast */
function castLines(setup, cast) {
  const balance = kelvinText(cast.balance.kelvin);
  const picture = LEAN[cast.lean];
  if (cast.lean === "even") return [say("Balanced for {kelvin}: {picture}.", { kelvin: balance, picture })];
  const by = shiftText(Math.abs(cast.mired)).replace("+", "");
  const shift = shiftText(cast.wantedShiftMired);
  const own = cast.nearestOwn === undefined ? undefined : shiftingPieces(setup)[cast.nearestOwn];
  const [best] = cast.conversions;
  const piece = own
    ? say("or with a piece of {shift}, in the case: {piece} ({its}).", { shift, piece: own.id, its: shiftText(own.miredShift ?? 0) })
    : best === undefined ? "" : say("or with a piece of {shift}; the usual nearest is {colour} {from} to {to}, {its}.", {
        shift, colour: CONVERSIONS[best.colour], from: fixed(best.fromKelvin, 0), to: kelvinText(best.toKelvin), its: shiftText(best.shiftMired),
      });
  const even = cast.evenAtKelvin === undefined ? "" : say("Even at a balance of {kelvin}", { kelvin: kelvinText(cast.evenAtKelvin) });
  return [
    say("Balanced for {kelvin}: {picture} by {shift}.", { kelvin: balance, picture, shift: by }),
    [even, piece].filter(Boolean).join(" "),
  ];
}

/** @param {App} app @param {Offer} stack */
function infraredLines(app, stack) {
  const { reply } = answerTo(STACK_INFRARED, app.setup, stack);
  if (!reply) return [];
  const alike = Math.abs(reply.excessStops) < 0.005;
  const text = alike
    ? say("Infrared is taken like visible light.")
    : say("Infrared: visible light loses {visible}, infrared {infrared}; the excess is density {density}.", {
        visible: stopsText(reply.visibleStops), infrared: stopsText(reply.infraredStops), density: fixed(reply.excessDensity, 2),
      });
  return [el("p", {}, alike ? text : figureWords(`${text} ${INFRARED[reply.verdict]}`, "turn-infrared", (figures, opener) => figures.openInfrared(opener, app, stack))), ...(reply.mixed ? [el("p", { text: MIXED_INFRARED })] : [])];
}
