// Now and Fit as a hand uses them: the answer whole on the first screen, and a
// day's acts by touch.
import assert from "node:assert/strict";
import { test } from "node:test";
import { faultsAsItStands } from "./axe.mjs";
import { PHONE, giveFile, open, ready, servedPage } from "./harness.mjs";
import { putInSlot, whatIsIn } from "./now-acts.mjs";
import { soon } from "./soon.mjs";

const SIZES = {
  "390×844": { width: 390, height: 844 },
  "360×640": { width: 360, height: 640 },
  "844×390": { width: 844, height: 390 },
  "768×1024": { width: 768, height: 1024 },
  "1280×800": { width: 1280, height: 800 },
};

/** An invented day's case: fourteen pieces, nine lenses, trays and screw-in. */
const FOURTEEN = {
  format: "glasscall-case",
  version: 1,
  pieces: [
    ...["0.3", "0.6", "0.9", "1.2", "1.5", "1.8"].map((id) => ({ id, kind: "nd", density: Number(id), size: "4x5.65", count: 1 })),
    { id: "1.5 IR", kind: "nd", density: 1.5, infraredDensity: 1.5, size: "4x5.65", count: 1 },
    { id: "0.6 hard", kind: "grad", density: 0.6, size: "4x5.65", count: 1, profile: { kind: "hard" } },
    { id: "0.6 soft", kind: "grad", density: 0.6, size: "4x5.65", count: 1, profile: { kind: "soft", rampMm: 30 } },
    { id: "0.9 soft", kind: "grad", density: 0.9, size: "4x5.65", count: 1, profile: { kind: "soft", rampMm: 30 } },
    { id: "polarizer", kind: "polarizer", size: "4x5.65", count: 1 },
    { id: "0.9 screw", kind: "nd", density: 0.9, size: "82", count: 1 },
    { id: "1.8 screw", kind: "nd", density: 1.8, size: "82", count: 1 },
    { id: "pola screw", kind: "polarizer", size: "82", count: 1 },
  ],
  lenses: [18, 25, 32, 40, 50, 75, 100, 135].map((focalMm) => ({ id: String(focalMm), focalMm, tNumber: 1.9, threadMm: 82 }))
    .concat([{ id: "24–70", focalMm: 24, focalToMm: 70, tNumber: 2.8, threadMm: 82 }])
    // Two that a short line would show alike.
    .concat(["the old 24–290 T2.8", "the old 24–200 T2.8"].map((id) => ({ id, focalMm: 24, focalToMm: 200, tNumber: 2.8, threadMm: 82 }))),
  rigs: [
    { id: "in use", mount: "matteBox" },
    { id: "trays", mount: "matteBox" },
    { id: "screw-in", mount: "screwIn", threadMm: 82 },
  ],
  slots: [
    ...["in use", "trays"].flatMap((rig) => [
      { rig, id: "rotating", size: "4x5.65", rotates: true },
      { rig, id: "tray 1", size: "4x5.65", rotates: false },
      { rig, id: "tray 2", size: "4x5.65", rotates: false },
    ]),
    { rig: "screw-in", id: "thread 1", size: "82", rotates: true },
    { rig: "screw-in", id: "thread 2", size: "82", rotates: true },
  ],
};

const { browser, server } = await servedPage();

/** @param {{width: number, height: number}} [viewport] @param {import("playwright-core").BrowserContextOptions} [more] */
async function byTouch(viewport = PHONE, more = {}) {
  const context = await browser.newContext({ viewport, hasTouch: true, isMobile: viewport.width < 1000, bypassCSP: true, ...more });
  const { page, errors } = await open(context, server.url);
  const goTo = async (/** @type {string} */ name) => {
    await page.locator(`.tabs a[href='#${name}']`).tap();
    await page.locator(`#${name}`).waitFor();
  };
  const done = async () => {
    assert.deepEqual(errors, []);
    await context.close();
  };
  return { page, goTo, done };
}

/** @param {import("playwright-core").Page} page */
async function takeFourteen(page) {
  await page.evaluate(() => (location.hash = "#case?file"));
  // Its listener comes with the screen.
  await ready(page);
  await giveFile(page.locator("#case-file"), { name: "case.json", mimeType: "application/json", buffer: Buffer.from(JSON.stringify(FOURTEEN)) });
  await page.locator(".file-answer p").first().waitFor();
  await page.locator(".tabs a[href='#now']").tap();
  await page.locator("#now").waitFor();
}

