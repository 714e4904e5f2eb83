// The first half of the module alone: what the answer of Now and its keys ask must never need the second.
import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, drawn, meansToFail, open, servedPage } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

const { browser, server } = await servedPage();

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
  const { page, errors } = await open(context, server.url, "html[data-answered]");
  return { context, page, errors, letGo, asked: () => asked };
}

/** Whether Fit has shown the set-up. @param {import("playwright-core").Page} page */
const fitIsDrawn = (page) => page.locator("#fit .field input").evaluateAll((all) => all.some((input) => /** @type {HTMLInputElement} */ (input).value !== ""));

/** Opens what is folded away, and types into each field twice; how many there were. @param {import("playwright-core").Locator} part */
const typeEverywhere = (part) => part.evaluate((now) => {
  for (const fold of now.querySelectorAll("details")) fold.open = true;
  const inputs = [...now.querySelectorAll("input")].filter((input) => !input.closest("[inert]"));
  for (const input of inputs) {
    const { value } = input;
    for (const text of ["3", value]) {
      input.value = text;
      input.dispatchEvent(new Event("input", { bubbles: true }));
    }
    input.dispatchEvent(new Event("change", { bubbles: true }));
  }
  return inputs.length;
});

test("the answer of Now and its fields work while the second half is on its way", async () => {
  const { context, page, errors, letGo, asked } = await held();
  await until("the second half to be asked for", () => asked() > 0);
  const need = page.locator("#now .need-stops");
  const before = await need.textContent();
  await page.getByLabel("You read", { exact: true }).fill("4");
  await until("another answer", async () => (await need.textContent()) !== before);
  // Each field once more: whatever stands there can ask is asked.
  const above = await typeEverywhere(page.locator("#now"));
  assert.ok(above > 8, `${above} fields`);
  await page.locator(".plate-act").click();
  await until("the glass to be in", async () => (await page.locator(".plate.plate-in").count()) === 1);
  await drawn(page);
  // What stands below listens to nobody yet.
  await soon.equal(() => page.locator("#now [data-below]:not([inert])").count(), 0);
  assert.deepEqual(errors, []);
  letGo();
  await page.waitForSelector("html[data-ready='every screen']", { state: "attached" });
  await soon.equal(() => page.locator("#now [data-below][inert]").count(), 0);
  const all = await typeEverywhere(page.locator("#now"));
  assert.ok(all > above + 15, `${all} fields`);
  await drawn(page);
  await soon.notEqual(() => page.locator(".now-depth-result").textContent(), "");
  assert.deepEqual(errors, []);
  await context.close();
});

test("a screen that is opened early waits for the second half", async () => {
  const { context, page, errors, letGo } = await held();
  await page.locator(".tabs a[href='#fit']").click();
  await page.locator(".tabs a[href='#fit'][aria-current]").waitFor();
  // Where nothing answers yet there is nothing to tap or type into.
  await soon.equal(() => page.locator("#fit").isVisible(), false);
  await soon.equal(() => fitIsDrawn(page), false);
  letGo();
  await page.locator("#fit").waitFor();
  await until("Fit to show the set-up", () => fitIsDrawn(page));
  assert.deepEqual(errors, []);
  await context.close();
});

test("a second half that does not come leaves Now, and is asked for again", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  let broken = true;
  await context.route("**/rest.wasm", (route) => (broken ? route.abort() : route.continue()));
  meansToFail(/./);
  const { page } = await open(context, server.url);
  const need = page.locator("#now .need-stops");
  const before = await need.textContent();
  await page.getByLabel("You read", { exact: true }).fill("4");
  await until("another answer", async () => (await need.textContent()) !== before);
  broken = false;
  await page.locator(".tabs a[href='#fit']").click();
  await until("Fit to show the set-up", () => fitIsDrawn(page));
  await page.locator(".tabs a[href='#now']").click();
  await page.getByLabel("You read", { exact: true }).fill("8");
  await until("what stands below the answer", async () => (await page.locator("#now [data-below][inert]").count()) === 0);
  await context.close();
});
