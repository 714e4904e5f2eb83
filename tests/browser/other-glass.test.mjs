// Depth, blur, colour, infrared, lamps and ramps beside the answer, at phone size.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import AxeBuilder from "axe-core";
import { PHONE, chooseLook, open, ready, servedPage } from "./harness.mjs";
import { openLine } from "./now-acts.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

const { browser, server } = await servedPage();

/** A page on a phone; no error on it, and nothing wider than it, when done. */
async function onPhone(work, options = {}) {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true, ...options });
  const { page, errors } = await open(context, server.url);
  await work(page, context);
  assert.deepEqual(errors, []);
  await soon.equal(() => page.locator(".page").evaluate((one) => one.scrollWidth), PHONE.width, "nothing runs off the side");
  await context.close();
}

const stopWanted = (page) => page.getByLabel("You want", { exact: true });
const depthTable = (page) => page.locator(".depth-table");
const errorOf = (page, path) => page.locator(`#now [data-field='${path}'] .field-error`);
const cell = async (page, row, column) => (await depthTable(page).locator("tr", { hasText: row }).locator("td").nth(column).innerText()).trim();

test("depth stands below the answer for the stop to set and its neighbours", () => onPhone(async (page) => {
  await openLine(page, "depth");
  await soon.match(() => depthTable(page).locator("thead").innerText(), /T2\s+f\/2\s+T2\.8\s+f\/2\.8\s+(Shoot at\s+)?T4\s+f\/4/);
  // 1.23/log10(2) + 1 stops for the 5 wanted: 0.09 more, so the iris opens to N = 2.746. 50 mm at 3 m,
  // 24.89 x 18.66, circle diagonal/1500 = 0.0207: 2.817 and 3.208 by the closed form, blur 50·0.01725/2.746.
  await soon.equal(() => cell(page, "Sharp from", 1), "2.82 m");
  await soon.equal(() => cell(page, "to", 1), "3.21 m");
  await soon.equal(() => cell(page, "Background blur", 1), "0.31");
  await soon.match(() => page.locator(".now-depth .notes").innerText(), /Circle of confusion 0\.0207 mm \(diagonal\/1500, common practice\)/);
  await page.getByRole("button", { name: "Shoot at T4" }).tap();
  await soon.equal(() => stopWanted(page).inputValue(), "T4");
  await soon.match(() => page.locator(".need-stops").innerText(), /^4 stops$/);
  await soon.match(() => depthTable(page).locator(".depth-chosen").first().innerText(), /T4/);
}));

test("depth first: a wanted depth gives the stop, the stop the need", () => onPhone(async (page) => {
  await page.locator(".now-wish > summary").tap();
  await page.getByLabel("I want").selectOption("depth");
  // N = f²/(cA), A = (s − f)(s/W + √((s/W)² + 1)), s = 2949 mm: 3.50, by hand.
  await soon.match(() => page.locator(".wish-out").innerText(), /T2\.8⅔ \(exactly 3\.5, f\/2\.8⅔\) for a depth of 500 mm/);
  await page.getByRole("button", { name: "Shoot at T2.8⅔" }).tap();
  await soon.equal(() => stopWanted(page).inputValue(), "T2.8⅔");
  await soon.match(() => page.locator(".wish-out").innerText(), /That is the stop you want/);
  await soon.match(() => page.locator(".need-stops").innerText(), /^4\.33 stops$/);
  await page.locator("#wish-depth").fill("0.1 mm");
  await soon.match(() => errorOf(page, "wish.depthMm").innerText(), /^“Depth, near to far” cannot be 0\.1 mm; it goes from/);
  await soon.equal(() => stopWanted(page).inputValue(), "T2.8⅔", "the last good stop stays");
}));

