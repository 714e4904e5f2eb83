// Installed on a device: what the browser asks of such a page, what the device
// hands to it, its edges, and no signal.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import path from "node:path";
import { test } from "node:test";
import { DIST, KEPT_OFFLINE, PHONE, chooseLook, open, servedPage } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

const { browser, server } = await servedPage();

const notice = (page) => page.locator("#notice");
const offlineCopy = (page) => until("the offline copy", () =>
  page.evaluate(async () => (await navigator.serviceWorker.getRegistration())?.active?.state === "activated"));

test("the browser finds nothing that keeps the page from being installed", async () => {
  const context = await browser.newContext({ viewport: PHONE, ...KEPT_OFFLINE });
  const { page, errors } = await open(context, server.url);
  await offlineCopy(page);
  const session = await context.newCDPSession(page);
  const { url, errors: faults, data } = await session.send("Page.getAppManifest");
  assert.equal(url, `${server.url}manifest.webmanifest`);
  assert.deepEqual(faults, []);
  const { installabilityErrors } = await session.send("Page.getInstallabilityErrors");
  // A window for one test is a private one, from which nothing is ever installed.
  assert.deepEqual(installabilityErrors.filter(({ errorId }) => errorId !== "in-incognito"), []);
  const { icons, screenshots } = JSON.parse(String(data));
  for (const purpose of ["any", "maskable"]) {
    for (const size of ["192x192", "512x512"]) {
      assert.ok(icons.some((icon) => icon.purpose === purpose && icon.sizes === size), `${purpose} ${size}`);
    }
  }
  for (const { src, sizes, type } of [...icons, ...screenshots]) {
    const found = await page.evaluate(async (src) => {
      const image = new Image();
      image.src = src;
      await image.decode();
      return { size: `${image.naturalWidth}x${image.naturalHeight}`, type: (await fetch(src)).headers.get("Content-Type") };
    }, src);
    assert.equal(found.type, type, src);
    if (sizes !== "any") assert.equal(found.size, sizes, src);
  }
  assert.deepEqual(errors, []);
  await context.close();
});

test("what only an install wants is not kept offline", async () => {
  const assets = JSON.parse((await readFile(path.join(DIST, "sw.js"), "utf8")).match(/ASSETS = (\{[\s\S]*?\});/)[1]);
  assert.ok("icon.svg" in assets);
  assert.deepEqual(Object.keys(assets).filter((name) => name.startsWith("install/")), []);
});

/** A case of one piece, as another device wrote it. @param {import("playwright-core").Page} page */
async function caseFile(page) {
  await page.goto(`${server.url}#case?file`);
  await page.waitForSelector("html[data-ready='every screen']");
  const [download] = await Promise.all([page.waitForEvent("download"), page.locator("[data-form=json]").click()]);
  const content = JSON.parse(await readFile(await download.path(), "utf8"));
  const list = Object.keys(content).find((key) => Array.isArray(content[key]) && content[key].some((item) => item.id === "0.9"));
  content[list] = content[list].filter(({ id }) => id === "0.9").map((piece) => ({ ...piece, id: "only one" }));
  return JSON.stringify(content);
}

for (const [way, hand] of Object.entries({
  "opened as a file": async (page, text) => {
    // The platform's part; headless there is no file manager to open it from.
    await page.addInitScript((text) => {
      Object.defineProperty(window, "launchQueue", { value: {
        setConsumer: (take) => take({ files: [{ getFile: async () => new File([text], "case.json") }] }),
      } });
    }, text);
    await page.goto(`${server.url}?`);
  },
})) {
  test(`a case ${way} is read when somebody says so, and not before`, async () => {
    const context = await browser.newContext({ viewport: PHONE, acceptDownloads: true });
    const { page, errors } = await open(context, server.url);
    const text = await caseFile(page);
    await hand(page, text);
    await page.waitForSelector("html[data-ready]");
    await notice(page).getByRole("button", { name: "Read it" }).waitFor();
    const kept = () => page.evaluate(() => JSON.parse(localStorage.glasscall).setup.kit.map(({ id }) => id));
    await soon.ok(async () => (await kept()).length > 1);
    await notice(page).getByRole("button", { name: "Read it" }).click();
    await page.locator(".file-answer").getByText("Read: ").waitFor();
    await soon.deepEqual(() => kept(), ["only one"]);
    await soon.equal(() => notice(page).isHidden(), true);
    await page.getByRole("button", { name: "Undo" }).click();
    await soon.ok(async () => (await kept()).length > 1);
    assert.deepEqual(errors, []);
    await context.close();
  });
}