const answer = (page, part) => page.locator(`#now [data-answer=${part}]`);

/** Names of lens and rig that are not shown whole. @param {import("playwright-core").Page} page */
const cutNames = (page) => page.locator("#now .pick").evaluateAll((picks) => picks
  // The list that lies over it reaches a pixel and a half beyond.
  .filter((pick) => pick.scrollHeight > pick.clientHeight + 2 || pick.scrollWidth > pick.clientWidth + 2 || pick.dataset.name !== pick.querySelector("select").selectedOptions[0].textContent)
  .map((pick) => pick.dataset.name));

/** What of the answer does not stand whole and uncovered on the first screen, or is too small. @param {import("playwright-core").Page} page */
const faultsOfFirstScreen = (page) => page.evaluate(() => {
  const wanted = {
    "[data-pick=lens]": 44, "[data-pick=rig]": 44, ".now-camera > summary": 44, "#read-stop": 44, "#shot-stop": 44,
    "[data-read=bare]": 44, "[data-read=through]": 44, "[data-answer=need]": 0, "[data-answer=pieces]": 32,
    "[data-answer=stop]": 56, "[data-answer=fit]": 0, ".plate-act": 56,
  };
  const faults = [];
  const steps = [...document.querySelectorAll("#now .field-big .step")].map((step) => [step, 56, step.getAttribute("aria-label")]);
  const parts = Object.entries(wanted).map(([name, least]) => [document.querySelector(`#now ${name}`), least, name]);
  for (const [part, least, name] of [...parts, ...steps]) {
    const box = part?.getBoundingClientRect();
    if (!box || box.width === 0) faults.push(`${name} is not there`);
    else {
      const high = name.startsWith("[data-answer") ? parseFloat(getComputedStyle(part).fontSize) : box.height;
      if (high < least) faults.push(`${name}: ${high} of ${least} px`);
      if (box.top < 0 || box.left < 0 || box.right > innerWidth + 0.5 || box.bottom > innerHeight) faults.push(`${name} is not whole on the screen: ${JSON.stringify(box)}`);
      if (part.scrollWidth > part.clientWidth + 1 && name.startsWith("[data-answer")) faults.push(`${name} is cut`);
      for (const [x, y] of [[box.left + 4, box.top + 4], [box.right - 4, box.bottom - 4]]) {
        const seen = document.elementFromPoint(x, y);
        if (seen && !part.contains(seen) && !seen.contains(part)) faults.push(`${name} is covered by ${seen.className || seen.tagName}`);
      }
    }
  }
  return faults;
});

for (const [size, viewport] of Object.entries(SIZES)) {
  for (const locale of ["en-GB", "de-DE"]) {
    test(`the whole answer is on the first screen: ${size}, ${locale}`, async () => {
      const { page, done } = await byTouch(viewport, { locale });
      const check = async (/** @type {string} */ state) => assert.deepEqual(await faultsOfFirstScreen(page), [], state);
      await check("demo");
      await page.locator("[data-do=put-in]").tap();
      await page.locator("[data-do=log]:visible").tap();
      await page.locator("#notice:visible").waitFor();
      await check("after logging, with the notice");
      await takeFourteen(page);
      await soon.equal(async () => await page.locator("[data-pick=lens] option").count() >= 9, true);
      await check("own case");
      await page.locator("#now [data-pick=lens]").selectOption("the old 24–290 T2.8");
      await soon.deepEqual(() => cutNames(page), []);
      await check("a long name");
      await putInSlot(page, "rotating", "polarizer");
      await page.locator(".page").evaluate((one) => one.scrollTo(0, 0));
      await check("own case, polarizer in");
      await done();
    });
  }
}

test("a lens change is one act, and what its record does not say is not known", async () => {
  const { page, goTo, done } = await byTouch();
  await takeFourteen(page);
  await page.locator("#now [data-pick=lens]").selectOption("25");
  await soon.equal(() => page.locator("#now [data-pick=lens]").inputValue(), "25");
  await soon.equal(() => answer(page, "fit").innerText(), "fit not known");
  await goTo("fit");
  await soon.match(() => page.locator("#fit [data-answer=fit]").innerText(), /25/);
  await soon.doesNotMatch(() => page.locator("#fit [data-answer=fit]").innerText(), /38 mm/);
  await page.locator("#fit [data-switch=rig]").selectOption("screw-in");
  await soon.match(() => page.locator("#fit .fit-rows").innerText(), /thread 1/);
  await goTo("now");
  // Only what fits the rig is offered for it.
  await page.locator('.side-list [data-opens="slot thread 1"]').tap();
  const offered = await page.locator(".drawer-list button").allInnerTexts();
  assert.deepEqual(offered.map((text) => text.split("\n")[0]), ["0.9 screw", "1.8 screw", "pola screw"]);
  await done();
});

