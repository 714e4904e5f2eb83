// The slate after this one.
import assert from "node:assert/strict";
import { test } from "node:test";
import { nextSlate } from "../../target/modules/document/slate.js";

test("the last figure counts up, or the letter behind it", () => {
  for (const [take, next] of [["1", "2"], ["08", "09"], ["99", "100"], ["14A", "14B"], ["14 / 3", "14 / 4"], ["B12", "B13"], ["", ""], ["pick-up", "pick-up"], ["7z", "7z"]]) {
    assert.equal(nextSlate(take), next, take);
  }
});
