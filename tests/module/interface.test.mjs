// No field, code or default of the interface changes without a version, and the
// list of versions in core/CHANGELOG.md is what the code writes.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { version } from "../../dist/api/glasscall.js";
import { declared, interfaceKept, interfaceNow, isPublished, mayChange } from "./interface.mjs";

const read = (/** @type {string} */ path) => readFile(new URL(`../../${path}`, import.meta.url), "utf8");

test("the interface is the one that its version had", async () => {
  const [now, kept] = await Promise.all([interfaceNow(), interfaceKept()]);
  assert.ok(now.length > 1000, `${now.length} lines`);
  const gone = kept.lines.filter((line) => !now.includes(line));
  const added = now.filter((line) => !kept.lines.includes(line));
  assert.deepEqual({ gone, added }, { gone: [], added: [] }, "note it in core/CHANGELOG.md, raise the version in Cargo.toml if this one is published, then `npm run interface`");
  assert.equal(kept.version, version);
});

test("a field, a word and a default are each a line", () => {
  const lines = declared(`/**\n * A lens.\n */\nexport interface Lens {\n    /**\n     * Squeeze; 1 unless said.\n     */\n    squeeze?: number;\n    id: string;\n}\n\nexport type Code = "missing" | "empty";\n\nexport function ask(request: Lens): Code;\n`);
  assert.deepEqual(lines, [
    "Lens.squeeze?: number", "Lens.squeeze left out: 1 unless said.", "Lens.id: string",
    'Code may be "missing"', 'Code may be "empty"', "function ask(request: Lens): Code",
  ]);
});

test("what goes needs more of a version than what comes", () => {
  assert.ok(mayChange("1.2.3", "1.3.0", false) && !mayChange("1.2.3", "1.2.4", false));
  assert.ok(mayChange("1.2.3", "2.0.0", true) && !mayChange("1.2.3", "1.3.0", true));
  assert.ok(mayChange("0.1.0", "0.2.0", true) && !mayChange("0.1.0", "0.1.1", true));
  assert.ok(isPublished("0.1.0", "## 0.1.0, November 2026") && !isPublished("0.1.0", "## 0.1.0, not yet published"));
});

test("the change log says which version each form has", async () => {
  const changes = await read("core/CHANGELOG.md");
  assert.ok(changes.includes(`\n## ${version}`), `no word of ${version}`);
  const forms = new Map([...changes.matchAll(/^\| ([^|]+?) \| ([^|]+?) \|/gm)].map(([, form, is]) => [form, is]));
  const written = async (/** @type {string} */ path, /** @type {RegExp} */ line) => (await read(path)).match(line)?.[1];
  assert.equal(forms.get("case file (`glasscall-case`, JSON and CSV)"), await written("web/src/case/file/mod.rs", /const VERSION: f64 = (\d+)\.0;/));
  assert.equal(forms.get("record kept on the device"), await written("www/storage/store.js", /const VERSION = (\d+);/));
  assert.equal(forms.get("link and code of a set-up"), `\`${await written("www/hand-over/link.js", /const VERSION = "(\d+)";/)}.\``);
  assert.equal(forms.get("code frames of a case or log"), `\`${await written("www/hand-over/code-series.js", /const MARK = "(\w+)";/)}\``);
  assert.equal(forms.get("API"), version.split(".").slice(0, 2).join("."));
});
