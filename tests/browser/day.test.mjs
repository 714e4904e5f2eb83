// The day in a browser: log, amend, search, take up, hand over, print; and links that arrive.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { PHONE, chooseLook, giveFile, open, ready, servedPage, unfoldDay, watchForeign } from "./harness.mjs";
import { putInWay } from "./now-acts.mjs";
import { soon } from "./soon.mjs";

const { browser, server } = await servedPage();

const phone = async (more = {}) => {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true, acceptDownloads: true, ...more });
  await context.addInitScript(unfoldDay);
  return context;
};
const rows = (page) => page.locator(".day-log > .row");

async function putInAndLog(page) {
  await putInWay(page, "0.9 + 0.6");
  await page.locator("#now [data-do=log]").tap();
}

test("one tap on Now logs the set-up, and it outlives a restart", async () => {
  const context = await phone();
  const { page, errors } = await open(context, server.url);
  await putInAndLog(page);
  await page.locator("#notice").filter({ hasText: /^Logged: 0\.9 \+ 0\.6, T2\.8/ }).waitFor();
  await page.locator(".tabs").getByText("Day").tap();
  await rows(page).first().waitFor();
  await soon.equal(() => rows(page).count(), 1);
  await soon.match(() => rows(page).first().innerText(), /^\d\d:\d\d A\s*T2\.8, 0\.9 \+ 0\.6/);
  await page.reload();
  await ready(page);
  await soon.equal(() => rows(page).count(), 1);
  await page.getByRole("button", { name: "Log this" }).tap();
  await soon.equal(() => rows(page).count(), 2);
  await page.locator("[data-do=undo]").tap();
  await soon.equal(() => rows(page).count(), 1);
  assert.deepEqual(errors, []);
  await context.close();
});

test("a record is amended, found, and taken up again", async () => {
  const context = await phone();
  const { page, errors } = await open(context, server.url);
  await putInAndLog(page);
  await page.goto(`${server.url}#day`);
  await rows(page).first().locator("summary").tap();
  await page.getByLabel("What to amend").selectOption({ label: "Scene" });
  await page.getByLabel("How it reads now").fill("77 dusk");
  await page.getByRole("button", { name: "Amend" }).tap();
  await soon.match(() => rows(page).first().innerText(), /77 dusk/);
  await soon.match(() => rows(page).first().innerText(), /\d\d:\d\d: Scene “77 dusk”/);
  await page.getByLabel("Search the log").fill("dusk nowhere");
  await soon.equal(() => rows(page).count(), 0);
  await soon.match(() => page.locator(".day-empty").innerText(), /No record/);
  await page.getByLabel("Search the log").fill("dusk");
  await soon.equal(() => rows(page).count(), 1);
  await page.goto(`${server.url}#now`);
  await page.getByLabel("You read", { exact: true }).fill("T8");
  await page.goto(`${server.url}#day`);
  await page.getByRole("button", { name: "Use it again" }).tap();
  await page.goto(`${server.url}#now`);
  await soon.equal(() => page.getByLabel("You read", { exact: true }).inputValue(), "T16");
  await page.locator("#notice").getByRole("button", { name: "Undo" }).tap();
  await soon.equal(() => page.getByLabel("You read", { exact: true }).inputValue(), "T8");
  assert.deepEqual(errors, []);
  await context.close();
});

test("the sentence is copied as it stands", async () => {
  const context = await phone();
  await context.grantPermissions(["clipboard-read", "clipboard-write"]);
  const { page } = await open(context, server.url);
  await putInAndLog(page);
  await page.goto(`${server.url}#day`);
  await page.getByRole("button", { name: "Copy the sentence" }).first().tap();
  await page.locator(".day-message").filter({ hasText: "Copied" }).waitFor();
  const copied = await page.evaluate(() => navigator.clipboard.readText());
  assert.equal(copied, await page.locator("output.say").innerText());
  assert.match(copied, /^Camera A; lens 50 mm; set T2\.8; in rotating 0\.9, tray 1 0\.6, 4\.98 stops; EI 800/);
  await context.close();
});

test("the log leaves as JSON and comes back beside another", async () => {
  const context = await phone();
  const { page } = await open(context, server.url);
  await putInAndLog(page);
  await page.goto(`${server.url}#day`);
  await page.locator("[data-do=what]").selectOption("log");
  await page.locator("[data-do=form]").selectOption("json");
  const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Save as a file" }).tap()]);
  const name = download.suggestedFilename();
  assert.match(name, /^glasscall-log-\d{4}-\d\d-\d\d\.json$/);
  const text = await readFile(await download.path(), "utf8");
  await context.close();

  const other = await phone();
  const { page: theirs } = await open(other, `${server.url}#day`);
  await theirs.getByRole("button", { name: "Log this" }).tap();
  const give = () => giveFile(theirs.locator("[data-do=add-log]"), { name, mimeType: "application/json", buffer: Buffer.from(text) });
  await give();
  await theirs.locator(".day-message").filter({ hasText: "1 record added." }).waitFor();
  await soon.equal(() => rows(theirs).count(), 2);
  await give();
  await theirs.locator(".day-message").filter({ hasText: "0 records added." }).waitFor();
  await giveFile(theirs.locator("[data-do=add-log]"), { name: "x.json", mimeType: "application/json", buffer: Buffer.from("{}") });
  await theirs.locator(".day-message").filter({ hasText: "no log" }).waitFor();
  await soon.equal(() => rows(theirs).count(), 2);
  await other.close();
});

