// @ts-check
/** The one warning that stands beside an answer: the gravest there is. */
import { say } from "../../language/say.js";
import { stopLabel } from "../../language/numbers.js";
import { NOTES } from "../../language/words/shared.js";
import { isGrave, stackFitText } from "../../language/words/stack-fit.js";
import { infraredNotes } from "../../parts/infrared-notes.js";

/** @param {import("../../start/start.js").App} app @param {import("../../api/glasscall.js").OfferReply} stack */
export function warningOf({ setup, answer }, stack) {
  if (!stack.canBeExposed) {
    const pola = stack.slots.find(({ piece }) => setup.kit.some(({ id, kind }) => id === piece && kind === "polarizer"));
    const widest = setup.lens.widestAperture === undefined ? "" : stopLabel(`T${setup.lens.widestAperture}`);
    return pola
      ? say("The lens opens to {stop}: take {piece} out, raise EI or light it.", { stop: widest, piece: pola.piece })
      : say("The lens opens to {stop} only: raise EI or light it.", { stop: widest });
  }
  if (isGrave(stack.fit) && stack.fit) return stackFitText(stack.fit);
  const notes = infraredNotes(setup, stack);
  const grave = notes.find((note) => note.grave);
  if (grave) return grave.text;
  if (answer?.lightMissing) return say("Light is missing: open up, raise EI or light it.");
  if (stack.notes.includes("stillUnder")) return NOTES.stillUnder ?? "";
  return notes.find((note) => note.warns)?.text ?? "";
}
