// Codes from phone to phone: shown, read from a picture and by the camera, cases merged; and the match of a record.
import assert from "node:assert/strict";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";
import { PHONE, giveFile, launch, open, ready, servedPage, unfoldDay } from "./harness.mjs";
import { putInWay } from "./now-acts.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";
import { drawCode } from "../../target/modules/api/glasscall.js";
import { partsToSend } from "../../target/modules/hand-over/offered-set-up.js";
import { writeFrames } from "../../target/modules/hand-over/code-series.js";
import { writeLink } from "../../target/modules/hand-over/link.js";
import { demoDocument } from "../../target/modules/document/demo.js";

const { browser, server } = await servedPage();

const phone = async (of = browser, more = {}) => {
  const context = await of.newContext({ viewport: PHONE, hasTouch: true, isMobile: true, deviceScaleFactor: 2, ...more });
  await context.addInitScript(unfoldDay);
  return context;
};
const scanned = (page) => page.locator(".scan-message");
async function showCode(page, what) {
  await page.locator("[data-do=code-what]").selectOption(what);
  await page.locator("[data-do=show-code]").tap();
  await page.locator(".code-picture svg").waitFor();
}

test("a set-up goes from one screen to another phone by a picture", async () => {
  const context = await phone();
  const { page, errors } = await open(context, server.url);
  await page.getByLabel("You read", { exact: true }).fill("T22");
  await page.goto(`${server.url}#day`);
  await showCode(page, "setup");
  await soon.equal(() => page.locator(".code-line").innerText(), "This set-up as a code");
  const picture = { name: "code.png", mimeType: "image/png", buffer: await page.locator(".code-picture svg").screenshot() };
  await context.close();

  const other = await phone();
  const { page: theirs, errors: more } = await open(other, `${server.url}#day`);
  await giveFile(theirs.locator("[data-do=scan-picture]"), picture);
  await scanned(theirs).filter({ hasText: "A set-up was read" }).waitFor();
  await theirs.getByRole("button", { name: "Use it" }).tap();
  await soon.equal(() => theirs.locator("#now [data-field='reading.aperture'] input").inputValue(), "T22");
  await giveFile(theirs.locator("[data-do=scan-picture]"), { name: "wall.png", mimeType: "image/png", buffer: await theirs.locator(".caution").screenshot() });
  await scanned(theirs).filter({ hasText: "no code found" }).waitFor();
  await giveFile(theirs.locator("[data-do=scan-picture]"), { name: "note.png", mimeType: "image/png", buffer: Buffer.from("no picture at all") });
  await scanned(theirs).filter({ hasText: "note.png: no code found" }).waitFor();
  assert.deepEqual([...errors, ...more], []);
  await other.close();
});

