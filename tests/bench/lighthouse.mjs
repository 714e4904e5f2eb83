// How Lighthouse judges the built page, served: node bench/lighthouse.mjs [desktop]
// Fetches lighthouse by npx, which is large: not a part of the tests.
import { spawnSync } from "node:child_process";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { serveDist } from "../browser/harness.mjs";

const VERSION = "lighthouse@13.5.0";
const [size] = process.argv.slice(2);
const folder = await mkdtemp(path.join(tmpdir(), "lighthouse-"));
const told = path.join(folder, "told.json");
const server = await serveDist();
const { status } = spawnSync("npx", [
  "--yes", VERSION, server.url, "--quiet", "--output=json", `--output-path=${told}`,
  "--only-categories=performance,accessibility,best-practices", ...(size === "desktop" ? ["--preset=desktop"] : []),
  "--chrome-flags=--headless --no-sandbox --disable-gpu --disable-quic --no-first-run --disable-background-networking --disable-component-update --disable-sync",
], { stdio: ["ignore", "inherit", "inherit"], env: { ...process.env, CHROME_PATH: process.env.CHROMIUM ?? "/usr/bin/chromium" } });
await server.stop();
if (status !== 0) process.exit(1);

const { categories, audits } = JSON.parse(await readFile(told, "utf8"));
await rm(folder, { recursive: true });
for (const { title, score, auditRefs } of Object.values(categories)) {
  console.log(`${title}: ${Math.round(score * 100)}`);
  for (const { id, weight } of auditRefs) {
    const { score: part, displayValue = "" } = audits[id];
    if (weight === 0 || part === null || part === 1) continue;
    console.log(`  ${part.toFixed(2)} ${audits[id].title} ${displayValue}`);
    for (const { node } of audits[id].details?.items ?? []) if (node) console.log(`       ${node.selector}`);
  }
}
for (const id of ["first-contentful-paint", "largest-contentful-paint", "total-blocking-time", "cumulative-layout-shift", "speed-index"]) {
  console.log(`${audits[id].title}: ${audits[id].displayValue}`);
}