test("a log opened as a file is read when somebody says so, whatever it holds", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  // The platform's part: it hands over a file whenever one is opened.
  await context.addInitScript(() => {
    Object.defineProperty(window, "launchQueue", { value: { setConsumer: (take) => {
      window.handOver = (text) => take({ files: [{ getFile: async () => new File([text], "log.json") }] });
    } } });
  });
  const pages = [await open(context, `${server.url}#day`), await open(context, server.url)];
  const [{ page }] = pages;
  const shown = (page) => page.evaluate(() => document.querySelectorAll("#day .day-log > li:not(.day-unread)").length);
  const kit = () => page.evaluate(() => JSON.stringify(JSON.parse(localStorage.glasscall).setup.kit));
  /** Opened, told of, read; and what came of it. */
  const opened = async (page, text) => {
    await page.evaluate((text) => window.handOver(text), text);
    await notice(page).getByText("A log was handed to this page").waitFor();
    const before = await shown(page);
    await page.evaluate(() => {
      const message = document.querySelector(".day-message");
      if (message) message.textContent = "";
    });
    await notice(page).getByRole("button", { name: "Read it" }).click();
    await page.waitForFunction(() => location.hash === "#day" && document.querySelector(".day-message")?.textContent);
    return { message: await page.locator(".day-message").first().innerText(), before };
  };
  await page.locator("#day [data-do=log]").click();
  await until("an entry", async () => (await shown(page)) === 1);
  const model = await page.evaluate(() => new Promise((done) => {
    const request = indexedDB.open("glasscall-log");
    request.onsuccess = () => {
      const got = request.result.transaction("records").objectStore("records").getAll();
      got.onsuccess = () => done(got.result[0]);
    };
  }));
  const before = await kit();
  const text = (records, version = 1) => JSON.stringify({ format: "glasscall-log", version, records });
  const good = text([{ ...model, id: "theirs" }]);

  const first = await opened(page, good);
  assert.deepEqual([first.before, first.message], [1, "1 record added."], "nothing before somebody says so");
  await soon.equal(async () => (await opened(page, good)).message, "0 records added.", "the same once more");
  await soon.equal(() => shown(page), 2);
  await soon.match(async () => (await opened(page, good.slice(0, -20))).message, /no log that can be read/, "cut short");
  await soon.match(async () => (await opened(page, text("none"))).message, /no log that can be read/);
  await soon.match(async () => (await opened(page, text([{ ...model, id: "to come", version: 2 }], 2))).message, /newer version/);
  const strange = [null, 7, "x", [], {}, { ...model, id: "b1", setup: { kit: [null] } }, { ...model, id: "b2", shot: null }, { ...model, id: "b3", pieces: [{}] },
    { version: 1, id: "b4", time: "2026-01-01T00:00:00Z", amends: 7, slate: {} }];
  const some = await opened(page, text([...strange, { ...model, id: "sound" }]));
  assert.equal(some.message, `1 record added. ${strange.length} cannot be read and were left out.`);
  await soon.equal(() => shown(page), 3);
  // The same file opened in two windows at once.
  const both = text([{ ...model, id: "both" }, { ...model, id: "theirs" }]);
  await Promise.all(pages.map(({ page }) => opened(page, both)));
  for (const { page, errors } of pages) {
    await until("the entry once", async () => (await shown(page)) === 4);
    await page.goto(`${server.url}#day`);
    await page.reload();
    await page.waitForSelector("html[data-ready]");
    await until("the same at the next start", async () => (await shown(page)) === 4);
    assert.deepEqual(errors, []);
  }
  await soon.equal(() => kit(), before, "a log is no case");
  await context.close();
});

