// Every figure of an answer is asked back, the second and the third of a sentence too.
import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, drawn, open, servedPage } from "./harness.mjs";
import { soon } from "./soon.mjs";

const { browser, server } = await servedPage();

/** @param {string} hash */
async function opened(hash) {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true });
  const { page } = await open(context, server.url + hash);
  const turn = (/** @type {string} */ name) => page.locator(".turn", { has: page.locator(`.turn-name:text-is("${name}")`) });
  return { page, turn, close: () => context.close() };
}

/** @param {import("playwright-core").Page} page @param {string} view */
async function go(page, view) {
  await page.evaluate((hash) => (location.hash = hash), view);
  await drawn(page);
}

/** @param {import("playwright-core").Page} page @param {string} field @param {string} text */
async function say(page, field, text) {
  const input = page.locator(`[data-field="${field}"] input`);
  // A pad stands for the keyboard there; keys go on typing.
  await input.tap();
  await input.fill(text);
  await input.press("Enter");
  await page.keyboard.press("Escape");
}

/** Figures in answers that no tap reaches. @param {import("playwright-core").Page} page */
const untapped = (page) => page.evaluate(() => {
  const found = [];
  for (const answer of document.querySelectorAll("[data-answer]")) {
    const texts = document.createTreeWalker(answer, NodeFilter.SHOW_TEXT);
    while (texts.nextNode()) {
      const { textContent, parentElement } = texts.currentNode;
      if (!/[\d⅓⅔]/.test(textContent ?? "") || !parentElement?.checkVisibility({ visibilityProperty: true })) continue;
      if (!parentElement.closest("button, input, select, summary, label, a, output")) found.push(`${answer.getAttribute("data-answer")}: ${textContent}`);
    }
  }
  return found;
});

test("on Light no figure of an answer is out of a tap's reach", async () => {
  const { page, close } = await opened("#light?polarizers");
  await say(page, "light.measured.bareAperture", "16");
  await say(page, "light.measured.brightestAperture", "9");
  await say(page, "light.measured.darkestAperture", "8");
  await page.locator("[data-do=turn-measured]").waitFor();
  for (const view of ["sun", "plan", "sky", "reflection", "polarizers", "flag", "ghost"]) {
    await go(page, `#light?${view}`);
    await page.locator(`[data-answer]:visible [class*=asked-back]`).first().waitFor();
    // The centre of the sky's corners repeats the figure above them.
    await soon.deepEqual(async () => (await untapped(page)).filter((text) => !/^sky: \+?[\d.]+$/.test(text)), [], view);
  }
  await close();
});

test("a sentence's figure opens as that figure, and its drawer holds the others", async () => {
  const { page, turn, close } = await opened("#light?reflection");
  await page.locator("[data-do=turn-share]").tap();
  const choice = page.locator(".drawer-made select");
  await soon.equal(() => choice.evaluate((one) => /** @type {HTMLSelectElement} */ (one).selectedOptions[0]?.textContent), "Share left");
  await page.locator("#turn-wanted").fill("20 %");
  await turn("Angle from square on").locator("button").last().tap();
  // 20 % of a reflection left is −log2 0.2 = 2.32 stops, by hand.
  await soon.equal(() => page.locator("[data-do=turn-surface]").innerText(), "2.3");
  await page.locator("[data-do=turn-share]", { hasText: "20 %" }).waitFor();
  await page.locator("[data-do=turn-brewster]").tap();
  // tan 56.66° = 1.52, the index of a pane, by hand; from where it is looked at changes nothing.
  await page.locator("#turn-wanted").fill("56.66°");
  await soon.equal(() => turn("Index").locator("button").innerText(), "1.52");
  await soon.equal(() => turn("Angle from square on").count(), 0);
  await choice.selectOption({ label: "Where to stand for it" });
  await page.locator("#turn-wanted").fill("4 m");
  // 4 m over tan 53.12° of water, which was 1.5 · 1.333 = 2 m for 1.5 m, by hand.
  await turn("Lens above it").locator("button").tap();
  await page.locator("[data-do=turn-brewster]", { hasText: "is 4 m away" }).waitFor();
  await close();
});

test("a turn of the pair is asked for its stop: the iris pulled there ends at that turn", async () => {
  const { page, turn, close } = await opened("#light?polarizers");
  await page.locator("[data-do=turn-pair]").tap();
  await page.locator("#turn-wanted").fill("45°");
  // At 45° half of it passes: 2⅓ + 1 stops, two thirds less than the 4, which the iris takes.
  const iris = turn("Iris pulled to, as bright as now").locator("button");
  await soon.equal(() => iris.innerText(), "T2.8⅔");
  await iris.tap();
  await soon.equal(() => page.locator(".marks").first().locator("li").last().locator("[data-do=turn-mark]").innerText(), "45°");
  await page.locator("[data-do=undo]").tap();
  await soon.equal(() => page.locator("h4", { hasText: "Turn while the iris moves" }).count(), 0);
  await close();
});

