// The package as others use it: installed from what would be published, with
// the samples of its own README. What takes longer to install stands in
// consumers/others.mjs.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { fileURLToPath } from "node:url";
import { runInNewContext } from "node:vm";
import { nodeResolve } from "@rollup/plugin-node-resolve";
import { build } from "esbuild";
import { rollup } from "rollup";
import { SAID, consumer, program, run } from "../consumers/folder.mjs";

/** @type {Awaited<ReturnType<typeof consumer>>} */
let modules;
/** @type {Awaited<ReturnType<typeof consumer>>} */
let common;

before(async () => {
  [modules, common] = await Promise.all([consumer("module"), consumer("commonjs")]);
});
after(() => Promise.all([modules.remove(), common.remove()]));

const written = () => program((told) => `console.log(${told});`);

/** A bundle as a browser runs it: nothing of Node's at hand. @param {string} script */
function inABrowser(script) {
  const lines = [];
  const console = { log: (/** @type {string} */ line) => lines.push(line) };
  runInNewContext(script, { console, atob, WebAssembly, TextDecoder, TextEncoder });
  return lines.join("\n");
}

test("what would be published is whole, and no more than that", async () => {
  assert.deepEqual(modules.files.toSorted(), [
    "API.md", "LICENSE", "README.md", "bytes.js", "engine.js", "glasscall.d.ts", "glasscall.js", "glasscall.wasm",
    "inside.js", "node.js", "package.json", "version.js",
  ]);
  const manifest = JSON.parse(await readFile(join(modules.at, "node_modules/glasscall/package.json"), "utf8"));
  const cargo = await readFile(new URL("../../Cargo.toml", import.meta.url), "utf8");
  assert.equal(manifest.version, cargo.match(/^version = "(.*)"$/m)?.[1]);
  assert.ok(!manifest.private && manifest.license === "MIT");
  for (const script of modules.files.filter((name) => name.endsWith(".js"))) {
    const text = await readFile(join(modules.at, "node_modules/glasscall", script), "utf8");
    assert.equal(/\bfrom "node:|import\("node:/.test(text), script === "node.js", `${script} asks for Node`);
  }
});

test("Node: import", async () => {
  await modules.write("main.js", await written());
  assert.equal(run(process.execPath, ["main.js"], modules.at).trim(), SAID);
});

test("Node: import of the file by its path", async () => {
  await modules.write("path.js", (await written()).replace('"glasscall"', '"./node_modules/glasscall/glasscall.js"'));
  assert.equal(run(process.execPath, ["path.js"], modules.at).trim(), SAID);
});

test("a CommonJS folder: require, and import()", async () => {
  const [first, ...rest] = (await written()).split("\n");
  const names = first.match(/\{(.*)\}/)?.[1];
  await common.write("main.js", [`const {${names}} = require("glasscall");`, ...rest].join("\n"));
  assert.equal(run(process.execPath, ["main.js"], common.at).trim(), SAID);
  await common.write("later.js", `import("glasscall").then(({${names}}) => {\n${rest.join("\n")}});`);
  assert.equal(run(process.execPath, ["later.js"], common.at).trim(), SAID);
});

test("a thread of Node's own", async () => {
  await modules.write("thread.js", await program((told) => `(await import("node:worker_threads")).parentPort.postMessage(${told});`));
  await modules.write("threads.js", 'import { Worker } from "node:worker_threads";\nnew Worker(new URL("thread.js", import.meta.url)).on("message", (told) => console.log(told));');
  assert.equal(run(process.execPath, ["threads.js"], modules.at).trim(), SAID);
});

for (const format of /** @type {const} */ (["iife", "cjs", "esm"])) {
  test(`esbuild, unasked, as ${format}`, async () => {
    await modules.write("main.js", await written());
    const made = await build({ absWorkingDir: modules.at, entryPoints: ["main.js"], bundle: true, format, write: false, logLevel: "silent" });
    assert.deepEqual(made.warnings, []);
    assert.equal(inABrowser(made.outputFiles[0].text), SAID);
  });
}

for (const format of /** @type {const} */ (["es", "iife"])) {
  test(`Rollup with its own resolver, as ${format}`, async () => {
    await modules.write("main.js", await written());
    const warnings = [];
    const bundle = await rollup({ input: join(modules.at, "main.js"), plugins: [nodeResolve()], onwarn: (warning) => warnings.push(warning.message) });
    const { output } = await bundle.generate({ format });
    await bundle.close();
    assert.deepEqual(warnings, []);
    assert.equal(output.length, 1);
    assert.equal(inABrowser(output[0].code), SAID);
  });
}

test("a bundler for browsers takes the file by its path as well", async () => {
  await modules.write("path.js", (await written()).replace('"glasscall"', '"./node_modules/glasscall/glasscall.js"'));
  const made = await build({ absWorkingDir: modules.at, entryPoints: ["path.js"], bundle: true, format: "esm", write: false, logLevel: "silent" });
  assert.deepEqual(made.warnings, []);
});

test("types: strict, as Node and as a bundler finds them, without leave to skip any", async () => {
  const source = 'import { openUp, version, type OpenUpReply, type Code } from "glasscall";\n'
    + "const same: string = version;\nconst codes: Code[] = [];\n"
    + "export const ask = (aperture: number): OpenUpReply => openUp({\n"
    + "  reading: { aperture, exposureIndex: 800, frameRate: 24, shutterAngleDeg: 180 },\n"
    + "  shot: { aperture: 2.8, exposureIndex: 800, frameRate: 24, shutterAngleDeg: 180 },\n"
    + '  kit: [{ id: "A", kind: "nd", density: 0.9 }],\n  rig: { slots: [{ id: "tray" }] },\n});\n'
    + "// @ts-expect-error no such field\nask(2).stackz;\nconsole.log(same, codes);\n";
  const compiler = fileURLToPath(new URL("../node_modules/typescript/bin/tsc", import.meta.url));
  for (const [folder, module, resolution] of /** @type {const} */ ([
    [modules, "nodenext", "nodenext"], [modules, "esnext", "bundler"], [common, "nodenext", "nodenext"],
  ])) {
    await folder.write("typed.mts", source);
    const told = run(process.execPath, [compiler, "--noEmit", "--strict", "--skipLibCheck", "false", "--target", "es2022", "--lib", "es2022,dom", "--types", "", "--module", module, "--moduleResolution", resolution, "typed.mts"], folder.at);
    assert.equal(told, "");
  }
  const types = await readFile(join(modules.at, "node_modules/glasscall/glasscall.d.ts"), "utf8");
  assert.doesNotMatch(types, / r"|initSync|glasscall_web/);
});
