// A case as a table, through what spreadsheets and data programs do to it.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { parse } from "csv-parse/sync";
import { readCase, writeCase } from "../../target/modules/api/glasscall.js";
import { CASE as kept, inFifteenDigits } from "./for-spreadsheets.mjs";

const table = writeCase({ case: kept, as: "csv" }).text;
const backAs = (text) => readCase({ text }).case;

/** Days, times, shares and prices as LibreOffice 7.4 takes them, of several countries. */
const TAKEN = /^\d+[/:-]\d+|^\d+ ?%$|^\d+ (?:May|[AP]M|€)|^\(\d|^[$€£¥]\d|^Mon \d|^\d+ [ap]m$|^\d+\.\d+\.\d+$/i;

/**
 * What a spreadsheet does to a table without being asked, as seen in LibreOffice
 * 7.4: quotes go where they need not stand, or all but numbers get them, numbers and
 * yes and no are written anew. A cell it would take for anything else must be
 * marked. `node tests/consumers/spreadsheets.mjs` asks the program itself.
 */
function savedAgain(text, separator, comma, quotes = false) {
  const rows = parse(text).map((row) => row.map((cell) => {
    if (/^(true|false)$/i.test(cell)) return cell.toUpperCase();
    assert.doesNotMatch(cell, /^\s*[=+\-@]/, "would be worked out");
    assert.doesNotMatch(cell, TAKEN, "would be a day, a time, a share or a price");
    if (cell === "" || !Number.isFinite(Number(cell))) return cell;
    const number = String(inFifteenDigits(Number(cell)));
    return comma ? number.replace(".", ",") : number;
  }));
  const isNumber = (cell) => cell !== "" && Number.isFinite(Number(cell.replace(",", ".")));
  const quoted = (cell) => ((quotes && !isNumber(cell)) || cell.includes(separator) || /["\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);
  return rows.map((row) => `${row.map(quoted).join(separator)}\n`).join("");
}

test("a case comes back from spreadsheets of several countries as it was", () => {
  assert.deepEqual(backAs(table), kept);
  assert.deepEqual(backAs(`\ufeff${table}`), kept, "with a mark of the byte order");
  for (const [separator, comma] of [[",", false], [";", false], [";", true], ["\t", false], ["\t", true]]) {
    for (const quotes of [false, true]) {
      assert.deepEqual(inFifteenDigits(backAs(savedAgain(table, separator, comma, quotes))), inFifteenDigits(kept), `${JSON.stringify(separator)} ${comma} ${quotes}`);
    }
  }
  assert.deepEqual(backAs(table.replaceAll("false", "False")), kept, "as Python writes it");
  assert.deepEqual(backAs(table.replaceAll("false", "FALSCH")), kept, "as German programs write it");
  assert.deepEqual(backAs(`${table}${",".repeat(table.split("\r\n")[0].split(",").length - 1)}\r\n`), kept, "with an empty row");
});

test("every text that the schema leaves free is a text, whatever it looks like and wherever quotes stand", async () => {
  const schema = JSON.parse(await readFile(new URL("../../www/case.schema.json", import.meta.url), "utf8"));
  const columns = new Set();
  const walk = (path, { properties }) => {
    for (const [name, { $ref, type, enum: words }] of Object.entries(properties)) {
      if ($ref) walk(`${path}${name}.`, schema.$defs[$ref.split("/").pop()]);
      else if (type === "string" && !words) columns.add(path + name);
    }
  };
  for (const { items } of Object.values(schema.properties).filter(({ type }) => type === "array")) walk("", schema.$defs[items.$ref.split("/").pop()]);
  assert.ok(columns.size >= 7);
  // A number there is refused as no text where the reader does not know the column for one.
  for (const column of columns) {
    for (const cell of ["0.9", '"0.9"']) {
      const refused = (() => {
        try {
          readCase({ text: `list,${column}\r\npieces,${cell}\r\n` });
        } catch (refusal) {
          return refusal.code;
        }
        return "";
      })();
      assert.notEqual(refused, "wrongType", `${column} ${cell}`);
    }
  }
});

test("a name is kept as it is typed, marked or not", () => {
  const rows = parse(table).slice(1);
  const cell = (id) => rows.find((row) => row[1].replace(/^'/, "") === id)[1];
  assert.equal(cell("0.9"), "0.9");
  assert.equal(cell("1/8"), "'1/8");
  assert.equal(cell("=1+1"), "'=1+1");
});
