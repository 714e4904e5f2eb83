// @ts-check
/** A stack of pieces: as a card with everything, and as one line to choose. */
import { shotSettings } from "../questions/open-up.js";
import { say } from "../language/say.js";
import { fixed, signed, stopLabel, stopsText } from "../language/numbers.js";
import { KNOWN_BY, NOTES, SIDE_EFFECTS } from "../language/words/shared.js";
import { roomKnownText } from "../language/words/known.js";
import { stackFitText } from "../language/words/stack-fit.js";
import { KINDS_OF_FIELD } from "./kinds.js";
import { el } from "./dom.js";
import { flickerText } from "./flicker.js";
import { movesText, pieces } from "./stack.js";
import { stackNotes } from "./stack-notes.js";
import { stopsBar } from "./stops-bar.js";

/**
 * @typedef {import("../start/start.js").App} App
 * @typedef {import("../api/glasscall.js").OfferReply} Offer
 */

/** Under this a left-over is shown and ignored; the core says so by a note. @param {Offer} stack */
const isSmall = (stack) => stack.notes.includes("leftOverSmall");

/** The stop to set, as the ring has it. @param {Offer} stack */
const stopText = ({ apertureLabel }) => (apertureLabel === undefined ? say("no iris") : stopLabel(apertureLabel));

/** @param {App} app @param {Offer} stack @param {string} title @param {() => void} [putIn] nothing where it is done elsewhere */
export function stackCard(app, stack, title, putIn) {
  const rows = app.setup.rig.slots.map((slot) => {
    const placed = stack.slots.find((one) => one.slot === slot.id);
    const now = app.setup.inPlace.find((one) => one.slot === slot.id)?.piece;
    const change = placed?.piece === now ? (placed ? say("stack|stays") : "") : now ? say("{piece} out", { piece: now }) : "";
    return el("li", { class: placed ? "slot" : "slot slot-empty" },
      el("span", { class: "slot-name", text: slot.id }),
      el("span", { class: "slot-piece", text: placed?.piece ?? "—" }),
      el("span", { class: "slot-facts", text: [placed && say("{stops} st {known}", { stops: fixed(placed.stops, 2), known: KNOWN_BY[placed.knownBy] }), change].filter(Boolean).join(", ") }),
    );
  });
  if (stack.wheel !== undefined) {
    rows.unshift(el("li", { class: "slot" },
      el("span", { class: "slot-name", text: say("wheel") }),
      el("span", { class: "slot-piece", text: stack.wheel === 0 ? say("piece|clear") : fixed(stack.wheel, 2) }),
      el("span", { class: "slot-facts" })));
  }
  return el("article", { class: "stack" },
    el("header", { class: "stack-head" },
      el("h4", { text: `${title}: ${pieces(stack)}` }),
      el("span", { class: "stack-moves", text: movesText(stack) })),
    el("p", { class: "stack-set" },
      el("span", { class: "stack-set-word", text: say("iris|Set") }),
      el("strong", { class: "stack-set-stop", text: stopText(stack) }),
      el("span", { class: "stack-left", text: say("{stops} stop left over", { stops: signed(leftAt(stack)) }) })),
    ...fitLine(stack),
    stopsBar(app.answer?.needStops ?? 0, stack),
    el("ol", { class: "slots" }, ...rows),
    el("p", { class: "stack-sum", text: say("Takes {stops}, density {density}.", { stops: stopsText(stack.stops), density: fixed(stack.density, 2) }) }),
    ...trimList(app, stack),
    el("ul", { class: "notes" },
      ...stackNotes(app.setup, stack).map(({ text, grave }) => el("li", { class: grave ? "complaint" : "watch", text })),
      // Infrared is told above, against the user's own limits.
      ...stack.notes.filter((note) => !note.startsWith("infrared")).map((note) => el("li", { text: NOTES[note] ?? note }))),
    ...(stack.moves > 0 && putIn ? [el("button", { type: "button", class: "put-in", onclick: putIn }, say("Put in"))] : []),
  );
}

/** @param {Offer} stack @param {() => void} choose */
export function stackLine(stack, choose) {
  return el("button", { type: "button", class: "stack-line", onclick: choose },
    el("span", { class: "stack-line-pieces", text: pieces(stack) }),
    el("span", { class: "stack-line-stop", text: stopText(stack) }),
    el("span", { class: "stack-line-left", text: say("{stops} left, {moves}", { stops: signed(stack.leftOverStops), moves: movesText(stack) }) }),
    ...(isClear(stack) ? [] : [el("span", { class: "stack-line-fit stack-fit-bad", text: fitText(stack) })]));
}

/** Whether nothing is known against it. @param {Offer} stack */
const isClear = ({ fit }) => fit === undefined || fit.verdict === "clear";

/** @param {Offer} stack */
const fitText = ({ fit }) => (fit ? stackFitText(fit) : "");

/** What is left at the stop named beside it: a ring that took its thirds is not to be closed by them once more. @param {Offer} stack */
const leftAt = ({ leftAtLabelStops, leftOverStops }) => leftAtLabelStops ?? leftOverStops;

/** @param {Offer} stack */
function fitLine(stack) {
  // A room that was looked at needs no ±.
  const { fit } = stack;
  const known = fit && fit.verdict === fit.computed ? roomKnownText(fit.spareKnown) : "";
  const text = [fitText(stack), known].filter(Boolean).join(" ");
  if (!text) return [];
  return [el("p", { class: isClear(stack) ? "stack-fit" : "stack-fit stack-fit-bad", text })];
}

/** What takes the place of another stop. The stop to set is the iris's own trim, where the lens has it. @param {App} app @param {Offer} stack */
function trimList(app, stack) {
  const trims = stack.trims.filter(({ by }) => by !== "iris" || !stack.canBeExposed || stack.apertureToSet === undefined);
  if (isSmall(stack) || trims.length === 0) return [];
  const value = (/** @type {import("../api/glasscall.js").TrimReply} */ { by, to }) => {
    switch (by) {
      case "iris": return say("iris to {value}", { value: KINDS_OF_FIELD.aperture.show(to) });
      case "shutterAngleDeg": return say("shutter to {value}", { value: KINDS_OF_FIELD.shutter.show({ shutterAngleDeg: to }) });
      case "shutterSeconds": return say("shutter to {value}", { value: KINDS_OF_FIELD.shutter.show({ shutterSeconds: to }) });
      default: return say("exposure index to {value}", { value: fixed(to, 0) });
    }
  };
  const { frameRate } = shotSettings(app.setup);
  const lamps = (/** @type {import("../api/glasscall.js").TrimReply} */ { by, to }) =>
    by === "shutterAngleDeg" || by === "shutterSeconds" ? say(". Lamps: {verdict}", { verdict: flickerText(frameRate, { [by]: to }) }) : "";
  const { shot } = app.setup;
  const wanted = shot.aperture === undefined ? "" : KINDS_OF_FIELD.aperture.show(shot.aperture);
  return [el("div", { class: "trims" }, say("Or stay at {stop} and take {left} by one of:", { stop: wanted, left: signed(stack.leftOverStops) }),
    el("ul", {}, ...trims.map((trim) =>
      el("li", { text: `${say("{setting}, {stops} left over", { setting: value(trim), stops: signed(trim.staysStops) })} (${SIDE_EFFECTS[trim.sideEffect]})${lamps(trim)}` }))))];
}
