// What `cargo hand-out` lays out, used from there by somebody who has nothing
// else: `node tests/consumers/release.mjs` prints what came of each part.
import { spawn, spawnSync } from "node:child_process";
import { cp, mkdir, mkdtemp, readFile, readdir, rm, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { SAID, program, run } from "./folder.mjs";

const { chromium } = createRequire(new URL("../", import.meta.url))("playwright-core");
const PARENT = fileURLToPath(new URL("../../target/release-folder/", import.meta.url));
const MOST = /^glasscall-(\d+\.\d+\.\d+)\.tar\.gz$/;
const archive = (await readdir(PARENT)).find((name) => MOST.test(name)) ?? "";
const version = MOST.exec(archive)?.[1] ?? "";
const work = await mkdtemp(join(tmpdir(), "glasscall-release-"));
run("tar", ["-xzf", join(PARENT, archive)], work);
const handed = join(work, `glasscall-${version}`);
const browser = await chromium.launch({ executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium", args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync", "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"] });
let failed = 0;

/** @param {string} what @param {string} how @param {() => Promise<string>} attempt what was seen, or a fault */
async function tell(what, how, attempt) {
  const seen = await attempt().catch((/** @type {Error} */ fault) => {
    failed += 1;
    return `no: ${fault.message.replaceAll("\n", " ").slice(0, 400)}`;
  });
  console.log(`| ${what} | ${how} | ${seen} |`);
}

/** Python's own server of a folder, on a free port. @param {string} folder @returns {Promise<{ url: string, stop: () => Promise<void> }>} */
async function served(folder) {
  const server = spawn("python3", ["-u", "-m", "http.server", "0", "--bind", "127.0.0.1", "--directory", folder], { stdio: ["ignore", "pipe", "ignore"] });
  const port = await new Promise((done) => server.stdout.on("data", (text) => {
    const found = / port (\d+)/.exec(String(text));
    if (found) done(found[1]);
  }));
  return { url: `http://127.0.0.1:${port}/`, stop: () => new Promise((done) => {
    server.on("exit", () => done());
    server.kill();
  }) };
}

/** The answer of a page's first screen. @param {import("playwright-core").Page} page */
async function answer(page) {
  await page.waitForSelector("html[data-ready]", { timeout: 30_000 });
  await page.getByLabel("You want", { exact: true }).fill("T4");
  await page.locator("#now .need-stops", { hasText: "4 stops" }).waitFor({ timeout: 15_000 });
  return "4 stops from T16 to T4";
}

console.log("| what | how | what came of it |\n|---|---|---|");
await tell("check sums", "sha256sum --check --strict", async () => {
  const lines = run("sha256sum", ["--check", "--strict", "--quiet", "SHA256SUMS"], handed);
  const [listed, files] = await Promise.all([readFile(join(handed, "SHA256SUMS"), "utf8"), readdir(handed, { recursive: true, withFileTypes: true })]);
  const count = files.filter((file) => file.isFile()).length - 1;
  if (lines || listed.trim().split("\n").length !== count) throw new Error(`${lines}; ${count} files`);
  return `all of ${count} files are listed and as listed`;
});
await tell("folder and archive", "compared", async () => {
  run("diff", ["-r", join(PARENT, `glasscall-${version}`), handed], work);
  return "the same";
});
await tell("licences", "read", async () => {
  const text = await readFile(join(handed, "LICENCES.txt"), "utf8");
  const names = [...text.matchAll(/^"?([a-z][\w-]*)"? "?\d+\.\d+\.\d+\S*, /gm)].map(([, name]) => name);
  if (names.length < 3 || !text.includes("Permission is hereby granted")) throw new Error(`only ${names}`);
  await readFile(join(handed, "LICENSE"));
  return `${names.join(", ")}, and its own`;
});
await tell("page to host", "by Python's server, in a folder of a folder; then the server is ended and it is opened anew", async () => {
  const site = join(work, "site");
  await cp(join(handed, "page"), join(site, "crew/glass"), { recursive: true });
  const server = await served(site);
  const context = await browser.newContext({ locale: "en-GB" });
  const page = await context.newPage();
  await page.goto(`${server.url}crew/glass/`);
  const said = await answer(page);
  await page.evaluate(async () => {
    const { active } = await navigator.serviceWorker.ready;
    if (active?.state !== "activated") await new Promise((done) => active?.addEventListener("statechange", done));
  });
  await server.stop();
  await page.reload();
  await page.waitForSelector("html[data-ready]");
  const kept = await page.getByLabel("You want", { exact: true }).inputValue();
  await context.close();
  if (kept !== "T4") throw new Error(`kept ${kept}`);
  return `${said}; without the server the same`;
});
await tell("single file", "from disk, with no network", async () => {
  const alone = join(work, "alone");
  await mkdir(alone);
  await cp(join(handed, "glasscall.html"), join(alone, "glasscall.html"));
  const context = await browser.newContext({ locale: "en-GB", offline: true });
  const page = await context.newPage();
  await page.goto(pathToFileURL(join(alone, "glasscall.html")).href);
  const said = await answer(page);
  await context.close();
  return said;
});
for (const file of ["embed.js", "embed-more.js"]) {
  await tell(`element, ${file}`, "copied beside a plain page", async () => {
    const site = join(work, file);
    await mkdir(site);
    await cp(join(handed, file), join(site, file));
    await writeFile(join(site, "index.html"), `<!doctype html><title>Crew</title><script src="${file}"></script>\n<glasscall-setup reading="T16" want="T4"></glasscall-setup>`);
    const server = await served(site);
    const page = await browser.newPage({ locale: "en-GB" });
    await page.goto(server.url);
    await page.locator("glasscall-setup .need-stops", { hasText: "4 stops" }).waitFor({ timeout: 20_000 });
    await page.close();
    await server.stop();
    return "4 stops from T16 to T4";
  });
}
await tell("package", "npm install of the file, its README's samples", async () => {
  const folder = join(work, "installs");
  await mkdir(folder);
  await writeFile(join(folder, "package.json"), '{"private":true,"type":"module"}');
  run("npm", ["install", "--no-audit", "--no-fund", "--offline", join(handed, `glasscall-${version}.tgz`)], folder);
  await writeFile(join(folder, "main.js"), await program((told) => `console.log(${told});`));
  const said = run(process.execPath, ["main.js"], folder).trim();
  if (said !== SAID) throw new Error(said);
  return "answers as the README says";
});
await tell("crate", "unpacked, checked by cargo with no workspace about it", async () => {
  run("tar", ["-xzf", join(handed, `glasscall-core-${version}.crate`)], work);
  const crate = join(work, `glasscall-core-${version}`);
  run("cargo", ["check", "--quiet", "--offline", "--target-dir", join(work, "target")], crate);
  for (const name of ["README.md", "LICENSE", "CHANGELOG.md"]) await readFile(join(crate, name));
  return "compiles; README, licence and changes are in it";
});
await tell("whole folder", "searched for paths of the machine that made it", async () => {
  const home = fileURLToPath(new URL("../../", import.meta.url)).slice(0, -1);
  const told = spawnSync("grep", ["-rlaF", "-e", home, "-e", process.env.HOME ?? home, handed], { encoding: "utf8" });
  if (told.status !== 1) throw new Error(told.stdout || told.stderr);
  return "none";
});
await browser.close();
await rm(work, { recursive: true });
process.exitCode = failed ? 1 : 0;
