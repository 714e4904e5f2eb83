// How soon an answer is there, in one table: bytes, start, keys, questions,
// pictures. Times are told, never tested: the machine's state stands below them.
//
//   node tests/bench/table.mjs              after a build
import { readFile, readdir } from "node:fs/promises";
import { cpus, loadavg } from "node:os";
import path from "node:path";
import { gzipSync } from "node:zlib";
import { DIST, PHONE, drawn, launch, open, serveDist } from "../browser/harness.mjs";
import { countQuestions } from "../browser/count-questions.mjs";
import { median, startRows } from "./start.mjs";

const KEYS = 24;

/** @param {string[]} names */
async function packed(names) {
  const all = await Promise.all(names.map(async (name) => gzipSync(await readFile(path.join(DIST, name)), { level: 9 }).length));
  return all.reduce((sum, one) => sum + one, 0);
}

/** @param {number} bytes */
const kilo = (bytes) => `${(bytes / 1000).toFixed(0)} kB`;

async function byteRows() {
  const names = await readdir(DIST, { recursive: true });
  const apart = /^(api|install)|^(glasscall|embed.*)\.html$|^embed.*\.js$/;
  const files = names.filter((name) => /\.\w+$/.test(name) && !apart.test(name));
  return [
    ["until the first answer", kilo(await packed(["index.html", "app.js", "engine/first.wasm"]))],
    ["the same for a German reader", kilo(await packed(["index.html", "app.js", "engine/first.wasm", "language/de.json"]))],
    ["kept offline, English", kilo(await packed(files.filter((name) => !name.startsWith("language"))))],
    ["kept offline", kilo(await packed(files))],
    ["single file, as it lies", kilo((await readFile(path.join(DIST, "glasscall.html"))).length)],
    ["element", kilo(await packed(["embed.js"]))],
  ];
}

/** ms from a key to the answer laid out. @param {import("playwright-core").Browser} browser @param {string} url @param {number} slower */
async function keyMs(browser, url, slower) {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true });
  const { page } = await open(context, url, "html[data-ready='every screen']");
  const session = await context.newCDPSession(page);
  await session.send("Emulation.setCPUThrottlingRate", { rate: slower });
  const all = [];
  for (let key = 0; key < KEYS; key += 1) {
    all.push(await page.evaluate((text) => {
      const input = /** @type {HTMLInputElement} */ (document.querySelector("#read-stop"));
      const start = performance.now();
      input.value = text;
      input.dispatchEvent(new Event("input", { bubbles: true }));
      document.querySelector(".plate")?.getBoundingClientRect();
      return performance.now() - start;
    }, (5 + key * 0.37).toFixed(2)));
    await drawn(page);
  }
  await context.close();
  return median(all);
}

/** @param {import("playwright-core").Browser} browser @param {string} url */
async function questionRows(browser, url) {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true });
  await context.addInitScript(countQuestions);
  const { page } = await open(context, url, "html[data-ready='every screen']");
  const asked = async () => {
    await drawn(page);
    return page.evaluate(() => /** @type {any} */ (globalThis).asked.splice(0).length);
  };
  const field = page.getByLabel("You read", { exact: true });
  await field.fill("1");
  await asked();
  await field.press("End");
  const keys = [];
  for (const key of ["8", ".", "5"]) {
    await field.press(key);
    keys.push(await asked());
  }
  await page.locator(".tabs a[href='#case']").click();
  const screen = await asked();
  await context.close();
  return [["questions asked per key on Now", keys.join(", ")], ["questions asked by opening Case", String(screen)]];
}

/** Least of some runs, in ms. @param {() => unknown} run */
function least(run) {
  let best = Infinity;
  for (let round = 0; round < 40; round += 1) {
    const start = performance.now();
    run();
    best = Math.min(best, performance.now() - start);
  }
  return best;
}

async function pictureRows() {
  const glass = await import("../../dist/api/node.js");
  const [columns, rows] = [1920, 1080];
  const lens = { sensor: { widthMm: 24.9, heightMm: 14 }, focalLengthMm: 18, fNumber: 2.8, pupilBehindRimMm: 40 };
  const grad = { distanceFromRimMm: 35, profile: { kind: "soft", density: 0.9, rampMm: 30 }, lineAtFrameHeight: 0.5 };
  const map = { ...lens, grads: [grad], columns, rows };
  const stops = glass.frameMap(map);
  const picture = {
    columns, rows, shape: columns / rows, horizonAtFrameHeight: 0.45, skyStops: 3, exposedStops: 1,
    colours: { sky: "#8fb4d8", ground: "#8a8172", line: "#ffffff" },
  };
  const pixels = glass.paintFrame(picture, stops);
  const openings = [10, 25, 40, 55].map((distanceFromRimMm, nth) => ({ name: `tray ${nth}`, distanceFromRimMm, shape: "rectangle", widthMm: 95, heightMm: 93 }));
  const fit = { ...lens, openings };
  return [
    [`frame map, ${columns} × ${rows}, one grad, WebAssembly in Node`, `${least(() => glass.frameMap(map, stops)).toFixed(2)} ms`],
    ["painting it", `${least(() => glass.paintFrame(picture, stops, pixels)).toFixed(2)} ms`],
    ["fit of four openings through the seam", `${least(() => glass.fit(fit)).toFixed(2)} ms`],
  ];
}

const before = loadavg()[0];
const rows = [...await byteRows(), ...await pictureRows()];
const [browser, server] = await Promise.all([launch(), serveDist()]);
rows.push(...await questionRows(browser, server.url));
const [plain, slowed] = [await keyMs(browser, server.url, 1), await keyMs(browser, server.url, 4)];
rows.push(["a key to the answer laid out, and slowed 4 times", `${plain.toFixed(1)} ms, ${slowed.toFixed(1)} ms`]);
rows.push(...await startRows(browser, server.url));
await browser.close();
await server.stop();
for (const [what, value] of rows) console.log(`| ${what} | ${value} |`);
console.log(`${cpus().length} processors, load ${before.toFixed(1)} before and ${loadavg()[0].toFixed(1)} after`);
