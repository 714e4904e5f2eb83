// What is kept on the device: killed tabs and browsers, two windows, damage.
import assert from "node:assert/strict";
import { resolve } from "../../target/modules/document/resolve.js";
import { mkdtemp, readFile, readdir, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { after, before, test } from "node:test";
import { PHONE, launch, launchKept, meansToFail, open, serveDist, setMoment } from "./harness.mjs";
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

const KEY = "glasscall";
const ready = (page) => page.waitForSelector("html[data-ready]");
const readStop = (page) => page.getByLabel("You read", { exact: true });
const closeThird = (page) => page.getByRole("button", { name: "You read: close a third" }).click();
const notice = (page) => page.locator("#notice");
const kept = (page) => page.evaluate((key) => JSON.parse(localStorage.getItem(key)), KEY);
/** Every window's record of the case in the second place. */
const ALL_WINDOWS = ["glasscall", "glasscall \uffff"];
/** The newest that the second place holds. */
const mirrored = (page) => page.evaluate(([from, to]) => new Promise((done) => {
  const request = indexedDB.open("glasscall");
  request.onsuccess = () => {
    const got = request.result.transaction("kept").objectStore("kept").getAll(IDBKeyRange.bound(from, to));
    got.onsuccess = () => {
      request.result.close();
      done(got.result.sort((a, b) => b.edit - a.edit)[0]);
    };
  };
}), ALL_WINDOWS);
/** Until a start has shown every screen and kept that it could. */
const backedUp = (page) => page.waitForFunction(() => new Promise((done) => {
  const request = indexedDB.open("glasscall");
  request.onsuccess = () => {
    const got = request.result.transaction("kept").objectStore("kept").count(IDBKeyRange.bound("glasscall-backup-", "glasscall-backup-\uffff"));
    got.onsuccess = () => {
      request.result.close();
      done(got.result > 0);
    };
  };
}));
const pieces = async (page) => {
  await page.goto(`${server.url}#case`);
  return page.locator("[data-rows=kit] > li").count();
};

/** A page whose storage holds this before it starts. */
async function started(text, key = KEY) {
  const context = await browser.newContext({ viewport: PHONE });
  await context.addInitScript(({ name, value }) => {
    // A frame that shows foreign text has no storage to plant in.
    if (window.origin === "null" || sessionStorage.getItem("planted")) return;
    sessionStorage.setItem("planted", "yes");
    localStorage.setItem(name, value);
  }, { name: key, value: text });
  return { context, ...(await open(context, server.url)) };
}

test("an edit survives the whole browser killed right after it", async () => {
  const folder = await mkdtemp(path.join(tmpdir(), "profile-"));
  const labels = [];
  for (let round = 0; round < 3; round += 1) {
    const { context, kill } = await launchKept(folder);
    const { page } = await open(context, server.url);
    if (round > 0) assert.equal(await readStop(page).inputValue(), labels.at(-1), `after kill ${round}`);
    await closeThird(page);
    labels.push(await readStop(page).inputValue());
    // Local storage alone lost this: it reaches the disk seconds later.
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
  assert.equal(await readStop(next).inputValue(), "T16⅓");
  await context.close();
});

test("a full local storage loses nothing and says nothing false", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  await page.evaluate(() => {
    let part = "x".repeat(1 << 20);
    for (let at = 0; part.length > 0; at += 1) {
      try {
        localStorage.setItem(`filler ${at}`, part);
      } catch {
        part = part.slice(0, part.length >> 1);
      }
    }
  });
  await page.goto(`${server.url}#case`);
  // A longer record than there is room for.
  for (const name of ["0.3", "0.6", "0.9"]) {
    await page.getByLabel("Add a piece").fill(name);
    await page.getByRole("button", { name: "Add", exact: true }).click();
  }
  const now = await page.locator("[data-rows=kit] > li").count();
  await page.waitForFunction(() => document.querySelector("#keeping").textContent === "");
  await page.reload();
  await ready(page);
  assert.equal(await page.locator("[data-rows=kit] > li").count(), now);
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
  assert.equal(await readStop(page).inputValue(), "T16⅓");
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
  assert.equal(await readStop(one).inputValue(), "T16⅓");
  // Undo steps back over what the other window did.
  await one.locator("[data-do=undo]").click();
  await two.waitForFunction(() => document.querySelector("#shot-stop").value === "T2.8");
  assert.equal(await readStop(two).inputValue(), "T16⅓");
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
  assert.equal(await readStop(one).inputValue(), "T11 and");
  await one.reload();
  await ready(one);
  assert.equal(await readStop(one).inputValue(), "T11 and");
  await context.close();
});

for (const [what, damage] of Object.entries({
  "half a record": (text) => text.slice(0, text.length >> 1),
  "no record at all": () => "\u0000\u0001 not JSON",
  "a record of another shape": () => JSON.stringify({ version: 1, setup: { kit: "none", plan: 5, light: [] } }),
  "a record with null for a part": (text) => JSON.stringify({ ...JSON.parse(text), setup: null }),
  "a list for the record": () => "[]",
})) {
  test(`${what}: put aside untouched, told, and the page works`, async () => {
    const whole = await readFile(new URL("../fixtures/saved/v1-all-screens.json", import.meta.url), "utf8");
    const text = damage(JSON.stringify(JSON.parse(whole)).replace('"aperture":11', '"aperture":16'));
    const { context, page, errors } = await started(text);
    assert.match(await notice(page).innerText(), /could not be read/);
    assert.equal(await page.evaluate(() => localStorage.getItem("glasscall-aside")), text);
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save what was put aside" }).click(),
    ]);
    assert.equal(await readFile(await download.path(), "utf8"), text);
    await closeThird(page);
    assert.equal(await readStop(page).inputValue(), "T16⅓");
    assert.deepEqual(errors, []);
    await context.close();
  });
}

