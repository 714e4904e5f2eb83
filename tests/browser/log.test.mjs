// The log on the device: killed browsers, several windows, more than local
// storage holds, records nobody can read, clocks set back.
import assert from "node:assert/strict";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { test } from "node:test";
import { PHONE, giveFile, launchKept, open, servedPage, setMoment } from "./harness.mjs";
import { fillLocalStorage, inBothPlaces } from "./kept.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

const { browser, server } = await servedPage();

const ready = (page) => page.waitForSelector("html[data-ready]");
const notice = (page) => page.locator("#notice");
/** Entries as a new start shows them. */
async function entries(page) {
  await page.goto(`${server.url}#day`);
  await page.reload();
  await ready(page);
  return shown(page);
}
const shown = (page) => page.evaluate(() => document.querySelectorAll("#day .day-log > li:not(.day-unread)").length);
/** By the button on Day, which logs whatever is in, without a way of Now put in first. */
async function log(page, times = 1) {
  await page.waitForSelector("html[data-ready='every screen']", { state: "attached" });
  await page.evaluate((count) => {
    for (let at = 0; at < count; at += 1) document.querySelector("#day [data-do=log]").click();
  }, times);
}
/** What stands in the database of the log, by key. */
const held = (page) => page.evaluate(() => new Promise((done) => {
  const request = indexedDB.open("glasscall-log");
  request.onsuccess = () => {
    const store = request.result.transaction("records").objectStore("records");
    const [keys, values] = [store.getAllKeys(), store.getAll()];
    values.onsuccess = () => {
      request.result.close();
      done(keys.result.map((key, at) => [key, values.result[at]]));
    };
  };
}));
/** Until the database has that many entries. */
const settled = (page, count) => page.waitForFunction((wanted) => new Promise((done) => {
  const request = indexedDB.open("glasscall-log");
  request.onsuccess = () => {
    const got = request.result.transaction("records").objectStore("records").count();
    got.onsuccess = () => {
      request.result.close();
      done(got.result >= wanted);
    };
  };
}), count);

/** Two records as an earlier version kept them, one of them amended. */
async function oldLog(page) {
  await log(page, 2);
  await settled(page, 2);
  const records = (await held(page)).map(([, value]) => value);
  return [...records, { version: 1, id: "amended", time: "2026-01-01T00:00:00Z", amends: records[0].id, slate: { note: "kept long ago" } }];
}

/** Leaves the page, so that nothing of it writes, and does something to what is kept. */
async function away(page, act, given) {
  await page.goto(`${server.url}icon.svg`);
  await page.evaluate(act, given);
  await page.goto(server.url);
  await ready(page);
}
const emptied = () => Promise.all(["glasscall-log", "glasscall"].map((name) => new Promise((done) => {
  indexedDB.deleteDatabase(name).onsuccess = done;
})));

test("an entry made before a killed browser is there at every later start", async () => {
  const folder = await mkdtemp(path.join(tmpdir(), "profile-"));
  const first = await launchKept(folder);
  const { page } = await open(first.context, server.url);
  await log(page);
  // The time is what is promised.
  await page.waitForTimeout(60);
  await first.kill();
  // It went at the second start: the set-up had been kept anew by then, the log not.
  for (let start = 1; start <= 3; start += 1) {
    const { context } = await launchKept(folder);
    const { page: next } = await open(context, server.url);
    await soon.equal(() => entries(next), 1, `start ${start}`);
    await next.goto(`${server.url}#now`);
    await next.getByRole("button", { name: "You read: close a third" }).click();
    await inBothPlaces(next);
    await context.close();
  }
  await rm(folder, { recursive: true });
});