test("sharp from here to there gives focus and stop", () => onPhone(async (page) => {
  await page.locator(".now-wish > summary").tap();
  await page.getByLabel("I want").selectOption("places");
  await page.getByLabel("Sharp from", { exact: true }).fill("5");
  await page.getByLabel("Sharp to", { exact: true }).fill("infinity");
  const out = page.locator(".wish-out");
  await openLine(page, "depth");
  await soon.match(() => out.innerText(), /for sharp from 5 m to infinity: focused at (10|9\.9\d?) m/);
  await out.getByRole("button").tap();
  await soon.match(() => page.locator(".now-depth-line").innerText(), /at (10|9\.9\d?) m/);
  // The ring's nearest third may be a sixth of a stop off: near five metres.
  await soon.match(() => cell(page, "Sharp from", 1), /^(4\.[7-9]|5(\.[0-3])?)\d* m$/);
}));

test("a background blur as a share of the picture gives the stop", () => onPhone(async (page) => {
  await page.locator(".now-wish > summary").tap();
  await page.getByLabel("I want").selectOption("share");
  await page.locator("#wish-share").fill("1,6 %");
  await soon.match(() => page.locator(".wish-out").innerText(), /T2\.8 .*background blur 0\.3 mm/);
}));

test("distances are read as they are said, and nonsense says why", () => onPhone(async (page) => {
  await page.locator(".now-depth > details > summary").tap();
  const focus = page.getByLabel("Focused at");
  for (const [said, shown] of [["10 ft", "3.05 m"], ["4", "4 m"], ["1,5 m", "1.5 m"], ["250 cm", "2.5 m"], ["inf", "infinity"]]) {
    await focus.fill(said);
    await soon.match(() => page.locator(".now-depth-line").innerText(), new RegExp(`at ${shown}`.replace(".", "\\.")), said);
  }
  await soon.equal(() => cell(page, "to", 1), "infinity");
  await focus.fill("3 m");
  await focus.fill("100 mm");
  await soon.match(() => errorOf(page, "focus.onMm").innerText(), /^“Focused at” cannot be 100 mm; it goes from 200 mm/);
  await soon.match(() => page.locator(".now-depth-line").innerText(), /at 3 m/);
  await page.locator("#lens-focal").fill("0");
  await soon.match(() => errorOf(page, "lens.focalLengthMm").innerText(), /^“Focal length” cannot be 0/);
}));

test("a lens too long for the focus keeps the last good depth and says why", () => onPhone(async (page) => {
  await page.locator(".now-depth > details > summary").tap();
  await page.locator("#lens-focal").fill("1000");
  await soon.match(() => page.locator(".now-depth-why").innerText(), /“Focused at” cannot be 3 m; it goes from 4 m .*last good answer/);
  await soon.equal(() => cell(page, "Sharp from", 1), "2.82 m");
  await page.getByLabel("Focused at").fill("50");
  await soon.equal(() => page.locator(".now-depth-why").innerText(), "");
}));

test("an extender and near focus tell the ring", () => onPhone(async (page) => {
  await page.locator(".now-camera > summary").tap();
  const extender = page.getByLabel("Extender or reducer");
  await extender.fill("2");
  // Asked and answered in one place: what it takes, and the ring's stop.
  await soon.match(() => page.locator(".now-extender-cost").innerText(), /the extender takes 2 stops/);
  await soon.match(() => page.locator(".now-echo").innerText(), /T1\.4/);
  await page.locator(".now-camera [data-do=close-drawer]").tap();
  await openLine(page, "depth");
  const notes = page.locator(".now-depth .notes");
  await soon.match(() => notes.innerText(), /Ring to T1\.4: the extender takes 2 stops/);
  await page.locator(".now-camera > summary").tap();
  await extender.fill("");
  await page.locator(".now-camera [data-do=close-drawer]").tap();
  await page.getByLabel("Focused at").fill("200 mm");
  await soon.match(() => notes.innerText(), /moves out as a whole loses 2 stops/);
  await page.locator(".depth-more > summary").tap();
  await page.getByText("moves out as a whole to focus").tap();
  await soon.match(() => notes.innerText(), /Ring to T1\.4: close focus takes 2 stops/);
}));

