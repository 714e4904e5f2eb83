// Fit in a browser: by touch, by keyboard, live, and what Now makes of it.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { PHONE, open, servedPage, watchForeign } from "./harness.mjs";
import { soon } from "./soon.mjs";

const { browser, server } = await servedPage();

/** The screen is there one task after the tap. @param {import("playwright-core").Page} page @param {string} name */
async function goTo(page, name) {
  await page.locator(".tabs").getByText(name).tap();
  await page.locator(`#${name.toLowerCase()}`).waitFor();
}

async function onPhone() {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true });
  const foreign = watchForeign(context, server.url);
  const { page, errors } = await open(context, server.url);
  await goTo(page, "Fit");
  // The demo lens is a long one; here it is a wide one on a large sensor.
  await page.getByLabel("Format", { exact: true }).selectOption({ label: "full frame, 36 × 24" });
  await focal(page).fill("35");
  await focal(page).blur();
  const done = async () => {
    assert.deepEqual(errors, []);
    assert.deepEqual(foreign, []);
    await context.close();
  };
  return { page, done };
}

const verdict = (page) => page.locator(".fit-verdict").innerText();
const row = (page, name) => page.locator(".fit-row").filter({ hasText: name });
const focal = (page) => page.locator("#fit-focal");

test("a lens that is clear says by how much and where", async () => {
  const { page, done } = await onPhone();
  // By hand, turned to any angle: corner 21.63·(38 + 12)/35 + 35/2.83/2 = 37.1 of 47.5.
  await soon.match(() => verdict(page), /^Clear\s+10\.4 mm to spare at rotating, everything in/);
  // Level: up 12·(38 + 36)/35 + 35/2.83/2 = 31.6 of 47.5.
  await soon.match(() => row(page, "tray 2").innerText(), /Clear\s+15\.9 mm to spare/);
  await soon.match(() => page.locator(".fit-known").innerText(), /Pupil 38 mm behind the rim\. Given as a figure\./);
  await soon.match(() => page.locator(".fit-known-room").innerText(), /^± \d+(\.\d)? mm, mostly /);
  await page.locator("[data-do=turn-known]").tap();
  // Its working ends in the ± that was tapped, share by share.
  const shares = page.locator(".drawer-made .term-name");
  await soon.ok(async () => (await shares.allInnerTexts()).filter((name) => name.startsWith("± of")).length >= 3);
  const known = /± (\d+(?:\.\d)?) mm/.exec(await page.locator(".fit-known-room").innerText())?.[1];
  const together = page.locator(".drawer-made .term", { hasText: "± together" });
  await soon.ok(async () => Math.abs(Number(/= (\d+(?:\.\d+)?) mm$/.exec(await together.locator(".term-line").innerText())?.[1]) - Number(known)) <= 0.06);
  await page.keyboard.press("Escape");
  await row(page, "rotating").locator("summary").tap();
  await soon.match(() => row(page, "rotating").innerText(), /Clear at every turn, by the figures\./);
  await soon.equal(() => page.locator(".fit-map").isVisible(), false, "nothing is lost, so there is nothing to see");
  await done();
});

