// The main job in a browser: by touch, by keyboard, served, offline, from disk.
import assert from "node:assert/strict";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { test } from "node:test";
import { DIST, PHONE, launchKept, open, ready, serveDist, servedPage, watchForeign } from "./harness.mjs";
import { emptySlot, putInSlot, whatIsIn } from "./now-acts.mjs";
import { soon } from "./soon.mjs";

const { browser, server } = await servedPage();

const phone = () => browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true });
const answer = (page, part) => page.locator(`#now [data-answer=${part}]`);

/** A newcomer's way: own two pieces, what was read, then the answer. */
async function ownPiecesByTouch(page) {
  await page.locator(".tabs").getByText("Case").tap();
  await page.getByRole("button", { name: "Start with my own" }).tap();
  await page.locator(".holds [data-rig=box]").tap();
  for (const piece of ["0.9", "point six"]) {
    await page.getByLabel("Add filters and lenses").fill(piece);
    await page.locator("[data-do=add-piece]").tap();
  }
  await page.locator(".tabs").getByText("Now").tap();
  // Nothing is computed with what the invented crew read.
  await soon.equal(() => page.getByLabel("You read", { exact: true }).inputValue(), "");
  await soon.equal(() => page.locator("#now .plate-why").innerText(), "Nothing is read yet: type the stop that the meter gives.");
  await page.locator("#now [data-do=beside]").tap();
  await page.locator(".drawer-made").getByText("Nothing is read yet").waitFor();
  await page.locator(".drawer-made .drawer-head button").first().tap();
  await page.getByLabel("You read", { exact: true }).tap();
  await page.locator(".stop-pad").getByRole("button", { name: "T16", exact: true }).tap();
  await page.locator(".stop-pad").getByRole("button", { name: "Done" }).tap();
}

/** The best of the demo's case, and of the two pieces of one's own. */
const DEMO = { pieces: "1.2 IR + 0.3", left: /^-0\.08 left/ };
const OWN = { pieces: "0.9 + 0.6", left: /^\+0\.02 left/ };

async function expectAnswer(page, { pieces, left }) {
  await soon.match(() => page.locator(".need-stops").innerText(), /^5 stops$/);
  await soon.equal(() => answer(page, "pieces").innerText(), pieces);
  await soon.equal(() => answer(page, "stop").innerText(), "T2.8");
  await soon.match(() => answer(page, "left").innerText(), left);
  await soon.match(() => page.locator("#now .stack").textContent(), /nothing to do/);
}

test("the demo answers T16 to T2.8 with 1.2 IR and 0.3 on first start", async () => {
  const context = await phone();
  const foreign = watchForeign(context, server.url);
  const { page, errors } = await open(context, server.url);
  await expectAnswer(page, DEMO);
  assert.deepEqual(errors, []);
  assert.deepEqual(foreign, []);
  await context.close();
});

test("a newcomer enters two pieces by touch and has the answer", async () => {
  const context = await phone();
  const { page, errors } = await open(context, server.url);
  await ownPiecesByTouch(page);
  await expectAnswer(page, OWN);
  await page.reload();
  await ready(page);
  await expectAnswer(page, OWN);
  assert.deepEqual(errors, []);
  await context.close();
});

test("steppers move the stop by thirds and the answer follows", async () => {
  const context = await phone();
  const { page } = await open(context, server.url);
  await page.getByRole("button", { name: "You read: close a third" }).tap();
  await soon.equal(() => page.getByLabel("You read", { exact: true }).inputValue(), "T16⅓");
  await soon.match(() => page.locator(".need-stops").innerText(), /^5\.33 stops$/);
  await page.getByRole("button", { name: "You want: open a third" }).tap();
  await soon.equal(() => page.getByLabel("You want", { exact: true }).inputValue(), "T2⅔");
  await soon.match(() => page.locator(".need-stops").innerText(), /^5\.67 stops$/);
  await page.getByRole("button", { name: "Undo" }).tap();
  await page.getByRole("button", { name: "Undo" }).tap();
  await expectAnswer(page, DEMO);
  await context.close();
});

test("pieces go into slots and out, and only what fits is offered", async () => {
  const context = await phone();
  const { page } = await open(context, server.url);
  const asItIs = page.locator(".strip-way", { hasText: "as it is" });
  await soon.match(() => asItIs.innerText(), /^nothing → T16/);
  await putInSlot(page, "tray 1", "0.9");
  await soon.match(() => asItIs.innerText(), /^0\.9 → T5\.6/);
  await putInSlot(page, "tray 2", "0.6");
  await soon.deepEqual(() => whatIsIn(page), ["—", "0.9", "0.6"]);
  await soon.equal(() => answer(page, "stop").innerText(), "T2.8");
  // What turns goes where it can be turned, and nowhere else.
  await page.locator('.side-list [data-opens="slot tray 1"]').tap();
  await soon.equal(() => page.locator(".drawer-made").getByRole("button", { name: "pola" }).count(), 0);
  await page.getByRole("button", { name: "Done" }).tap();
  await putInSlot(page, "rotating", "pola");
  // A polarizer is in for the picture: the best stack keeps it.
  await soon.match(() => answer(page, "pieces").innerText(), /pola/);
  await emptySlot(page, "rotating");
  await soon.deepEqual(() => whatIsIn(page), ["—", "0.9", "0.6"]);
  await soon.doesNotMatch(() => answer(page, "pieces").innerText(), /pola/);
  // One piece is in one place: taken into another slot it leaves the first.
  await putInSlot(page, "rotating", "0.9");
  await soon.deepEqual(() => whatIsIn(page), ["0.9", "—", "0.6"]);
  await context.close();
});

