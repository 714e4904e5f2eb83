/** What stays in the box for a list once the rest of it is in the case. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { without } from "../../target/modules/screens/case/list-entries.js";

/** @param {string} text @param {string[]} taken what went into the case */
const left = (text, ...taken) => without(text, taken.map((part) => ({ from: text.indexOf(part), to: text.indexOf(part) + part.length })));

test("signs that stood between what went into the case go with it", () => {
  const text = "4x4: 0.3 0.6, pola; 25 T1.9 82; 24–70 T2.8 82; 100 what";
  assert.equal(left(text, "0.3", "0.6", "pola", "25 T1.9 82", "24–70 T2.8 82"), "4x4: 100 what");
  assert.equal(left(text, "0.3", "pola", "24–70 T2.8 82"), "4x4: 0.6; 25 T1.9 82; 100 what");
  assert.equal(left(text, "0.3", "0.6", "pola", "25 T1.9 82", "24–70 T2.8 82", "100 what"), "");
  assert.equal(left("what; 0.3; 0.6\n0.9", "0.3", "0.6"), "what\n0.9");
});
