// @ts-check
/** What a stack does to colour and infrared, in the few words its card has room for. */
import { ask } from "../engine/ask.js";
import { colourRequest, infraredRequest } from "../questions/depth-and-colour.js";
import { say } from "../language/say.js";
import { shiftText } from "../language/numbers.js";
import { INFRARED, LEAN, MIXED_INFRARED } from "../language/words/depth-and-colour.js";

/**
 * @param {import("../document/setup.js").Setup} setup
 * @param {import("../api/glasscall.js").OfferReply} stack
 * @returns {{text: string, grave: boolean, warns?: boolean}[]}
 */
export function stackNotes(setup, stack) {
  const notes = [];
  const infrared = ask("infrared", infraredRequest(setup, stack)).reply;
  if (infrared && infrared.verdict !== "fine") {
    notes.push({ text: INFRARED[infrared.verdict], grave: infrared.verdict === "cutNeeded", warns: true });
  }
  if (infrared?.mixed) notes.push({ text: MIXED_INFRARED, grave: false });
  const colour = ask("colour", colourRequest(setup, stack)).reply;
  if (colour?.shifts) {
    const shift = shiftText(colour.sumMired);
    const text = colour.cast
      ? say("Shifts colour by {shift}: {picture}.", { shift, picture: LEAN[colour.cast.lean] })
      : say("Shifts colour by {shift}.", { shift });
    notes.push({ text, grave: false });
  }
  return notes;
}
