// @ts-check
/**
 * What searches proved, beside what each was asked last: its working goes along
 * where the page is handed over, and nothing is searched twice for it. Asked for
 * by the question, so that what was found for another set-up is never told.
 */
import { ask } from "./ask.js";

/**
 * @typedef {import("../api/glasscall.js").TermReply} Term
 * @typedef {"orderDay" | "coverKit" | "rings" | "twoBodies"} Searched
 */

/** @type {Map<unknown, {question: string, terms: Term[]}>} by who asks, who forgets what he asked before */
const found = new Map();

/** @param {Searched} name @param {any} request */
const questionOf = (name, request) => name + JSON.stringify(request);

/** @param {unknown} asker @param {Searched} name @param {any} request @param {{proven: boolean, working?: Term[]} | undefined} reply */
export function keepProven(asker, name, request, reply) {
  if (reply?.proven && reply.working) found.set(asker, { question: questionOf(name, request), terms: reply.working });
  else found.delete(asker);
}

/** How the search was worked out that proved the answer to just this. @param {Searched} name @param {any} request @returns {Term[] | undefined} */
export function provenWorking(name, request) {
  if (found.size === 0) return undefined;
  const question = questionOf(name, request);
  return [...found.values()].find((one) => one.question === question)?.terms;
}

/**
 * A search that is short enough for the page.
 * @template {"rings" | "twoBodies"} N
 * @param {N} name @param {Parameters<typeof import("../api/glasscall.js")[N]>[0]} request @param {unknown} asker
 */
export function askProven(name, request, asker) {
  const answer = ask(name, { ...request, explain: true });
  keepProven(asker, name, request, /** @type {any} */ (answer.reply));
  return answer;
}
