// Every example of web/API.md runs and gives what stands beside it; every function has one.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import * as glass from "../../dist/api/glasscall.js";

const page = await readFile(new URL("../../web/API.md", import.meta.url), "utf8");
const FENCE = "`".repeat(3);
/** Heading above each example, and its lines. */
const examples = page.split(new RegExp(`^(?=#{2,3} )`, "m")).flatMap((part) =>
  part.split(`${FENCE}js\n`).slice(1).map((code) => ({ name: part.match(/^#+ (.*)/m)[1], code: code.split(FENCE)[0] })));

/** Numbers to the digits shown, whatever is around them. */
function agrees(found, shown) {
  if (typeof shown === "number") {
    return typeof found === "number" && Math.abs(found - shown) <= Math.abs(shown) * 5e-5 + 1e-12;
  }
  if (typeof shown !== "object" || shown === null) return Object.is(found, shown);
  const keys = Object.keys(shown);
  return found !== null && typeof found === "object" && keys.length === Object.keys(found).length
    && keys.every((key) => agrees(found[key], shown[key]));
}

for (const { name, code } of examples) {
  test(`API.md: ${name}`, () => {
    const told = [];
    const script = code.replace(/^(\S.*); \/\/ (.*)$/gm, (_, expression, value) => `tell(${JSON.stringify(expression)}, ${expression}, ${value});`);
    const tell = (expression, found, shown) => told.push({ expression, found, shown });
    new Function("glass", "tell", script)(glass, tell);
    assert.ok(told.length > 0, "an example that tells nothing");
    for (const { expression, found, shown } of told) {
      assert.ok(agrees(found, shown), `${expression} is ${JSON.stringify(found)}, ${JSON.stringify(shown)} is shown`);
    }
  });
}

test("every function has an example that calls it", () => {
  // What starts the engine is not a question.
  const functions = Object.keys(glass).filter((name) => typeof glass[name] === "function" && name !== "initSync");
  const without = functions.filter((name) => !examples.some((one) => one.name === name && one.code.includes(`glass.${name}(`)));
  assert.deepEqual(without, []);
  assert.ok(functions.length >= 44, `${functions.length} functions`);
});