test("a link brings the set-up to another phone, and only when taken up", async () => {
  const context = await phone();
  const { page } = await open(context, server.url);
  await page.getByLabel("You read", { exact: true }).fill("T22");
  await page.goto(`${server.url}#day`);
  await page.getByRole("button", { name: "Copy a link to this set-up" }).tap();
  await page.locator(".day-text").waitFor({ state: "visible" });
  const link = await page.locator(".day-text").inputValue();
  await context.close();

  const other = await phone();
  const requests = watchForeign(other, server.url);
  const { page: theirs, errors } = await open(other, link);
  const stop = theirs.getByLabel("You read", { exact: true });
  await theirs.getByText("A set-up has come").waitFor();
  await soon.equal(() => stop.inputValue(), "T16");
  await theirs.getByRole("button", { name: "Use it" }).tap();
  await soon.equal(() => stop.inputValue(), "T22");
  assert.doesNotMatch(theirs.url(), /s=/);
  await theirs.locator("#notice").getByRole("button", { name: "Undo" }).tap();
  await soon.equal(() => stop.inputValue(), "T16");
  await theirs.goto(`${link.slice(0, -30)}`);
  await theirs.getByText("This link or code is damaged").waitFor();
  assert.deepEqual(errors, []);
  assert.deepEqual(requests, []);
  await other.close();
});

test("every sheet prints on its paper in black only", async () => {
  const context = await browser.newContext({ viewport: { width: 1000, height: 800 } });
  await context.addInitScript(unfoldDay);
  const { page } = await open(context, server.url);
  await page.evaluate(() => {
    window.print = () => undefined;
  });
  await page.goto(`${server.url}#day`);
  await page.locator("[data-do=print-what]").selectOption("log");
  await page.locator("[data-do=print]").click();
  await page.emulateMedia({ media: "print" });
  // No heads of columns over nothing.
  await soon.match(() => page.locator("#sheet").innerText(), /Nothing logged yet/);
  await soon.equal(() => page.locator("#sheet table").count(), 0);
  await page.emulateMedia({ media: null });
  await page.locator("#day [data-do=log]").click();
  await chooseLook(page, "night");
  const points = { a4: [595, 842], letter: [612, 792] };
  for (const [what, holds] of [["log", /Day log/], ["kit", /1\.8 IR/], ["labels", /1\.8 IR/], ["working", /Glass and stop[\s\S]*n = k0 \+ c − k1[\s\S]*Room at the worst corner/], ["charts", /172\.8°/], ["density", /0\.9\s+2\.99/], ["clip", /zoom 50–140 at 140 mm/], ["rings", /Rings to 82 mm/], ["code", /Scan this/]]) {
    for (const [paper, [width, height]] of Object.entries(points)) {
      await page.locator("[data-do=print-what]").selectOption(what);
      await page.locator("[data-do=paper]").selectOption(paper);
      await page.locator("[data-do=print]").click();
      const pdf = (await page.pdf({ preferCSSPageSize: true })).toString("latin1");
      const [, across, down] = pdf.match(/\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/).map(Number);
      const wide = what === "log";
      assert.ok(Math.abs((wide ? down : across) - width) < 2 && Math.abs((wide ? across : down) - height) < 2, `${what} on ${paper}: ${across} by ${down}`);
      await page.emulateMedia({ media: "print" });
      const sheet = page.locator("#sheet");
      await soon.match(() => sheet.innerText(), holds);
      await soon.match(() => sheet.locator(".sheet-when").innerText(), /2026.* · 51\.6° north, 3\.7° east$/);
      // The set-up is one code, also on the log's sheet.
      await soon.equal(() => sheet.locator(".printed-code svg").count(), ["log", "code"].includes(what) ? 1 : 0, what);
      const seen = await page.locator("#sheet, #sheet *").evaluateAll((all) => [...new Set(all.flatMap((one) => {
        const { color, backgroundColor, borderTopColor } = getComputedStyle(one);
        return [color, backgroundColor, borderTopColor];
      }))].sort());
      assert.deepEqual(seen, ["rgb(0, 0, 0)", "rgb(255, 255, 255)"], what);
      await soon.equal(() => page.locator("main").isVisible(), false);
      await page.emulateMedia({ media: null });
    }
  }
  await context.close();
});

test("without a script the charts stand in the page and the forms do not", async () => {
  const context = await phone({ javaScriptEnabled: false });
  const page = await context.newPage();
  for (const address of [server.url, `${server.url}glasscall.html`]) {
    await page.goto(address);
    const charts = page.locator("#charts");
    const row = (name) => charts.locator("tr", { has: page.getByRole("rowheader", { name, exact: true }) });
    await soon.match(() => row("0.9").innerText(), /2\.99\s+3 -0\.01\s+7\.94\s+12\.6/);
    await soon.match(() => row("172.8°").innerText(), /1\/50/);
    await soon.match(() => charts.innerText(), /not eye protection/);
    await soon.equal(() => page.locator("#now").isVisible(), false);
  }
  await context.close();
});
