// @ts-check
/** Colour and infrared of the stack, beside it. */
import { ask } from "../engine.js";
import { colourRequest, infraredRequest, onPage, piecesOf } from "../other-glass.js";
import { fixed, shiftText, stopsText } from "../show.js";
import { refusalSentence } from "../words.js";
import { INFRARED, LEAN, MIXED_INFRARED } from "../words/other-glass.js";
import { all, el, one } from "../parts/dom.js";
import { mountField } from "../parts/field.js";

/**
 * @typedef {import("../app.js").App} App
 * @typedef {import("../setup.js").Setup} Setup
 * @typedef {import("../api/glasscall.js").OfferReply} Offer
 */

/** @param {Setup} setup */
function colourCheck(setup) {
  const { lightKelvin, balanceKelvin, otherBalanceKelvin } = setup.colour;
  const { refusal } = ask("colour", {
    lightKelvin: lightKelvin ?? 5600,
    balanceKelvin: balanceKelvin ?? 5600,
    otherBalanceKelvin,
  });
  return onPage(refusal ?? ask("infrared", { pieces: [], ...setup.infrared }).refusal);
}

/** @param {HTMLElement} root @param {App} app @returns {(stack: Offer | undefined) => void} */
export function mountColour(root, app) {
  const box = one(root, ".now-colour");
  const fields = all(box, ".field").map((field) => mountField(field, app, colourCheck));
  return (stack) => {
    fields.forEach((show) => show());
    const out = one(box, ".now-colour-out");
    if (!stack) return out.replaceChildren();
    return out.replaceChildren(...colourLines(app.setup, stack), ...infraredLines(app.setup, stack));
  };
}

/** @param {Setup} setup @param {Offer} stack */
function colourLines(setup, stack) {
  const { reply, refusal } = ask("colour", colourRequest(setup, stack));
  if (refusal) return [el("p", { class: "complaint", text: refusalSentence(/** @type {any} */ (onPage(refusal))) })];
  const shifted = piecesOf(setup, stack).some((piece) => piece.miredShift);
  const known = setup.colour.lightKelvin !== undefined;
  const lines = [];
  if (!shifted && !known) {
    lines.push("No piece in this stack is known to shift colour.");
  } else {
    const seen = reply.seen === "none" ? "bluer than any colour temperature" : `${fixed(reply.seen.kelvin, 0)} K`;
    const light = `${fixed(reply.light.kelvin, 0)} K (${fixed(reply.light.mired, 0)} mired)${known ? "" : ", assumed"}`;
    lines.push(shifted
      ? `The stack shifts ${shiftText(reply.sumMired)}: light of ${light} looks like ${seen}.`
      : `Light of ${light}; the stack is not known to shift it.`);
  }
  const { cast, otherBody } = reply;
  if (cast) {
    lines.push(`Balanced for ${fixed(cast.balance.kelvin, 0)} K: ${LEAN[cast.lean]}${cast.lean === "even" ? "" : ` by ${shiftText(Math.abs(cast.mired)).replace("+", "")}`}.`);
    if (cast.lean !== "even") {
      const best = cast.conversions[0];
      const own = nearestPiece(setup, cast.wantedShiftMired);
      lines.push([
        cast.evenAtKelvin === undefined ? "" : `Even at a balance of ${fixed(cast.evenAtKelvin, 0)} K`,
        `or with a piece of ${shiftText(cast.wantedShiftMired)}`,
        own ? `, in the case: ${own.id} (${shiftText(own.miredShift ?? 0)})` : `; the usual nearest is ${best.colour} ${fixed(best.fromKelvin, 0)} to ${fixed(best.toKelvin, 0)} K, ${shiftText(best.shiftMired)}`,
        ".",
      ].join(" ").replace(/ ([,;.])/g, "$1"));
    }
  }
  if (otherBody) {
    lines.push(otherBody.lean === "even"
      ? "The other body sees the same."
      : `The other body: add ${shiftText(otherBody.mismatchMired)} to every balance carried over, here ${fixed(otherBody.balance.kelvin, 0)} K.`);
  }
  return lines.map((text) => el("p", { text }));
}

/** The piece of the case next to a wanted shift, if it brings it nearer. @param {Setup} setup @param {number} wanted */
function nearestPiece(setup, wanted) {
  const off = (/** @type {import("../setup.js").Piece} */ piece) => Math.abs((piece.miredShift ?? 0) - wanted);
  const shifting = setup.kit.filter((piece) => piece.miredShift);
  return shifting.filter((piece) => off(piece) < Math.abs(wanted)).sort((a, b) => off(a) - off(b))[0];
}

/** @param {Setup} setup @param {Offer} stack */
function infraredLines(setup, stack) {
  const { reply } = ask("infrared", infraredRequest(setup, stack));
  if (!reply) return [];
  const alike = Math.abs(reply.excessStops) < 0.005;
  const text = alike
    ? "Infrared is taken like visible light."
    : `Infrared: visible light loses ${stopsText(reply.visibleStops)}, infrared ${stopsText(reply.infraredStops)}; the excess is density ${fixed(reply.excessDensity, 2)}. ${INFRARED[reply.verdict]}`;
  return [el("p", { text }), ...(reply.mixed ? [el("p", { text: MIXED_INFRARED })] : [])];
}
