// The same requests natively and in WebAssembly: the same numbers.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { readFile, readdir } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { test } from "node:test";
import * as glass from "../../dist/api/glasscall.js";

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

test("native and WebAssembly agree to the last bit", async () => {
  const asked = await requests();
  const { stdout, status, stderr } = spawnSync("cargo", ["run", "--quiet", "--locked", "--package", "glasscall-tests", "--example", "replies"], {
    cwd: fileURLToPath(new URL("../..", import.meta.url)),
    input: asked.map((one) => JSON.stringify(one)).join("\n"),
    encoding: "utf8",
    maxBuffer: 1 << 28,
  });
  assert.equal(status, 0, stderr);
  const answers = stdout.trim().split("\n").map((line) => JSON.parse(line));
  assert.equal(answers.length, asked.length);
  let numbers = 0;
  asked.forEach(({ function: name, request }, at) => {
    const { reply, refused } = answers[at];
    let ours;
    try {
      ours = glass[name](request);
    } catch (error) {
      assert.equal(error.name, "Refusal", `${name}: ${error.message}`);
      assert.equal(reply, undefined, `${name} ${JSON.stringify(request)} is refused here only`);
      if (refused !== undefined) assert.equal(error.field, refused);
      return;
    }
    if (ours instanceof Float32Array) {
      const single = reply.map((value) => (value === null ? null : Math.fround(value)));
      numbers += compare(name, [...ours], single);
    } else {
      numbers += compare(name, ours, reply);
    }
  });
  assert.ok(asked.length > 500 && numbers > 5000, `${asked.length} requests, ${numbers} numbers`);
});