test("a wider lens clips, Now says so and offers what fits", async () => {
  const { page, done } = await onPhone();
  await focal(page).fill("16");
  // By hand, turned to any angle: corner 21.63·(38 + 12)/16 + 16/2.83/2 = 70.4 of 47.5.
  await soon.match(() => verdict(page), /^Clips\s+22\.9 mm too narrow at rotating/);
  // By hand, level: corner 18·(38 + 36)/16 + 2.83 = 86.1 of 67 across.
  await soon.match(() => row(page, "tray 2").innerText(), /Clips\s+19\.1 mm too narrow/);
  await row(page, "rotating").locator("summary").tap();
  await soon.match(() => row(page, "rotating").innerText(), /Turn it within \d+° of upright\./);
  await goTo(page, "Now");
  await soon.equal(() => page.locator("#now [data-answer=pieces]").innerText(), "1.2 IR + 0.3");
  await soon.equal(() => page.locator("#now [data-answer=fit]").innerText(), "look");
  // A figure for the pupil may be wrong, so it may clip. By hand: corner across 18·(38 + 24)/16 + 16/2.75/2 = 72.7 of 67.
  await soon.match(() => page.locator("#now .plate-warn").innerText(), /May clip at tray 1: 5\.7 mm too narrow/);
  const fitting = page.locator(".strip-way").nth(1);
  await soon.match(() => fitting.innerText(), /^1\.2 IR → T4\s+fits/);
  await fitting.tap();
  await soon.equal(() => page.locator("#now [data-answer=fit]").innerText(), "look");
  // By hand: level, up 12·(38 + 12)/16 + 16/3.88/2 = 39.6 of 47.5.
  await soon.match(() => page.locator("#now .stack").textContent(), /Clear of the picture, 7\.9 mm to spare at rotating: look through the lens/);
  await page.locator("#now [data-do=put-in]").tap();
  await soon.match(async () => (await page.locator(".side-list").innerText()), /1\.2 IR/);
  await goTo(page, "Fit");
  await soon.match(() => page.locator(".fit-notes").innerText(), /With only what is in now: Clear of the picture, 7\.2 mm/);
  await done();
});

test("the pictures follow while a slider moves, and undo knows one step", async () => {
  const { page, done } = await onPhone();
  const slider = page.getByRole("slider", { name: "Focal length" });
  const before = await page.locator(".front-view").first().innerHTML();
  await slider.evaluate((input) => {
    input.value = "6";
    input.dispatchEvent(new Event("input", { bubbles: true }));
  });
  await soon.match(() => verdict(page), /^Clips/);
  await soon.notEqual(() => page.locator(".front-view").first().innerHTML(), before);
  await soon.equal(() => focal(page).inputValue(), "35 mm", "the set-up waits until it is let go");
  await slider.evaluate((input) => input.dispatchEvent(new Event("change", { bubbles: true })));
  await soon.equal(() => focal(page).inputValue(), "18 mm");
  await page.getByRole("button", { name: "Undo" }).tap();
  await soon.equal(() => focal(page).inputValue(), "35 mm");
  await soon.match(() => verdict(page), /^Clear/);
  await done();
});

test("the corners of the loss map are darker than its middle where glass shades", async () => {
  const { page, done } = await onPhone();
  await focal(page).fill("20");
  const light = (at) => page.locator(".fit-map-picture").evaluate((canvas, share) => {
    const { data } = canvas.getContext("2d").getImageData(share * (canvas.width - 1), share * (canvas.height - 1), 1, 1);
    return data[0];
  }, at);
  await soon.ok(async () => (await light(0)) < (await light(0.5)) - 10, `${await light(0)} ${await light(0.5)}`);
  await soon.match(() => page.locator(".fit-map-caption").innerText(), /lost in the corner|goes black/);
  await done();
});

test("a finger on the loss map reads the place, and what would do is said", async () => {
  const { page, done } = await onPhone();
  await focal(page).fill("18");
  const map = page.locator(".fit-map-view");
  await soon.match(() => page.locator(".fit-map-caption").innerText(), /Touch the picture/);
  const box = await map.boundingBox();
  await map.tap({ position: { x: box.width / 2, y: box.height / 2 } });
  await soon.match(() => page.locator(".fit-map-caption").innerText(), /0 stops lost at 50 % across, 50 % up/);
  await map.tap({ position: { x: 3, y: 3 } });
  await soon.match(() => page.locator(".fit-map-caption").innerText(), /(\d stops lost|Black) at \d % across, \d\d % up/);
  const notes = await page.locator(".fit-notes").innerText();
  assert.match(notes, /Still clear: tray 1/);
  assert.match(notes, /tray 2 would be clear as \d/);
  // Its other end is narrower; a wide one is told at the top.
  await page.getByText("Zoom and lens shift").tap();
  await focal(page).fill("35");
  await page.getByLabel("Other end of the zoom").fill("16");
  await page.getByLabel("Other end of the zoom").blur();
  await soon.match(() => page.locator(".fit-notes").innerText(), /Zoomed to 16 mm, its worst: clips, 22\.9 mm too narrow/);
  await done();
});

