// @ts-check
/** What a stack does to infrared: what may have to be warned of. */
import { STACK_INFRARED } from "../questions/stack.js";
import { answerTo } from "../questions/question.js";
import { INFRARED, MIXED_INFRARED } from "../language/words/depth-and-colour.js";

/** @typedef {{text: string, grave: boolean, warns?: boolean}} Note */

/**
 * @param {import("../document/setup.js").Setup} setup
 * @param {import("../api/glasscall.js").OfferReply} stack
 * @returns {Note[]}
 */
export function infraredNotes(setup, stack) {
  const { reply } = answerTo(STACK_INFRARED, setup, stack);
  return [
    ...(reply && reply.verdict !== "fine" ? [{ text: INFRARED[reply.verdict], grave: reply.verdict === "cutNeeded", warns: true }] : []),
    ...(reply?.mixed ? [{ text: MIXED_INFRARED, grave: false }] : []),
  ];
}
