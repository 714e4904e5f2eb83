// How the page looks and whom it serves: contrast, names, targets, each look.
import assert from "node:assert/strict";
import { mkdir } from "node:fs/promises";
import { fileURLToPath } from "node:url";
import { test } from "node:test";
import { BY_COLOUR, faultsOf, openAll, screensOf } from "./axe.mjs";
import { DESK, PHONE, chooseLook, open, ready, servedPage } from "./harness.mjs";
import { withPixels } from "./pixels.mjs";
import { soon } from "./soon.mjs";

const LOOKS = ["day", "sun", "night"];
/** With PICTURES set the README's own pictures are made anew. */
const PICTURES = fileURLToPath(new URL(process.env.PICTURES ? "../pictures/" : "../output/", import.meta.url));

const { browser, server } = await servedPage();
await mkdir(PICTURES, { recursive: true });

for (const look of LOOKS) {
  for (const [size, viewport] of Object.entries({ phone: PHONE, desk: DESK })) {
    test(`no accessibility fault on any screen, ${look} look, ${size}`, async () => {
      const context = await browser.newContext({ viewport, bypassCSP: true });
      const { page, errors } = await open(context, server.url);
      await chooseLook(page, look);
      // One look by day at the whole page on a phone, names across screens and all; then what can differ.
      const how = look !== "day" ? { rules: BY_COLOUR } : { whole: size === "phone" };
      for (const name of await screensOf(page)) {
        await page.goto(`${server.url}#${name}`);
        await openAll(page, `#${name}`);
        await soon.deepEqual(() => faultsOf(page, how), [], `${name}, ${look}, ${size}`);
      }
      assert.deepEqual(errors, []);
      await context.close();
    });
  }
}

test("nothing is wider than a small phone", async () => {
  const context = await browser.newContext({ viewport: { width: 360, height: 740 } });
  const { page } = await open(context, server.url);
  for (const name of await screensOf(page)) {
    await page.goto(`${server.url}#${name}`);
    const over = await page.evaluate(() => Math.max(document.documentElement.scrollWidth, document.querySelector(".page").scrollWidth) - window.innerWidth);
    assert.ok(over <= 0, `${name} is ${over} px too wide`);
  }
  await context.close();
});

test("what the head tells keeps to one line and covers nothing, in each look and language", async () => {
  for (const locale of ["en-GB", "de-DE"]) {
    const context = await browser.newContext({ viewport: { width: 360, height: 740 }, locale });
    const { page } = await open(context, server.url);
    await ready(page);
    await context.setOffline(true);
    await page.locator("#signal:not(:empty)").waitFor();
    for (const look of LOOKS) {
      await chooseLook(page, look);
      const [head, ...parts] = await page.evaluate(() => [".top", ".top-name", "#signal", "[data-do=undo]", ".shows"].map((css) => {
        const { top, bottom, right } = document.querySelector(css).getBoundingClientRect();
        return { css, top, bottom, right };
      }));
      for (const part of parts) assert.ok(part.top >= head.top && part.bottom <= head.bottom + 0.5 && part.right <= 360, `${look}, ${locale}: ${JSON.stringify(part)} of ${JSON.stringify(head)}`);
    }
    await context.close();
  }
});

test("steppers of the two stops suit a thumb and the key figures an arm's length", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  // A CSS millimetre is 96/25.4 px.
  const mm = 96 / 25.4;
  for (const box of await page.locator(".field-big .step").evaluateAll((all) => all.map((one) => one.getBoundingClientRect().toJSON()))) {
    assert.ok(Math.min(box.width, box.height) >= 14 * mm, JSON.stringify(box));
  }
  for (const target of await page.locator("#now button:visible").evaluateAll((all) => all.map((one) => [one.textContent, one.getBoundingClientRect().height]))) {
    assert.ok(target[1] >= 44, String(target));
  }
  const size = await page.locator("[data-answer=stop]").evaluate((one) => parseFloat(getComputedStyle(one).fontSize));
  assert.ok(size >= 12 * mm, `${size} px`);
  await context.close();
});

/** The most green or blue in a picture, and where. @param {import("playwright-core").Page} blank @param {Buffer} picture */
const mostOfOtherLight = (blank, picture) => withPixels(blank, [picture], ([{ data, width }]) => {
  let most = { value: 0, x: 0, y: 0 };
  for (let at = 0; at < data.length; at += 4) {
    const value = Math.max(data[at + 1], data[at + 2]);
    if (value > most.value) most = { value, x: (at / 4) % width, y: Math.floor(at / 4 / width) };
  }
  return most;
});