test("an hour the clock leaps over names the day that comes nearest, and why", async () => {
  const { page, turn, close } = await opened("#light?sun");
  const set = page.locator(".sun-day [data-do=turn-sun-event]").nth(2);
  await set.tap();
  await page.locator("#turn-wanted").fill("23:30");
  // The latest sunset of the year there, a few days after the solstice.
  await soon.match(() => turn("Day, in the year ahead").innerText(), /none; nearest 2\d Jun 2026, at 22:07/);
  await soon.equal(() => turn("Day, in the year ahead").locator(".turn-note").count(), 0);
  await page.keyboard.press("Escape");
  // On the equator the sun sets within half an hour of the same time all year; the clock of a far country jumps an hour.
  await say(page, "light.place", "0, 3.7");
  await soon.ok(async () => /19:|7:/.test(await set.innerText()));
  await set.tap();
  await page.locator("#turn-wanted").fill("19:25");
  await soon.match(() => turn("Day, in the year ahead").innerText(), /none; nearest 24 Oct 2026, at 19:3\d/);
  await soon.equal(() => turn("Day, in the year ahead").locator(".turn-note").innerText(), "The clock jumps there.");
  assert.equal(await turn("Day, in the year ahead").locator("button").count(), 0);
  await close();
});

test("what Frame tells of edge, grads and move is asked back, and each cell of its figures opens", async () => {
  const { page, turn, close } = await opened("#frame");
  // Names of pieces are no figures.
  await soon.deepEqual(async () => (await untapped(page)).filter((text) => !text.startsWith("grad: ")), []);
  await page.locator(".frame-edge > summary").tap();
  await page.locator("[data-do='turn-lineHeightMm']").tap();
  await page.locator("#turn-wanted").fill("10 mm");
  await turn("Line").locator("button").tap();
  await page.locator(".frame-set", { hasText: "10 mm above" }).waitFor();
  await page.locator("[data-do=undo]").tap();
  await page.locator(".frame-motion > summary").tap();
  await say(page, "frame.move.tiltToDeg", "-3");
  await page.locator("[data-do=turn-motion]").tap();
  await page.locator("#turn-wanted").fill("1");
  await turn("Tilts by").locator("button").first().tap();
  await page.locator("[data-do=turn-motion]", { hasText: /gets 1(\.00)? stops? darker at worst/ }).waitFor();
  await page.locator(".frame-balance > summary").tap();
  const soft = page.locator(".frame-grads li", { hasText: "0.9 soft" }).locator("[data-do=turn-balance]");
  const [, left] = /: \+?([\d.]+) left/.exec(await soft.innerText()) ?? [];
  await soft.tap();
  await page.locator("#turn-wanted").fill(left ?? "");
  // What it is now is met by the density it is marked with.
  await soon.match(() => turn("Density").innerText(), /ND 0\.9/);
  await page.keyboard.press("Escape");
  await page.locator(".frame-figures > summary").tap();
  await page.locator("[data-do=turn-cell]").first().tap();
  await soon.match(() => page.locator(".drawer-made").innerText(), /at 2 % across, 95 % up/);
  await close();
});

test("what stands below the answer is asked back: depth, blur, infrared, lamps, a ramp, the stack's sums", async () => {
  const { page, turn, close } = await opened("#now");
  const opens = async (/** @type {string} */ name, nth = 0) => {
    await page.locator(`[data-do="${name}"]:visible`).nth(nth).tap();
    await page.locator("#turn-wanted").waitFor();
  };
  await page.locator("details.now-more > summary").tap();
  await opens("turn-card");
  await soon.match(() => turn("Stop you want").innerText(), /T2\.75/);
  const noUncertainty = /No ± counts here/;
  await soon.doesNotMatch(() => page.locator(".drawer-made").innerText(), noUncertainty);
  await page.keyboard.press("Escape");
  await page.locator(".now-depth summary").first().tap();
  // The chosen column is the stop that the ring can be set to: within a third of the one that was taken.
  await opens("turn-nearMm", 1);
  await page.locator("#turn-wanted").fill("2.5 m");
  await turn("Stop").locator("button").tap();
  await soon.match(() => page.locator("[data-do='turn-nearMm']").nth(1).innerText(), /^2\.(4[5-9]|5[0-5]) m$/);
  await page.locator("[data-do=undo]").tap();
  await opens("turn-backgroundBlurMm", 0);
  // m · f/N with the focal length from the lens, by hand 0.44 mm at T2; twice as far focused blurs half.
  await page.locator("#turn-wanted").fill("0.2");
  await soon.match(() => turn("Focused at").innerText(), /6\.\d+ m/);
  await page.keyboard.press("Escape");
  await page.locator(".now-colour summary").first().tap();
  await opens("turn-infrared");
  await page.locator("#turn-wanted").fill("1.2");
  // 0.3 passes all infrared but the 0.03 it takes; the excess left by hand: 1.53 − 1.2 = 0.33 taken in all.
  await soon.match(() => turn("1.2 IR, infrared").innerText(), /D 0\.3\d/);
  await page.keyboard.press("Escape");
  await page.locator("#now .now-camera > summary").tap();
  await opens("turn-lamps");
  await page.locator("#turn-wanted").fill("0");
  // Whole pulses to a frame: 100 a second at 25 frames.
  await soon.match(() => turn("Frame rate").innerText(), /(^|\n)25 fps/);
  // A rate and the mains are set, not read.
  await soon.match(() => page.locator(".drawer-made").innerText(), noUncertainty);
  await close();
});