test("safe angles for lamps are offered and taken", () => onPhone(async (page) => {
  await page.locator(".now-camera > summary").tap();
  const flicker = page.locator(".flicker");
  await soon.match(() => flicker.innerText(), /50 Hz\s+pulses 4 times a second/);
  await page.getByRole("button", { name: "Shutter to 172.8°, safe at 50 Hz" }).tap();
  await soon.match(() => flicker.innerText(), /50 Hz\s+safe/);
  await soon.match(() => page.locator(".need-stops").innerText(), /^4\.94 stops$/);
}));

test("a shutter trim says what lamps make of it", () => onPhone(async (page) => {
  await openLine(page, "keep");
  await page.locator("[data-chips=keep]").getByText("1.2 IR", { exact: true }).tap();
  await page.locator(".strip-way").nth(1).tap();
  await openLine(page, "more");
  const trims = await page.locator(".trims").innerText();
  assert.match(trims, /shutter to .*Lamps: .*(50 Hz).*(60 Hz)/);
}));

test("how well each input is known is the user's own, and the answer names what it is mostly", () => onPhone(async (page) => {
  const left = page.locator("#now [data-answer=left]");
  const line = page.locator(".now-known-line");
  await soon.match(() => left.innerText(), /± 0\.\d+/);
  await soon.match(() => line.innerText(), /^± 0\.\d+, mostly (the|\d)/);
  await page.locator(".now-known > summary").tap();
  await page.getByLabel("A reading", { exact: true }).fill("1");
  await until("the reading to count", async () => /± 1(\.\d+)?, mostly the reading/.test(await line.innerText()));
  await soon.match(() => left.innerText(), /± 1/);
  await page.getByLabel("A reading", { exact: true }).fill("11");
  await soon.match(() => errorOf(page, "uncertainty.readingStops").innerText(), /goes from 0 to 10/);
  for (const label of ["A marked density", "A measured density", "A polarizer nobody measured", "The height of a card", "The clock, in seconds", "The place, in degrees over the ground"]) {
    await soon.ok(() => page.getByLabel(label, { exact: true }).isVisible(), label);
  }
  await page.getByLabel("A marked density", { exact: true }).fill("20 %");
  await soon.equal(() => errorOf(page, "uncertainty.markedShare").innerText(), "");
}));

test("infrared limits are the user's own", () => onPhone(async (page) => {
  const warning = page.locator("#now .plate-warn");
  // What stops infrared too goes first and warns of nothing; ordinary glass is the next way.
  await soon.equal(() => warning.isVisible(), false);
  await page.locator(".strip-way", { hasText: "0.9 + 0.6 →" }).tap();
  await soon.match(() => warning.innerText(), /needs an infrared cut/);
  await page.locator(".now-colour summary").tap();
  await page.getByLabel("Infrared: cut from").fill("1.8");
  await soon.match(() => warning.innerText(), /Infrared may show/);
  await page.getByLabel("Infrared: warn from").fill("1.6");
  await soon.equal(() => warning.isVisible(), false);
  await soon.match(() => page.locator(".now-colour-out").innerText(), /visible light loses 4\.98 stops, infrared 0 stops/);
}));

test("a conversion piece in the stack shifts the light", () => onPhone(async (page) => {
  await page.locator(".tabs").getByText("Case").tap();
  await page.getByLabel("Add filters and lenses").fill("0.6");
  await page.locator("[data-do=add-piece]").tap();
  const row = () => page.locator("[data-rows=kit] > li").last();
  await row().locator("summary").tap();
  await row().locator("label", { hasText: /^Kind/ }).locator("select").selectOption("colour");
  if (!(await row().locator("details").evaluate((details) => details.open))) await row().locator("summary").tap();
  await row().getByLabel("Mired shift").fill("131");
  await page.locator(".tabs").getByText("Now").tap();
  await page.locator(".now-colour summary").tap();
  await page.getByLabel("Light", { exact: true }).fill("200 mired");
  await soon.match(() => page.locator(".now-colour-out").innerText(), /5000 K \(200 mired\)/);
  await page.getByLabel("Light", { exact: true }).fill("5500");
  await page.getByLabel("White balance", { exact: true }).fill("3200 K");
  const out = page.locator(".now-colour-out");
  await soon.match(() => out.innerText(), /a cool picture by 131 mired/);
  await soon.match(() => out.innerText(), /in the case: 0\.6 \(2\) \(\+131 mired\)/);
  await page.locator(".now-keep summary").tap();
  await page.locator("[data-chips=keep]").getByText("0.6 (2)").tap();
  await soon.match(() => out.innerText(), /shifts \+131 mired: light of 5500 K \(182 mired\) looks like 31\d\d K/);
  await soon.match(() => out.innerText(), /Balanced for 3200 K: an even picture/);
}));

