/** The day on a German phone: what comes from an English one, what is printed, what differs. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, giveFile, open, ready, servedPage, setMoment, unfoldDay } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";
import { putInWay } from "./now-acts.mjs";

const { browser, server } = await servedPage();

const phone = async (more = {}) => {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true, locale: "de-DE", timezoneId: "Europe/Berlin", ...more });
  await context.addInitScript(unfoldDay);
  return context;
};
const rows = (page) => page.locator(".day-log > .row");

async function putInAndLog(page) {
  await putInWay(page, "0.9 + 0.6");
  await page.locator("#now [data-do=log]").tap();
}

test("a log kept in English is read in German, and files are the same in both", async () => {
  const context = await phone({ locale: "en-GB" });
  const { page } = await open(context, server.url);
  await putInAndLog(page);
  await page.goto(`${server.url}#day`);
  const written = async (of) => {
    await of.locator("[data-do=what]").selectOption("log");
    await of.locator("[data-do=form]").selectOption("csv");
    await of.locator("[data-do=copy-out]").tap();
    await of.locator(".day-text").waitFor({ state: "visible" });
    return of.locator(".day-text").inputValue();
  };
  const csv = await written(page);
  await page.locator("[data-do=form]").selectOption("json");
  await page.locator("[data-do=copy-out]").tap();
  const records = await until("the log as JSON", () => page.evaluate(() => {
    const { value } = document.querySelector(".day-text");
    return value.startsWith("{") && JSON.stringify(JSON.parse(value).records);
  }));
  await context.close();
  assert.match(csv, /^Time,Zone,Scene,/);

  const other = await phone();
  const { page: theirs, errors } = await open(other, `${server.url}#day`);
  await setMoment(theirs, "2026-06-21T13:30:00Z");
  await giveFile(theirs.locator("[data-do=add-log]"), { name: "log.json", mimeType: "application/json", buffer: Buffer.from(`{"records":${records}}`) });
  await theirs.locator(".day-message").filter({ hasText: "1 Eintrag hinzugefügt." }).waitFor();
  await rows(theirs).first().locator("summary").first().tap();
  const shown = await rows(theirs).first().innerText();
  assert.match(shown, /Kamera A; Objektiv 50 mm; Blende T2,8; drin rotating 0\.9, tray 1 0\.6, 4,98 Blenden; EI 800, 24 Bilder, 180°; gemessen T16 ohne Glas; gewünscht T2,8, Rest plus 0,02\./);
  assert.match(shown, /Gewünschte Blende\s+T2,8/);
  assert.doesNotMatch(shown, /\b(bare|set|stops|wanted|frames)\b/);
  await theirs.getByRole("searchbox").fill("gemessen t2,8");
  await soon.equal(() => rows(theirs).count(), 1);
  await soon.equal(async () => (await written(theirs)).replaceAll("\r", ""), csv.replaceAll("\r", ""));
  // What is logged here says the same to an English phone.
  await theirs.getByRole("searchbox").fill("");
  await theirs.locator("#day [data-do=log]").tap();
  await theirs.locator("[data-do=form]").selectOption("json");
  await theirs.locator("[data-do=copy-out]").tap();
  const [first, second] = await until("both logs as JSON", () => theirs.evaluate(() => {
    const { value } = document.querySelector(".day-text");
    return value.startsWith("{") && JSON.parse(value).records.sort((a, b) => (a.time < b.time ? -1 : 1));
  }));
  assert.deepEqual([second.stopToSet, second.stopWanted, second.stopRead].map((label) => label[0]), ["T", "T", "T"]);
  assert.equal(second.stopWanted, first.stopWanted);
  assert.deepEqual(errors, []);
  await other.close();
});

test("sheets are printed in German, lengths as chosen", async () => {
  const context = await phone();
  const { page, errors } = await open(context, server.url);
  await page.evaluate(() => {
    window.print = () => undefined;
  });
  await putInAndLog(page);
  await page.goto(`${server.url}#day`);
  await page.emulateMedia({ media: "screen" });
  const sheet = async (what) => {
    await page.locator("[data-do=print-what]").selectOption(what);
    await page.locator("[data-do=print]").tap();
    return page.locator("#sheet").textContent();
  };
  await soon.match(() => sheet("log"), /^21\.06\.2026, 15:00 · 51,6° Nord, 3,7° OstTagesprotokollZeitKamera.*T2,8.*ohne Glas/);
  await soon.match(() => sheet("kit"), /^21\.06\.2026, 15:00 · 51,6° Nord, 3,7° OstBestandFilterArt.*1,82/);
  await soon.match(() => sheet("labels"), /aufgedruckt 1,2, gemessen 1,23/);
  await soon.match(() => sheet("rings"), /^21\.06\.2026, 15:00 · 51,6° Nord, 3,7° OstRinge zu Filtern 82 mm.*Gewinde 77/);
  await soon.match(() => sheet("clip"), /Sensor 24,89 × 18,66 mm.*Schublade 1, 24 mm.*weniger als 3 mm/);
  await page.locator(".shows-now").tap();
  await page.locator("[data-shows=lengths]").selectOption("in");
  await soon.match(() => sheet("clip"), /Sensor 24,89 × 18,66 mm.*Schublade 1, 0,94 Zoll.*Spielraum in Zoll/);
  assert.deepEqual(errors, []);
  await context.close();
});

test("what two phones have differently is told in German", async () => {
  const context = await phone();
  const { page, errors } = await open(context, server.url);
  await page.evaluate(() => {
    const kept = JSON.parse(localStorage.getItem("glasscall"));
    kept.setup.demo = false;
    kept.setup.kit = [{ id: "A", kind: "nd", density: 0.9, count: 1 }];
    kept.setup.edited = { "pieces/A": "2031-05-04T12:00:00+02:00" };
    const theirs = { id: "A", kind: "grad", density: 0.9, measuredDensity: 0.93, count: 1, material: "resin" };
    kept.setup.unsettled = [{ list: "pieces", key: "A", theirs, edited: "2031-05-04T14:30:00+02:00" }];
    localStorage.setItem("glasscall", JSON.stringify(kept));
  });
  await page.goto(`${server.url}#day`);
  await page.reload();
  await ready(page);
  const conflict = page.locator(".conflict");
  await soon.match(() => conflict.innerText(), /^Filter: A/);
  await soon.match(() => conflict.locator("thead").innerText(), /Hier\s*04\.05\.2031, 12:00\s*Dort, neuer\s*04\.05\.2031, 14:30/);
  const row = (name) => conflict.locator("tr", { has: page.getByRole("rowheader", { name, exact: true }) });
  await soon.match(() => row("gemessene Dichte").innerText(), /nicht angegeben\s+0,93/);
  await soon.match(() => row("Material").innerText(), /nicht angegeben\s+Kunstharz/);
  await page.getByRole("button", { name: "Das andere nehmen" }).tap();
  await soon.equal(() => conflict.count(), 0);
  await soon.equal(() => page.evaluate(() => JSON.parse(localStorage.getItem("glasscall")).setup.kit[0].material), "resin");
  assert.deepEqual(errors, []);
  await context.close();
});
