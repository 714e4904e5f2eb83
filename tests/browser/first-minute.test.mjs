// The first minute, and the reader's own settings: what the example is, the way
// out of it, the guide, no white flash at night, large text, forced colours.
import assert from "node:assert/strict";
import { test } from "node:test";
import { BY_COLOUR, faultsOf, screensOf } from "./axe.mjs";
import { PHONE, chooseLook, drawn, meansToFail, open, ready, servedPage } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

const SIZES = [
  { width: 360, height: 740 },
  { width: 740, height: 360 },
  { width: 820, height: 1180 },
  { width: 1440, height: 900 },
];

const { browser, server } = await servedPage();

/** @param {import("playwright-core").BrowserContextOptions} [options] */
const fresh = (options) => browser.newContext({ viewport: PHONE, ...options });

test("the example says what it is and one tap replaces it", async () => {
  const context = await fresh({ hasTouch: true });
  const { page, errors } = await open(context, server.url);
  await soon.match(() => page.locator(".now-demo").innerText(), /invented crew/);
  await page.locator(".now-demo [data-do=own]").tap();
  await page.waitForURL(/#case$/);
  await until("the focus on the first question", () => page.evaluate(() => document.activeElement?.closest(".holds") !== null));
  await page.locator(".holds [data-rig=screw]").tap();
  await page.keyboard.type("ND8");
  await page.keyboard.press("Control+Enter");
  await page.locator(".tabs a[href='#now']").tap();
  await soon.equal(() => page.locator(".now-demo").isVisible(), false);
  assert.deepEqual(errors, []);
  await context.close();
});

test("the guide opens by keyboard and stands on every screen", async () => {
  const context = await fresh();
  const { page } = await open(context, server.url);
  await page.locator(".now-demo [data-do=guide]").press("Enter");
  await soon.equal(async () => await page.evaluate(() => document.activeElement?.closest("#guide") !== null), true);
  for (const name of await screensOf(page)) {
    await page.goto(`${server.url}#${name}`);
    await soon.match(() => page.locator("#guide").innerText(), /Left over/, name);
  }
  await context.close();
});

test("nothing jumps away from the finger while the page starts", async () => {
  for (const viewport of [PHONE, { width: 1350, height: 940 }]) {
    const context = await fresh({ viewport });
    await context.addInitScript(() => {
      let sum = 0;
      new PerformanceObserver((list) => {
        for (const entry of list.getEntries()) sum += /** @type {any} */ (entry).value;
        document.documentElement.dataset.shifted = String(sum);
      }).observe({ type: "layout-shift", buffered: true });
    });
    const shifted = async (page) => {
      await ready(page);
      await drawn(page);
      return Number(await page.evaluate(() => document.documentElement.dataset.shifted ?? 0));
    };
    // The module comes late, so that the page stands there before it is filled.
    await context.route("**/*.wasm", async (route) => {
      await new Promise((done) => setTimeout(done, 400));
      await route.continue();
    });
    const { page } = await open(context, server.url);
    // Below a tenth a shift counts as none: https://web.dev/articles/cls
    await soon.ok(async () => await shifted(page) < 0.1, `the example, ${viewport.width}: ${await shifted(page)}`);
    await page.locator(".now-demo [data-do=own]").click();
    await until("the focus on the first question", () => page.evaluate(() => document.activeElement?.closest(".holds") !== null));
    await page.goto(`${server.url}?again`);
    await ready(page);
    await soon.ok(async () => await shifted(page) < 0.1, `one's own, ${viewport.width}: ${await shifted(page)}`);
    await context.close();
  }
});

test("a kept night look is there before anything is painted", async () => {
  const context = await fresh();
  const { page } = await open(context, server.url);
  await chooseLook(page, "night");
  // Without the page's module the look must be there all the same.
  meansToFail(/ERR_FAILED/);
  await page.route("**/app.js", (route) => route.abort());
  await page.reload();
  await soon.equal(() => page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor), "rgb(0, 0, 0)");
  await context.close();
});

for (const viewport of SIZES) {
  test(`nothing is lost sideways at ${viewport.width} × ${viewport.height}, at 200 % text too`, async () => {
    const context = await fresh({ viewport });
    const { page } = await open(context, server.url);
    for (const name of await screensOf(page)) {
      await page.goto(`${server.url}#${name}`);
      for (const size of ["100%", "200%"]) {
        await page.evaluate((size) => { document.documentElement.style.fontSize = size; }, size);
        const over = await page.evaluate(() => Math.max(document.documentElement.scrollWidth, document.querySelector(".page").scrollWidth) - window.innerWidth);
        assert.ok(over <= 0, `${name} at ${size} is ${over} px too wide`);
        // On its side a phone has it beside the tabs, of one height.
        const below = await page.locator(".top").evaluate((head) => (getComputedStyle(head).position === "fixed" ? 0 : head.scrollHeight - head.clientHeight));
        assert.ok(below <= 0, `the head at ${size} lies ${below} px over ${name}`);
      }
    }
    await context.close();
  });
}

test("what is pressed and where one is shows in forced colours", async () => {
  const context = await fresh({ forcedColors: "active" });
  const { page } = await open(context, server.url);
  const outline = await page.locator(".tabs a[aria-current]").evaluate((one) => getComputedStyle(one).outlineStyle);
  assert.equal(outline, "solid");
  await context.close();
});

test("no accessibility fault with errors shown, with an empty case, with a notice", async () => {
  const context = await fresh({ viewport: SIZES[0], bypassCSP: true });
  const { page } = await open(context, server.url);
  await page.locator("#read-stop").fill("nonsense");
  await page.locator("#read-stop").press("Enter");
  await page.locator("#guide").evaluate((guide) => { guide.open = true; });
  for (const look of ["day", "sun", "night"]) {
    await chooseLook(page, look);
    await soon.deepEqual(() => faultsOf(page, look === "day" ? {} : { rules: BY_COLOUR }), [], `an error, ${look}`);
  }
  await page.locator(".now-demo [data-do=own]").click();
  await until("the focus on the first question", () => page.evaluate(() => document.activeElement?.closest(".holds") !== null));
  await soon.deepEqual(() => faultsOf(page), [], "an empty case");
  // What is not known is said in ink that shows, and no black box is its picture.
  await page.locator(".tabs a[href='#fit']").click();
  const ink = (/** @type {string} */ what) => page.locator(what).evaluate((one) => getComputedStyle(one).color);
  await page.locator("#fit .fit-room:disabled").waitFor();
  await soon.equal(() => ink("#fit .fit-room"), await ink("#fit .fit-word"));
  await page.locator(".tabs a[href='#frame']").click();
  await until("no picture", () => page.locator(".frame-picture").evaluate((one) => getComputedStyle(one).visibility === "hidden"));
  await page.locator(".tabs a[href='#now']").click();
  await page.locator("#now").waitFor();
  await soon.deepEqual(() => faultsOf(page), [], "no stack");
  await context.close();
});