test("numbers nobody could have entered are shown with what is against them, and mended", async () => {
  const whole = await readFile(new URL("../fixtures/saved/v1-all-screens.json", import.meta.url), "utf8");
  const text = JSON.stringify({ ...JSON.parse(whole), drafts: {} }).replace('"exposureIndex":800', '"exposureIndex":0');
  const { context, page, errors } = await started(text);
  await page.locator(".plate-why").filter({ hasText: /exposure index cannot be 0/i }).waitFor();
  assert.equal(await readStop(page).inputValue(), "T11");
  assert.equal(await page.evaluate(() => localStorage.getItem("glasscall-aside")), null);
  // Nothing of it is lost by what stands there, and it can be put right.
  await page.locator(".now-camera > summary").click();
  await page.locator("[data-field='reading.exposureIndex'] input").fill("800");
  await page.locator(".plate-why").waitFor({ state: "hidden" });
  await page.reload();
  await ready(page);
  assert.equal(await readStop(page).inputValue(), "T11");
  assert.equal(await page.locator(".plate-why").isHidden(), true);
  assert.equal(await page.locator(".plate-pieces").isVisible(), true);
  assert.deepEqual(errors, []);
  await context.close();
});

test("a damaged record is replaced by its mirror, and the mirror by a backup", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  await closeThird(page);
  await page.waitForTimeout(100);
  await page.goto(`${server.url}icon.svg`);
  await page.evaluate(() => localStorage.setItem("glasscall", "{"));
  await page.goto(server.url);
  await ready(page);
  assert.equal(await readStop(page).inputValue(), "T16⅓", "from the mirror");
  assert.equal(await notice(page).isHidden(), true, "nothing was lost, so nothing is told");
  await page.waitForTimeout(100);
  await page.goto(`${server.url}icon.svg`);
  await page.evaluate(([from, to]) => new Promise((done) => {
    localStorage.setItem("glasscall", "{{");
    const request = indexedDB.open("glasscall");
    request.onsuccess = () => {
      const change = request.result.transaction("kept", "readwrite");
      const store = change.objectStore("kept");
      const keys = store.getAllKeys(IDBKeyRange.bound(from, to));
      keys.onsuccess = () => keys.result.forEach((key, at) => store.put({ text: `{{{${at}`, edit: 1e6 }, key));
      change.oncomplete = () => {
        request.result.close();
        done();
      };
    };
  }), ALL_WINDOWS);
  await page.goto(server.url);
  await ready(page);
  assert.equal(await readStop(page).inputValue(), "T16⅓", "from the backup");
  assert.match(await notice(page).innerText(), /this is the state before it/);
  await context.close();
});

test("a record with a hole where one screen looks: that screen says so, and all else works", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  await closeThird(page);
  await page.reload();
  await ready(page);
  await backedUp(page);
  // Sound for the core, and with a hole where a screen looks. The page is left
  // first, or it would put right what another hand wrote.
  await page.goto(`${server.url}icon.svg`);
  const text = await page.evaluate(() => {
    const record = JSON.parse(localStorage.getItem("glasscall"));
    delete record.setup.light.surface;
    record.setup.light.flag = {};
    record.edit += 10;
    localStorage.setItem("glasscall", JSON.stringify(record));
    return localStorage.getItem("glasscall");
  });
  await page.goto(server.url);
  await page.getByText("“Light” cannot show what is here").waitFor();
  assert.equal(await page.evaluate(() => localStorage.getItem("glasscall-aside")), null);
  assert.equal(await readStop(page).inputValue(), "T16⅓");
  await closeThird(page);
  assert.equal(await readStop(page).inputValue(), "T16⅔");
  assert.ok(text.length > 0);
  await context.close();
});