test("put in, then log, in the same place; a new reading asks to put in again", async () => {
  const { page, done } = await byTouch();
  const act = page.locator("#now .plate-act");
  await soon.equal(() => act.getAttribute("data-do"), "put-in");
  const place = await act.boundingBox();
  await act.tap();
  await soon.equal(() => act.getAttribute("data-do"), "log");
  await soon.deepEqual(() => act.boundingBox(), place);
  await soon.deepEqual(() => whatIsIn(page), ["1.2 IR", "0.3", "—"]);
  await act.tap();
  await soon.match(() => page.locator("#notice").innerText(), /^Logged: 1\.2 IR \+ 0\.3, T2\.8/);
  await page.locator("#read-stop").fill("T11");
  await soon.equal(() => act.getAttribute("data-do"), "put-in");
  // What is in can be logged as it is, by choosing it first.
  await page.locator(".strip-way", { hasText: "it is in" }).tap();
  await soon.equal(() => act.getAttribute("data-do"), "log");
  await done();
});

test("a notice goes by itself and takes the log back", async () => {
  const { page, goTo, done } = await byTouch();
  await page.clock.install();
  await page.locator("#now .plate-act").tap();
  await page.locator("#now .plate-act").tap();
  await page.locator("#notice").getByRole("button", { name: "Undo" }).tap();
  await soon.equal(() => page.locator("#notice").isVisible(), false);
  await goTo("day");
  await soon.equal(async () => await page.locator(".day-log > .row").count(), 0);
  await goTo("now");
  await page.locator("#now .plate-act").tap();
  await page.locator(".page").evaluate((one) => one.dispatchEvent(new PointerEvent("pointermove", { bubbles: true })));
  await page.clock.fastForward(20_000);
  await page.locator("#notice").waitFor({ state: "hidden" });
  await done();
});

test("the pad sets full stops and thirds; typing stays possible", async () => {
  const { page, done } = await byTouch();
  const stop = page.locator("#read-stop");
  await stop.tap();
  const pad = page.locator(".stop-pad");
  await pad.getByRole("button", { name: "T5.6", exact: true }).tap();
  await soon.equal(() => stop.inputValue(), "T5.6");
  await pad.getByRole("button", { name: "+⅓" }).tap();
  await soon.equal(() => stop.inputValue(), "T5.6⅓");
  await pad.getByRole("button", { name: "close a stop" }).tap();
  await soon.equal(() => stop.inputValue(), "T8⅓");
  for (const key of await pad.locator(".pad-key").all()) await soon.ok(async () => (await key.boundingBox()).height >= 56);
  await pad.getByRole("button", { name: "type it" }).tap();
  await soon.equal(() => stop.getAttribute("inputmode"), "decimal");
  await page.keyboard.type("16 1/3");
  await stop.blur();
  await soon.equal(() => stop.inputValue(), "T16⅓");
  await page.locator("#shot-stop").tap();
  await page.locator(".need").tap();
  await soon.equal(() => pad.count(), 0, "a tap beside it closes it");
  await done();
});

test("no first tap is dead, and nothing is made of a hair", async () => {
  const { page, done } = await byTouch();
  // Kept as the number 2.8, which is called T2.8 as its exact value is.
  await page.locator("#shot-stop").fill("2.8");
  await page.locator("#shot-stop").blur();
  await page.getByRole("button", { name: "You want: close a third" }).tap();
  await soon.equal(() => page.locator("#shot-stop").inputValue(), "T2.8⅓");
  // Read through 0.6 at T4, wanted two stops on without it: 0.01 stops short is nothing.
  await putInSlot(page, "tray 1", "0.6");
  await page.locator("[data-read=through]").tap();
  await page.locator("#read-stop").fill("T4");
  await page.locator("#shot-stop").fill("T8");
  await soon.equal(() => page.locator(".need-stops").innerText(), "0 stops");
  await soon.equal(() => page.locator(".need-more").innerText(), "");
  await done();
});

