// The README's example runs as printed.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";

test("the README's example gives the worked answer", async () => {
  const readme = await readFile(new URL("../../README.md", import.meta.url), "utf8");
  const example = readme.match(/```js\n([\s\S]*?)```/)[1];
  const api = new URL("../../dist/api/glasscall.js", import.meta.url).href;
  const lines = [];
  const script = example
    .replace('"./api/glasscall.js"', JSON.stringify(api))
    .replace("console.log(", "globalThis.readmeSays(");
  globalThis.readmeSays = (...said) => lines.push(said);
  await import(`data:text/javascript,${encodeURIComponent(script)}`);
  const [[need, slots, label, left]] = lines;
  assert.equal(need, 5);
  assert.deepEqual(slots.map(({ slot, piece }) => [slot, piece]), [["tray 1", "A"], ["tray 2", "B"]]);
  assert.equal(label, "T2.8");
  assert.equal(left.toFixed(2), "0.02");
});
