// @ts-check
/**
 * Words in the reader's language. English stands where it is said; another
 * language is a table from it, loaded before anything is said. A word that
 * means two things carries its use before a bar: `say("verdict|clear")`.
 */
import { wordsOf } from "./table.js";

/** The build adds each language that has a folder here. */
const LANGUAGES = ["en", "de"];

/** The page, ours or the one that holds our element, says its language; outside a page it is English. */
export const language = LANGUAGES.find((tag) => new RegExp(`^${tag}\\b`, "i").test(globalThis.document?.documentElement.lang ?? "")) ?? "en";

/** Numbers and dates as the reader's country has them, where the device says which. */
export const locale = globalThis.navigator?.languages?.find((tag) => tag.startsWith(language))
  ?? (language === "en" ? undefined : language);

/** @typedef {string | (Record<string, string> & {other: string})} Words one form, or one for each kind of number */

/** @type {Record<string, Words>} */
const table = language === "en" ? {} : await wordsOf(language).catch(() => ({}));

/** Made when something is counted first: it takes as long as a hundred sentences. @type {Intl.PluralRules | undefined} */
let rules;

/** @param {string} english what it says, or its use and what it says */
const bare = (english) => english.slice(english.indexOf("|") + 1);

/** @param {string} text @param {Record<string, string | number>} values */
const filled = (text, values) => (!text.includes("{") ? text : text.replace(/\{(\w+)\}/g, (whole, name) => String(values[name] ?? whole)));

/**
 * A sentence with `{name}` where values go.
 * @param {string} english
 * @param {Record<string, string | number>} [values]
 */
export function say(english, values = {}) {
  const words = table[english] ?? bare(english);
  return filled(typeof words === "string" ? words : words.other, values);
}

/**
 * A sentence that changes with a whole number; the table has it under `many`.
 * @param {number} count `{count}` in the sentence
 * @param {string} single
 * @param {string} many
 * @param {Record<string, string | number>} [values]
 */
export function sayCount(count, single, many, values = {}) {
  rules ??= new Intl.PluralRules(language);
  const form = rules.select(count);
  const words = table[many] ?? { one: bare(single), other: bare(many) };
  return filled(typeof words === "string" ? words : words[form] ?? words.other, { count, ...values });
}

const ATTRIBUTES = ["aria-label", "placeholder", "alt", "data-optional", "title"];
const BLANKS = /\s+/g;

/**
 * Every text of a part of the page and where it stands: text between tags, and
 * attributes that are read out or shown. `data-use` tells two meanings apart,
 * `translate="no"` leaves out names and what is filled in later.
 * @param {ParentNode} root
 * @returns {{english: string, put: (text: string) => void}[]}
 */
export function textsOf(root) {
  /** @type {{english: string, put: (text: string) => void}[]} */
  const found = [];
  for (const element of root.querySelectorAll("*")) {
    if (element.closest("[translate=no], script, style")) continue;
    const use = element.getAttribute("data-use");
    const add = (/** @type {string | null} */ text, /** @type {(text: string) => void} */ put) => {
      const english = text?.replace(BLANKS, " ").trim();
      if (english && /\p{L}/u.test(english)) found.push({ english: use ? `${use}|${english}` : english, put });
    };
    for (const name of ATTRIBUTES) add(element.getAttribute(name), (text) => element.setAttribute(name, text));
    for (const node of element.childNodes) {
      if (node.nodeType !== 3) continue;
      const [, before, , after] = /** @type {RegExpMatchArray} */ ((node.nodeValue ?? "").match(/^(\s*)([\s\S]*?)(\s*)$/));
      add(node.nodeValue, (text) => (node.nodeValue = before + text + after));
    }
  }
  return found;
}

/** Puts what the page was written with into the reader's language. @param {ParentNode} root */
export function sayAll(root) {
  if (language === "en") return;
  for (const { english, put } of textsOf(root)) put(say(english));
}
