/** Language and units: chosen on top, kept, shown and typed back without drift. */
import { readFileSync } from "node:fs";
import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, open, ready, servedPage } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { resolve } from "../../target/modules/document/resolve.js";

const { browser, server } = await servedPage();

const phone = (locale = "en-GB") => browser.newContext({ viewport: PHONE, locale });
const language = (page) => page.evaluate(() => document.documentElement.lang);
/** The set-up in use, out of what is kept. */
const setup = async (page) => resolve(await page.evaluate(() => JSON.parse(localStorage.getItem("glasscall")).setup));
/** The wheel is asked for on Now as well; it is the case's. */
const place = (field) => `${field === "wheel" ? "#case " : ""}[data-field="${field}"]`;
const input = (page, field) => page.locator(`${place(field)} input`).first();
const valueAt = async (page, field) => field.split(/[.[\]]+/).filter(Boolean).reduce((value, key) => value[key], await setup(page));

/** Chooses on top, as anybody would. */
async function choose(page, what, value) {
  const choices = page.locator(".shows");
  if (!(await choices.evaluate((fold) => fold.open))) await choices.locator("summary").click();
  await choices.locator(`[data-shows=${what}]`).selectOption(value);
}

/** The same number, binary dust apart. @param {number} one @param {number} other */
const near = (one, other) => assert.ok(Math.abs(one - other) < 1e-9, `${one} is not ${other}`);

/** Opens a screen with all that is folded on it. */
async function show(page, screen) {
  await page.evaluate((hash) => (location.hash = hash), screen);
  await page.locator(`#${screen.split("?")[0]}`).waitFor();
  await page.evaluate((id) => document.querySelectorAll(`#${id} details`).forEach((fold) => (fold.open = true)), screen.split("?")[0]);
}

async function type(page, field, text) {
  await input(page, field).fill(text);
  await input(page, field).blur();
}

test("inches and feet are shown, typed back without drift and kept", async () => {
  const context = await phone();
  const { page, errors } = await open(context, server.url);
  // Nothing is focused on until somebody says so.
  await show(page, "now");
  await type(page, "focus.onMm", "3 m");
  await choose(page, "lengths", "in");
  await choose(page, "distances", "ft");
  for (const [screen, fields] of Object.entries({
    now: ["focus.onMm"],
    fit: ["lens.pupil.mm", "rig.slots[0].opening.widthMm", "rig.slots[0].opening.distanceFromRimMm"],
    "case?lenses": ["stock.lenses[0].pupilBehindRimMm"],
  })) {
    await show(page, screen);
    for (const field of fields) {
      const was = await valueAt(page, field);
      const shown = await input(page, field).inputValue();
      assert.match(shown, field === "focus.onMm" ? /^\d+ ft [\d.]+ in$/ : /^[\d.]+ in$/, field);
      await type(page, field, shown.replace(/\d/, (digit) => (digit === "1" ? "2" : "1")));
      await soon.notEqual(() => valueAt(page, field), was, `${field} takes another value`);
      // Typed anew by somebody who reads it off: as fine as it is shown.
      await type(page, field, shown);
      const drift = Math.abs(await valueAt(page, field) - was);
      assert.ok(drift < (field === "focus.onMm" ? 0.13 : 0.001), `${field}: ${drift} mm off`);
      await soon.equal(() => input(page, field).inputValue(), shown, field);
    }
  }
  // Typed over and back in one go, it is what it was to the last digit.
  await show(page, "now");
  const was = (await setup(page)).focus.onMm;
  const shown = await input(page, "focus.onMm").inputValue();
  await input(page, "focus.onMm").focus();
  await input(page, "focus.onMm").fill("12");
  near((await setup(page)).focus.onMm, 12 * 304.8);
  await input(page, "focus.onMm").fill(shown);
  await soon.equal(async () => (await setup(page)).focus.onMm, was);
  // What is read is told in the same units, and what is always metric stays.
  await soon.match(() => page.locator(".now-depth-line").textContent(), /^50 mm at \d+ ft \d/);
  await soon.match(() => page.locator(".depth-table").innerText(), /Sharp from\s+[\d.]+ ft/);
  await soon.match(() => page.locator("#now .stack-fit").first().textContent(), /[\d.]+ in to spare/);
  await soon.equal(() => input(page, "sensor.widthMm").inputValue(), "24.89 mm");

  await page.reload();
  await ready(page);
  await soon.match(() => page.locator(".shows-now").innerText(), /in ft$/);
  await soon.equal(() => input(page, "focus.onMm").inputValue(), shown);
  await show(page, "fit");
  await soon.match(() => input(page, "lens.pupil.mm").inputValue(), / in$/);
  assert.deepEqual(errors, []);
  await context.close();
});

test("any unit is read whatever is chosen, and a number said without one counts in that shown", async () => {
  const context = await phone();
  const { page, errors } = await open(context, server.url);
  await show(page, "fit");
  const length = async (text) => {
    await type(page, "lens.pupil.mm", text);
    return (await setup(page)).lens.pupil.mm;
  };
  await soon.equal(() => length("40"), 40);
  await soon.equal(() => length("2 in"), 50.8);
  await choose(page, "lengths", "in");
  await soon.equal(() => length("2"), 50.8);
  near(await length("1 1/2"), 38.1);
  await soon.equal(() => length("two"), 50.8);
  await soon.equal(() => length("40 mm"), 40);
  await soon.equal(() => length("4 cm"), 40);
  // A range is told in the unit it is typed in.
  await type(page, "rig.slots[0].opening.widthMm", "0");
  await soon.match(() => page.locator("#fit [data-field='rig.slots[0].opening.widthMm'] .field-error").innerText(), /cannot be 0 in; it goes from [\d.]+ in to [\d.]+ in\./);
  assert.deepEqual(errors, []);
  await context.close();
});

