// Several grads at once on Frame, by touch: each with its line, one in hand.
import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, open, servedPage } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

const { browser, server } = await servedPage();

/** Frame on a phone, with the demo's 0.6 soft in. @param {{width: number, height: number}} viewport @param {string} [locale] */
async function frame(viewport = PHONE, locale = "en-GB") {
  const context = await browser.newContext({ viewport, hasTouch: true, isMobile: true, locale });
  const { page, errors } = await open(context, `${server.url}#frame`);
  await page.waitForSelector(".frame-view[data-drawn-in]");
  await way(page, "0.6 soft").tap();
  await soon.equal(() => answer(page, "grad"), "0.6 soft");
  return { page, errors, context };
}

const way = (page, id) => page.locator(`[data-chips=grad] button[data-id="${id}"]`);
const answer = (page, name) => page.locator(`#frame [data-answer=${name}]`).innerText();
const line = (page) => page.locator("[data-slide='frame.line'] output").innerText();
const tops = (page, selector) => page.locator(selector).evaluateAll((all) => all.map((one) => Math.round(parseFloat(one.style.top))));

/** The handle dragged up by a share of the picture. */
async function slide(page, up) {
  const view = await page.locator(".frame-view").boundingBox();
  const handle = await page.locator(".frame-handle").boundingBox();
  const [x, y] = [handle.x + handle.width / 2, handle.y + handle.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  await page.mouse.move(x, y - up * view.height, { steps: 4 });
  await page.mouse.up();
}

for (const viewport of [PHONE, { width: 360, height: 640 }, { width: 844, height: 390 }]) {
  test(`one more goes in beside, and a tap on a name changes hands, ${viewport.width} wide`, async () => {
    const { page, errors, context } = await frame(viewport);
    const alone = Number((await answer(page, "left")).match(/^-?[\d.]+/)[0]);
    await way(page, "more").tap();
    await soon.equal(() => answer(page, "grad"), "0.9 soft");
    // 0.6 stays in its slot, and what stays is less by what the second takes.
    await soon.match(() => page.locator(".frame-in").innerText(), /^0\.9 soft is in: tray 1\. Between sky and land: 0\.6 soft 1\.\d+; with that in, 0\.9 soft [\d.]+ more\./);
    const told = await page.locator(".frame-in").innerText();
    const [, first, second, left] = told.match(/0\.6 soft ([\d.]+); with that in, 0\.9 soft ([\d.]+) more\. (-?[\d.]+) of 3/).map(Number);
    assert.ok(Math.abs(3 - first - second - left) < 0.02, told);
    assert.ok(Math.abs(alone - (3 - first)) < 0.02, `${alone} alone, ${told}`);
    assert.equal(Number((await answer(page, "left")).match(/^-?[\d.]+/)[0]), left);

    await slide(page, 0.2);
    await soon.match(() => line(page), /^(69|70|71) %$/);
    await soon.deepEqual(() => tops(page, ".frame-grip-other"), [50]);
    const mark = page.locator(".frame-other");
    const box = await mark.boundingBox();
    assert.ok(Math.min(box.width, box.height) >= 44, JSON.stringify(box));
    await mark.tap();
    await soon.equal(() => answer(page, "grad"), "0.6 soft");
    await soon.equal(() => line(page), "50 %");
    const [other] = await tops(page, ".frame-grip-other");
    assert.ok(Math.abs(other - 30) <= 1, `the other line at ${other} % from the top`);
    // The strip does the same, and undo takes it back.
    await way(page, "in tray 1").tap();
    await soon.equal(() => answer(page, "grad"), "0.9 soft");
    await page.getByRole("button", { name: "Undo" }).tap();
    await soon.equal(() => answer(page, "grad"), "0.6 soft");
    await way(page, "").tap();
    await soon.equal(() => answer(page, "grad"), "0.9 soft");
    await soon.equal(() => page.locator(".frame-other").count(), 0);
    await soon.match(() => line(page), /^(69|70|71) %$/);
    assert.deepEqual(errors, []);
    await context.close();
  });
}

test("a grad put in elsewhere is named until its line is said, then counted", async () => {
  const { page, errors, context } = await frame();
  const corner = () => page.locator(".frame-table tbody tr:first-child td:nth-of-type(2)").textContent();
  const before = await corner();
  await page.evaluate(() => {
    const kept = JSON.parse(localStorage.glasscall);
    kept.setup.today.rigs["matte box"].inPlace.push({ slot: "tray 1", piece: "0.9 hard" });
    localStorage.glasscall = JSON.stringify({ ...kept, edit: kept.edit + 1000 });
  });
  await page.reload();
  await page.waitForSelector(".frame-view[data-drawn-in]");
  await soon.match(() => page.locator(".frame-known").innerText(), /^Also in: 0\.9 hard\. Its line is not said/);
  assert.equal(await corner(), before);
  await way(page, "in tray 1").tap();
  await soon.doesNotMatch(() => page.locator(".frame-known").innerText(), /Also in/);
  // All of the hard one's 0.9 comes to what the soft one takes there.
  const wanted = Number(before) + 0.9 / Math.log10(2);
  await until("both at the top", async () => Math.abs(Number(await corner()) - wanted) < 0.02 || Promise.reject(await corner()));
  assert.deepEqual(errors, []);
  await context.close();
});

test("a move is told with all that are in, and how far each is slid", async () => {
  const { page, errors, context } = await frame();
  const told = (name) => page.locator(`.frame-motion-${name}`).innerText();
  await page.locator("details:has(.frame-motion-word) > summary").tap();
  await page.getByRole("textbox", { name: "Tilts by" }).fill("-8");
  await page.keyboard.press("Tab");
  await soon.equal(() => told("word"), "Only if someone slides it");
  await soon.doesNotMatch(() => told("why"), /With it/);
  const stops = async () => Number((await told("why")).match(/gets ([\d.]+)/)[1]);
  const alone = await stops();
  await way(page, "more").tap();
  await soon.equal(() => answer(page, "grad"), "0.9 soft");
  await soon.equal(() => told("word"), "Only if someone slides each");
  await soon.match(() => told("why"), /Slid along, from [^.]*[\d.]+ mm to [^.]*[\d.]+ mm, .*With it 0\.6 soft, from [+−-]?[\d.]+ mm to [+−-]?[\d.]+ mm\./);
  // The subject goes into both: more than 0.6 alone takes.
  assert.ok(await stops() > alone + 0.5, `${await stops()} for ${alone}`);
  await page.getByRole("textbox", { name: "Tilts by" }).fill("0");
  await page.keyboard.press("Tab");
  await soon.equal(() => told("word"), "The filters can stay");
  assert.deepEqual(errors, []);
  await context.close();
});

test("a log entry has each line, and next week each is told", async () => {
  const { page, errors, context } = await frame();
  await way(page, "more").tap();
  await soon.equal(() => answer(page, "grad"), "0.9 soft");
  await slide(page, 0.2);
  await page.getByLabel("upside down: dense side below the line").check();
  await page.locator("#frame [data-do=log-frame]").tap();
  await page.locator("#notice").filter({ visible: true, hasText: /log/i }).waitFor();
  // Taken out again: the entry knows.
  await way(page, "").tap();
  await way(page, "").tap();
  await page.locator(".tabs").getByText("Day", { exact: true }).tap();
  const row = page.locator(".day-log > .row").first();
  await row.locator("summary").tap();
  await soon.match(() => row.innerText(), /0\.9 soft: 0\.7\d?; 0\.6 soft: 0\.5[^]*0\.9 soft: 0, upside down; 0\.6 soft: 0/);
  await row.locator("[data-do=match-this]").tap();
  const lines = page.locator(".match-answer p").filter({ hasText: "Slide the graduated filter" });
  await soon.equal(() => lines.count(), 2);
  await soon.match(() => lines.nth(0).innerText(), /^0\.9 soft: .*(69|70|71) % of the frame.*Its dense side is below the line\.$/);
  await soon.match(() => lines.nth(1).innerText(), /^0\.6 soft: .*50 % of the frame from below\./);
  assert.deepEqual(errors, []);
  await context.close();
});
