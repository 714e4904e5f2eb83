// The first half of the module alone: what Now asks must never need the second.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { PHONE, drawn, launch, meansToFail, open, serveDist } from "./harness.mjs";
import { until } from "./until.mjs";

/** @type {import("playwright-core").Browser} */
let browser;
/** @type {Awaited<ReturnType<typeof serveDist>>} */
let server;
before(async () => {
  [browser, server] = await Promise.all([launch(), serveDist()]);
});
after(async () => {
  await browser.close();
  await server.stop();
});

/** A page whose second half waits until it is let go. */
async function held() {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true });
  let letGo = () => {};
  const gone = new Promise((done) => (letGo = () => done(undefined)));
  let asked = 0;
  await context.route("**/rest.wasm", async (route) => {
    asked += 1;
    await gone;
    await route.continue();
  });
  const { page, errors } = await open(context, server.url);
  return { context, page, errors, letGo, asked: () => asked };
}

test("all of Now answers while the second half is on its way", async () => {
  const { context, page, errors, letGo, asked } = await held();
  await until("the second half to be asked for", () => asked() > 0);
  const need = page.locator("#now .need-stops");
  const before = await need.textContent();
  const read = page.getByLabel("You read", { exact: true });
  await read.fill("4");
  await until("another answer", async () => (await need.textContent()) !== before);
  for (const fold of await page.locator("#now details:not([open]) > summary").all()) {
    if (await fold.isVisible()) await fold.click();
  }
  const fields = await page.locator("#now .field input:visible").all();
  assert.ok(fields.length > 5, `${fields.length} fields`);
  for (const field of fields) {
    const value = await field.inputValue();
    await field.fill("");
    await field.fill(value || "3");
    await field.blur();
  }
  await drawn(page);
  assert.deepEqual(errors, []);
  assert.equal(await page.locator("#now .best .stack").count() > 0, true, "no stack");
  letGo();
  await page.waitForSelector("html[data-ready='every screen']", { state: "attached" });
  assert.deepEqual(errors, []);
  await context.close();
});

test("a screen and the log wait for the second half, and nothing is lost", async () => {
  const { context, page, errors, letGo } = await held();
  await page.locator("#now .best [data-do=put], #now .best button").first().click();
  await page.locator(".tabs a[href='#fit']").click();
  assert.equal(await page.locator("#fit").isVisible(), true);
  letGo();
  await page.waitForSelector("html[data-ready='every screen']", { state: "attached" });
  await until("Fit to say something", async () => (await page.locator("#fit output, #fit [role=status]").first().textContent())?.trim());
  assert.deepEqual(errors, []);
  await context.close();
});

test("a second half that does not come leaves Now, and is asked for again", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  let broken = true;
  await context.route("**/rest.wasm", (route) => (broken ? route.abort() : route.continue()));
  meansToFail(/./);
  const { page } = await open(context, server.url);
  await page.getByLabel("You read", { exact: true }).fill("4");
  await page.locator(".tabs a[href='#fit']").click();
  await until("a word that Fit cannot be shown", () => page.getByText(/Fit/).and(page.locator("[role=alert], [role=status], .notice, .notice *")).first().isVisible());
  broken = false;
  await page.locator(".tabs a[href='#now']").click();
  await page.locator(".tabs a[href='#fit']").click();
  await until("Fit to say something", async () => (await page.locator("#fit output, #fit [role=status]").first().textContent())?.trim());
  await context.close();
});
