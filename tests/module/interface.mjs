// The public interface as lines that can be compared: every function, field and
// word a field may be, what each says it is when left out, and the answers to
// the examples of web/API.md, which leave out what they can.
//
// `npm run interface` writes them to fixtures/interface.txt.
import { readFile, writeFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import * as glass from "../../dist/api/glasscall.js";

export const KEPT = new URL("../fixtures/interface.txt", import.meta.url);
const TYPES = new URL("../../dist/api/glasscall.d.ts", import.meta.url);
const CHANGES = new URL("../../core/CHANGELOG.md", import.meta.url);
const EXAMPLES = new URL("../../web/API.md", import.meta.url);
const FENCE = "`".repeat(3);
/** How comments say what a field is that nobody gave. */
const LEFT_OUT = /\b(unless|absent|default|left out|none given|if not)\b/i;

/** A declaration on one line, its words in their order. @param {string} text */
const onOneLine = (text) => text.replace(/\s+/g, " ").trim();

/** Types and functions of the declarations. @param {string} types @returns {string[]} */
export function declared(types) {
  const lines = [];
  let inside = "";
  let comment = "";
  for (const [, said, line] of types.matchAll(/[ \t]*\/\*\*([\s\S]*?)\*\/|([^\n]+)/g)) {
    if (said !== undefined) {
      comment = onOneLine(said.replaceAll(/^\s*\*/gm, ""));
      continue;
    }
    const text = line.trim();
    if (/^(\/\*|\*|$)/.test(text)) continue;
    const opens = text.match(/^export interface (\w+)/);
    if (opens) inside = opens[1];
    else if (text === "}") inside = "";
    else if (inside) lines.push(`${inside}.${text.replace(/;$/, "")}`);
    else if (text.startsWith("export type")) {
      const [, name, words] = text.match(/^export type (\w+) = (.*);$/) ?? ["", text, ""];
      lines.push(...words.split(" | ").map((word) => `${name} may be ${word}`));
    } else lines.push(text.replace(/^export |;$/g, ""));
    const sentence = comment.split(/(?<=[.;])\s/).find((one) => LEFT_OUT.test(one));
    if (sentence && inside && !opens) lines.push(`${inside}.${text.match(/^\w+/)?.[0]} left out: ${sentence}`);
    comment = "";
  }
  return lines;
}

/** Every value of an answer with its path, numbers to three digits: a default shows, the last digit of a law does not. @param {string} path @param {unknown} value @returns {string[]} */
function values(path, value) {
  if (typeof value === "object" && value !== null) {
    return Object.entries(value).slice(0, 6).flatMap(([name, one]) => values(`${path}.${name}`, one));
  }
  return [`${path} = ${typeof value === "number" ? Number(value.toPrecision(3)) : JSON.stringify(value)?.slice(0, 80)}`];
}

/** What every function answers to its example. @param {string} page @returns {string[]} */
function answered(page) {
  const asked = [...page.matchAll(new RegExp(`^### (\\w+)\n[\\s\\S]*?${FENCE}js\n([\\s\\S]*?)${FENCE}`, "gm"))];
  return asked.flatMap(([, name, code]) => {
    const calls = [];
    const listening = { ...glass, [name]: (...given) => {
      const reply = glass[name](...given);
      calls.push(reply);
      return reply;
    } };
    new Function("glass", code)(listening);
    return values(`${name}()`, calls[0]);
  });
}

/** @returns {Promise<string[]>} */
export async function interfaceNow() {
  const [types, page] = await Promise.all([TYPES, EXAMPLES].map((url) => readFile(url, "utf8")));
  return [...declared(types), ...answered(page)].toSorted();
}

/** The version kept, and its lines. */
export async function interfaceKept() {
  const [head, ...lines] = (await readFile(KEPT, "utf8")).trimEnd().split("\n");
  return { version: head.replace("version ", ""), lines };
}

/** Whether the version that is worked on has left the house. @param {string} version @param {string} changes */
export const isPublished = (version, changes) => !changes.includes(`## ${version}, not yet published`);

/** Whether `now` may differ from `before` as it does. @param {string} before @param {string} now @param {boolean} loses lines go or differ */
export function mayChange(before, now, loses) {
  const [was, is] = [before, now].map((version) => version.split(".").map(Number));
  if (is[0] !== was[0]) return is[0] > was[0];
  return is[1] > was[1] && (!loses || is[0] === 0);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [lines, kept, changes] = await Promise.all([interfaceNow(), interfaceKept().catch(() => null), readFile(CHANGES, "utf8")]);
  const loses = kept?.lines.some((line) => !lines.includes(line)) ?? false;
  const differs = loses || lines.length !== kept?.lines.length;
  if (kept && differs && isPublished(kept.version, changes) && !mayChange(kept.version, glass.version, loses)) {
    throw new Error(`${kept.version} is published: what changed needs a newer version in Cargo.toml`);
  }
  await writeFile(KEPT, `version ${glass.version}\n${lines.join("\n")}\n`);
}