test("Undo of what was logged takes back that entry, whatever was done since", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page, errors } = await open(context, server.url);
  await log(page);
  const taken = notice(page).getByRole("button", { name: "Undo" });
  await taken.waitFor();
  // It pressed the page's own Undo, which took back whatever came last.
  await page.getByRole("button", { name: "You read: close a third" }).click();
  await taken.click();
  const readStop = page.getByLabel("You read", { exact: true });
  await soon.equal(() => readStop.inputValue(), "T16⅓", "the edit stays");
  await until("the mark beside the entry", async () => (await held(page)).some(([key]) => key.startsWith("gone ")));
  await page.goto(`${server.url}#day`);
  await soon.equal(() => shown(page), 0);
  // A step back goes on from the edit, and brings the entry no more than it takes another.
  await page.goto(`${server.url}#now`);
  await page.locator(".top [data-do=undo]").click();
  await soon.equal(() => readStop.inputValue(), "T16");
  await soon.equal(() => page.locator(".top [data-do=undo]").isDisabled(), true);
  await soon.equal(() => entries(page), 0);
  // Right after it, it is the last step: done again it is there again.
  await log(page, 2);
  await taken.click();
  await page.locator(".top [data-do=redo]").click();
  await page.goto(`${server.url}#day`);
  await soon.equal(() => shown(page), 2);
  assert.deepEqual(errors, []);
  await context.close();
});

test("windows that log at once keep all, one asleep too", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const pages = [];
  for (let at = 0; at < 3; at += 1) pages.push((await open(context, server.url)).page);
  const [one, two, three] = pages;
  await Promise.all(pages.map((page) => log(page, 5)));
  for (const page of pages) await page.waitForFunction(() => document.querySelectorAll("#match-record option, [data-do=match-record] option").length === 15 || (location.hash = "#day", document.querySelectorAll("#day .day-log > li").length === 15));
  const devtools = await context.newCDPSession(one);
  await devtools.send("Page.setWebLifecycleState", { state: "frozen" });
  await log(two, 2);
  await settled(three, 17);
  await devtools.send("Page.setWebLifecycleState", { state: "active" });
  await log(one);
  await settled(three, 18);
  await soon.equal(() => entries(three), 18);
  await soon.equal(() => entries(one), 18);
  await context.close();
});

test("a step back in one window takes back its own entries and no others", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page: one } = await open(context, server.url);
  const { page: two } = await open(context, server.url);
  const third = () => one.getByRole("button", { name: "You read: close a third" }).click();
  await third();
  await third();
  await log(two);
  await one.waitForFunction(() => (location.hash = "#day", document.querySelectorAll("#day .day-log > li").length === 1));
  await one.locator("[data-do=undo]").click();
  await one.locator("[data-do=undo]").click();
  await soon.equal(() => shown(one), 1);
  await log(one);
  await soon.equal(() => shown(one), 2);
  await one.locator("[data-do=undo]").click();
  await soon.equal(() => shown(one), 1);
  await two.waitForFunction(() => (location.hash = "#day", document.querySelectorAll("#day .day-log > li").length === 1));
  await settled(two, 3);
  await soon.equal(() => entries(two), 1);
  await context.close();
});

test("a log longer than local storage holds is kept whole", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page, errors } = await open(context, server.url);
  // A log from elsewhere, of more characters than local storage takes.
  await log(page);
  await settled(page, 1);
  const [[, model]] = await held(page);
  const records = Array.from({ length: 60 }, (_, at) => ({ ...model, id: `long ${at}`, slate: { ...model.slate, note: "x".repeat(120_000) } }));
  const text = JSON.stringify({ format: "glasscall-log", version: 1, records });
  assert.ok(text.length > 6_000_000);
  await page.goto(`${server.url}#day`);
  await giveFile(page.locator("[data-do=add-log]"), { name: "log.json", mimeType: "application/json", buffer: Buffer.from(text) });
  await page.getByText("60 records added.").waitFor();
  await settled(page, 61);
  await soon.equal(() => entries(page), 61);
  await log(page);
  await settled(page, 62);
  await soon.equal(() => entries(page), 62);
  assert.deepEqual(errors, []);
  await context.close();
});

test("a full local storage takes no entry away", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  await fillLocalStorage(page);
  await log(page, 3);
  await settled(page, 3);
  await soon.equal(() => entries(page), 3);
  await context.close();
});

