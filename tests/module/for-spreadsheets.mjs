/** A case and a log full of what spreadsheets make something else of. */
import { readCase, writeCase } from "../../target/modules/api/glasscall.js";
import { logTable } from "../../target/modules/day/columns.js";
import { amended, recordOf } from "../../target/modules/day/record.js";
import { caseContent } from "../../target/modules/document/case-content.js";
import { demoDocument } from "../../target/modules/document/demo.js";
import { resolve } from "../../target/modules/document/resolve.js";

/** Names that would be numbers, days, times, shares, answers or formulas. */
export const NAMES = [
  "0.9", "0.30", "1/8", "007", "82", "=1+1", '=HYPERLINK("http://192.0.2.1/"&A1,"see")', "+2", "-0.6", "@x", "1.2 IR", "TRUE", "3:4", "1e5",
  "2026-05-01", "0,9", "5 May", "'quoted", "'=1", "pola, “old” one", "a;b", "10 %", "two\nlines", "1.5.2026", "2026-05-04T18:00", "$5", "5 €", "(3)", "5 pm", "Mon 5 May", "1.000,5",
];

/** A spreadsheet keeps fifteen digits of a number. @param {any} value */
export const inFifteenDigits = (value) => JSON.parse(JSON.stringify(value, (_, part) => typeof part === "number" ? Number(part.toPrecision(15)) : part));

const pieces = NAMES.map((id, at) => ({ id, kind: "nd", density: Number((0.3 + at / 10).toFixed(1)), count: 1, size: at % 2 ? "4x5.65" : "82", split: at % 3 === 0 }));
const demo = caseContent(demoDocument());
/** The demo's whole case, and pieces of such names. */
export const CASE = readCase({ text: writeCase({ case: { ...demo, pieces: [...demo.pieces.filter(({ id }) => !NAMES.includes(id)), ...pieces] }, as: "json" }).text }).case;

const asScene = (/** @type {string} */ scene, /** @type {number} */ at) => {
  const id = `r${at}`;
  const setup = resolve({ ...demoDocument(), slate: { ...demoDocument().slate, scene, note: scene } });
  return recordOf(setup, { id, time: `2031-05-04T18:${String(at).padStart(2, "0")}:00+02:00`, zone: "Europe/Brussels" });
};
/** A log whose scenes and notes are called so. */
export const LOG = logTable(amended(NAMES.map(asScene)));
