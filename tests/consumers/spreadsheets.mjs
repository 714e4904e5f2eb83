// A case and a log as tables, opened and saved again by real programs:
// `node tests/consumers/spreadsheets.mjs` prints what came back.
//
// LibreOffice is Debian's package `libreoffice-calc-nogui`, and is left out where
// it is not installed; pandas comes from PyPI into a folder beside this script.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { mkdir, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createRequire } from "node:module";
import { python, run } from "./folder.mjs";
import { readCase, writeCase } from "../../target/modules/api/glasscall.js";
import { csv } from "../../target/modules/day/markup.js";
import { CASE, LOG, inFifteenDigits } from "../module/for-spreadsheets.mjs";

const { parse } = createRequire(new URL("../", import.meta.url))("csv-parse/sync");
const PANDAS = "3.1.1";
const CASE_TABLE = writeCase({ case: CASE, as: "csv" }).text;
const LOG_TABLE = csv(LOG);
const folder = await mkdtemp(join(tmpdir(), "glasscall-sheets-"));
let failed = 0;

/** @param {string} program @param {string} what @param {() => void} check */
function tell(program, what, check) {
  let result = "the same";
  try {
    check();
  } catch (fault) {
    failed += 1;
    result = `no: ${String(/** @type {Error} */ (fault).message).replaceAll("\n", " ").slice(0, 400)}`;
  }
  console.log(`| ${program} | ${what} | ${result} |`);
}

/** @param {string} text */
const sameCase = (text) => assert.deepEqual(inFifteenDigits(readCase({ text }).case), inFifteenDigits(CASE));

/** The log's cells, a number by its value, a text without the sign that keeps it one. @param {string} text @param {string} separator @param {boolean} comma */
function cellsOf(text, separator, comma) {
  const plain = (/** @type {string} */ cell) => {
    const number = comma ? cell.replace(",", ".") : cell;
    return cell !== "" && Number.isFinite(Number(number)) ? Number(number) : cell.replace(/^'/, "").replaceAll("\r\n", "\n");
  };
  return parse(text, { bom: true, delimiter: separator, relax_column_count: false }).map((row) => row.map(plain));
}
const WRITTEN = cellsOf(LOG_TABLE, ",", false);
/** @param {string} text @param {string} separator @param {boolean} comma */
const sameLog = (text, separator, comma) => assert.deepEqual(cellsOf(text, separator, comma), WRITTEN);

// As the filter names them: separator, quote, UTF-8, first row, no formats, the
// country, texts quoted, numbers of every look taken for numbers, cells as shown.
const CSV_FILTER = "Text - txt - csv (StarCalc)";
const [ENGLISH, GERMAN] = ["2057", "1031"];
/** Name, separator as a sign's number, country, all texts quoted, whether the decimal sign is a comma. @type {[string, string, string, string, boolean][]} */
const SAVED = [
  ["comma, point", ",", ENGLISH, "false", false],
  ["comma, point, every text quoted", ",", ENGLISH, "true", false],
  ["semicolon, decimal comma", ";", GERMAN, "false", true],
  ["semicolon, decimal comma, every text quoted", ";", GERMAN, "true", true],
  ["tab, point", "\t", ENGLISH, "false", false],
  ["tab, decimal comma", "\t", GERMAN, "false", true],
];

/** @param {string[]} from @param {string} to @param {string} kind @param {string} [opened] */
function convert(from, to, kind, opened) {
  const profile = `-env:UserInstallation=file://${join(folder, "profile")}`;
  const told = spawnSync("soffice", [profile, "--headless", ...(opened ? [`--infilter=${CSV_FILTER}:${opened}`] : []), "--convert-to", kind, "--outdir", to, ...from], { encoding: "utf8" });
  if (told.error || told.status !== 0) throw new Error(`soffice: ${told.error ?? told.stderr}`);
}

async function libreoffice() {
  const version = spawnSync("soffice", ["--version"], { encoding: "utf8" }).stdout.split(" ").slice(0, 2).join(" ");
  for (const [looks, special] of [["only numbers looked for", "false"], ["days, times and shares looked for too", "true"]]) {
    const at = join(folder, special);
    const files = (/** @type {string} */ kind) => ["case", "log"].map((name) => join(at, `${name}.${kind}`));
    await mkdir(at);
    await writeFile(files("csv")[0], CASE_TABLE);
    await writeFile(files("csv")[1], LOG_TABLE);
    convert(files("csv"), at, "fods", `44,34,76,1,,${ENGLISH},false,${special}`);
    for (const file of files("fods")) {
      const sheet = await readFile(file, "utf8");
      tell(version, `opened, ${looks}: no cell of the ${file.includes("case") ? "case" : "log"} is worked out`, () => assert.ok(!sheet.includes("table:formula=") && sheet.includes('office:value-type="float"')));
    }
    for (const [nth, [how, separator, country, quoted, comma]] of SAVED.entries()) {
      const out = join(at, String(nth));
      convert(files("fods"), out, `csv:${CSV_FILTER}:${separator.charCodeAt(0)},34,76,1,,${country},${quoted},false,true`);
      const [savedCase, savedLog] = await Promise.all(["case.csv", "log.csv"].map((name) => readFile(join(out, name), "utf8")));
      tell(version, `the case opened, ${looks}; saved: ${how}`, () => sameCase(savedCase));
      tell(version, `the log opened, ${looks}; saved: ${how}`, () => sameLog(savedLog, separator, comma));
    }
  }
}

/** What is done to a table, as an expression over `read`, which reads it. */
const WAYS = /** @type {[string, string, string, boolean][]} */ ([
  ["read and written", "read().to_csv(index=False)", ",", false],
  ["columns as texts", "read(dtype=str, keep_default_na=False).to_csv(index=False)", ",", false],
  ["CRLF and a mark of the byte order", "'\\ufeff' + read().to_csv(index=False, lineterminator='\\r\\n')", ",", false],
  ["semicolon and decimal comma", "read().to_csv(index=False, sep=';', decimal=',')", ";", true],
  ["tab", "read().to_csv(index=False, sep='\\t')", "\t", false],
  ["every text quoted", "read().to_csv(index=False, quoting=2)", ",", false],
]);

async function pandas() {
  const program = python(`pandas==${PANDAS}`);
  for (const [name, text] of [["case", CASE_TABLE], ["log", LOG_TABLE]]) {
    const source = join(folder, `${name}.csv`);
    await writeFile(source, text);
    for (const [how, made, separator, comma] of WAYS) {
      const script = `import sys, pandas\nread = lambda **more: pandas.read_csv(sys.argv[1], **more)\nsys.stdout.reconfigure(encoding="utf-8", newline="")\nsys.stdout.write(${made})`;
      const saved = run(program, ["-c", script, source], folder);
      tell(`pandas ${PANDAS}`, `the ${name}: ${how}`, () => name === "case" ? sameCase(saved) : sameLog(saved, separator, comma));
    }
  }
}

console.log("| program | what was done | what came back |\n|---|---|---|");
if (spawnSync("soffice", ["--version"]).error) console.log("| LibreOffice | | not installed: apt-get install --no-install-recommends libreoffice-calc-nogui |");
else await libreoffice();
await pandas();
await rm(folder, { recursive: true });
process.exitCode = failed ? 1 : 0;
