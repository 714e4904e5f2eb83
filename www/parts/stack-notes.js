// @ts-check
/** What a stack does to colour and infrared, in the few words its card has room for. */
import { COLOUR } from "../questions/depth-and-colour.js";
import { answerTo } from "../questions/question.js";
import { say } from "../language/say.js";
import { shiftText } from "../language/numbers.js";
import { LEAN } from "../language/words/depth-and-colour.js";
import { infraredNotes } from "./infrared-notes.js";

/**
 * @param {import("../document/setup.js").Setup} setup
 * @param {import("../api/glasscall.js").OfferReply} stack
 * @returns {import("./infrared-notes.js").Note[]}
 */
export function stackNotes(setup, stack) {
  const notes = infraredNotes(setup, stack);
  const colour = answerTo(COLOUR, setup, stack).reply;
  if (colour?.shifts) {
    const shift = shiftText(colour.sumMired);
    const text = colour.cast
      ? say("Shifts colour by {shift}: {picture}.", { shift, picture: LEAN[colour.cast.lean] })
      : say("Shifts colour by {shift}.", { shift });
    notes.push({ text, grave: false });
  }
  return notes;
}