test("a newer version's record is told of and never touched", async () => {
  const text = JSON.stringify({ version: 3, edit: 40, case: { pieces: ["a shape of its own"] } });
  const { context, page, errors } = await started(text);
  assert.match(await notice(page).innerText(), /newer Glasscall/);
  await closeThird(page);
  await page.reload();
  await ready(page);
  assert.equal(await readStop(page).inputValue(), "T16⅓", "its own edits are kept beside it");
  assert.equal(await page.evaluate(() => localStorage.getItem("glasscall")), text);
  assert.equal(await page.evaluate(() => localStorage.getItem("glasscall-aside")), null);
  assert.deepEqual(errors, []);
  await context.close();
});

test("a newer version starting in another window is left alone from then on", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  const text = JSON.stringify({ version: 3, edit: 1 });
  const other = await context.newPage();
  await other.goto(`${server.url}icon.svg`);
  await other.evaluate((newer) => localStorage.setItem("glasscall", newer), text);
  await page.getByText("newer Glasscall").waitFor();
  await closeThird(page);
  assert.equal(await page.evaluate(() => localStorage.getItem("glasscall")), text);
  assert.equal(await readStop(page).inputValue(), "T16⅓");
  await context.close();
});

test("a clock set back years changes nothing of what is kept", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  await closeThird(page);
  await page.waitForTimeout(100);
  await setMoment(page, "2001-01-01T00:00:00Z");
  await page.reload();
  await ready(page);
  assert.equal(await readStop(page).inputValue(), "T16⅓");
  await closeThird(page);
  await page.waitForTimeout(100);
  await page.reload();
  await ready(page);
  assert.equal(await readStop(page).inputValue(), "T16⅔");
  assert.equal((await mirrored(page)).edit, (await kept(page)).edit);
  await context.close();
});

test("every kind of record ever kept still opens, with everything in it", async () => {
  const folder = new URL("../fixtures/saved/", import.meta.url);
  const files = (await readdir(folder)).filter((name) => name.endsWith(".json"));
  assert.ok(files.length >= 6);
  for (const file of files) {
    const text = await readFile(new URL(file, folder), "utf8");
    const { context, page, errors } = await started(text);
    assert.equal(await notice(page).isHidden(), true, file);
    assert.equal(await readStop(page).inputValue(), "T11 and", `${file}: draft`);
    assert.equal(await page.getByLabel("You want", { exact: true }).inputValue(), "T4", file);
    assert.equal(await page.evaluate(() => document.documentElement.dataset.look), "night", file);
    const before = JSON.parse(text).setup;
    // Graduated filters had a list of their own once; they are pieces now.
    const grads = (before.frame?.grads ?? []).map(({ id }) => id);
    await until(`${file}: all its pieces`, async () => await pieces(page) === before.kit.length + grads.length);
    const { setup } = await kept(page);
    assert.deepEqual(setup.kit.slice(0, before.kit.length), before.kit, `${file}: kit`);
    assert.deepEqual(setup.kit.slice(before.kit.length).map(({ id }) => id), grads, `${file}: graduated`);
    const shown = resolve(setup);
    assert.deepEqual([shown.inPlace, shown.keep], [before.inPlace ?? [], before.keep ?? []], file);
    for (const part of Object.keys(before.reading)) assert.deepEqual(shown.reading[part], before.reading[part], `${file}: ${part}`);
    // The planned day has moved since; nothing of it may be lost on the way.
    const now = JSON.stringify(setup);
    for (const { id } of before.plan?.setUps ?? []) assert.ok(now.includes(JSON.stringify(id)), `${file}: ${id}`);
    for (const screen of ["now", "fit", "frame", "light", "case"]) await page.goto(`${server.url}#${screen}`);
    assert.deepEqual(errors, [], file);
    await context.close();
  }
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
  assert.equal(await page.evaluate(() => window.persistAsked), 0);
  await page.goto(`${server.url}#case`);
  await page.getByRole("button", { name: "Start with my own" }).click();
  await page.getByLabel("Add a piece").fill("0.9");
  await page.getByRole("button", { name: "Add", exact: true }).click();
  assert.equal(await page.evaluate(() => window.persistAsked), 1);
  await context.close();
});

test("a file is suggested quietly after many changes, and no more once saved", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  await page.goto(`${server.url}#case`);
  await page.getByRole("button", { name: "Start with my own" }).click();
  for (let at = 0; at < 20; at += 1) {
    await page.getByLabel("Add a piece").fill("0.3");
    await page.getByRole("button", { name: "Add", exact: true }).click();
  }
  await page.goto(`${server.url}#case?file`);
  assert.match(await page.locator(".file-reminder").innerText(), /21 changes since/);
  await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Save as JSON" }).click()]);
  assert.equal(await page.locator(".file-reminder").innerText(), "");
  await context.close();
});