test("the language is the device’s until one is chosen, and the choice is kept", async () => {
  for (const [locale, spoken] of [["de-AT", "de"], ["en-US", "en"], ["fr-FR", "en"]]) {
    const context = await phone(locale);
    const { page } = await open(context, server.url);
    await soon.equal(() => language(page), spoken, locale);
    await context.close();
  }
  const context = await phone("en-GB");
  const { page, errors } = await open(context, server.url);
  await choose(page, "language", "de");
  await page.waitForSelector("html[lang=de][data-ready]");
  await soon.equal(() => page.locator(".tabs a").first().innerText(), "Jetzt");
  await page.reload();
  await page.waitForSelector("html[lang=de][data-ready]");
  await soon.match(() => page.locator("[data-answer=stop]").innerText(), /T2,8/);
  await choose(page, "language", "auto");
  await page.waitForSelector("html[lang=en][data-ready]");
  await soon.equal(() => page.locator(".tabs a").first().innerText(), "Now");
  assert.deepEqual(errors, []);
  await context.close();
});

/** The same day, typed in two languages. */
const EDITS = {
  "en-GB": {
    "reading.aperture": "T16 and a third", "shot.aperture": "5.6", "reading.frameRate": "23.976", "reading.shutter": "172.8",
    "focus.onMm": "4.5 m", "focus.backgroundMm": "infinity", "lens.lossStops": "half a stop",
    "kit[0].measuredDensity": "0.32", "kit[1].density": "2 stops", "wheel": "0; 0.6; 1.2",
  },
  "de-DE": {
    "reading.aperture": "T16 und ein Drittel", "shot.aperture": "5,6", "reading.frameRate": "23,976", "reading.shutter": "172,8",
    "focus.onMm": "4,5 m", "focus.backgroundMm": "unendlich", "lens.lossStops": "eine halbe Blende",
    "kit[0].measuredDensity": "0,32", "kit[1].density": "2 Blenden", "wheel": "0; 0,6; 1,2",
  },
};

/** Types all of it into a new page; gives the set-up, and what the fields show then. */
async function typed(locale, edits) {
  const context = await phone(locale);
  const { page, errors } = await open(context, server.url);
  const shown = {};
  for (const screen of ["now", "case"]) {
    await show(page, screen);
    for (const [field, text] of Object.entries(edits)) {
      if (/^(kit|wheel)/.test(field) !== (screen === "case")) continue;
      await type(page, field, text);
      await soon.equal(() => page.locator(`${place(field)} .field-error`).first().innerText(), "", `${locale} ${field}: ${text}`);
      shown[field] = await input(page, field).inputValue();
    }
  }
  const { edited: _, ...made } = await setup(page);
  assert.deepEqual(errors, []);
  await context.close();
  return { made, shown };
}

/** The demo's names are words too; a number in one stays. @param {unknown} made */
function inEnglish(made) {
  const words = JSON.parse(readFileSync(new URL("../../www/language/de/case.json", import.meta.url), "utf8"));
  const names = Object.entries(words).filter(([key]) => key.startsWith("id|")).map(([key, german]) =>
    /** @type {const} */ ([new RegExp(`^${german.replace(/[.+]/g, "\\$&").replace(/\{\w+\}/, "(\\d+)")}$`), key.slice(3).replace(/\{\w+\}/, "$1")]));
  // German has one word for both.
  names.unshift([/^(turning|drehbar)$/, "rotating"]);
  return JSON.parse(JSON.stringify(made).replace(/"([^"]*)"/g, (whole, name) => {
    const found = names.find(([german]) => german.test(name));
    return found ? JSON.stringify(name.replace(...found)) : whole;
  }));
}

test("edits in German make the same set-up as in English, and so does what is shown then", async () => {
  const english = await typed("en-GB", EDITS["en-GB"]);
  const german = await typed("de-DE", EDITS["de-DE"]);
  assert.deepEqual(inEnglish(german.made), inEnglish(english.made));
  assert.equal(english.shown.wheel, "0; 0.6; 1.2");
  assert.equal(german.shown.wheel, "0; 0,6; 1,2");
  assert.equal(german.shown["shot.aperture"], "T5,6");
  assert.equal(german.shown["focus.backgroundMm"], "unendlich");
  const again = await typed("de-DE", german.shown);
  assert.deepEqual(again.shown, german.shown);
  assert.deepEqual(again.made.reading, german.made.reading);
  assert.deepEqual(again.made.focus, german.made.focus);
});

test("what cannot be is told in the language, with what could be meant", async () => {
  const context = await phone("de-DE");
  const { page, errors } = await open(context, server.url);
  await type(page, "reading.aperture", "0");
  await soon.match(() => page.locator("#read-stop-error").innerText(), /^„Gemessen“ kann nicht 0 sein; möglich ist 0,25 bis 1024\.$/);
  await show(page, "case");
  await type(page, "kit[0].measuredDensity", "ND2");
  const choices = page.locator("[data-field='kit[0].measuredDensity'] .choice");
  await soon.deepEqual(() => choices.allInnerTexts(), ["Faktor: 0,301", "Blenden: 0,602", "Dichte: 2"]);
  await choices.nth(1).click();
  await soon.equal(async () => (await setup(page)).kit[0].measuredDensity.toFixed(6), "0.602060");
  assert.deepEqual(errors, []);
  await context.close();
});
