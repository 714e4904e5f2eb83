// Numbered frames, cases of two phones, and what a hostile hand could send.
import assert from "node:assert/strict";
import { test } from "node:test";
import { deflateSync } from "node:zlib";
import { FrameCollector, writeFrames } from "../../target/modules/hand-over/code-series.js";
import { BadLink, readLink } from "../../target/modules/hand-over/link.js";
import { documentFrom } from "../../target/modules/hand-over/offered-set-up.js";
import { writeLink } from "../../target/modules/hand-over/link.js";
import { compared, mergedCase, settled } from "../../target/modules/hand-over/merge-case.js";
import { keyOf, stamped } from "../../target/modules/document/edited.js";
import { demoDocument } from "../../target/modules/document/demo.js";
import { readFile } from "node:fs/promises";

const packed = (text) => `1.${deflateSync(Buffer.from(text)).toString("base64url")}`;
const value = { case: { pieces: Array.from({ length: 60 }, (_, at) => ({ id: `piece ${at}`, kind: "nd", density: (at * 37 % 50) / 20 })) }, edited: {} };

test("frames are whole in any order, some twice", async () => {
  const frames = await writeFrames(value);
  assert.ok(frames.length > 1, "one frame proves nothing");
  const collector = new FrameCollector();
  const shuffled = [...frames].reverse();
  const seen = [...shuffled.slice(0, 1), ...shuffled.slice(0, -1)].map((frame) => collector.take(frame));
  assert.equal(seen[0].isNew, true);
  assert.equal(seen[1].isNew, false);
  assert.deepEqual(seen.at(-1).missing, [1]);
  const last = collector.take(frames[0]);
  assert.deepEqual(last.missing, []);
  assert.deepEqual(await collector.read(last.name), value);
  assert.equal(collector.take("0.9 and 0.6"), undefined);
});

test("a frame that contradicts another is refused, and the rest with it", async () => {
  const frames = await writeFrames(value);
  const collector = new FrameCollector();
  collector.take(frames[0]);
  const other = frames[0].replace(/.$/, (sign) => (sign === "A" ? "B" : "A"));
  assert.throws(() => collector.take(other), { code: "damaged" });
  assert.throws(() => collector.take("GC1:00000000:3/2:AAAA"), { code: "damaged" });
  assert.throws(() => collector.take("GC1:00000000:1/999:AAAA"), { code: "tooLong" });
  assert.throws(() => collector.take("GC2:00000000:1/1:AAAA"), { code: "version" });
  assert.throws(() => collector.take("GC1:what is this"), { code: "damaged" });
});

test("changed frames are noticed when the series is whole", async () => {
  const frames = await writeFrames(value);
  const collector = new FrameCollector();
  frames[1] = frames[1].replace(/.$/, (sign) => (sign === "A" ? "B" : "A"));
  const names = frames.map((frame) => collector.take(frame).name);
  await assert.rejects(collector.read(names[0]), { code: "damaged" });
});

test("a flood of series keeps a bounded few", () => {
  const collector = new FrameCollector();
  for (let at = 0; at < 5_000; at += 1) collector.take(`GC1:${at.toString(16).padStart(8, "0")}:1/400:AAAA`);
  assert.equal(collector.take("GC1:00000000:1/400:AAAA").isNew, true);
  assert.equal(collector.take(`GC1:${(4_999).toString(16).padStart(8, "0")}:1/400:AAAA`).isNew, false);
});

