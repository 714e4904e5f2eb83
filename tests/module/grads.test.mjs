// Several graduated filters at once: each has its line, and one is in hand.
import assert from "node:assert/strict";
import { readFile, readdir } from "node:fs/promises";
import { test } from "node:test";
import { ready } from "../../target/modules/engine/ask.js";
import { demoDocument } from "../../target/modules/document/demo.js";
import { pull, putIn, putOnRig } from "../../target/modules/document/edits.js";
import { pullGrad, putInGrad } from "../../target/modules/document/grad-edits.js";
import { renamePiece } from "../../target/modules/document/name-edits.js";
import { migrate } from "../../target/modules/document/migrate.js";
import { resolve } from "../../target/modules/document/resolve.js";
import { refusalOf } from "../../target/modules/questions/check.js";
import { readLink, writeLink } from "../../target/modules/hand-over/link.js";
import { documentFrom, partsInUse, partsToSend } from "../../target/modules/hand-over/offered-set-up.js";
import { actOf } from "../../target/modules/start/state.js";

await ready;

const change = (document, edit) => actOf(edit)(document);
const FIRST = { slot: "tray 1", piece: "0.9 hard" };
const SECOND = { slot: "tray 2", piece: "0.6 soft" };
const takeInHand = (document, id) => change(document, ({ frame }) => {
  frame.grad = id;
});

/** Two in the demo's matte box: the hard one low and turned, the soft one high. */
function two() {
  const first = change(putInGrad(demoDocument(), [FIRST], "0.9 hard", false, 0.4), ({ frame }) => {
    frame.rotationDeg = 12;
    frame.fromRimMm = 30;
  });
  return putInGrad(first, [FIRST, SECOND], "0.6 soft", true, 0.7);
}

const lineOf = (document) => {
  const { grad, line, rotationDeg, invert, fromRimMm } = resolve(document).frame;
  return [grad, line, rotationDeg, invert, fromRimMm];
};

test("each of two grads keeps its line, whichever is in hand", () => {
  const both = two();
  assert.equal(refusalOf(both), undefined);
  assert.deepEqual(resolve(both).inPlace, [FIRST, SECOND]);
  // Held like the one before, but two do not stand in one place.
  assert.deepEqual(lineOf(both), ["0.6 soft", 0.7, 12, true, undefined]);
  const low = takeInHand(both, "0.9 hard");
  assert.deepEqual(lineOf(low), ["0.9 hard", 0.4, 12, false, 30]);
  const slid = change(low, ({ frame }) => {
    frame.line = 0.3;
  });
  assert.deepEqual(lineOf(takeInHand(slid, "0.6 soft")), ["0.6 soft", 0.7, 12, true, undefined]);
  assert.deepEqual(lineOf(takeInHand(takeInHand(slid, "0.6 soft"), "0.9 hard")), ["0.9 hard", 0.3, 12, false, 30]);
});

test("what is pulled leaves the other in hand with its own line", () => {
  for (const left of [pullGrad(two()), pull(two(), "0.6 soft"), putIn(two(), [FIRST])]) {
    assert.deepEqual(lineOf(left), ["0.9 hard", 0.4, 12, false, 30]);
    assert.equal(left.frame.lines, undefined);
    assert.equal(resolve(pullGrad(left)).frame.grad, "");
  }
  // Another in its slot is held like it, and the second one stays.
  const swapped = putInGrad(two(), [FIRST, { slot: "tray 2", piece: "0.9 soft" }], "0.9 soft", true, 0.7);
  assert.deepEqual(lineOf(swapped), ["0.9 soft", 0.7, 12, true, undefined]);
  assert.deepEqual(swapped.frame.lines.map(({ piece }) => piece), ["0.9 hard"]);
  assert.equal(swapped.keep.includes("0.6 soft"), false);
  assert.ok(swapped.keep.includes("0.9 hard"));
});

test("another rig and back, and another name, lose no line", () => {
  const away = putOnRig(two(), "screw-in");
  const tried = change(away, ({ frame }) => {
    frame.skyline = 0.2;
  });
  assert.deepEqual(lineOf(putOnRig(tried, "matte box")), ["0.6 soft", 0.7, 12, true, undefined]);
  const named = renamePiece(two(), "0.9 hard", "the old one");
  assert.deepEqual(lineOf(takeInHand(named, "the old one")), ["the old one", 0.4, 12, false, 30]);
});

test("a link and a code bring each line, and a set-up of two fits into a link", async () => {
  const both = two();
  for (const parts of [partsToSend(both), partsInUse(both)]) {
    const brought = await documentFrom(await writeLink(parts));
    assert.deepEqual(lineOf(brought), lineOf(both));
    assert.deepEqual(brought.frame.lines, both.frame.lines);
  }
  const link = await writeLink(partsToSend(both));
  assert.ok(link.length <= 300, `${link.length} characters`);
  assert.deepEqual((await readLink(link)).frame.lines, both.frame.lines);
});

test("what was kept with one line for all reads as it did", async () => {
  const folder = new URL("../fixtures/saved/", import.meta.url);
  for (const name of await readdir(folder)) {
    const { setup: kept } = JSON.parse(await readFile(new URL(name, folder), "utf8"));
    const { frame } = migrate(kept);
    assert.equal("lines" in frame, false, name);
    if (kept.frame) assert.deepEqual([frame.line, frame.rotationDeg, frame.invert], [kept.frame.line, kept.frame.rotationDeg, kept.frame.invert], name);
  }
  // Two in of which the first was looked through: its line is said, the other's is not.
  const { lines: _, ...frame } = takeInHand(two(), "0.9 hard").frame;
  const older = migrate(JSON.parse(JSON.stringify({ ...two(), frame })));
  assert.deepEqual(lineOf(older), ["0.9 hard", 0.4, 12, false, 30]);
  assert.equal(older.frame.lines, undefined);
});

test("a line that is none is refused, and one of a filter that is in no rig forgotten", () => {
  const both = two();
  const kept = (lines) => ({ ...both, frame: { ...both.frame, lines } });
  for (const lines of [[{ piece: "0.9 hard", line: "low", rotationDeg: 0, invert: false }], [0.4], { "0.9 hard": 0.4 }]) {
    assert.equal(refusalOf(kept(lines))?.field, "frame", JSON.stringify(lines));
  }
  const stray = migrate(kept([...both.frame.lines, { piece: "0.9 soft", line: 0.1, rotationDeg: 0, invert: false }]));
  assert.deepEqual(stray, both);
});
