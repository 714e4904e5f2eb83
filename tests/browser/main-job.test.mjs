// The main job in a browser: by touch, by keyboard, served, offline, from disk.
import assert from "node:assert/strict";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { after, before, test } from "node:test";
import { DIST, PHONE, launch, launchKept, open, serveDist, watchForeign } from "./harness.mjs";

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

const phone = () => browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true });
const best = (page) => page.locator(".stack").first();

/** A newcomer's way: own two pieces, then the answer. */
async function ownPiecesByTouch(page) {
  await page.locator(".tabs").getByText("Case").tap();
  await page.getByRole("button", { name: "Start with my own" }).tap();
  for (const piece of ["0.9", "point six"]) {
    await page.getByLabel("Add a piece").fill(piece);
    await page.getByRole("button", { name: "Add", exact: true }).tap();
  }
  await page.locator(".tabs").getByText("Now").tap();
}

async function expectNineAndSix(page) {
  assert.match(await page.locator(".need-stops").innerText(), /^5 stops$/);
  const text = await best(page).innerText();
  assert.match(text, /Best: (0\.9 \+ point six|0\.9 \+ 0\.6)/);
  assert.match(text, /T2\.8/);
  assert.match(text, /\+0\.02 stop left over/);
  assert.match(text, /too small to act on/);
}

test("the demo answers T16 to T2.8 with 0.9 and 0.6 on first start", async () => {
  const context = await phone();
  const foreign = watchForeign(context, server.url);
  const { page, errors } = await open(context, server.url);
  await expectNineAndSix(page);
  assert.deepEqual(errors, []);
  assert.deepEqual(foreign, []);
  await context.close();
});

test("a newcomer enters two pieces by touch and has the answer", async () => {
  const context = await phone();
  const { page, errors } = await open(context, server.url);
  await ownPiecesByTouch(page);
  await expectNineAndSix(page);
  await page.reload();
  await page.waitForSelector("html[data-ready]");
  await expectNineAndSix(page);
  assert.deepEqual(errors, []);
  await context.close();
});

test("steppers move the stop by thirds and the answer follows", async () => {
  const context = await phone();
  const { page } = await open(context, server.url);
  await page.getByRole("button", { name: "You read: close a third" }).tap();
  assert.equal(await page.getByLabel("You read", { exact: true }).inputValue(), "T16⅓");
  assert.match(await page.locator(".need-stops").innerText(), /^5\.33 stops$/);
  await page.getByRole("button", { name: "You want: open a third" }).tap();
  assert.equal(await page.getByLabel("You want", { exact: true }).inputValue(), "T2⅔");
  assert.match(await page.locator(".need-stops").innerText(), /^5\.67 stops$/);
  await page.getByRole("button", { name: "Undo" }).tap();
  await page.getByRole("button", { name: "Undo" }).tap();
  await expectNineAndSix(page);
  await context.close();
});

test("pieces tapped in and out move the stop", async () => {
  const context = await phone();
  const { page } = await open(context, server.url);
  const chips = page.locator("[data-chips=in]");
  const result = page.locator(".now-in-result");
  assert.match(await result.innerText(), /^T16 exposes right with nothing in/);
  await chips.getByText("0.9", { exact: true }).tap();
  assert.match(await result.innerText(), /^T5\.6 exposes right with 0\.9: 2\.99 stops taken/);
  await chips.getByText("0.6", { exact: true }).tap();
  assert.match(await result.innerText(), /^T2\.8 exposes right/);
  assert.match(await best(page).innerText(), /it is in/);
  await chips.getByText("pola", { exact: true }).tap();
  assert.match(await result.innerText(), /^T1\.4/);
  // A polarizer is in for the picture: the best stack keeps it.
  assert.match(await best(page).innerText(), /pola/);
  await chips.getByText("0.3", { exact: true }).tap();
  assert.match(await result.innerText(), /No slot takes 0\.3/);
  await chips.getByText("0.6", { exact: true }).tap();
  assert.match(await result.innerText(), /0\.9 \+ pola|pola \+ 0\.9/);
  await context.close();
});

test("a reading through glass is opened by that glass", async () => {
  const context = await phone();
  const { page } = await open(context, server.url);
  await page.getByLabel("through glass").check();
  await page.locator("[data-chips=through]").getByText("0.6", { exact: true }).tap();
  assert.match(await page.locator(".need-stops").innerText(), /^6\.99 stops$/);
  await page.getByLabel("bare").check();
  assert.match(await page.locator(".need-stops").innerText(), /^5 stops$/);
  await context.close();
});

test("the internal wheel takes its part and can be read through", async () => {
  const context = await phone();
  const { page } = await open(context, server.url);
  await page.locator(".tabs").getByText("Case").tap();
  await page.getByLabel("Densities, clear first").fill("0; 0.6; 1.2; 1.8");
  await page.locator(".tabs").getByText("Now").tap();
  assert.match(await best(page).innerText(), /wheel/);
  await page.locator("[data-chips=wheel]").getByText("wheel 1.2").tap();
  assert.match(await page.locator(".now-in-result").innerText(), /^T4 exposes right with wheel 1\.2: 3\.99 stops taken/);
  await page.getByLabel("through glass").check();
  assert.match(await page.locator(".need-stops").innerText(), /^8\.99 stops$/);
  assert.match(await page.locator(".now-in-result").innerText(), /^T16 exposes right with wheel 1\.2/);
  await context.close();
});

