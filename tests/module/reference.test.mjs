// The built module in Node against the outside values, case by case.
import assert from "node:assert/strict";
import { readFile, readdir } from "node:fs/promises";
import { test } from "node:test";
import * as glass from "../../dist/api/glasscall.js";

const folder = new URL("../reference/", import.meta.url);

/** Files that do not compare field by field; the Rust tests know how. */
const COMPARED_ELSEWHERE = ["open_up.json", "cover_kit.json"];

/** Compares what is expected; times within seconds, azimuths around the circle. */
function compare(where, found, wanted, tolerance, own = 0) {
  if (Array.isArray(wanted)) {
    assert.equal(found.length, wanted.length, where);
    wanted.forEach((item, at) => compare(`${where}[${at}]`, found[at], item, tolerance, own));
  } else if (typeof wanted === "object" && wanted !== null) {
    for (const [name, value] of Object.entries(wanted)) {
      compare(`${where}.${name}`, found[name], value, tolerance, tolerance[name] ?? own);
    }
  } else if (typeof wanted === "number") {
    let off = Math.abs(found - wanted);
    if (where.endsWith("azimuthDeg")) off = Math.min(off, 360 - off);
    assert.ok(off <= own, `${where} is ${found}, wanted ${wanted} within ${own}`);
  } else if (/^\d{4}-\d\d-\d\dT/.test(wanted)) {
    const off = Math.abs(Date.parse(found) - Date.parse(wanted)) / 1000;
    assert.ok(off <= own, `${where} is ${found}, wanted ${wanted} within ${own} s`);
  } else {
    assert.equal(found, wanted, where);
  }
}

for (const file of (await readdir(folder)).filter((name) => name.endsWith(".json"))) {
  const { function: name, cases } = JSON.parse(await readFile(new URL(file, folder), "utf8"));
  if (typeof name !== "string" || COMPARED_ELSEWHERE.includes(file)) continue;
  test(`${name} agrees with ${file}`, () => {
    assert.ok(cases.length > 0);
    cases.forEach(({ request, expect, tolerance }, at) => {
      compare(`${file} case ${at}`, glass[name](request), expect, tolerance);
    });
  });
}

test("the worked example: T16 to T2.8 is 0.9 and 0.6", () => {
  const settings = { exposureIndex: 800, frameRate: 24, shutterAngleDeg: 180 };
  const { needStops, stacks } = glass.openUp({
    reading: { aperture: 16, ...settings },
    shot: { aperture: 2.8, ...settings },
    kit: [0.3, 0.6, 0.9].map((density) => ({ id: String(density), kind: "nd", density })),
    rig: { slots: [{ id: "1" }, { id: "2" }] },
  });
  assert.equal(needStops, 5);
  assert.deepEqual(stacks[0].slots.map((placed) => placed.piece), ["0.9", "0.6"]);
  assert.equal(stacks[0].stops.toFixed(2), "4.98");
  assert.equal(stacks[0].leftOverStops.toFixed(2), "0.02");
  assert.equal(stacks[0].apertureLabel, "T2.8");
});

test("what people say is read", () => {
  const read = (text, as) => glass.readText({ text, as });
  for (const [text, as, label] of [
    ["T11 and two thirds", "aperture", "T11⅔"],
    ["2.8⅓", "aperture", "T2.8⅓"],
    ["5,6", "aperture", "T5.6"],
    ["2.8.1", "aperture", "T2.93"],
    ["2.9", "aperture", "T2.9"],
    ["point nine", "density", "0.9"],
    ["ND64", "density", "1.806"],
    ["1/64", "density", "1.806"],
    ["eleven and two-thirds", "aperture", "T11⅔"],
    ["1.2 ND", "density", "1.2"],
    ["12.5 %", "density", "0.903"],
    ["5 stops", "stops", "5 stops"],
    ["172.8", "shutter", "172.8°"],
    ["1/50", "shutter", "1/50 s"],
    ["4 in", "length", "101.6 mm"],
    ["2 o’clock", "angle", "60°"],
  ]) {
    assert.equal(read(text, as).label, label, text);
  }
  for (const [text, as] of [["ND2", "density"], ["1/8", "density"], ["0.02", "shutter"], ["half", "shutter"]]) {
    assert.throws(() => read(text, as), { name: "Refusal", code: "ambiguous" }, text);
  }
});
