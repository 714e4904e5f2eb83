// What is kept on the device: killed tabs and browsers, two windows, full storage.
import assert from "node:assert/strict";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { test } from "node:test";
import { PHONE, launchKept, meansToFail, open, servedPage, setMoment } from "./harness.mjs";
import { backedUp, closeThird, fillLocalStorage, inBothPlaces, kept, mirrored, pieces, readStop, ready } from "./kept.mjs";
import { soon } from "./soon.mjs";

const { browser, server } = await servedPage();

test("an edit survives the whole browser killed right after it", async () => {
  const folder = await mkdtemp(path.join(tmpdir(), "profile-"));
  const labels = [];
  for (let round = 0; round < 3; round += 1) {
    const { context, kill } = await launchKept(folder);
    const { page } = await open(context, server.url);
    if (round > 0) await soon.equal(() => readStop(page).inputValue(), labels.at(-1), `after kill ${round}`);
    await closeThird(page);
    labels.push(await readStop(page).inputValue());
    // The time is what is promised. Local storage alone lost this: it reaches
    // the disk seconds later.
    await page.waitForTimeout(60);
    await kill();
  }
  assert.deepEqual(labels, ["T16⅓", "T16⅔", "T22"]);
  await rm(folder, { recursive: true });
});

test("an edit survives the tab killed in the same moment", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  const devtools = await context.newCDPSession(page);
  const crashed = page.waitForEvent("crash");
  await page.evaluate(() => document.querySelector("[aria-label='You read: close a third']").click());
  // A process that is gone gives no answer.
  devtools.send("Page.crash").catch(() => {});
  await crashed;
  const { page: next } = await open(context, server.url);
  await soon.equal(() => readStop(next).inputValue(), "T16⅓");
  await context.close();
});

test("a full local storage loses nothing and says nothing false", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  await fillLocalStorage(page);
  await page.goto(`${server.url}#case`);
  // A longer record than there is room for.
  for (const name of ["0.3", "0.6", "0.9"]) {
    await page.getByLabel("Add filters and lenses").fill(name);
    await page.locator("[data-do=add-piece]").click();
  }
  const now = await page.locator("[data-rows=kit] > li").count();
  await page.waitForFunction(() => document.querySelector("#keeping").textContent === "");
  await page.reload();
  await ready(page);
  await soon.equal(async () => await page.locator("[data-rows=kit] > li").count(), now);
  await context.close();
});

test("a window without any storage works and says that it keeps nothing", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  await context.addInitScript(() => {
    for (const name of ["localStorage", "indexedDB"]) {
      Object.defineProperty(window, name, { get: () => { throw new DOMException("no", "SecurityError"); } });
    }
  });
  const { page, errors } = await open(context, server.url);
  await closeThird(page);
  await soon.equal(() => readStop(page).inputValue(), "T16⅓");
  await page.getByText("This window keeps nothing").waitFor();
  assert.deepEqual(errors, []);
  await context.close();
});

test("two windows show one case and lose no edit", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page: one } = await open(context, server.url);
  const { page: two } = await open(context, server.url);
  await closeThird(one);
  await two.waitForFunction(() => document.querySelector("#read-stop").value === "T16⅓");
  await two.getByRole("button", { name: "You want: open a third" }).click();
  await one.waitForFunction(() => document.querySelector("#shot-stop").value === "T2⅔");
  await soon.equal(() => readStop(one).inputValue(), "T16⅓");
  // Undo steps back over what the other window did.
  await one.locator("[data-do=undo]").click();
  await two.waitForFunction(() => document.querySelector("#shot-stop").value === "T2.8");
  await soon.equal(() => readStop(two).inputValue(), "T16⅓");
  await context.close();
});

test("edits of two windows in the same moment are both kept", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const pages = [(await open(context, server.url)).page, (await open(context, server.url)).page];
  const step = (page, label, times) => page.evaluate(({ name, count }) => {
    for (let at = 0; at < count; at += 1) document.querySelector(`[aria-label='${name}']`).click();
  }, { name: label, count: times });
  for (let round = 0; round < 5; round += 1) {
    await Promise.all([step(pages[0], "You read: close a third", 1), step(pages[1], "You want: open a third", 1)]);
  }
  for (const page of pages) {
    await page.waitForFunction(() =>
      document.querySelector("#read-stop").value === "T22⅔" && document.querySelector("#shot-stop").value === "T1.4⅓");
  }
  await context.close();
});