test("close-up lenses and glass behind the lens are told beside the depth", () => onPhone(async (page) => {
  await page.locator(".tabs").getByText("Case").tap();
  await page.getByLabel("Glass in now").fill("1");
  await page.getByLabel("Flat glass in front").fill("4 mm");
  await page.getByLabel("Add filters and lenses").fill("0.3");
  await page.locator("[data-do=add-piece]").tap();
  const row = () => page.locator("[data-rows=kit] > li").last();
  await row().locator("summary").tap();
  await row().locator("label", { hasText: /^Kind/ }).locator("select").selectOption("closeUp");
  if (!(await row().locator("details").evaluate((details) => details.open))) await row().locator("summary").tap();
  await row().getByLabel("Power, dioptres").fill("2");
  await page.locator(".tabs").getByText("Now").tap();
  await page.locator(".now-keep summary").tap();
  await page.locator("[data-chips=keep]").getByText("0.3 (2)").tap();
  await openLine(page, "depth");
  const notes = await page.locator(".now-depth .notes").innerText();
  assert.match(notes, /With 2 dioptres the lens focuses from 333 mm .* to 500 mm/);
  // (50/333.3)/(1 − 50/1000) = 0.158: 24.89 x 18.66 over that.
  assert.match(notes, /at its nearest it takes in 158 × 118 mm/);
  // 4·(1 − 1/1.52) = 1.37.
  assert.match(notes, /things seem 1\.37 mm nearer: 3 m reads 2\.999 m/);
  assert.match(notes, /Out of reach: 500 mm to 1 m/);
  // Each is asked back: 2 mm of that glass in front seem 2·(1 − 1/1.52) = 0.684 mm nearer.
  const asked = async (/** @type {string} */ name, /** @type {RegExp} */ text, /** @type {string} */ wanted) => {
    await page.locator(`.now-depth [data-do=turn-${name}]`).filter({ hasText: text }).tap();
    await page.locator("#turn-wanted").fill(wanted);
  };
  const turn = (/** @type {string} */ name) => page.locator(".drawer-made .turn", { has: page.locator(`.turn-name:text-is("${name}")`) });
  await asked("flat-glass", /moves focus/, "0.684");
  await soon.match(() => turn("Glass in now").locator("button").innerText(), /^2(\.00)? mm$/);
  await page.keyboard.press("Escape");
  // 1/400 is 2 dioptres and 1/2000 of the lens, by hand.
  await asked("close-up", /dioptres the lens focuses/, "400 mm");
  await soon.match(() => turn("Close focus").locator("button").innerText(), /^2(\.00)? m$/);
  await page.keyboard.press("Escape");
  // δ = 1 − 1/1.52 = 0.342; infinity reads f(f + δ)/δ + f + δ = 7.41 m from the sensor.
  assert.match(notes, /moves focus 0\.342 mm, beyond the depth of focus.*Infinity reads 7\.41 m/);
}));