test("two cards find the pupil; a front diameter only bounds it", async () => {
  const { page, done } = await onPhone();
  const how = page.getByLabel("The entrance pupil is known");
  await how.selectOption("cards");
  await soon.equal(() => page.getByLabel("Behind the rim", { exact: true }).isVisible(), false);
  for (const [label, text] of [["Near card, ahead of the rim", "20"], ["Far card, ahead of the rim", "120"]]) {
    await page.getByLabel(label).fill(text);
  }
  const heights = page.getByLabel("its height");
  await heights.nth(0).fill("50");
  await heights.nth(1).fill("150");
  await soon.match(() => page.locator(".fit-pupil-line").innerText(), /Pupil 30 mm behind the rim, give or take 1/);
  await how.selectOption("front");
  await page.getByLabel("Front diameter, or the filter thread").fill("82");
  // By hand: 41·35/21.63 = 66.3. The front lets no light of the corner out beyond 41 + 21.63·12/35 = 48.4 of 47.5.
  await soon.match(() => page.locator(".fit-pupil-line").innerText(), /between 20\.5 and 66\.3 mm/);
  await soon.match(() => verdict(page), /^May clip\s+0\.9 mm too narrow at rotating/);
  // The look is asked for where the verdict is about.
  await soon.match(() => page.locator(".fit-notes").innerText(), /Look through the lens with rotating in/);
  // Covered to a circle of 60: 41·35/30 = 47.8.
  await page.locator("#fit-circle").fill("60");
  await page.locator("#fit-circle").blur();
  await soon.match(() => page.locator(".fit-pupil-line").innerText(), /between 20\.5 and 47\.8 mm/);
  await done();
});

test("what is seen through the lens outranks the figures", async () => {
  const { page, done } = await onPhone();
  await focal(page).fill("20");
  const tray = row(page, "tray 2");
  await soon.match(() => tray.innerText(), /May shade|Shades|Clips/);
  await tray.locator("summary").tap();
  await tray.getByLabel("Seen through the lens").selectOption("clear");
  await soon.match(() => tray.innerText(), /^[\s\S]*tray 2\s+Clear\s+As seen through the lens/);
  // Another lens was not looked through; the same one still was.
  await focal(page).fill("18");
  await soon.match(() => tray.innerText(), /May clip/);
  await soon.doesNotMatch(() => tray.innerText(), /As seen/);
  await focal(page).fill("20");
  await soon.match(() => tray.innerText(), /As seen through the lens/);
  // Clear wide open is clear stopped down, but not the other way.
  await page.getByLabel("f-number of the shot").fill("8");
  await soon.match(() => tray.innerText(), /As seen through the lens/);
  await page.getByLabel("f-number of the shot").fill("2");
  await soon.doesNotMatch(() => tray.innerText(), /As seen/);
  await done();
});

test("a ring is added, sized from the list, moved and removed", async () => {
  const { page, done } = await onPhone();
  await page.getByRole("button", { name: "Add a ring, mask or hood" }).tap();
  const ring = row(page, "ring 1");
  await ring.locator("summary").tap();
  await ring.getByLabel("Usual sizes").selectOption({ label: "thread 77, clear 73" });
  await soon.equal(() => ring.getByLabel("Clear diameter").inputValue(), "73 mm");
  await soon.match(() => verdict(page), /too narrow at ring 1/);
  await ring.getByLabel("Ahead of the rim").first().fill("3");
  await soon.match(() => page.locator(".fit-row").first().innerText(), /ring 1/);
  await ring.getByRole("button", { name: "Remove" }).tap();
  await soon.equal(() => row(page, "ring 1").count(), 0);
  await soon.match(() => verdict(page), /^Clear/);
  await done();
});

