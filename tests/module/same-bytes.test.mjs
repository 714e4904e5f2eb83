// The same source packed again gives the same bytes.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { readFile, readdir } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { test } from "node:test";

const DIST = new URL("../../dist/", import.meta.url);
const PACK = fileURLToPath(new URL("../../target/tool/glasscall-pack", import.meta.url));

async function hashes() {
  const entries = await readdir(DIST, { recursive: true, withFileTypes: true });
  const files = entries.filter((entry) => entry.isFile()).map((entry) => `${entry.parentPath}/${entry.name}`).sort();
  return Promise.all(files.map(async (file) => [file, createHash("sha256").update(await readFile(file)).digest("hex")]));
}

test("two builds give the same bytes", async () => {
  const first = await hashes();
  assert.ok(first.length > 10);
  const built = spawnSync(PACK, ["build"], { cwd: fileURLToPath(new URL("../..", import.meta.url)), encoding: "utf8" });
  assert.equal(built.status, 0, built.stderr);
  assert.deepEqual(await hashes(), first);
});