test("the keyboard alone does the main job", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  const stop = page.getByLabel("You read", { exact: true });
  for (let presses = 0; presses < 20 && !(await stop.evaluate((e) => e === document.activeElement)); presses += 1) {
    await page.keyboard.press("Tab");
  }
  await page.keyboard.type("T11 and two thirds");
  await page.keyboard.press("Tab");
  assert.equal(await stop.inputValue(), "T11⅔");
  assert.match(await page.locator(".need-stops").innerText(), /^4\.67 stops$/);
  for (let presses = 0; presses < 40; presses += 1) {
    const focused = await page.evaluate(() => document.activeElement?.textContent);
    if (focused === "It is in") break;
    await page.keyboard.press("Tab");
  }
  await page.keyboard.press("Enter");
  assert.match(await best(page).innerText(), /it is in/);
  await context.close();
});

test("impossible input says why beside the field and keeps the last answer", async () => {
  const context = await phone();
  const { page } = await open(context, server.url);
  const stop = page.getByLabel("You read", { exact: true });
  const error = page.locator("#now [data-field='reading.aperture'] .field-error");
  for (const [text, why] of [
    ["letters", /“letters” is not understood\. Try T11⅔/],
    ["0", /cannot be 0; it goes from 0\.25 to 1024/],
    ["-4", /cannot be -4; it goes from 0\.25 to 1024/],
    ["999999999999999999999999", /it goes from 0\.25 to 1024/],
    ["", /is empty/],
  ]) {
    await stop.fill(text);
    assert.match(await error.innerText(), why, text);
    assert.equal(await stop.getAttribute("aria-invalid"), "true");
    await expectNineAndSix(page);
  }
  await page.locator(".now-camera summary").tap();
  await page.getByLabel("Shutter", { exact: true }).first().fill("50");
  const choices = page.locator("[data-field='reading.shutter'] .choice");
  assert.equal(await choices.count(), 2);
  await choices.filter({ hasText: "time" }).tap();
  assert.equal(await page.getByLabel("Shutter", { exact: true }).first().inputValue(), "1/50 s");
  await context.close();
});

test("a draft that is not possible is still there after a restart", async () => {
  const context = await phone();
  const { page } = await open(context, server.url);
  await page.getByLabel("You read", { exact: true }).fill("T0");
  await page.reload();
  await page.waitForSelector("html[data-ready]");
  assert.equal(await page.getByLabel("You read", { exact: true }).inputValue(), "T0");
  assert.match(await page.locator("#now [data-field='reading.aperture'] .field-error").innerText(), /cannot be 0/);
  await expectNineAndSix(page);
  await context.close();
});

test("an ambiguous marking asks back when a piece is added", async () => {
  const context = await phone();
  const { page } = await open(context, server.url);
  await page.locator(".tabs").getByText("Case").tap();
  await page.getByLabel("Add a piece").fill("ND2");
  await page.getByRole("button", { name: "Add", exact: true }).tap();
  await page.getByRole("button", { name: /^factor/ }).tap();
  assert.match(await page.locator("[data-rows=kit]").innerText(), /ND2 \(factor\)\s+D 0\.301/);
  await context.close();
});

test("with the server dead the page opens and answers", async () => {
  const profile = await mkdtemp(path.join(tmpdir(), "profile-"));
  const own = await serveDist();
  const start = () => launchKept(profile, { hasTouch: true, isMobile: true });
  let { context } = await start();
  let { page } = await open(context, own.url);
  await page.evaluate(async () => {
    const { active } = await navigator.serviceWorker.ready;
    if (active.state !== "activated") {
      await new Promise((done) => active.addEventListener("statechange", () => active.state === "activated" && done()));
    }
  });
  await ownPiecesByTouch(page);
  await context.close();
  await own.stop();
  ({ context } = await start());
  ({ page } = await open(context, own.url));
  await expectNineAndSix(page);
  await context.close();
  await rm(profile, { recursive: true });
});

test("the single file works from disk with the network off and storage blocked", async () => {
  const context = await phone();
  await context.setOffline(true);
  await context.addInitScript(() => {
    for (const name of ["localStorage", "indexedDB"]) {
      Object.defineProperty(window, name, { get: () => { throw new DOMException("blocked", "SecurityError"); } });
    }
  });
  const file = pathToFileURL(path.join(DIST, "glasscall.html")).href;
  const foreign = watchForeign(context, file);
  const { page, errors } = await open(context, file);
  assert.match(await page.locator("#keeping").innerText(), /keeps nothing/);
  await ownPiecesByTouch(page);
  await expectNineAndSix(page);
  assert.deepEqual(errors, []);
  assert.deepEqual(foreign, []);
  await context.close();
});