test("what differs from the reading stands out with what it costs", async () => {
  const { page, done } = await byTouch();
  await soon.match(() => page.locator(".now-camera-line").innerText(), /^EI 800 · 24 · 180°$/);
  await page.locator(".now-camera > summary").tap();
  await page.locator("#shot-fps").fill("96");
  await page.locator(".now-camera [data-do=close-drawer]").tap();
  await soon.match(() => page.locator(".now-camera-line").innerText(), /^shoot 96 fps −?-?2$/);
  await soon.equal(() => page.locator(".now-camera").evaluate((one) => one.classList.contains("now-camera-differs")), true);
  await done();
});

test("a question without an answer says so in its place, and nothing old stands there", async () => {
  const { page, done } = await byTouch();
  await takeFourteen(page);
  await page.locator("#now [data-pick=rig]").selectOption("screw-in");
  await page.locator(".now-keep > summary").tap();
  await page.locator("[data-chips=keep]").getByText("polarizer", { exact: true }).tap();
  await page.locator(".page").evaluate((one) => one.scrollTo(0, 0));
  await soon.match(() => page.locator("#now .plate").innerText(), /No room for the pieces/);
  for (const part of ["pieces", "stop"]) await soon.equal(() => answer(page, part).isVisible(), false, part);
  await soon.equal(() => page.locator("#now .plate-act").isVisible(), false);
  await done();
});

test("one place is read out, in twelve words at most a tap", async () => {
  const { page, done } = await byTouch();
  const live = () => page.evaluate(() => [...document.querySelectorAll("[aria-live=polite], [role=status], output")]
    .filter((one) => one.checkVisibility?.() && one.closest("#now, body > :not(.page)")).map((one) => one.textContent.trim()).join("\n"));
  let before = await live();
  for (const act of [
    () => page.getByRole("button", { name: "You read: close a third" }).tap(),
    () => page.locator("#now .plate-act").tap(),
    () => page.locator("#now [data-pick=lens]").selectOption("85"),
    () => page.locator(".strip-way").nth(1).tap(),
    () => page.locator("[data-read=through]").tap(),
  ]) {
    await act();
    const told = await live();
    const fresh = told.split("\n").filter((line) => !before.split("\n").includes(line)).join(" ");
    assert.ok(fresh.split(/\s+/).filter(Boolean).length <= 12, fresh);
    before = told;
  }
  await done();
});

test("a swipe on the picture of the rig scrolls, and the skip link leads to the answer", async () => {
  const { page, done } = await byTouch();
  const scrolled = () => page.locator(".page").evaluate((one) => one.scrollTop);
  const picture = await page.locator(".side-view").boundingBox();
  const session = await page.context().newCDPSession(page);
  const from = Math.min(picture.y + 20, 740);
  const finger = (/** @type {string} */ type, /** @type {number[]} */ ...heights) =>
    session.send("Input.dispatchTouchEvent", { type, touchPoints: heights.map((y) => ({ x: 60, y })) });
  await finger("touchStart", from);
  for (let up = 20; up <= 300; up += 20) await finger("touchMove", from - up);
  await finger("touchEnd");
  await soon.ok(async () => await scrolled() > 100, String(await scrolled()));
  await page.keyboard.press("Tab");
  await page.locator("[data-do=skip]").press("Enter");
  await soon.equal(async () => await page.evaluate(() => document.activeElement?.closest("#now") !== null), true);
  await done();
});

for (const [size, viewport] of Object.entries(SIZES)) {
  test(`no target is half covered on any screen at ${size}`, async () => {
    const { page, goTo, done } = await byTouch(viewport);
    for (const name of ["now", "fit", "frame", "light", "case", "day"]) {
      await goTo(name);
      await soon.deepEqual(() => faultsAsItStands(page, ["target-size"]), [], name);
    }
    await done();
  });
}

test("at 200 % text the content keeps half the screen", async () => {
  for (const viewport of [SIZES["360×640"], SIZES["844×390"]]) {
    const { page, done } = await byTouch(viewport);
    await page.evaluate(() => { document.documentElement.style.fontSize = "200%"; });
    await page.locator(".page").evaluate((one) => one.scrollTo(0, 400));
    const { height } = await page.locator(".page").boundingBox();
    assert.ok(height >= viewport.height / 2, `${height} of ${viewport.height}`);
    await done();
  }
});