test("an entry that can be kept nowhere is said to be lost", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  await context.addInitScript(() => {
    for (const name of ["localStorage", "indexedDB"]) {
      Object.defineProperty(window, name, { get: () => { throw new DOMException("no", "SecurityError"); } });
    }
  });
  const { page, errors } = await open(context, server.url);
  await log(page);
  await page.getByText("This entry could not be kept").waitFor();
  await page.evaluate(() => { location.hash = "#day"; });
  await soon.equal(() => shown(page), 1, "here it is, until the window closes");
  assert.deepEqual(errors, []);
  await context.close();
});

test("without a database the log is in local storage, and goes back with a step", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  await context.addInitScript(() => Object.defineProperty(window, "indexedDB", { get: () => undefined }));
  const { page, errors } = await open(context, server.url);
  await log(page, 3);
  await page.locator("[data-do=undo]").click();
  await soon.equal(() => entries(page), 2);
  assert.deepEqual(errors, []);
  await context.close();
});

test("a log of an earlier version moves in once, and stays until it is there", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  const records = await oldLog(page);
  await away(page, emptied);
  await away(page, (text) => localStorage.setItem("glasscall-day", text), JSON.stringify(records));
  await settled(page, 3);
  await page.waitForFunction(() => localStorage.getItem("glasscall-day") === null);
  await soon.equal(() => entries(page), 2);
  await soon.match(() => page.locator("#day").textContent(), /kept long ago/);
  await context.close();
});

test("half a log is put aside whole, the copy in the database is used, and nothing is written over", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page, errors } = await open(context, server.url);
  const records = await oldLog(page);
  await away(page, emptied);
  await away(page, (text) => new Promise((done) => {
    localStorage.setItem("glasscall-day", text.slice(0, text.length >> 1));
    const request = indexedDB.open("glasscall", 1);
    request.onupgradeneeded = () => request.result.createObjectStore("kept");
    request.onsuccess = () => {
      const change = request.result.transaction("kept", "readwrite");
      change.objectStore("kept").put({ text, edit: 1 }, "glasscall-day");
      change.oncomplete = () => {
        request.result.close();
        done();
      };
    };
  }), JSON.stringify(records));
  await soon.match(() => notice(page).innerText(), /could not be read/);
  await soon.equal(() => entries(page), 2);
  await soon.match(() => page.locator("#day").innerText(), /1 entry cannot be read here/);
  await log(page);
  await settled(page, 5);
  const aside = (await held(page)).map(([, value]) => value).filter((value) => typeof value === "string");
  assert.deepEqual(aside, [JSON.stringify(records).slice(0, JSON.stringify(records).length >> 1)]);
  assert.deepEqual(errors, []);
  await context.close();
});

test("what a newer version logged is told of and left alone", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page, errors } = await open(context, server.url);
  await log(page);
  await settled(page, 1);
  const newer = { version: 2, id: "to come", what: ["a shape of its own"] };
  await page.goto(`${server.url}icon.svg`);
  await page.evaluate((record) => new Promise((done) => {
    const request = indexedDB.open("glasscall-log", 1);
    request.onsuccess = () => {
      const change = request.result.transaction("records", "readwrite");
      change.objectStore("records").put(record, "record to come 00000000");
      change.oncomplete = () => {
        request.result.close();
        done();
      };
    };
  }), newer);
  await page.goto(server.url);
  await ready(page);
  await soon.match(() => notice(page).innerText(), /newer Glasscall wrote part of the log/);
  await log(page);
  await settled(page, 3);
  await soon.equal(() => entries(page), 2);
  await soon.deepEqual(async () => (await held(page)).find(([key]) => key === "record to come 00000000")[1], newer);
  assert.deepEqual(errors, []);
  await context.close();
});