test("a case goes in numbered frames, and what differs stands side by side", async () => {
  const context = await phone();
  const { page, errors } = await open(context, server.url);
  await page.evaluate(async (pieces) => {
    const kept = JSON.parse(localStorage.getItem("glasscall"));
    kept.setup.demo = false;
    kept.setup.kit = pieces;
    kept.setup.edited = { "pieces/A": "2031-05-04T12:00:00+02:00" };
    // More than one frame holds.
    kept.setup.lenses = Array.from({ length: 60 }, (_, at) => ({ id: `lens ${(at * 7919) % 1009}`, focalMm: 20 + at, threadMm: 60 + ((at * 37) % 41) }));
    localStorage.setItem("glasscall", JSON.stringify(kept));
  }, [{ id: "A", kind: "nd", density: 0.9, measuredDensity: 0.93, count: 1 }, { id: "C", kind: "nd", density: 1.2, count: 1 }]);
  await page.reload();
  await ready(page);
  await page.goto(`${server.url}#day`);
  await showCode(page, "case");
  const [, count] = (await page.locator(".code-line").innerText()).match(/of (\d+)$/).map(Number);
  assert.ok(count > 1, "one frame proves nothing");
  await page.locator("[data-do=code-pause]").tap();
  const pictures = [];
  for (let at = 0; at < count; at += 1) {
    pictures.push({ name: `${at}.png`, mimeType: "image/png", buffer: await page.locator(".code-picture svg").screenshot() });
    await page.locator("[data-do=code-on]").tap();
  }
  await context.close();

  const other = await phone();
  const { page: theirs, errors: more } = await open(other, server.url);
  await theirs.evaluate(() => {
    const kept = JSON.parse(localStorage.getItem("glasscall"));
    kept.setup.demo = false;
    kept.setup.kit = [{ id: "A", kind: "nd", density: 0.9, count: 1 }, { id: "B", kind: "nd", density: 0.6, count: 1 }];
    localStorage.setItem("glasscall", JSON.stringify(kept));
  });
  await theirs.reload();
  await ready(theirs);
  await theirs.goto(`${server.url}#day`);
  await giveFile(theirs.locator("[data-do=scan-picture]"), pictures.slice(1));
  await scanned(theirs).filter({ hasText: `${count - 1} of ${count} frames read.` }).waitFor();
  await giveFile(theirs.locator("[data-do=scan-picture]"), pictures[0]);
  await scanned(theirs).filter({ hasText: "1 different" }).waitFor();
  const conflict = theirs.locator(".conflict");
  await soon.equal(() => conflict.count(), 1);
  await soon.match(() => conflict.innerText(), /^Piece: A/);
  await soon.match(() => conflict.locator("tr", { hasText: "measured density" }).innerText(), /not said\s+0\.93/);
  const kit = () => theirs.evaluate(() => JSON.parse(localStorage.getItem("glasscall")).setup.kit.map((piece) => [piece.id, piece.measuredDensity ?? null]));
  await soon.deepEqual(() => kit(), [["A", null], ["B", null], ["C", null]]);
  // Undecided it outlives a restart.
  await theirs.reload();
  await ready(theirs);
  await soon.equal(() => theirs.locator(".conflict").count(), 1);
  // What the code was joined to can be gone back to, after that restart too.
  await theirs.goto(`${server.url}#case?file`);
  await theirs.locator(".earlier > summary").tap();
  await theirs.locator(".earlier li").filter({ hasText: "2 pieces" }).getByRole("button").first().tap();
  await until("the case before the code", async () => JSON.stringify(await kit()) === '[["A",null],["B",null]]');
  await theirs.getByRole("button", { name: "Undo" }).tap();
  await theirs.goto(`${server.url}#day`);
  await theirs.getByRole("button", { name: "Take theirs" }).tap();
  await soon.equal(() => theirs.locator(".conflict").count(), 0);
  await soon.deepEqual(() => kit(), [["A", 0.93], ["B", null], ["C", null]]);
  await theirs.getByRole("button", { name: "Undo" }).tap();
  await soon.equal(() => theirs.locator(".conflict").count(), 1);
  await soon.deepEqual(() => kit(), [["A", null], ["B", null], ["C", null]]);
  await theirs.getByRole("button", { name: "Keep both" }).tap();
  await soon.deepEqual(() => kit(), [["A", null], ["B", null], ["C", null], ["A (2)", 0.93]]);
  assert.deepEqual([...errors, ...more], []);
  await other.close();
});

/** A film in which codes are shown one after another: YUV4MPEG2, a frame each fifth of a second. */
function film(texts) {
  const [width, height] = [640, 640];
  const head = Buffer.from(`YUV4MPEG2 W${width} H${height} F5:1 Ip A1:1 C420jpeg\n`);
  const frames = texts.map((text) => {
    const { rows } = drawCode({ text });
    const scale = Math.floor(width / (rows.length + 8));
    const grey = Buffer.alloc(width * height, 235);
    for (let y = 0; y < rows.length * scale; y += 1) {
      for (let x = 0; x < rows.length * scale; x += 1) {
        if (rows[Math.floor(y / scale)][Math.floor(x / scale)] === "1") grey[(y + 4 * scale) * width + x + 4 * scale] = 30;
      }
    }
    return Buffer.concat([Buffer.from("FRAME\n"), grey, Buffer.alloc(width * height / 2, 128)]);
  });
  return Buffer.concat([head, ...frames.flatMap((frame) => [frame, frame])]);
}