test("an earlier day's state can be gone back to, and that undone", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  await page.goto(`${server.url}#case`);
  await page.getByRole("button", { name: "Start with my own" }).click();
  await page.getByLabel("Add a piece").fill("0.9");
  await page.getByRole("button", { name: "Add", exact: true }).click();
  await page.reload();
  await ready(page);
  await backedUp(page);
  await page.getByLabel("Add a piece").fill("0.6");
  await page.getByRole("button", { name: "Add", exact: true }).click();
  await page.goto(`${server.url}#case?file`);
  await page.getByText("Go back to an earlier state").click();
  await page.locator(".earlier li").filter({ hasText: "1 piece," }).getByRole("button").click();
  assert.equal(await pieces(page), 1);
  await page.locator("[data-do=undo]").click();
  assert.equal(await pieces(page), 2);
  await context.close();
});

/** A page whose database answers late, or never. */
async function slow(context, ms) {
  const page = await context.newPage();
  await page.addInitScript((wait) => {
    const open = IDBFactory.prototype.open;
    IDBFactory.prototype.open = function (...given) {
      const shown = { result: undefined };
      setTimeout(() => {
        const request = open.apply(this, given);
        request.onupgradeneeded = () => {
          shown.result = request.result;
          shown.onupgradeneeded?.();
        };
        request.onsuccess = () => {
          shown.result = request.result;
          shown.onsuccess?.();
        };
      }, wait);
      return shown;
    };
  }, ms);
  await page.goto(server.url);
  await ready(page);
  return page;
}

/** Local storage as it was before the last edits, as after a killed browser: the database alone has them. */
async function behind(context) {
  const { page } = await open(context, server.url);
  await closeThird(page);
  const before = await page.evaluate(() => localStorage.getItem("glasscall"));
  await closeThird(page);
  await closeThird(page);
  await page.waitForTimeout(150);
  await page.goto(`${server.url}icon.svg`);
  await page.evaluate((text) => localStorage.setItem("glasscall", text), before);
  await page.close();
}

test("a database slower than the page waits for: what it holds is still taken", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  await behind(context);
  const page = await slow(context, 6000);
  assert.equal(await readStop(page).inputValue(), "T16⅓", "started from the place that answered");
  await page.waitForFunction(() => document.querySelector("#read-stop").value === "T22");
  await context.close();
});

test("a database slower than the page waits for: neither its edits nor this run's are lost", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  await behind(context);
  const page = await slow(context, 6000);
  await page.getByRole("button", { name: "You want: open a third" }).click();
  await page.getByText("held a newer case than this one").waitFor();
  await page.waitForTimeout(150);
  await page.close();
  // It was the database's that won at the next start, and this run was gone.
  const { page: next } = await open(context, server.url);
  assert.equal(await readStop(next).inputValue(), "T16⅓");
  assert.equal(await next.getByLabel("You want", { exact: true }).inputValue(), "T2⅔");
  await next.goto(`${server.url}#case?file`);
  await next.getByText("Go back to an earlier state").click();
  const states = next.locator(".earlier li button");
  await states.first().waitFor();
  const stops = [];
  for (let at = 0; at < await states.count(); at += 1) {
    await states.nth(at).click();
    stops.push(await next.evaluate(() => JSON.parse(localStorage.glasscall).setup.reading.aperture));
  }
  assert.ok(stops.some((stop) => Math.abs(stop - 22.6) < 0.1 || stop === 22), `T22 is among ${stops}`);
  await context.close();
});

test("a database that never answers and an untouched page: the case in it is not replaced", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  await behind(context);
  const first = await context.newPage();
  await first.goto(`${server.url}icon.svg`);
  await first.evaluate(() => localStorage.clear());
  const page = await slow(context, 1e6);
  assert.equal(await readStop(page).inputValue(), "T16", "the demo");
  await page.close();
  const { page: next } = await open(context, server.url);
  assert.equal(await readStop(next).inputValue(), "T22");
  await context.close();
});

test("the database deleted under the open page is opened again and written anew", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  await closeThird(page);
  const other = await context.newPage();
  await other.goto(`${server.url}icon.svg`);
  await other.evaluate(() => new Promise((done) => {
    indexedDB.deleteDatabase("glasscall").onsuccess = done;
  }));
  await closeThird(page);
  await page.waitForTimeout(200);
  await page.goto(`${server.url}icon.svg`);
  assert.equal((await mirrored(page)).edit, (await kept(page)).edit);
  await context.close();
});

test("a core that breaks off says so, and nothing is lost", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  await context.addInitScript(() => {
    const broken = (real) => async (...given) => {
      const made = await real(...given);
      const instance = made.instance ?? made;
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
  await Promise.all([page.waitForEvent("load"), page.getByRole("button", { name: "Start anew" }).click()]);
  await ready(page);
  assert.equal(await readStop(page).inputValue(), "T16⅔");
  await context.close();
});
