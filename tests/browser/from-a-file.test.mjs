// The single file, opened from disk: what cannot work elsewhere is said instead.
import assert from "node:assert/strict";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { test } from "node:test";
import { DIST, PHONE, launched, open, unfoldDay } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

const browser = await launched();

test("from a file no link, code or snippet names a place on this device", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  await context.addInitScript(unfoldDay);
  const { page, errors } = await open(context, `${pathToFileURL(path.join(DIST, "glasscall.html")).href}#day`);
  const message = page.locator("#day .day-message:not(.code-message, .scan-message)");
  await page.locator("[data-do=copy-link]").click();
  await soon.match(() => message.innerText(), /is a file on this device/);
  for (const form of ["frame", "element"]) {
    await message.evaluate((box) => box.replaceChildren());
    await page.locator("[data-do=form]").selectOption(form);
    await page.locator("[data-do=copy-out]").click();
    await page.waitForFunction(() => document.querySelector("#day .day-message:not(.code-message, .scan-message)").textContent !== "");
    await soon.match(() => message.innerText(), /is a file on this device/, form);
  }
  await soon.doesNotMatch(() => page.locator(".day-text").inputValue(), /file:/);
  // The code holds the set-up itself: another phone's page reads it, no address.
  await page.locator("[data-do=show-code]").click();
  await until("the code", async () => /^(This set-up as a code|Frame \d of \d)$/.test(await page.locator(".code-line").innerText()));
  await page.locator("[data-do=form]").selectOption("csv");
  await page.locator("[data-do=copy-out]").click();
  await page.waitForFunction(() => document.querySelector(".day-text").value !== "");
  assert.deepEqual(errors, []);
  await context.close();
});
