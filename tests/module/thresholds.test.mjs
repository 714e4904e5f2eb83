// What the page takes where nobody says is what the core takes: no threshold stands twice with two values.
import assert from "node:assert/strict";
import { test } from "node:test";
import { SOFT_RAMP_MM } from "../../target/modules/document/frame.js";
import { line } from "../../target/modules/api/glasscall.js";

test("the soft edge that the page names is the one the core advises about", () => {
  const told = (edges) => line({
    sensor: { widthMm: 25, heightMm: 14 }, focalLengthMm: 35, fNumber: 2.8, pupilBehindRimMm: 30, distanceFromRimMm: 40,
    profile: { kind: "hard", density: 0.9 }, lineAtFrameHeight: 0.6, heights: [0.5], edges: { skylineOfFrame: 0.1, ...edges },
  }).edge.soft;
  assert.deepEqual(told({}), told({ softRampMm: SOFT_RAMP_MM }));
  assert.notDeepEqual(told({}), told({ softRampMm: SOFT_RAMP_MM + 1 }));
});
