// The same source packed again, and compiled anew elsewhere, gives the same bytes.
import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { cp, mkdtemp, readFile, readdir, rm } from "node:fs/promises";
import { homedir, tmpdir } from "node:os";
import { join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { test } from "node:test";

const DIST = new URL("../../dist/", import.meta.url);
const ROOT = fileURLToPath(new URL("../..", import.meta.url));
const PACK = fileURLToPath(new URL("../../target/tool/glasscall-pack", import.meta.url));

async function hashes(folder = fileURLToPath(DIST)) {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const files = entries.filter((entry) => entry.isFile()).map((entry) => relative(folder, join(entry.parentPath, entry.name))).sort();
  return Promise.all(files.map(async (file) => [file, createHash("sha256").update(await readFile(join(folder, file))).digest("hex")]));
}

test("two builds give the same bytes", async () => {
  const first = await hashes();
  assert.ok(first.length > 10);
  const built = spawnSync(PACK, ["build"], { cwd: ROOT, encoding: "utf8" });
  assert.equal(built.status, 0, built.stderr);
  assert.deepEqual(await hashes(), first);
});

// Compiling everything a second time takes minutes, so only when asked.
const elsewhere = process.env.GLASSCALL_COMPILE_ELSEWHERE ? false : "GLASSCALL_COMPILE_ELSEWHERE=1 runs it";

test("the same source in another folder gives the same bytes", { skip: elsewhere }, async () => {
  const folder = await mkdtemp(join(tmpdir(), "glasscall-elsewhere-"));
  try {
    const listed = spawnSync("git", ["ls-files", "-z"], { cwd: ROOT, encoding: "utf8" });
    assert.equal(listed.status, 0, listed.stderr);
    const files = listed.stdout.split("\0").filter((file) => /^(Cargo|LICENSE|\.cargo|core|web|www|tests\/(Cargo|src|laws|searches|interface|hardening|examples))/.test(file));
    for (const file of files) await cp(join(ROOT, file), join(folder, file));
    const built = spawnSync("cargo", ["pack"], { cwd: folder, encoding: "utf8", env: { ...process.env, CARGO_TARGET_DIR: undefined } });
    assert.equal(built.status, 0, built.stderr);
    assert.deepEqual(await hashes(join(folder, "dist")), await hashes());
  } finally {
    await rm(folder, { recursive: true });
  }
});

test("no path of this machine is in the module", async () => {
  const module = (await readFile(new URL("api/glasscall.wasm", DIST))).toString("latin1");
  assert.ok(module.includes("core/src/"), "no paths at all: nothing is shown");
  for (const path of [ROOT, homedir(), process.env.CARGO_HOME, "/registry/", "/rustlib/"]) {
    if (path && path.length > 1) assert.ok(!module.includes(path), `${path} is in the module`);
  }
});