for (const [size, viewport] of Object.entries({ phone: PHONE, desk: DESK })) {
  test(`the night look lets out red alone, ${size}`, async () => {
    const context = await browser.newContext({ viewport });
    const blank = await context.newPage();
    const { page } = await open(context, server.url);
    await chooseLook(page, "night");
    await ready(page);
    // What is pressed and the one act of a screen are clearly on.
    const drawn = (/** @type {string} */ what) => page.locator(what).first().evaluate((one) => {
      const { backgroundColor, borderTopColor, borderTopWidth } = getComputedStyle(one);
      return { fill: backgroundColor, red: Number(borderTopColor.match(/\d+/)?.[0]), edge: parseFloat(borderTopWidth) };
    });
    for (const act of ["#now .plate-act", "#frame .plate-act", "#day .day-main"]) {
      const { red, edge } = await drawn(act);
      assert.ok(red > 200 && edge >= 2, act);
    }
    await soon.notEqual(async () => (await drawn("[data-read=bare]")).fill, (await drawn("[data-read=through]")).fill);
    for (const name of await screensOf(page)) {
      await page.goto(`${server.url}#${name}`);
      await page.locator(`#${name}`).waitFor();
      await openAll(page, `#${name} > form`);
      if (name === "day") {
        await page.locator("[data-do=show-code]").click();
        await page.locator(".code-picture svg").waitFor();
      }
      const high = await page.locator(".page").evaluate((one) => one.scrollHeight);
      for (let top = 0; top < high; top += viewport.height - 120) {
        await page.locator(".page").evaluate((one, to) => one.scrollTo(0, to), top);
        const most = await mostOfOtherLight(blank, await page.screenshot());
        assert.ok(most.value <= 8, `${name}, ${top} px down: ${JSON.stringify(most)}`);
      }
    }
    await context.close();
  });
}

/** How many pixels of two pictures of the same size are clearly not the same. @param {import("playwright-core").Page} blank @param {Buffer[]} pictures */
const apart = (blank, pictures) => withPixels(blank, pictures, ([{ data: one }, { data: other }]) => {
  let count = 0;
  for (let at = 0; at < one.length; at += 4) count += [0, 1, 2].some((part) => Math.abs(one[at + part] - other[at + part]) > 64);
  return count;
});

/** What carries a figure by its place, screen by screen. */
const MARKS = {
  now: [".side-body", ".side-rim", ".side-light", ".side-open", ".stops-bar .bar-piece", ".stops-bar .bar-need", "[data-read=bare]"],
  fit: [".slide-range", ".front-edge", ".front-ring"],
  frame: [".frame-picture", ".frame-grip", ".frame-handle-mark", ".slide-range", "[data-do=invert]"],
  "light?sun": [".slide-range", ".light-views a[aria-current]"],
  "light?sky": [".dial-petal", ".dial-sun", ".ring-axis", ".strip-bar", ".strip-now"],
};

test("in forced colours every mark and every track is seen, on dark and on light", async () => {
  const context = await browser.newContext({ viewport: PHONE, forcedColors: "active" });
  const blank = await context.newPage();
  const { page } = await open(context, server.url);
  await ready(page);
  // Where a figure is typed, a keypad of figures comes; where a sign may be needed, all keys.
  for (const [field, keys] of Object.entries({ "lens.focalLengthMm": "decimal", "sensor.widthMm": "decimal", "lens.shiftXMm": "", "lens.pupil.mm": "" })) {
    await soon.equal(() => page.locator(`#fit [data-field="${field}"] input`).first().evaluate((one) => one.inputMode), keys, field);
  }
  const unseen = [];
  for (const colorScheme of ["light", "dark"]) {
    await page.emulateMedia({ forcedColors: "active", colorScheme });
    for (const [name, marks] of Object.entries(MARKS)) {
      await page.goto(`${server.url}#${name}`);
      await openAll(page, `#${name.split("?")[0]} > form`);
      // The settings lie over what is looked at.
      await page.locator("#now .now-camera").evaluate((one) => { one.open = false; });
      for (const what of marks) {
        // An upright stroke has no width, and yet it is there.
        const mark = await page.waitForFunction((found) => [...document.querySelectorAll(found)].find((one) => {
          const { width, height } = one.getBoundingClientRect();
          return width + height > 0;
        }), `#${name.split("?")[0]} ${what}`, { timeout: 5_000 }).catch((error) => {
          throw new Error(`${what} is not on ${name}`, { cause: error });
        });
        const box = await mark.evaluate((one) => {
          one.scrollIntoView({ block: "center" });
          return one.getBoundingClientRect().toJSON();
        });
        const clip = { x: Math.max(0, box.x - 3), y: Math.max(0, box.y - 3), width: box.width + 6, height: box.height + 6 };
        const shown = await page.screenshot({ clip });
        await mark.evaluate((one) => { one.style.visibility = "hidden"; });
        const gone = await page.screenshot({ clip });
        await mark.evaluate((one) => { one.style.visibility = ""; });
        const seen = await apart(blank, [shown, gone]);
        if (seen < 12) unseen.push(`${what} of ${name}, ${colorScheme}: ${seen} pixels of it are seen`);
      }
    }
  }
  assert.deepEqual(unseen, []);
  await context.close();
});

test("the page makes sense with no script at all", async () => {
  const context = await browser.newContext({ viewport: PHONE, javaScriptEnabled: false });
  const page = await context.newPage();
  await page.goto(server.url);
  await soon.match(() => page.locator("main").innerText(), /each 0\.3 of density is one stop/);
  await soon.match(() => page.locator(".caution").innerText(), /not eye protection/);
  await context.close();
});

test("pictures of the page are made", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  for (const name of await screensOf(page)) {
    await page.goto(`${server.url}#${name}`);
    const picture = await page.screenshot({ path: `${PICTURES}${name}.png` });
    assert.ok(picture.length > 5000, name);
  }
  await context.close();
});