test("the camera reads frames as they pass and stops by itself", async () => {
  const folder = await mkdtemp(join(tmpdir(), "film-"));
  const records = [{ version: 1, id: "amendment", time: "2031-05-04T10:00:00+02:00", amends: "gone", slate: { note: "by the quay" } }];
  const document = demoDocument();
  document.reading.aperture = 22;
  const shown = [
    { name: "log", texts: await writeFrames({ log: records }), says: "1 record added" },
    { name: "link", texts: [`https://example.invalid/#now?s=${await writeLink(partsToSend(document))}`], says: "A set-up was read" },
  ];
  for (const { name, texts, says } of shown) {
    const file = join(folder, `${name}.y4m`);
    await writeFile(file, film(texts));
    const seeing = await launch(["--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream", `--use-file-for-fake-video-capture=${file}`]);
    const context = await phone(seeing, { permissions: ["camera"] });
    const { page, errors } = await open(context, `${server.url}#day`);
    await page.getByRole("button", { name: "Scan with the camera" }).tap();
    await scanned(page).filter({ hasText: says }).waitFor();
    await page.locator(".scan-box").waitFor({ state: "hidden" });
    await soon.equal(() => page.locator("video").evaluate((video) => video.srcObject), null);
    assert.deepEqual(errors, []);
    await seeing.close();
  }
  await rm(folder, { recursive: true });
});

test("without a camera the page says what to do instead", async () => {
  const context = await phone();
  const { page } = await open(context, `${server.url}#day`);
  await page.getByRole("button", { name: "Scan with the camera" }).tap();
  await scanned(page).filter({ hasText: "No camera" }).waitFor();
  await context.close();
});

test("a record is matched in other light with another lens and body", async () => {
  const context = await phone();
  const { page, errors } = await open(context, server.url);
  await putInWay(page, "0.9 + 0.6");
  await page.locator("#now [data-do=log]").tap();
  await page.goto(`${server.url}#day`);
  const answer = page.locator(".match-answer");
  // Two stops less light: T8 read, T2.8 logged, three stops to take.
  await page.locator("#match-reading").fill("T8");
  await soon.match(() => answer.innerText(), /^Set T2\.8\.\s+In: [\w ]+: 0\.9\. Takes 2\.99 stops/);
  // A body of twice the index needs a stop more.
  await page.locator("#match-ei").fill("1600");
  await soon.match(() => answer.innerText(), /Takes 3\.99 stops|Takes 4\.\d+ stops/);
  await soon.match(() => answer.locator("tr", { hasText: "Exposure index" }).innerText(), /800\s+1600/);
  await page.locator("#match-focal").fill("35");
  await soon.match(() => answer.locator("tr", { hasText: "Focal length" }).innerText(), /50 mm\s+35 mm/);
  await page.locator("#match-ei").fill("nothing");
  await soon.match(() => page.locator(".day-match .field-error").nth(1).innerText(), /not understood/);
  await page.locator("#other-ei").fill("400");
  const bodies = page.locator(".bodies-answer");
  await soon.match(() => bodies.locator("tr", { hasText: "Glass must take" }).innerText(), /3 stops\s+2 stops/);
  // The one 0.9 is in the first body's box; the second must do without.
  await soon.match(() => bodies.locator("tr", { hasText: "Put in" }).innerText(), /0\.9\s+\w+[ \w]*: 0\.6/);
  assert.deepEqual(errors, []);
  await context.close();
});