const HOSTILE = [
  ["nested deeper than any set-up", packed("[".repeat(30_000) + "]".repeat(30_000)), "tooDeep"],
  ["nested objects", packed('{"a":'.repeat(40) + "1" + "}".repeat(40)), "tooDeep"],
  ["the same key twice", packed('{"version":1,"version":2}'), "strange"],
  ["a key that reaches the prototype", packed('{"__proto__":{"version":1}}'), "strange"],
  ["a NUL in a text", packed(JSON.stringify({ note: "a\u0000b" })), "strange"],
  ["text that turns its direction", packed(JSON.stringify({ note: "0.9\u202e6.0" })), "strange"],
  ["an isolate in a key", packed(JSON.stringify({ "a\u2066b": 1 })), "strange"],
  ["a text longer than anybody writes", packed(JSON.stringify({ note: "x".repeat(5_000) })), "strange"],
  ["a number that no number is", packed('{"a":1e999}'), "strange"],
  ["bytes that are not UTF-8", `1.${deflateSync(Buffer.from([0x22, 0xff, 0xfe, 0x22])).toString("base64url")}`, "damaged"],
  ["a mark of the byte order", packed("\ufeff{}"), "damaged"],
  ["compressed a thousandfold", packed(" ".repeat(9_000_000)), "tooLong"],
  ["longer than any link", `1.${"A".repeat(50_000_000)}`, "tooLong"],
  ["no body", "1.", "damaged"],
  ["more bodies", "1.AAAA.AAAA", "damaged"],
  ["nothing", "", "version"],
];

test("what a hostile hand could send is refused with its reason, quickly", async () => {
  for (const [name, link, code] of HOSTILE) {
    const start = performance.now();
    await assert.rejects(readLink(link), (error) => error instanceof BadLink && error.code === code, name);
    assert.ok(performance.now() - start < 2_000, `${name} took ${performance.now() - start} ms`);
  }
});

test("a set-up with a part of the wrong make is refused whole", async () => {
  const wrong = [
    { frame: { move: 5 } }, { light: { timed: [{ time: "x", through: 7 }] } }, { kit: {} }, { kit: [null] }, { reading: null },
    { slate: { note: {} } }, { version: "1" }, { unsettled: 5 },
  ];
  const inFirst = [{ stock: { lenses: "all" } }, { plan: { setUps: 3 } }, { sensor: { widthMm: "big" } }, { rig: { slots: [7] } }];
  const inSecond = [{ lenses: "all" }, { days: [{ id: "day", setUps: 3 }] }, { bodies: [{ id: "A", modes: [{ id: "full", widthMm: "big" }] }] }, { rigs: [{ id: "r", slots: [7] }] }, { inUse: 5 }, { today: { lenses: { 50: { extender: "x" } } } }];
  const { setup: first } = JSON.parse(await readFile(new URL("../fixtures/saved/v1-all-screens.json", import.meta.url), "utf8"));
  const all = [...wrong, ...inFirst].map((part) => ({ ...first, ...part })).concat([...wrong, ...inSecond].map((part) => ({ ...demoDocument(), ...part })));
  for (const whole of all) await assert.rejects(documentFrom(await writeLink(whole)), { code: "damaged" }, JSON.stringify(whole).slice(0, 400));
  await documentFrom(await writeLink(first));

  for (const whole of [null, 5, "text", [], [[]]]) await assert.rejects(documentFrom(await writeLink(whole)), BadLink, JSON.stringify(whole));
});

const [old, late] = ["2031-05-04T10:00:00+02:00", "2031-05-04T12:00:00+02:00"];
const mine = { content: { pieces: [{ id: "A", kind: "nd", density: 0.9 }, { id: "B", kind: "nd", density: 0.6 }], rings: [] }, edited: { "pieces/A": old } };
const theirs = {
  content: { pieces: [{ density: 0.6, kind: "nd", id: "B" }, { id: "A", kind: "nd", density: 0.9, measuredDensity: 0.93 }, { id: "C", kind: "nd", density: 1.2 }], rings: [{ fromMm: 77, toMm: 82 }] },
  edited: { "pieces/A": late, "pieces/C": old },
};

