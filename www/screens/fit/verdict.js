// @ts-check
/** The verdict of the Fit screen, and what is to be said beside it. */
import { askFit, fNumberOf, openingsOf, unsaid } from "../../questions/fit.js";
import { say } from "../../language/say.js";
import { FIT_WORDS, LOOK, remedies, settlesText, widestText, worstText, zoomWorstText } from "../../language/words/fit.js";
import { stackFitText, verdictWord } from "../../language/words/stack-fit.js";
import { roomKnownText } from "../../language/words/known.js";
import { askedBack } from "../../parts/asked-back.js";
import { askedWords } from "../../parts/asked-words.js";
import { el, one } from "../../parts/dom.js";
import { speak } from "../../parts/speak.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../api/glasscall.js").FitReply} FitReply
 */

/**
 * @param {HTMLElement} root @param {Setup} setup @param {FitReply | undefined} reply @param {App} app
 * @param {(opener: HTMLElement) => void} turn what would leave another room
 */
export function showVerdict(root, setup, reply, app, turn) {
  const box = one(root, ".fit-verdict");
  const found = openingsOf(setup);
  // A last good answer may be from before there was any opening.
  const told = found.length > 0 && reply?.openings.length ? reply : undefined;
  /** @type {HTMLButtonElement} */ (one(box, ".fit-room")).disabled = told?.spareMm === undefined;
  box.dataset.verdict = told?.trust ?? "none";
  const known = told ? roomKnownText(told.openings[told.worst ?? 0]?.spareKnown) : "";
  one(box, ".fit-known-room").replaceChildren(...(known ? [askedWords(known, "turn-known", turn)] : []));
  const notes = one(root, ".fit-notes");
  const close = one(root, ".fit-close-told");
  close.textContent = "";
  const worst = told?.openings[told.worst ?? 0];
  if (!told || !worst) {
    one(box, ".fit-word").textContent = say("verdict|Not known");
    one(box, ".fit-room").textContent = found.length === 0 ? FIT_WORDS.noOpenings : FIT_WORDS.unsaid[unsaid(setup)];
    notes.replaceChildren();
    speak(one(box, ".fit-room").textContent);
    return;
  }
  one(box, ".fit-word").textContent = verdictWord(told);
  one(box, ".fit-room").textContent = told.verdict !== worst.computed
    ? FIT_WORDS.asSeen
    : worstText(worst);
  const verdict = `${one(box, ".fit-word").textContent}, ${one(box, ".fit-room").textContent}`;
  // What is said of close focus stands far below the verdict: it is told there too.
  if (setup.lens.closeFocalMm !== undefined || setup.lens.closePupilMm !== undefined) close.textContent = verdict;
  speak(verdict);
  const zoomed = zoomWorstText(told, setup.lens.focalLengthMm ?? 0);
  const texts = [...(told.trust === "look" ? [settlesText(told) || LOOK] : []), ...(zoomed ? [zoomed] : []), ...remedies(told, setup.lens.widestAperture)];
  if (setup === app.setup && setup.inPlace.length > 0) {
    const { reply: inNow } = askFit({ ...setup, rig: onlyFilled(setup) });
    const narrowest = inNow?.openings[inNow.worst ?? 0];
    if (inNow && narrowest) {
      const { spareMm, name, computed } = narrowest;
      texts.push(say("With only what is in now: {told}", { told: stackFitText({ ...inNow, fNumber: fNumberOf(setup), spareMm, computed, worstSlot: name }) }));
    }
  }
  notes.replaceChildren(
    ...texts.map((text) => el("li", { text })),
    ...widestText(told).map((text) => el("li", {}, askedBack(text, "turn-widest", turn))),
  );
}

/** The rig with the slots that hold something. @param {Setup} setup */
function onlyFilled({ rig, inPlace }) {
  return { ...rig, slots: rig.slots.filter((slot) => inPlace.some((placed) => placed.slot === slot.id)) };
}