test("a ramp is held by the control that is chosen and says what else changes", () => onPhone(async (page) => {
  await page.locator(".now-ramp > summary").tap();
  await page.getByLabel("Frame rate, end", { exact: true }).fill("48");
  const out = page.locator(".ramp-out");
  await soon.match(() => out.innerText(), /100 %\s+48\s+360°\s+T2\.8/);
  await soon.match(() => out.innerText(), /Motion blur changes \(180° to 360°\)/);
  await page.getByLabel("Exposure held by").selectOption("iris");
  await soon.match(() => out.innerText(), /100 %\s+48\s+180°\s+T2\s/);
  await soon.match(() => out.innerText(), /Depth of field changes/);
  await soon.equal(() => page.getByLabel("Stop, end", { exact: true }).isVisible(), false);
  await page.getByLabel("Exposure held by").selectOption("turn");
  await soon.match(() => out.innerText(), /must start with at least 1 stop in/);
  await page.getByLabel("Frame rate, end", { exact: true }).fill("120");
  await page.getByLabel("Exposure held by").selectOption("angle");
  await soon.match(() => out.innerText(), /The shutter runs out before 50 % of the way: it would have to open to 540°, and the frame has 360°/);
}));

test("all of it is kept, and a set-up kept before it existed still opens", () => onPhone(async (page) => {
  await page.locator(".now-depth > details > summary").tap();
  await page.locator("#lens-focal").fill("85");
  await page.reload();
  await ready(page);
  await soon.match(() => page.locator(".now-depth-line").textContent(), /^85 mm/);
  await page.evaluate((kept) => {
    for (const part of ["sensor", "focus", "wish", "colour", "infrared", "behind", "ramp"]) delete kept.setup[part];
    kept.setup.lens = {};
    kept.setup.reading.aperture = 11;
    const now = JSON.parse(localStorage.getItem("glasscall"));
    localStorage.setItem("glasscall", JSON.stringify({ ...now, version: 1, setup: kept.setup }));
  }, JSON.parse(await readFile(new URL("../fixtures/saved/v1-all-screens.json", import.meta.url), "utf8")));
  await page.reload();
  await ready(page);
  await soon.equal(() => page.getByLabel("You read", { exact: true }).inputValue(), "T11");
  await openLine(page, "depth");
  await soon.match(() => page.locator(".now-depth-out").innerText(), /Give the focal length/);
}));

test("the keyboard reaches the neighbours and the wish", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page } = await open(context, server.url);
  await page.locator(".now-wish > summary").focus();
  await page.keyboard.press("Enter");
  await page.keyboard.press("Tab");
  await page.keyboard.press("ArrowDown");
  await page.waitForSelector(".wish-take");
  for (let presses = 0; presses < 5; presses += 1) {
    await page.keyboard.press("Tab");
    if (await page.evaluate(() => document.activeElement?.classList.contains("wish-take"))) break;
  }
  await page.keyboard.press("Enter");
  await soon.equal(() => stopWanted(page).inputValue(), "T2.8⅔");
  await context.close();
});

test("names, roles and contrast hold in every look", async () => {
  const context = await browser.newContext({ viewport: PHONE, bypassCSP: true });
  const { page } = await open(context, server.url);
  for (const summary of [".now-wish > summary", ".now-ramp > summary", ".now-depth > details > summary", ".now-colour summary"]) {
    await page.locator(summary).click();
  }
  await page.getByLabel("I want").selectOption("depth");
  await page.getByLabel("Frame rate, end", { exact: true }).fill("48");
  await page.evaluate(AxeBuilder.source);
  for (const look of ["day", "sun", "night"]) {
    await chooseLook(page, look);
    const check = async (/** @type {string} */ what) => {
      const { violations } = await page.evaluate(() => /** @type {any} */ (window).axe.run("main"));
      assert.deepEqual(violations.map(({ id, nodes }) => `${look}, ${what}, ${id}: ${nodes.map((node) => node.target).join(" ")}`), []);
    };
    await check("all open below the answer");
    // The camera's drawer covers what lies below.
    await page.locator(".now-camera > summary").click();
    await check("the camera");
    await page.locator(".now-camera [data-do=close-drawer]").click();
  }
  await context.close();
});
