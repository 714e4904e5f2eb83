// A refusal names the field as the page knows it, whatever question it came from.
import assert from "node:assert/strict";
import { test } from "node:test";
import { pagePath, refusedOnPage } from "../../target/modules/questions/paths.js";

const PATHS = {
  case: "",
  pieces: "kit",
  "case.pieces": "kit",
  "openings[]": (at) => ["rig.slots[0].opening", "rig.always[0]"][at],
  "zoom.pupil": "lens.zoom",
  "zoom.pupil.*": "lens.zoom",
  "behind[0].thicknessMm": "behind.nowMm",
  "wheel[].thicknessMm": "behind.wheelMm",
  to: "ramp",
};

for (const [core, page] of [
  ["case.lenses[2].id", "lenses[2].id"],
  ["case.pieces[1].density", "kit[1].density"],
  ["pieces[1].density", "kit[1].density"],
  ["openings[1].widthMm", "rig.always[0].widthMm"],
  ["zoom.pupil", "lens.zoom"],
  ["zoom.pupil.verticalMm", "lens.zoom"],
  ["behind[0].thicknessMm", "behind.nowMm"],
  ["behind[1].thicknessMm", "behind[1].thicknessMm"],
  ["wheel[7].thicknessMm", "behind.wheelMm"],
  ["to.aperture", "ramp.aperture"],
  ["together", "together"],
]) {
  test(`${core} is ${page}`, () => assert.equal(pagePath(core, PATHS), page));
}

test("all of a question can stand in one place", () => {
  assert.equal(pagePath("rigs[0].mount", { "": "stock" }), "stock.rigs[0].mount");
  assert.equal(pagePath("reading.aperture", { "": "plan", "reading.aperture": "plan.brightestAperture" }), "plan.brightestAperture");
});

test("a refusal keeps what it says, and none stays none", () => {
  const refusal = { code: "outOfRange", field: "to.aperture", given: 0, min: 0.25, max: 1024 };
  assert.deepEqual(refusedOnPage(refusal, PATHS), { ...refusal, field: "ramp.aperture" });
  assert.equal(refusedOnPage(undefined, PATHS), undefined);
});