test("nothing stands under a notch or a rounded corner", async () => {
  const context = await browser.newContext({ viewport: { width: 844, height: 390 } });
  const { page } = await open(context, server.url);
  const session = await context.newCDPSession(page);
  const insets = { top: 12, left: 47, right: 59, bottom: 21 };
  await session.send("Emulation.setSafeAreaInsetsOverride", { insets });
  const outside = () => page.evaluate(({ top, left, right, bottom }) => {
    const things = [...document.querySelectorAll(".top > *, main button, main input, main h3, main p, main label, .tabs a, .caution p")];
    const scrolled = document.querySelector(".page").scrollTop;
    // Of what scrolls sideways only that part is seen which its strip shows.
    const seen = (one) => {
      const { left: from, right: to, top: above, bottom: below } = one.getBoundingClientRect();
      const strip = one.parentElement?.closest(".strip")?.getBoundingClientRect();
      const [start, end] = strip ? [Math.max(from, strip.left), Math.min(to, strip.right)] : [from, to];
      return { left: start, right: end, top: above, bottom: below, width: end - start };
    };
    return things.filter((one) => /** @type {HTMLElement} */ (one).checkVisibility() && !one.matches(".unseen")).map((one) => [one, seen(one)])
      .filter(([one, box]) => box.width > 0 && (box.left < left - 0.5 || box.right > innerWidth - right + 0.5
        || (one.closest(".top") && box.top + scrolled < top - 0.5) || (one.closest(".tabs") && box.bottom > innerHeight - bottom + 0.5)))
      .map(([one]) => `${one.tagName} ${one.className} ${one.id} ${one.textContent?.slice(0, 20)}`);
  }, insets);
  for (const name of ["now", "fit", "frame", "light", "case", "day"]) {
    await page.goto(`${server.url}#${name}`);
    await soon.deepEqual(() => outside(), [], name);
  }
  await context.close();
});

test("the device's own bar goes with the look", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  const bar = () => page.locator("meta[name=theme-color]").getAttribute("content");
  await chooseLook(page, "day");
  await soon.equal(() => bar(), "#14323b");
  await chooseLook(page, "night");
  await soon.equal(() => bar(), "#1c0000");
  await context.close();
});

test("no signal is said, not announced, and the guide tells what is kept", async () => {
  const context = await browser.newContext({ viewport: PHONE, ...KEPT_OFFLINE });
  const { page, errors } = await open(context, server.url);
  await offlineCopy(page);
  const mark = page.locator("#signal");
  await soon.equal(() => mark.innerText(), "");
  // A first visit loads its screens without the copy: no signal in the midst of it is another matter.
  await page.waitForSelector("html[data-ready='every screen']", { state: "attached" });
  await context.setOffline(true);
  await mark.getByText("no signal").waitFor();
  await soon.equal(() => mark.evaluate((one) => one.closest("[aria-live], [role=status], [role=alert], output")), null);
  await soon.doesNotMatch(() => notice(page).innerText(), /signal/);
  await page.reload();
  await page.waitForSelector("html[data-ready]");
  await page.locator("#guide summary").first().click();
  await soon.match(() => page.locator("#offline-copy").innerText(), /keeps the whole tool/);
  await mark.getByText("no signal").waitFor();
  await context.setOffline(false);
  await until("no word of the signal", () => page.evaluate(() => document.querySelector("#signal")?.textContent === ""));
  assert.deepEqual(errors, []);
  await context.close();
});
