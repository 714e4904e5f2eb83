// The light as it was said, and what a crew asks about the glass itself.
import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, giveFile, open, servedPage } from "./harness.mjs";
import { putInSlot, whatIsIn } from "./now-acts.mjs";
import { soon } from "./soon.mjs";

/** A box whose turning stage is nearest the lens. */
const RESIN = {
  format: "glasscall-case",
  version: 1,
  pieces: [
    { id: "pola", kind: "polarizer", size: "4x5.65", count: 1 },
    { id: "resin grad", kind: "grad", density: 0.6, size: "4x5.65", count: 1, material: "resin", profile: { kind: "hard" } },
  ],
  rigs: [{ id: "in use", mount: "matteBox" }],
  slots: [
    { rig: "in use", id: "rotating", size: "4x5.65", rotates: true },
    { rig: "in use", id: "tray 1", size: "4x5.65", rotates: false },
  ],
};

const { browser, server } = await servedPage();

/** @param {object} [more] */
async function opened(more = {}) {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, ...more });
  const { page } = await open(context, server.url);
  return { page, close: () => context.close() };
}

test("“two thirds under” and “a cloud came” are entered as they are said", async () => {
  const { page, close } = await opened();
  const need = page.locator("#now [data-answer=need]");
  await need.tap();
  await page.locator("#said-need").fill("-2/3");
  // Two thirds under at T2.8 was read at T2.2: two thirds of a stop opened, by hand.
  await soon.equal(() => page.locator("#read-stop").inputValue(), "T2⅓");
  await soon.match(() => need.innerText(), /0\.67 stops\s+missing/);
  await page.keyboard.press("Escape");
  await page.locator("[data-do=undo]").tap();
  await soon.match(() => need.innerText(), /^5 stops/);
  await need.tap();
  await page.locator(".said-changes button", { hasText: "−1⅔" }).tap();
  await soon.match(() => need.innerText(), /^3\.33 stops/);
  // Five thirds open from T16, by hand: T8⅓.
  await soon.equal(() => page.locator("#read-stop").inputValue(), "T8⅓");
  await close();
});

test("order, which way round, what is quick, one piece and the sun: each is answered where one looks", async () => {
  const { page, close } = await opened();
  await page.locator("[data-do=advice]").tap();
  const drawer = page.locator(".drawer-made");
  await soon.match(() => drawer.innerText(), /Nothing in the rig stands against the usual order/);
  const told = await drawer.innerText();
  assert.match(told, /Common practice, no source/);
  // tan⁻¹ 1.333 and tan⁻¹ 1.52, by hand.
  assert.match(told, /wet road[^.]*at 53° /);
  assert.match(told, /side glass: at 57° /);
  // The box takes half a minute a move.
  assert.match(told, /: 1 move, about 30 s/);
  assert.match(told, /sensor, shutter and finder can burn/);
  assert.doesNotMatch(told, /\bis safe\b|\bsafe to\b/);
  // 50 mm at T2.8: 50·0.0093 mm and (1/(2.828·0.0093))², by hand.
  assert.match(told, /0\.47 mm wide and 1445 times/);
  await close();
});

test("what stands against the usual order is named by piece and slot, and forbids nothing", async () => {
  const { page, close } = await opened();
  await page.evaluate(() => (location.hash = "#case?file"));
  await giveFile(page.locator("#case-file"), { name: "case.json", mimeType: "application/json", buffer: Buffer.from(JSON.stringify(RESIN)) });
  await page.locator(".file-answer p").first().waitFor();
  await page.locator(".tabs a[href='#now']").tap();
  await putInSlot(page, "rotating", "pola");
  await putInSlot(page, "tray 1", "resin grad");
  await page.locator("[data-do=advice]").tap();
  await soon.match(() => page.locator(".drawer-made").innerText(), /resin grad is resin and stands before the polarizer/);
  await page.keyboard.press("Escape");
  // It is advice: both are in, and that is what a record would hold.
  await soon.deepEqual(() => whatIsIn(page), ["pola", "resin grad"]);
  await close();
});

test("two answers stand side by side, what differs marked, and nothing changes until one is taken", async () => {
  const { page, close } = await opened();
  const set = await page.locator("#now [data-answer=stop]").innerText();
  const pieces = await page.locator("#now [data-answer=pieces]").innerText();
  await page.locator("[data-do=beside]").tap();
  const row = (/** @type {string} */ name) => page.locator(".side-by-side tr", { has: page.getByRole("rowheader", { name, exact: true }) });
  await soon.match(() => row("Glass").innerText(), /1\.2 IR \+ 0\.3\s+0\.9 \+ 0\.6/);
  await soon.equal(() => row("Glass").getAttribute("class"), "side-differs");
  await soon.equal(() => row("Need").getAttribute("class"), "");
  // Another lens, and an hour from now, are tried without being put on.
  const names = await page.locator("[data-side='1'] option").allInnerTexts();
  assert.ok(names.some((name) => name.startsWith("lens: ")) && names.some((name) => name.startsWith("rig: ")) && names.includes("in 1 h, clear sky"), names.join());
  await page.locator("[data-side='1']").selectOption({ label: "in 3 h, clear sky" });
  await soon.equal(() => row("Need").getAttribute("class"), "side-differs");
  await soon.equal(() => page.locator("#now [data-answer=stop]").innerText(), set);
  await page.locator("[data-side='1']").selectOption({ label: "0.9 + 0.6" });
  await page.locator(".side-by-side tfoot button").last().tap();
  await soon.deepEqual(async () => (await whatIsIn(page)).filter((piece) => piece !== "—"), ["0.9", "0.6"]);
  await page.locator("[data-do=undo]").tap();
  await soon.deepEqual(async () => (await whatIsIn(page)).filter((piece) => piece !== "—"), []);
  await soon.equal(() => page.locator("#now [data-answer=pieces]").innerText(), pieces);
  await close();
});

test("it is all said in German, and none of it is cut on the narrowest phone", async () => {
  const { page, close } = await opened({ locale: "de-DE", viewport: { width: 360, height: 640 } });
  for (const opener of ["[data-do=advice]", "#now [data-do=said]", "[data-do=beside]"]) {
    await page.locator(opener).tap();
    await soon.doesNotMatch(() => page.locator(".drawer-made").innerText(), /\b(the|with|which|of|and|by)\b/i);
    await soon.deepEqual(() => page.locator(".drawer-made, .drawer-made *").evaluateAll((all) => all
      .filter((one) => one.getBoundingClientRect().right > innerWidth).map((one) => one.outerHTML.slice(0, 80))), []);
    await page.keyboard.press("Escape");
  }
  await close();
});
