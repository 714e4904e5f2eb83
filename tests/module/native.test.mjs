// The same requests natively, in the shipped module and in one compiled without
// vector instructions: the same numbers.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { copyFile, readFile, readdir } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { test } from "node:test";
import * as glass from "../../dist/api/glasscall.js";

const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const PACK = fileURLToPath(new URL("../../target/tool/glasscall-pack", import.meta.url));

/** All mathematics is libm's and in f64, so that nothing is left to differ. */
const ULPS = 0;

/** Steps of the last place between two numbers. */
function ulps(a, b) {
  if (Object.is(a, b) || a === b) return 0;
  const order = (value) => {
    const bits = new BigInt64Array(new Float64Array([value]).buffer)[0];
    return bits < 0n ? -(bits & 0x7fffffffffffffffn) : bits;
  };
  const apart = order(a) - order(b);
  return Number(apart < 0n ? -apart : apart);
}

function compare(where, ours, native) {
  if (typeof native === "number") {
    const apart = ulps(ours, native);
    assert.ok(apart <= ULPS, `${where}: ${ours} and ${native} are ${apart} ulps apart`);
    return 1;
  }
  if (native === null || typeof native !== "object") {
    // A map's NaN is null in JSON.
    assert.ok(Object.is(ours, native) || (native === null && Number.isNaN(ours)), `${where}: ${ours} and ${native}`);
    return 0;
  }
  const names = Object.keys(native);
  assert.deepEqual(Object.keys(ours).sort(), names.sort(), where);
  return names.reduce((sum, name) => sum + compare(`${where}.${name}`, ours[name], native[name]), 0);
}

/** The same source compiled to do one number at a time; a minute's work. */
async function withoutVectors() {
  const folder = new URL("../output/scalar/", import.meta.url);
  const built = spawnSync(PACK, ["scalar", fileURLToPath(folder)], { cwd: ROOT, encoding: "utf8" });
  assert.equal(built.status, 0, built.stderr);
  for (const file of ["glasscall.js", "bytes.js", "version.js"]) {
    await copyFile(new URL(`../../dist/api/${file}`, import.meta.url), new URL(file, folder));
  }
  const [vectors, scalar] = await Promise.all([new URL("../../dist/api/", import.meta.url), folder].map((from) => readFile(new URL("glasscall.wasm", from))));
  assert.ok(!vectors.equals(scalar), "both modules are the same");
  return import(new URL("glasscall.js", folder).href);
}

/** The two halves as the page joins them. */
async function joined() {
  // Its own copy: the whole module stands in the other.
  const halves = await import(`../../dist/api/engine.js?halves`);
  const bytes = (name) => readFile(new URL(`../../dist/engine/${name}.wasm`, import.meta.url));
  await halves.default({ module_or_path: await bytes("first") });
  assert.throws(() => halves.frameMap({}), TypeError, "the first half holds what is the second's");
  await halves.join(await bytes("rest"));
  return halves;
}

async function requests() {
  const asked = [];
  const reference = new URL("../reference/", import.meta.url);
  for (const file of (await readdir(reference)).filter((name) => name.endsWith(".json"))) {
    const { function: name, cases = [] } = JSON.parse(await readFile(new URL(file, reference), "utf8"));
    if (typeof name === "string") asked.push(...cases.map(({ request }) => ({ function: name, request })));
  }
  const seeds = new URL("../fuzz/corpus/request/", import.meta.url);
  for (const file of (await readdir(seeds)).filter((name) => name.endsWith(".json"))) {
    asked.push(JSON.parse(await readFile(new URL(file, seeds), "utf8")));
  }
  return asked;
}

/** What each request comes to natively: a reply or the field refused. */
function natively(asked) {
  const { stdout, status, stderr } = spawnSync("cargo", ["run", "--quiet", "--locked", "--package", "glasscall-tests", "--example", "replies"], {
    cwd: ROOT,
    input: asked.map((one) => JSON.stringify(one)).join("\n"),
    encoding: "utf8",
    maxBuffer: 1 << 28,
  });
  assert.equal(status, 0, stderr);
  const answers = stdout.trim().split("\n").map((line) => JSON.parse(line));
  assert.equal(answers.length, asked.length);
  return answers;
}

/** Arrays that stand beside a request; natively they are one field more. */
const BESIDE = { paintFrame: ["stops", Float32Array], readCode: ["pixels", Uint8ClampedArray] };

/** Asks a module. */
function ask(module, name, request) {
  if (!(name in BESIDE)) return module[name](request);
  const [field, kind] = BESIDE[name];
  const { [field]: numbers, ...plain } = request;
  return module[name](plain, kind.from(numbers, (number) => number ?? NaN));
}

/** Numbers in which a module agrees with what came out natively. */
function agreed(module, asked, answers) {
  let numbers = 0;
  asked.forEach(({ function: name, request }, at) => {
    const { reply, refused } = answers[at];
    let ours;
    try {
      ours = ask(module, name, request);
    } catch (error) {
      assert.equal(error.name, "Refusal", `${name}: ${error.message}`);
      assert.equal(reply, undefined, `${name} ${JSON.stringify(request)} is refused here only`);
      if (refused !== undefined) assert.equal(error.field, refused);
      return;
    }
    if (ArrayBuffer.isView(ours)) {
      const single = reply.map((value) => (value === null ? null : Math.fround(value)));
      numbers += compare(name, [...ours], single);
    } else {
      numbers += compare(name, ours, reply);
    }
  });
  return numbers;
}

test("native and WebAssembly agree to the last bit, with and without vectors, whole and in halves", async () => {
  const asked = await requests();
  const answers = natively(asked);
  const [scalar, halves] = [await withoutVectors(), await joined()];
  const [here, ...there] = [glass, scalar, halves].map((module) => agreed(module, asked, answers));
  assert.deepEqual(there, [here, here]);
  assert.ok(asked.length > 500 && here > 5000, `${asked.length} requests, ${here} numbers`);

  // A whole picture of each map, where the vectors are: every bit of it.
  let pixels = 0;
  for (const { request } of asked.filter((one) => one.function === "frameMap")) {
    const large = { ...request, columns: 97, rows: 61 };
    let maps;
    try {
      maps = [glass, scalar, halves].map((module) => module.frameMap(large));
    } catch (error) {
      assert.equal(error.name, "Refusal", error.message);
      continue;
    }
    const [ours, ...theirs] = maps.map((map) => new Uint32Array(map.buffer, map.byteOffset, map.length));
    assert.deepEqual(theirs, [ours, ours]);
    const paint = {
      columns: 97, rows: 61, shape: 97 / 61, horizonAtFrameHeight: 0.45, skyStops: 3, exposedStops: 3,
      colours: { sky: "#8fb4d8", ground: "#8a8172", line: "#ffffff" },
    };
    const painted = [glass, scalar, halves].map((module) => [...module.paintFrame(paint, maps[0])]);
    assert.deepEqual(painted.slice(1), [painted[0], painted[0]]);
    pixels += ours.length;
  }
  assert.ok(pixels > 10_000, `${pixels} pixels`);
});
