// @ts-check
/** How an answer is worked out, term by term: shown, copied, printed. */
import { copyText } from "../hand-over/clipboard.js";
import { say } from "../language/say.js";
import { FORMULA_SIGNS, termName, termValue, WORKED } from "../language/words/working.js";
import { stopLabel } from "../language/numbers.js";
import { KNOWN_BY } from "../language/words/shared.js";
import { el, one } from "./dom.js";
import { openDrawer } from "./drawer.js";

/** @typedef {import("../api/glasscall.js").TermReply} Term */

/** A formula as it is printed. @param {string} formula */
const notation = (formula) => FORMULA_SIGNS.reduce((text, [plain, sign]) => text.replaceAll(plain, sign), stopLabel(formula));

/** The line of a term: what it is called, how it follows, what it comes to. @param {Term} term */
function lineOf(term) {
  return [term.symbol, ...(term.formula ? [notation(term.formula)] : []), termValue(term)].join(" = ");
}

/** Where it comes from, and how it is known. @param {Term} term */
function restOf({ source, knownBy }) {
  return [knownBy ? KNOWN_BY[knownBy] : "", source ? notation(source) : ""].filter(Boolean).join(" · ");
}

/** What is told where nothing put in stands in the table of uncertainties. @param {Term[]} terms */
const takenAsTold = (terms) => (terms.some(({ symbol }) => /^u\d*$/.test(symbol)) ? [] : [say("No ± counts here: what was put in is taken as told.")]);

/** The same as lines of text. @param {Term[]} terms */
export function workingText(terms) {
  return [...terms.map((term) => {
    const rest = restOf(term);
    return `${termName(term)}: ${lineOf(term)}${rest ? ` (${rest})` : ""}`;
  }), ...takenAsTold(terms)].join("\n");
}

/** @param {Term[]} terms @returns {HTMLElement} */
export function workingList(terms) {
  return el("ol", { class: "working" }, ...terms.map((term) => el("li", { class: term.formula ? "term term-follows" : "term" },
    el("span", { class: "term-name", text: termName(term) }),
    el("span", { class: "term-line", translate: "no", text: lineOf(term) }),
    el("small", { class: "term-rest" }, restOf(term),
      // What nobody has said is a tap away from being said.
      ...(term.knownBy === "assumed" && placeOf(term) ? [" ", el("a", { href: placeOf(term) }, say("say it"))] : [])))),
  ...takenAsTold(terms).map((text) => el("li", { class: "term" }, el("small", { class: "term-rest" }, text))));
}

/** Where a fact is said, by its field in the request. @type {[RegExp, string][]} */
const PLACES = [
  [/^maxPolarization/, "#light?sky"],
  [/^(lossStops|extinctionRatio)$/, "#light?polarizers"],
  [/^pupilBehindRimMm/, "#fit"],
  [/^(diagonalParts|wavelengthNm|cutFromDensity|(behind|setFor|inFront|wheel)\[)/, "#now"],
  [/^(uncertainty\.|readingMm)/, "#now?known"],
  // The page asks for neither: the module does.
  [/^(mainsHz|readoutSeconds)/, ""],
];

/** @param {Term} term */
const placeOf = ({ field = "" }) => PLACES.find(([pattern]) => pattern.test(field))?.[1] ?? "#case?pieces";

/** What stands behind a figure that has no other number to ask for. @param {HTMLElement} opener @param {Term[] | undefined} terms */
export function openWorking(opener, terms) {
  openDrawer(opener, say("How it is worked out"), () => workingPart(terms));
}

/** Several, each under its name. @param {HTMLElement} opener @param {import("../questions/workings.js").Working[]} workings */
export function openWorkings(opener, workings) {
  if (workings.length < 2) return openWorking(opener, workings[0]?.terms);
  return openDrawer(opener, say("How it is worked out"), () => [
    ...workings.flatMap(({ question, terms }) => [el("h4", { class: "turn-title" }, WORKED[question]), workingList(terms)]),
    workingActs(workings.map(({ question, terms }) => `${WORKED[question]}\n${workingText(terms)}`).join("\n\n"),
      workings.flatMap(({ question, terms }) => [el("h3", {}, WORKED[question]), workingList(terms)])),
  ]);
}

/** @param {Term[] | undefined} terms @returns {Node[]} */
export function workingPart(terms) {
  if (!terms) return [el("p", { class: "hint" }, say("More decides this than a few terms tell: it is not shown as a sum."))];
  return [
    el("h4", { class: "turn-title" }, say("How it is worked out")),
    workingList(terms),
    workingActs(workingText(terms), [workingList(terms)]),
  ];
}

/** To take it along, as a text or on paper. @param {string} text @param {Node[]} printed */
function workingActs(text, printed) {
  const print = () => {
    const sheet = one(document, "#sheet");
    const print = () => sheet.replaceChildren(el("h2", {}, say("How it is worked out")), ...printed);
    // After the sheet of Day, which any print command makes anew.
    window.addEventListener("beforeprint", print, { once: true });
    window.print();
  };
  return el("p", { class: "turn-acts" },
    el("button", { type: "button", onclick: (/** @type {Event} */ event) => void copyText(text, /** @type {HTMLElement} */ (event.currentTarget)) }, say("Copy the working")),
    el("button", { type: "button", onclick: print }, say("Print it")));
}