test("impossible sizes say why beside the field and keep the last answer", async () => {
  const { page, done } = await onPhone();
  const errorOf = (path) => page.locator(`#fit [data-field='${path}'] .field-error`);
  await focal(page).fill("0.5");
  await soon.match(() => errorOf("lens.focalLengthMm").innerText(), /^“Focal length” cannot be 0\.5 mm; it goes from/);
  await focal(page).fill("35");
  const tray = row(page, "tray 2");
  await tray.locator("summary").tap();
  await tray.getByLabel("Ahead of the rim").first().fill("24");
  const path = "rig.slots[2].opening.distanceFromRimMm";
  await soon.match(() => errorOf(path).innerText(), /cannot be 24 mm; it goes from 24\.01 mm/);
  await page.getByLabel("Behind the rim", { exact: true }).fill("-20");
  await soon.match(() => errorOf("lens.pupil.mm").innerText(), /Clashes with the rest: “Ahead of the rim” cannot be 12 mm; it goes from 20 mm/);
  await tray.getByLabel("Clear width").fill("0");
  await soon.match(() => errorOf("rig.slots[2].opening.widthMm").innerText(), /cannot be 0/);
  await soon.match(() => verdict(page), /^Clear\s+10\.4 mm/);
  await done();
});

test("the keyboard alone moves the slider and the verdict follows", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page, errors } = await open(context, `${server.url}#fit`);
  await page.getByLabel("Format", { exact: true }).selectOption({ label: "full frame, 36 × 24" });
  await focal(page).fill("24");
  const slider = page.getByRole("slider", { name: "Focal length" });
  await focal(page).focus();
  for (let presses = 0; presses < 20 && !(await slider.evaluate((e) => e === document.activeElement)); presses += 1) {
    await page.keyboard.press("Tab");
  }
  for (let presses = 0; presses < 4; presses += 1) await page.keyboard.press("ArrowLeft");
  await soon.equal(() => slider.getAttribute("aria-valuetext"), "16 mm");
  await soon.match(() => verdict(page), /^Clips/);
  assert.deepEqual(errors, []);
  await context.close();
});

test("a rig without known openings says what to do, and Now says nothing of fit", async () => {
  const { page, done } = await onPhone();
  await goTo(page, "Case");
  await page.getByText("Another way to hold filters").click();
  await page.locator(".holds-more [data-rig=screw]").click();
  await goTo(page, "Now");
  await soon.equal(() => page.locator("#now [data-answer=fit]").innerText(), "fit not known");
  await goTo(page, "Fit");
  await soon.match(() => verdict(page), /No opening is known yet/);
  await page.getByLabel("Size of thread 1").selectOption({ label: "thread 95, clear 91" });
  await soon.match(() => verdict(page), /mm (to spare|too narrow) at thread 1/);
  await done();
});

test("a set-up kept before there was a fit still loads", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const first = await open(context, server.url);
  await first.page.evaluate((kept) => {
    delete kept.setup.sensor;
    kept.setup.lens = { widestAperture: 2 };
    kept.setup.rig = { slots: [{ id: "only", size: "", rotates: false }] };
    kept.setup.inPlace = [];
    const now = JSON.parse(localStorage.getItem("glasscall"));
    localStorage.setItem("glasscall", JSON.stringify({ ...now, version: 1, setup: kept.setup }));
  }, JSON.parse(await readFile(new URL("../fixtures/saved/v1-all-screens.json", import.meta.url), "utf8")));
  await first.page.close();
  const { page, errors } = await open(context, `${server.url}#fit`);
  await soon.match(() => page.locator(".fit-rows").innerText(), /only/);
  await soon.match(() => verdict(page), /No opening is known yet/);
  assert.deepEqual(errors, []);
  await context.close();
});