test("what is typed and not yet possible survives, in the window that typed it", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page: one } = await open(context, server.url);
  const { page: two } = await open(context, server.url);
  await readStop(one).fill("T11 and");
  await two.getByRole("button", { name: "You want: open a third" }).click();
  await one.waitForFunction(() => document.querySelector("#shot-stop").value === "T2⅔");
  await soon.equal(() => readStop(one).inputValue(), "T11 and");
  await one.reload();
  await ready(one);
  await soon.equal(() => readStop(one).inputValue(), "T11 and");
  await context.close();
});

test("a clock set back years changes nothing of what is kept", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  await closeThird(page);
  await inBothPlaces(page);
  await setMoment(page, "2001-01-01T00:00:00Z");
  await page.reload();
  await ready(page);
  await soon.equal(() => readStop(page).inputValue(), "T16⅓");
  await closeThird(page);
  await inBothPlaces(page);
  await page.reload();
  await ready(page);
  await soon.equal(() => readStop(page).inputValue(), "T16⅔");
  await soon.equal(async () => (await mirrored(page)).edit, (await kept(page)).edit);
  await context.close();
});

test("the browser is asked to keep a case of one's own, and only that", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  await context.addInitScript(() => {
    window.persistAsked = 0;
    // A frame that shows foreign text has none.
    if (window.origin === "null") return;
    StorageManager.prototype.persist = async () => {
      window.persistAsked += 1;
      return true;
    };
  });
  const { page } = await open(context, server.url);
  await closeThird(page);
  await soon.equal(() => page.evaluate(() => window.persistAsked), 0);
  await page.goto(`${server.url}#case`);
  await page.getByRole("button", { name: "Start with my own" }).click();
  await page.getByLabel("Add filters and lenses").fill("0.9");
  await page.locator("[data-do=add-piece]").click();
  await soon.equal(() => page.evaluate(() => window.persistAsked), 1);
  await context.close();
});

test("a file is suggested quietly after many changes, and no more once saved", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  await page.goto(`${server.url}#case`);
  await page.getByRole("button", { name: "Start with my own" }).click();
  for (let at = 0; at < 20; at += 1) {
    await page.getByLabel("Add filters and lenses").fill("0.3");
    await page.locator("[data-do=add-piece]").click();
  }
  await page.goto(`${server.url}#case?file`);
  await soon.match(() => page.locator(".file-reminder").innerText(), /21 changes since/);
  await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Save as JSON" }).click()]);
  await soon.equal(() => page.locator(".file-reminder").innerText(), "");
  await context.close();
});

test("an earlier day's state can be gone back to, and that undone", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  await page.goto(`${server.url}#case`);
  await page.getByRole("button", { name: "Start with my own" }).click();
  await page.getByLabel("Add filters and lenses").fill("0.9");
  await page.locator("[data-do=add-piece]").click();
  await page.reload();
  await ready(page);
  await backedUp(page);
  await page.getByLabel("Add filters and lenses").fill("0.6");
  await page.locator("[data-do=add-piece]").click();
  await page.goto(`${server.url}#case?file`);
  await page.getByText("Go back to an earlier state").click();
  await page.locator(".earlier li").filter({ hasText: "1 piece," }).getByRole("button").click();
  // The state now is kept as an earlier one first.
  await page.waitForFunction(() => JSON.parse(localStorage.getItem("glasscall")).setup.kit.length === 1);
  await soon.equal(() => pieces(page, server.url), 1);
  await page.locator("[data-do=undo]").click();
  await soon.equal(() => pieces(page, server.url), 2);
  await context.close();
});

test("a core that breaks off says so, and nothing is lost", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  await context.addInitScript(() => {
    const broken = (real) => async (...given) => {
      const made = await real(...given);
      const instance = made.instance ?? made;
      if (!instance.exports.openUp) return made;
      const exports = { ...instance.exports, openUp: (...args) => {
        if (window.breakNow) throw new WebAssembly.RuntimeError("unreachable");
        return instance.exports.openUp(...args);
      } };
      return made.instance ? { ...made, instance: { exports } } : { exports };
    };
    for (const name of ["instantiate", "instantiateStreaming"]) WebAssembly[name] = broken(WebAssembly[name]);
  });
  const { page } = await open(context, server.url);
  await closeThird(page);
  meansToFail(/^unreachable$/);
  await page.evaluate(() => {
    window.breakNow = true;
  });
  await closeThird(page);
  await page.getByText("The calculation broke off").waitFor();
  await Promise.all([page.waitForEvent("load"), page.getByRole("button", { name: "Start again" }).click()]);
  await ready(page);
  await soon.equal(() => readStop(page).inputValue(), "T16⅔");
  await context.close();
});