test("two cases become one; what differs is kept apart and nothing is overwritten", () => {
  const before = JSON.stringify(mine);
  const { content, edited, added, same, conflicts } = mergedCase(mine, theirs);
  assert.deepEqual([added, same, conflicts.length], [2, 1, 1]);
  assert.deepEqual(content.pieces.map((piece) => piece.id), ["A", "B", "C"]);
  assert.equal(content.pieces[0].measuredDensity, undefined);
  assert.deepEqual([conflicts[0].list, conflicts[0].key, conflicts[0].edited], ["pieces", "A", late]);
  assert.equal(edited["pieces/C"], old);
  assert.equal(JSON.stringify(mine), before);
  assert.deepEqual(compared(mine.content.pieces[0], conflicts[0].theirs), [{ field: "measuredDensity", mine: undefined, theirs: 0.93 }]);
  const both = settled(content, conflicts[0], "both");
  assert.deepEqual(both.pieces.map((piece) => [piece.id, piece.measuredDensity]), [["A", undefined], ["B", undefined], ["C", undefined], ["A (2)", 0.93]]);
  const taken = settled(content, conflicts[0], "theirs");
  assert.deepEqual(taken.pieces.map((piece) => [piece.id, piece.measuredDensity]), [["A", 0.93], ["B", undefined], ["C", undefined]]);
  // Merged again, in either order, nothing more is new.
  assert.equal(mergedCase({ content, edited }, theirs).added, 0);
  assert.deepEqual(mergedCase(theirs, mine).added, 0);
});

test("a change stamps the records it touched and no others", () => {
  const after = { ...mine.content, pieces: [mine.content.pieces[0], { ...mine.content.pieces[1], density: 0.7 }] };
  assert.deepEqual(stamped(mine.content, after, mine.edited, late), { "pieces/A": old, "pieces/B": late });
  assert.equal(keyOf({ rig: "box", id: "tray 1", size: "4x4" }), "box · tray 1");
});

/** Unseen signs, by code point; the last is half of a pair. Unicode 16, DerivedCoreProperties and chapter 23. */
const UNSEEN = [
  0x200b, 0x200c, 0x200d, 0x200e, 0x2060, 0x2062, 0x00ad, 0x034f, 0x180e, 0x2028, 0x2029, 0x3164, 0x2800, 0xfe0f, 0xfff9, 0xe0041, 0x2067, 0x85, 0xd800,
].map((code) => String.fromCodePoint(code));

test("no unseen sign is read or written, and what is written is read", async () => {
  for (const sign of UNSEEN) {
    const name = `U+${sign.codePointAt(0).toString(16)}`;
    const setup = { kit: [{ id: `0.9${sign}` }] };
    await assert.rejects(writeLink(setup), { code: "unseen", about: `0.9${sign}` }, `${name} written`);
    await assert.rejects(writeFrames({ log: [{ slate: { note: `a${sign}b` } }] }), { code: "unseen" }, `${name} in frames`);
    // Half of a pair cannot even stand in UTF-8; JSON writes it out.
    await assert.rejects(readLink(packed(JSON.stringify(setup))), { code: "strange" }, `${name} read`);
  }
  // A flag of tags that Unicode does not list is a black flag and a hidden text.
  await assert.rejects(writeLink({ note: "\u{1f3f4}\u{e0061}\u{e0062}\u{e007f}" }), { code: "unseen" });
  await assert.rejects(writeLink({ note: "x".repeat(4_001) }), { code: "longText" });
});

test("signs that people type go through: pictures, joined letters, all lines and tabs", async () => {
  for (const text of ["sun \u2600\ufe0f out", "\u{1f469}\u{1f3fd}\u200d\u{1f692} on set", "take 1\ufe0f\u20e3", "flag \u{1f3f4}\u{e0067}\u{e0062}\u{e0077}\u{e006c}\u{e0073}\u{e007f}", "\u0645\u06cc\u200c\u062e\u0648\u0627\u0647\u0645", "two\nlines\tand a tab", "ütf ⅓ “so”", "x".repeat(4_000)]) {
    assert.deepEqual(await readLink(await writeLink({ note: text })), { note: text });
  }
});