test("one bad record is suspected alone and never harms the case", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page, errors } = await open(context, `${server.url}#case`);
  await page.getByRole("button", { name: "Start with my own" }).click();
  await page.getByLabel("Add filters and lenses").fill("0.9");
  await page.locator("[data-do=add-piece]").click();
  await log(page);
  await notice(page).getByText("Nothing is read yet").waitFor();
  await soon.deepEqual(() => held(page), [], "nothing is logged of a reading that nobody took");
  await page.goto(`${server.url}#now`);
  await page.getByLabel("You read", { exact: true }).fill("T11");
  await log(page);
  await settled(page, 1);
  const [[, model]] = await held(page);
  const bad = {
    kit: { ...model, id: "b1", setup: { kit: [null] } },
    shutter: { ...model, id: "b2", shot: { aperture: 4, exposureIndex: 800, frameRate: 24 } },
    line: { ...model, id: "b3", setup: { kit: [] }, line: { filter: "x", atFrameHeight: 0.5, aboveAxisMm: 1, rotationDeg: 0 } },
    polarizer: { ...model, id: "b4", setup: { kit: [] }, sun: { azimuthDeg: 1, elevationDeg: 2 }, pieces: [{ slot: "a", id: "p", kind: "polarizer", stops: 1 }] },
  };
  for (const [name, record] of Object.entries(bad)) {
    await page.goto(`${server.url}#day`);
    const text = JSON.stringify({ format: "glasscall-log", version: 1, records: [record, { ...model, id: `sound beside ${name}` }] });
    await giveFile(page.locator("[data-do=add-log]"), { name: "log.json", mimeType: "application/json", buffer: Buffer.from(text) });
    await page.waitForFunction(() => document.querySelector(".day-message").textContent !== "");
    await page.reload();
    await ready(page);
    await page.goto(`${server.url}#case`);
    await page.waitForSelector("html[data-ready='every screen']", { state: "attached" });
    await soon.equal(async () => await page.locator("[data-rows=kit] > li").count(), 1, name);
    await page.goto(`${server.url}#day`);
    await until("the log with what is sound", async () => (await shown(page)) > 1);
  }
  // As if another version had let them in: they stand in the database.
  await page.goto(`${server.url}icon.svg`);
  await page.evaluate((records) => new Promise((done) => {
    const request = indexedDB.open("glasscall-log", 1);
    request.onsuccess = () => {
      const change = request.result.transaction("records", "readwrite");
      for (const record of records) change.objectStore("records").put(record, `record ${record.id} 0`);
      change.oncomplete = () => {
        request.result.close();
        done();
      };
    };
  }), Object.values(bad));
  for (let start = 0; start < 2; start += 1) {
    await page.goto(`${server.url}#case`);
    await page.reload();
    await ready(page);
    await page.waitForSelector("html[data-ready='every screen']", { state: "attached" });
    await soon.equal(async () => await page.locator("[data-rows=kit] > li").count(), 1);
    await soon.ok(async () => (await entries(page)) >= 5);
  }
  assert.deepEqual(errors, []);
  await context.close();
});

test("a database deleted under the open page is noticed and written again", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  await log(page, 2);
  await settled(page, 2);
  const other = await context.newPage();
  await other.goto(`${server.url}icon.svg`);
  await other.evaluate(emptied);
  await page.getByText("deleted while this page was open").waitFor();
  await page.getByRole("button", { name: "You read: close a third" }).click();
  await log(page);
  await settled(page, 3);
  const databases = await other.evaluate(async () => (await indexedDB.databases()).map(({ name }) => name).sort());
  assert.deepEqual(databases, ["glasscall", "glasscall-log"]);
  await soon.equal(() => entries(page), 3);
  await context.close();
});

test("a clock set back between two amendments changes nothing of which is the latest", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  await setMoment(page, "2026-05-01T12:00:00Z");
  await log(page);
  await page.evaluate(() => { location.hash = "#day"; });
  const amend = async (text) => {
    const row = page.locator("#day .day-log > li").first();
    if (!(await row.locator("details").first().evaluate((box) => box.open))) await row.locator("summary").first().click();
    await row.getByLabel("How it reads now").fill(text);
    await row.getByRole("button", { name: "Amend" }).click();
  };
  await amend("said first");
  await setMoment(page, "2026-05-01T11:00:00Z");
  await amend("said later");
  await soon.equal(async () => await page.locator("#day .day-log > li").first().getByLabel("How it reads now").inputValue(), "said later");
  await settled(page, 3);
  await entries(page);
  await soon.match(() => page.locator("#day .day-facts").first().textContent(), /said later/);
  await context.close();
});