test("a reading through glass is opened by that glass", async () => {
  const context = await phone();
  const { page } = await open(context, server.url);
  await page.locator("[data-read=through]").tap();
  await page.locator("[data-chips=through]").getByText("0.6", { exact: true }).tap();
  await soon.match(() => page.locator(".need-stops").innerText(), /^6\.99 stops$/);
  await page.getByRole("button", { name: "Done" }).tap();
  await soon.match(() => page.locator("[data-read=through]").innerText(), /through 0\.6/);
  await page.locator("[data-read=bare]").tap();
  await soon.match(() => page.locator(".need-stops").innerText(), /^5 stops$/);
  await context.close();
});

test("the internal wheel takes its part and can be read through", async () => {
  const context = await phone();
  const { page } = await open(context, server.url);
  await page.locator(".tabs").getByText("Case").tap();
  await page.getByLabel("Densities, clear first").fill("0; 0.6; 1.2; 1.8");
  await page.locator(".tabs").getByText("Now").tap();
  await soon.ok(async () => await page.locator(".strip-way", { hasText: "wheel" }).count() > 0);
  await page.locator("[data-chips=wheel]").getByText("wheel 1.2").tap();
  const asItIs = page.locator(".strip-way", { hasText: "as it is" });
  await soon.match(() => asItIs.innerText(), /^wheel 1\.2 → T4/);
  await page.locator("[data-read=through]").tap();
  await soon.match(() => page.locator(".need-stops").innerText(), /^8\.99 stops$/);
  await soon.match(() => asItIs.innerText(), /^wheel 1\.2 → T16/);
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
  await soon.equal(() => stop.inputValue(), "T11⅔");
  await soon.match(() => page.locator(".need-stops").innerText(), /^4\.67 stops$/);
  for (let presses = 0; presses < 40; presses += 1) {
    const focused = await page.evaluate(() => document.activeElement?.textContent);
    if (focused === "Put in") break;
    await page.keyboard.press("Tab");
  }
  await page.keyboard.press("Enter");
  await soon.equal(() => page.locator("#now .plate-act").innerText(), "Log");
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
    ["", /type the stop that the meter gives/],
  ]) {
    await stop.fill(text);
    await soon.match(() => error.innerText(), why, text);
    await soon.equal(() => stop.getAttribute("aria-invalid"), "true");
    await expectAnswer(page, DEMO);
  }
  await page.locator(".now-camera summary").tap();
  await page.getByLabel("Shutter", { exact: true }).first().fill("50");
  const choices = page.locator("[data-field='reading.shutter'] .choice");
  await soon.equal(() => choices.count(), 2);
  await choices.filter({ hasText: "time" }).tap();
  await soon.equal(() => page.getByLabel("Shutter", { exact: true }).first().inputValue(), "1/50 s");
  await context.close();
});

test("a draft that is not possible is still there after a restart", async () => {
  const context = await phone();
  const { page } = await open(context, server.url);
  await page.getByLabel("You read", { exact: true }).fill("T0");
  await page.reload();
  await ready(page);
  await soon.equal(() => page.getByLabel("You read", { exact: true }).inputValue(), "T0");
  await soon.match(() => page.locator("#now [data-field='reading.aperture'] .field-error").innerText(), /cannot be 0/);
  await expectAnswer(page, DEMO);
  await context.close();
});

test("an ambiguous marking asks back when a piece is added", async () => {
  const context = await phone();
  const { page } = await open(context, server.url);
  await page.locator(".tabs").getByText("Case").tap();
  await page.getByLabel("Add filters and lenses").fill("ND2");
  await page.getByRole("button", { name: /^factor/ }).tap();
  await page.locator("[data-do=add-piece]").tap();
  await soon.match(() => page.locator("[data-rows=kit]").innerText(), /ND2.*\s+D 0\.301/);
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
  await expectAnswer(page, OWN);
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
  await soon.match(() => page.locator("#keeping").innerText(), /keeps nothing/);
  await ownPiecesByTouch(page);
  await expectAnswer(page, OWN);
  assert.deepEqual(errors, []);
  assert.deepEqual(foreign, []);
  await context.close();
});

test("with a case of one's own each screen names what is missing first", async () => {
  const context = await phone();
  const { page, errors } = await open(context, server.url);
  await ownPiecesByTouch(page);
  await page.locator(".tabs").getByText("Case").tap();
  await page.getByLabel("Add filters and lenses").fill("25 T1.9 82");
  await page.locator("[data-do=add-piece]").tap();
  await page.locator(".tabs").getByText("Frame").tap();
  await soon.match(() => page.locator("#frame .plate-why").innerText(), /^Without the size of the sensor there is no line/);
  await page.locator("#frame .plate-why a").tap();
  await soon.equal(() => page.locator("#fit .fit-known-pupil").innerText(), "Sensor not said: see below.");
  const assumed = page.locator("#fit .fit-assumed-sensor");
  await soon.ok(() => assumed.isVisible());
  await page.locator("#fit-format").selectOption({ index: 3 });
  await soon.ok(() => assumed.isHidden());
  // The front of that lens, its thread, is enough for a range.
  await soon.match(() => page.locator("#fit .fit-known-pupil").innerText(), /By its front only\./);
  await page.locator(".tabs").getByText("Frame").tap();
  await soon.equal(() => page.locator("#frame .plate-why").innerText(), "The sky is not read yet: type its stop above.");
  assert.deepEqual(errors, []);
  await context.close();
});
