// Whatever JavaScript hands over, the module refuses it or answers, soon, and
// answers the next question as before.
import assert from "node:assert/strict";
import { test } from "node:test";
import * as glass from "../../dist/api/glasscall.js";

/** A refusal of something foolish takes no longer, on a busy machine too. */
const SOON_MS = 1000;
const TIMES = 3000;

const MAP = { sensor: { widthMm: 24, heightMm: 18 }, focalLengthMm: 35, fNumber: 2.8, pupilBehindRimMm: 40, columns: 4, rows: 3 };
const PAINT = {
  columns: 4, rows: 3, shape: 4 / 3, horizonAtFrameHeight: 0.5, skyStops: 3, exposedStops: 0,
  colours: { sky: "#88aacc", ground: "#888877", line: "#ffffff" },
};
const SETTINGS = { aperture: 16, exposureIndex: 800, frameRate: 24, shutterAngleDeg: 180 };
const openUp = (kit) => glass.openUp({ reading: SETTINGS, shot: { ...SETTINGS, aperture: 2.8 }, kit, rig: { slots: [{ id: "1" }] } });

function sound() {
  assert.equal(glass.convertDensity({ density: 0.3 }).density, 0.3);
  const map = glass.frameMap(MAP);
  assert.equal(map.length, 12);
  assert.equal(glass.paintFrame(PAINT, map).length, 48);
  assert.deepEqual(glass.readCode({ columns: 1, rows: 1 }, new Uint8ClampedArray(4)).texts, []);
  assert.equal(openUp([{ id: "a", kind: "nd", density: 0.9 }]).needStops, 5);
}

/** What a call is refused with. */
function refusal(call) {
  const began = performance.now();
  try {
    call();
  } catch (error) {
    assert.equal(error.name, "Refusal", `${error.name}: ${error.message}`);
    assert.ok(performance.now() - began < SOON_MS, `took ${performance.now() - began} ms`);
    return error;
  }
  return assert.fail("it answered");
}

const thrower = { get density() { throw new Error("a getter of the caller's"); } };
const proxied = new Proxy({}, { ownKeys() { throw new Error("a trap of the caller's"); } });
const revoked = Proxy.revocable([], {});
revoked.revoke();
const lying = new Proxy([], { get: (list, name) => { if (name === "length") return 3; throw new Error(String(name)); } });
const faked = Object.setPrototypeOf(new DataView(new ArrayBuffer(48)), Float32Array.prototype);
const long = Object.defineProperty(new Float32Array(12), "length", { get() { throw new Error("no length"); } });

const FOOLISH = [
  ["a map to paint is missing", () => glass.paintFrame(PAINT), "wrongType", "stops"],
  ["a map to paint is a list", () => glass.paintFrame(PAINT, [1, 2, 3]), "wrongType", "stops"],
  ["a map to write into only looks like one", () => glass.frameMap(MAP, { length: 12 }), "wrongType", "into"],
  ["an array of floats is none", () => glass.paintFrame(PAINT, faked), "wrongType", "stops"],
  ["an array of floats throws", () => glass.paintFrame(PAINT, long), "wrongType", "stops"],
  ["an array of floats is a proxy", () => glass.paintFrame(PAINT, new Proxy(new Float32Array(12), {})), "wrongType", "stops"],
  ["a picture to paint into is none", () => glass.paintFrame(PAINT, new Float32Array(12), new Uint8Array(48)), "wrongType", "into"],
  ["a picture is missing", () => glass.readCode({ columns: 1, rows: 1 }), "wrongType", "pixels"],
  ["there is no request", () => glass.openUp(), "wrongType", ""],
  ["a request is a number that is none", () => glass.sun(NaN), "wrongType", ""],
  ["a request is a function", () => glass.sun(() => 1), "wrongType", ""],
  ["a request is a symbol", () => glass.sun(Symbol("sun")), "wrongType", ""],
  ["a number is large beyond numbers", () => glass.convertDensity({ density: 3n }), "wrongType", "density"],
  ["a getter throws", () => glass.convertDensity(thrower), "wrongType", "density"],
  ["a getter throws further in", () => openUp([thrower]), "wrongType", "kit[0].density"],
  ["a proxy throws", () => glass.sizes(proxied), "wrongType", ""],
  ["a proxy is revoked", () => openUp(revoked.proxy), "wrongType", "kit"],
  ["a list lies about itself", () => openUp(lying), "wrongType", "kit[0]"],
  ["a list is an array of numbers", () => openUp(new Float64Array(1e6)), "wrongType", "kit"],
  ["a list is sparse", () => openUp(new Array(5)), "wrongType", "kit[0]"],
];

for (const [what, call, code, field] of FOOLISH) {
  test(`refused: ${what}`, () => {
    const { code: found, field: where } = refusal(call);
    assert.deepEqual([found, where], [code, field]);
    sound();
  });
}

test("thousands of exceptions leave nothing behind", () => {
  for (let time = 0; time < TIMES; time += 1) {
    refusal(() => glass.convertDensity(thrower));
    refusal(() => glass.paintFrame(PAINT));
    refusal(() => openUp(lying));
  }
  sound();
});

test("too much is refused before it is read", () => {
  const piece = { id: "a", kind: "nd", density: 0.3 };
  let bomb = piece;
  for (let level = 0; level < 6; level += 1) bomb = Array(30).fill(bomb);
  for (const kit of [Array(1e6).fill(piece), new Array(1e7), Array(1e7).fill(0), new Array(1e8)]) {
    const { code, field, given, max } = refusal(() => openUp(kit));
    assert.deepEqual([code, field, given], ["tooMany", "kit", kit.length]);
    assert.ok(max < given);
  }
  const { code } = refusal(() => openUp(bomb));
  assert.ok(["tooMany", "tooDeep"].includes(code), code);
  assert.equal(refusal(() => glass.readText({ text: "9".repeat(5e7), as: "number" })).code, "tooMany");
  sound();
});

test("a getter that asks the module itself is answered", () => {
  const request = { get density() { return glass.frameMap(MAP).length / 10; } };
  assert.equal(glass.convertDensity(request).density, 1.2);
});

test("a wrong word is answered with the words that would do", () => {
  const error = refusal(() => openUp([{ id: "a", kind: "ndd", density: 0.3 }]));
  assert.deepEqual([error.code, error.field, error.given], ["wrongType", "kit[0].kind", "ndd"]);
  assert.ok(error.words.includes("nd") && error.words.includes("polarizer"));
  assert.match(error.message, /^kit\[0\]\.kind: wrongType, given “ndd”, needs one of nd, grad, /);
});
