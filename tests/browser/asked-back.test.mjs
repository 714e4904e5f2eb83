// The converter from anywhere, an answer's numbers asked back, and the working shown.
import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, open, servedPage } from "./harness.mjs";
import { openLine } from "./now-acts.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

const { browser, server } = await servedPage();

/** @param {string} [hash] @param {object} [more] */
async function opened(hash = "#now", more = {}) {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, ...more });
  const { page } = await open(context, server.url + hash);
  return { page, close: () => context.close() };
}

/** @param {import("playwright-core").Page} page @param {string} id */
const held = (page, id) => page.locator(`#convert-${id}`).inputValue();

test("a stop, a density, a factor, a share and a shutter are one thing, from any screen in one tap", async () => {
  for (const screen of ["now", "fit", "frame", "light", "case", "day"]) {
    const { page, close } = await opened(`#${screen}`);
    await page.locator("[data-do=convert]").tap();
    await page.locator("#convert-glass-stops").fill("3");
    await soon.equal(() => held(page, "glass-density"), "0.903");
    await soon.equal(() => held(page, "glass-factor"), "8");
    await soon.equal(() => held(page, "glass-transmittance"), "12.5 %");
    // 1/48 s eight times is a sixth of a second, by hand.
    await soon.equal(() => held(page, "glass-through-shutter"), "1/6 s");
    await page.locator("#convert-glass-through-shutter").fill("1/12");
    await soon.equal(() => held(page, "glass-stops"), "2");
    await page.locator("#convert-glass-transmittance").fill("25 %");
    await soon.equal(() => held(page, "glass-stops"), "2");
    await page.locator("#convert-glass-factor").fill("32");
    await soon.equal(() => held(page, "glass-stops"), "5");
    await page.locator("#convert-glass-factor").blur();
    await page.locator(".field[data-field=stops] .step").last().tap();
    await soon.equal(() => held(page, "glass-stops"), "5⅓");
    // 5⅓ · log10 2, by hand.
    await soon.equal(() => held(page, "glass-density"), "1.605");
    await close();
  }
});

test("a shorter shutter is refused beside its field, with what would do", async () => {
  const { page, close } = await opened();
  await page.locator("[data-do=convert]").tap();
  await page.locator("#convert-glass-through-shutter").fill("1/100");
  await soon.match(() => page.locator(".field[data-field='through.shutter'] .field-error").innerText(), /0\.021/);
  await close();
});

test("lux and candela of a stop and back, and taken as the light read", async () => {
  const { page, close } = await opened();
  await page.locator("[data-do=convert]").tap();
  await page.locator(".convert-tabs button").last().tap();
  await page.locator("#convert-light-aperture").fill("5.6");
  // ISO 2720 with C = 250 and K = 12.5, EI 800, 1/48 s, N² = 32: by hand.
  await soon.equal(() => held(page, "light-illuminanceLux"), "480");
  await soon.equal(() => held(page, "light-luminanceCdM2"), "24");
  await page.locator("#convert-light-illuminanceLux").fill("960");
  await soon.equal(() => held(page, "light-aperture"), "T8");
  await page.locator("#convert-light-exposureIndex").fill("400");
  await soon.equal(() => held(page, "light-illuminanceLux"), "1920");
  await page.locator(".convert-take").tap();
  await soon.equal(() => page.locator("#read-stop").inputValue(), "T8");
  await soon.match(() => page.locator(".now-camera-line").innerText(), /EI 400/);
  await close();
});

test("what is left is asked back: each number that would leave nothing, taken with a tap", async () => {
  const { page, close } = await opened();
  await page.locator("[data-do=turn]").first().tap();
  const value = (/** @type {string} */ name) => page.locator(".turn", { hasText: name }).locator(".turn-value").innerText();
  // 5 − 1.53/log10 2 − … of the demo: 1.23 measured and 0.3 marked take 5.083; by hand EI 800 · 2^0.083.
  await soon.equal(() => value("Exposure index"), "EI 847");
  await soon.equal(() => value("Frame rate"), "22.67 fps");
  await soon.equal(() => value("Shutter"), "190.6°");
  await soon.equal(() => value("One glass in its place"), "ND 1.51");
  await page.locator(".turn", { hasText: "Exposure index" }).locator("button").tap();
  await soon.match(() => page.locator("#now [data-answer=left]").innerText(), /^0\.00 left/);
  await page.locator("[data-do=undo]").tap();
  await soon.match(() => page.locator("#now [data-answer=left]").innerText(), /^-0\.08 left/);
  await close();
});

test("none is an answer", async () => {
  const { page, close } = await opened();
  await page.locator("[data-do=turn]").first().tap();
  // Nine stops under: no angle is as large.
  await page.locator("#turn-wanted").fill("3");
  await soon.match(() => page.locator(".turn", { hasText: "Shutter" }).innerText(), /none; nearest 360°/);
  await close();
});

test("the working is shown, copied as the same text, and its figures are the answer’s", async () => {
  const { page, close } = await opened("#now", { permissions: ["clipboard-read", "clipboard-write"] });
  await page.locator("[data-do=turn]").first().tap();
  await page.locator(".working").waitFor();
  const lines = await page.locator(".working .term-line").allInnerTexts();
  assert.ok(lines.includes("n = k0 + c − k1 = 5 stops"), lines.join("\n"));
  assert.ok(lines.some((line) => /^l = n − a\d − a\d = -0\.083 stops$/.test(line)), lines.join("\n"));
  await page.getByText("Copy the working").tap();
  const copied = await until("a copy", () => page.evaluate(() => navigator.clipboard.readText()));
  for (const line of lines) assert.ok(copied.includes(line), line);
  assert.match(copied, /ISO 2720:1974/);
  await close();
});

test("the fit is asked back: lens, stop, distance and pupil that leave the room", async () => {
  const { page, close } = await opened("#fit");
  const notes = page.locator(".fit-notes");
  await page.locator("#fit [data-do=turn]").tap();
  const value = (/** @type {string} */ name) => page.locator(".turn", { hasText: name }).locator(".turn-value").innerText();
  // The same by another route: the fit's own hint.
  const [, widest] = await until("the hint", async () => (await notes.innerText()).match(/about ([\d.]+) mm/));
  await soon.ok(async () => (await value("Focal length")).startsWith(`${widest} mm to `), await value("Focal length"));
  await soon.match(() => value("ahead of the rim"), /^up to [\d.]+ mm$/);
  await page.locator("#turn-wanted").fill("10");
  await until("less room for more to spare", async () => !(await value("Focal length")).startsWith(widest));
  await page.keyboard.press("Escape");
  await page.locator(".fit-notes [data-do=turn-widest]").tap();
  await soon.ok(async () => (await value("Focal length")).startsWith(`${widest} mm to `), "the same from the hint");
  await close();
});

test("the light's figures are asked back, each with its working: the hour for a sun, a sky, a stop", async () => {
  const { page, close } = await opened("#light?sun");
  const drawer = page.locator(".drawer-made");
  const turn = (/** @type {string} */ name) => page.locator(".turn", { hasText: name });
  const lines = () => drawer.locator(".working .term-line").allInnerTexts();
  const to = async (/** @type {string} */ view, /** @type {string} */ figure) => {
    await page.keyboard.press("Escape");
    await page.evaluate((hash) => (location.hash = hash), `#light?${view}`);
    await page.locator(`[data-do=${figure}]`).tap();
  };
  await page.locator("[data-do=turn-sun]").tap();
  // At 15:00 in Brussels on the longest day; the same height comes before noon too.
  const hours = await turn("Hour").locator(".turn-value").allInnerTexts();
  assert.equal(hours.length, 2, hours.join());
  assert.ok(hours.includes("15:00"), hours.join());
  await page.locator("#turn-wanted").fill("20");
  await turn("Hour").locator("button").last().tap();
  await page.locator(".sun-now", { hasText: "20°" }).waitFor();
  await to("sky", "turn-sky");
  await soon.ok(async () => (await turn("Hour").locator(".turn-value").allInnerTexts()).length > 0);
  await soon.ok(async () => (await lines()).some((line) => line.startsWith("k = −log₂(1 − p · cos(2 · (t − v))) = ")), (await lines()).join("\n"));
  // 0.75 · (1 − c²)/(1 + c²) polarized at 77.7° and 102.3°, and −log₂(1 − that) is 1⅔, by hand.
  await page.locator("#turn-wanted").fill("1⅔");
  await soon.deepEqual(() => turn("Angle from the sun").locator(".turn-value").allInnerTexts(), ["77.7°", "102.3°"]);
  // What closes a drawer stands beside its title, be that one line or two.
  const [title, done] = await Promise.all([drawer.locator(".drawer-title"), drawer.locator(".drawer-head button")].map((one) => one.boundingBox()));
  assert.ok(title && done && done.x >= title.x + title.width && done.y < title.y + title.height, JSON.stringify([title, done]));
  // A corner has its own numbers: a longer lens shows less of the sky's change.
  await page.keyboard.press("Escape");
  const corner = page.locator("[data-do=turn-corner]").first();
  const before = await corner.innerText();
  await corner.tap();
  const lens = turn("Focal length").locator("button");
  await soon.match(() => lens.first().innerText(), /^[\d.]+ mm$/);
  await page.locator("#turn-wanted").fill("1");
  await turn("Aim").locator("button").first().tap();
  await soon.ok(async () => Math.abs(Number((await corner.innerText()).replace("−", "-")) - 1) <= 0.015, before);
  await page.locator("[data-do=undo]").tap();
  await soon.equal(() => corner.innerText(), before);
  // What nobody measured of the sky is a tap away from being said.
  await to("plan", "turn-plan");
  await soon.equal(async () => (await turn("Hour").locator(".turn-value").allInnerTexts()).length, 2);
  await soon.ok(async () => (await lines()).some((line) => line.startsWith("l = l0 + x · (l1 + x · (l2 + x · l3)) = ")));
  await soon.match(() => drawer.innerText(), /± from sky to sky/);
  await to("reflection", "turn-surface");
  await soon.match(() => drawer.innerText(), /b = atan\(n\) = 53\.12°/);
  await to("polarizers", "turn-pair");
  // A row of the table: its turn takes what the row says.
  await page.keyboard.press("Escape");
  const mark = page.locator(".marks li").nth(1);
  await mark.locator("[data-do=turn-mark]").tap();
  await soon.ok(async () => (await mark.innerText()).startsWith(await turn("Stops").locator("button").first().innerText()));
  await to("polarizers", "turn-pair");
  await soon.match(() => drawer.innerText(), /T = cos\(w\)² \+ sin\(w\)²\/R/);
  await drawer.locator("a", { hasText: "say it" }).first().waitFor();
  await close();
});

test("rise, set and twilight are asked back: the days and the places at which they come at an hour", async () => {
  const { page, close } = await opened("#light?sun");
  const turn = (/** @type {string} */ name) => page.locator(".turn", { hasText: name });
  const set = page.locator(".sun-day [data-do=turn-sun-event]").nth(2);
  const minutes = async () => {
    const [, hour = "", minute = ""] = /(\d+):(\d+)/.exec(await set.innerText()) ?? [];
    return Number(hour) * 60 + Number(minute);
  };
  await set.tap();
  await page.locator("#turn-wanted").fill("18:30");
  // In March; in autumn clocks are put back over it.
  const days = turn("Day, in the year ahead").locator("button");
  await soon.equal(() => days.count(), 1);
  await soon.match(() => days.first().innerText(), /, at (18:(29|30|31)|0?6:(29|30|31) PM)$/);
  await page.locator("#turn-wanted").fill("20:30");
  await soon.equal(() => days.count(), 2);
  await days.first().tap();
  // A day makes two or three minutes there, so that the nearest is no farther off than that.
  await soon.ok(async () => Math.abs(await minutes() - 20.5 * 60) <= 2);
  await page.locator("[data-do=undo]").tap();
  await set.tap();
  await page.locator("#turn-wanted").fill("21:30");
  await turn("Farther east or west").locator("button").first().tap();
  await soon.equal(minutes, 21.5 * 60);
  await set.tap();
  await page.locator("#turn-wanted").fill("21:00");
  await turn("Farther north or south").locator("button").first().tap();
  await soon.equal(minutes, 21 * 60);
  // What no clock says is told beside the field.
  await set.tap();
  await page.locator("#turn-wanted").fill("25:00");
  await page.locator(".turn-wanted .field-error").filter({ hasText: /\w/ }).waitFor();
  await close();
});

test("a grad's line and blend are asked back and worked out, and so is depth", async () => {
  const { page, close } = await opened("#frame");
  await page.locator("[data-do=turn-line]").tap();
  const drawer = page.locator(".drawer-made");
  const turn = (/** @type {string} */ name) => page.locator(".turn", { has: page.locator(`.turn-name:text-is("${name}")`) });
  await page.locator("#turn-wanted").fill("1/3");
  const [line] = await turn("Line").locator(".turn-value").allInnerTexts();
  assert.match(line, /^\d+ %$/);
  await soon.match(() => drawer.innerText(), /y = z · \(\(a − 0\.5\) · h\)\/f/);
  await turn("Line").locator("button").first().tap();
  // Taken: the slider of the line stands there.
  await page.locator("[data-slide='frame.line'] output", { hasText: line }).waitFor();
  await page.locator("[data-do=undo]").tap();
  await page.locator("[data-do=turn-blend]").tap();
  const wide = await turn("f-number").locator(".turn-value, .turn-none").innerText();
  await page.locator("#turn-wanted").fill("60 %");
  await until("another stop for another blend", async () => (await turn("f-number").locator(".turn-value, .turn-none").innerText()) !== wide);
  await page.keyboard.press("Escape");
  // What stands at a place of the picture is what the grad takes there.
  await page.locator(".frame-view").tap({ position: { x: 60, y: 12 } });
  const read = page.locator("[data-do=turn-place]");
  await read.filter({ hasText: /9\d % up$/ }).waitFor();
  const [lost = ""] = /^[\d.]+/.exec(await read.innerText()) ?? [];
  await read.tap();
  await drawer.locator(".term-line").filter({ hasText: new RegExp(`^k = .* = ${lost}\\d* stops$`) }).waitFor();
  await page.keyboard.press("Escape");
  await page.evaluate(() => (location.hash = "#now"));
  await page.locator(".now-depth > details > summary").first().tap();
  await page.locator("[data-do=work-depth]").tap();
  await soon.match(() => drawer.innerText(), /A = f²\/\(N · c\)/);
  await close();
});

test("every answer's working goes into the hand-over, formula by formula", async () => {
  const { page, close } = await opened("#day", { permissions: ["clipboard-read", "clipboard-write"] });
  await page.locator("[data-day=hand] > summary").tap();
  await page.locator("[data-do=what]").selectOption("working");
  await page.locator("[data-do=form]").selectOption("csv");
  await page.locator("[data-do=copy-out]").tap();
  const csv = await until("the text", () => page.locator(".day-text").inputValue());
  assert.match(csv, /^Answer,Symbol,Term,Formula,Value,Unit,Piece,Known,Source\n/);
  assert.match(csv, /openUp,n,need,k0 \+ c - k1,5,stops,,,ISO 2720:1974\n/);
  for (const answer of ["depth,H,", "fit,r,", "daylight,u,", "sky,k,", "sun,k,", "sunDay,R,", "infrared,x,", "flicker,S0,"]) assert.ok(csv.includes(`\n${answer}`), `${answer} in ${csv}`);
  // A flag nobody has set is in nobody's use.
  assert.ok(!csv.includes("\nflag,"));
  const rows = csv.trim().split("\n").length - 1;
  for (const [form, count] of /** @type {[string, (text: string) => number][]} */ ([
    ["markdown", (text) => text.split("\n").filter((line) => /^\| (?!Answer|-)/.test(line)).length],
    ["json", (text) => JSON.parse(text).workings.flatMap((/** @type {any} */ one) => one.terms).length],
  ])) {
    await page.locator("[data-do=form]").selectOption(form);
    await page.locator("[data-do=copy-out]").tap();
    await until(`the same rows as ${form}`, async () => {
      const text = await page.locator(".day-text").inputValue();
      return text !== csv && count(text) === rows;
    });
  }
  await searchesGoAlong(page, csv);
  await close();
});

/** What a search proved goes along from when it was looked at until the set-up is another. @param {import("playwright-core").Page} page @param {string} before as a table */
async function searchesGoAlong(page, before) {
  const go = (/** @type {string} */ hash) => page.evaluate((to) => (location.hash = to), hash);
  assert.doesNotMatch(before, /\n(orderDay|coverKit)/);
  await go("#case?order");
  await page.locator(".order-answer .hint", { hasText: "Proven" }).waitFor();
  await page.locator(".order-answer [data-do=turn-moves]").tap();
  const shown = page.locator(".drawer-made .working .term-line");
  await shown.first().waitFor();
  const moves = (await shown.allInnerTexts()).find((line) => line.startsWith("M = "));
  await page.keyboard.press("Escape");
  await go("#case?packing");
  await page.locator(".pack-own .hint", { hasText: "Proven" }).waitFor();
  await go("#case?lenses");
  await page.locator("[data-do=turn-rings]").waitFor();
  await go("#day");
  await page.locator("[data-do=form]").selectOption("csv");
  const csv = await copied(page, (text) => text.includes("\norderDay,"));
  for (const answer of ["orderDay,M,", "coverKit: own,", "rings: 82,", "twoBodies,lf0,"]) assert.ok(csv.includes(`\n${answer}`), `${answer} in ${csv}`);
  const [, sum] = csv.match(/\norderDay,M,[^,]*,[^,]*,(\d+),/) ?? [];
  assert.ok(moves?.endsWith(` = ${sum}`), `${moves} on the page, ${sum} handed over`);
  // In another rig nobody has looked yet: the old proof is not told.
  await go("#now");
  await page.locator("#now select[data-pick=rig]").selectOption({ index: 1 });
  await go("#day");
  const other = await copied(page, (text) => text !== csv);
  assert.doesNotMatch(other, /\n(orderDay|coverKit: own),/);
}

/** The copied text once it is this. @param {import("playwright-core").Page} page @param {(text: string) => boolean} is */
async function copied(page, is) {
  await page.locator("[data-do=copy-out]").tap();
  return until("the text", async () => {
    const text = await page.locator(".day-text").inputValue();
    return is(text) ? text : "";
  });
}

test("what stands before the lens and the converter show their sums", async () => {
  const { page, close } = await opened("#light?ghost");
  const drawer = page.locator(".drawer-made");
  await page.locator("[data-do=turn-ghost]").tap();
  await soon.match(() => drawer.innerText(), /k = −log₂\(A · B\) = /);
  await page.keyboard.press("Escape");
  await page.evaluate(() => (location.hash = "#light?flag"));
  await page.locator("[data-do=turn-flag]").tap();
  await soon.match(() => drawer.innerText(), /k = max\(H \+ G\/2 − m · \(j − o\), 0\)\/\(m · cos\(l\) − sin\(l\)\) = /);
  await page.keyboard.press("Escape");
  await page.locator("[data-do=convert]").tap();
  await page.locator("#convert-glass-stops").fill("3");
  await drawer.locator(".convert-working > summary").first().tap();
  const lines = () => drawer.locator(".term-line").allInnerTexts();
  await until("the sum of three stops", async () => (await lines()).some((line) => line.startsWith("D = k · log₁₀(2) = D 0.903")));
  await page.locator("#convert-glass-stops").fill("4");
  await until("the sum of four", async () => (await lines()).some((line) => line.startsWith("x = 10^D = 16")));
  await close();
});

test("sun, infrared, lamps, ramp and sky over ground show their sums where their figures stand", async () => {
  const { page, close } = await opened("#light?sun");
  const drawer = page.locator(".drawer-made");
  const shows = async (/** @type {string} */ opener, /** @type {RegExp} */ formula) => {
    await page.locator(opener).first().tap();
    await drawer.locator(".term-line").filter({ hasText: formula }).first().waitFor();
    await page.keyboard.press("Escape");
  };
  await shows("[data-do=turn-sun]", /^h = atan2\(U, √\(N² \+ w²\)\) = \d/);
  await shows("[data-do=work-day]", /^R = M − S \+ o = /);
  // How well the clock is known is a tap away from being said, from under the drawer.
  await page.locator("[data-do=turn-sun]").tap();
  const clock = drawer.locator(".term", { has: page.locator('.term-line:text-matches("^o = ")') });
  await clock.getByText("say it").tap();
  const seconds = page.locator("[data-field='uncertainty.clockSeconds'] input");
  await until("the field in sight", async () => ((await seconds.boundingBox().catch(() => null))?.y ?? Infinity) < PHONE.height);
  await soon.equal(() => drawer.count(), 0);
  await seconds.fill("600");
  await page.evaluate(() => (location.hash = "#light?sun"));
  await shows("[data-do=turn-sun]", /^o = 600 s$/);
  // What the sun does behind this lens stands where one looks for the sun, never without its caution.
  await soon.match(() => page.locator(".sun-lens").innerText(), /0\.47 mm wide and 1445 times[\s\S]*sensor, shutter and finder can burn/);
  await shows("[data-do=work-sun-lens]", / = 0\.46[56]\d* mm$/);
  await page.evaluate(() => (location.hash = "#frame"));
  await shows("[data-do=turn-left]", /^L = X − G = /);
  await page.evaluate(() => (location.hash = "#now"));
  await openLine(page, "colour");
  // 1.2 that stops infrared, and 0.3 that does not.
  await shows("[data-do=work-colour]", /^e = V − I = /);
  await openLine(page, "ramp");
  await page.locator("#ramp-fps").fill("48");
  await shows("[data-do=work-ramp]", /^k = log₂\(T\/t\) − 2 · log₂\(B\/N\) = -1 stops/);
  await openLine(page, "camera");
  await shows("[data-do=work-flicker]", /^S0 = min\(360 · n0\/P0, 360\) = 172\.8°/);
  await close();
});

test("pieces, the case, the day's moves and a logged shot are asked back", async () => {
  const { page, close } = await opened("#now");
  const drawer = page.locator(".drawer-made");
  const turn = (/** @type {string} */ name) => drawer.locator(".turn", { hasText: name });
  await page.locator("#now .plate-piece").last().tap();
  // 1.2 and 0.3 leave −0.083 of 5 stops: 0.3 less 0.0825 · log10 2 is 0.275, by hand.
  await soon.equal(() => turn("Density in its place").locator(".turn-value").innerText(), "ND 0.28");
  await soon.match(() => turn("Without it").innerText(), /\+0\.91 left/);
  await page.keyboard.press("Escape");
  await page.evaluate(() => (location.hash = "#case"));
  await page.locator("[data-do=turn-case]").tap();
  await page.locator("#turn-wanted").fill("5");
  // The same glass as Now's answer to five stops, by another search.
  await soon.match(() => turn("Glass within a third").innerText(), /left/);
  await soon.match(() => drawer.innerText(), /Within a third, in this rig\s+0 to 1, 1⅔ to 2, /);
  await page.keyboard.press("Escape");
  await page.evaluate(() => (location.hash = "#case?order"));
  await page.locator("[data-do=turn-moves]").tap();
  await soon.match(() => drawer.innerText(), /Now: 5 moves/);
  // Five moves of half a minute, and none fewer: by hand.
  await drawer.locator(".term-line").filter({ hasText: /^M = m0 \+ m1 \+ m2 \+ m3 \+ m4 = 5$/ }).waitFor();
  await drawer.locator(".term-line").filter({ hasText: /^x = M − b = 0$/ }).waitFor();
  await page.keyboard.press("Escape");
  await page.locator(".stage-left").first().tap();
  await soon.match(() => drawer.innerText(), /needed, .* taken: .* left/);
  await page.keyboard.press("Escape");
  await page.evaluate(() => (location.hash = "#day"));
  await page.locator("#day [data-do=log]").tap();
  await page.locator(".day-log summary").first().tap();
  await page.locator("[data-do=turn-record]").tap();
  await soon.ok(async () => await turn("Stop to set").locator(".turn-value").count() > 0);
  await close();
});

test("rigs compared, what is packed and two answers side by side are asked back", async () => {
  const { page, close } = await opened("#case?systems");
  const drawer = page.locator(".drawer-made");
  const says = async (/** @type {RegExp} */ text) => {
    await drawer.filter({ hasText: text }).first().waitFor();
    await page.keyboard.press("Escape");
  };
  const cell = (/** @type {string} */ row) => page.locator(".systems").first().locator("tr", { hasText: row }).locator("button").first();
  await cell("Moves").tap();
  // Five moves of half a minute, by hand.
  await says(/5 moves at 0\.5 min: 2\.5 min[\s\S]*Now: 5 moves/);
  await cell("Costs").tap();
  await says(/Together: /);
  await cell("Moment").tap();
  await drawer.locator(".term-line").filter({ hasText: /^T = 9\.80665 · \(/ }).waitFor();
  await says(/Its middle, ahead of the rim/);
  await page.locator("#plan-counter, [data-field='plan.counterArmMm'] input").first().fill("150");
  await cell("Counter").tap();
  // Half the weight hangs on twice the arm: what is asked for is put in.
  const asked = Number(await page.locator("#turn-wanted").inputValue());
  await page.locator("#turn-wanted").fill(String(asked / 2));
  const arm = drawer.locator(".turn", { hasText: "Arm of the counterweight" }).locator("button");
  await arm.filter({ hasText: /^(29\d|300|301) mm$/ }).waitFor();
  await page.keyboard.press("Escape");
  await page.locator(".systems").last().locator("button").first().tap();
  await says(/Room at the worst corner/);
  await page.evaluate(() => (location.hash = "#case?packing"));
  await page.locator("[data-do=turn-pack]").tap();
  await drawer.locator(".term-line").filter({ hasText: /^Q = q0 \+ q1 \+ q2 \+ q3 = 4$/ }).waitFor();
  await says(/Now: 4 pieces[\s\S]*Without “/);
  await page.evaluate(() => (location.hash = "#case?lenses"));
  await page.locator("[data-do=turn-rings]").tap();
  // The 85 alone wants the 72 to 82; filters of 77 mm screw on to both others.
  await drawer.locator(".term-line").filter({ hasText: /^x = C − b = 0$/ }).waitFor();
  await says(/“85” left at home: 77 → 82; [\s\S]*Filters of 77 mm: nothing to buy; /);
  await page.evaluate(() => (location.hash = "#case?packing"));
  await page.locator(".pack-own details > summary").tap();
  await page.locator(".pack-own [data-do=turn-served]").first().tap();
  await says(/takes [\s\S]*needed, [\s\S]*taken: [\s\S]*left/);
  await page.evaluate(() => (location.hash = "#now"));
  const left = await page.locator("#now [data-answer=left]").innerText();
  await page.locator("[data-do=beside]").tap();
  await drawer.locator("tr", { hasText: "Left" }).locator("[data-do=turn-side-1]").tap();
  await drawer.locator(".term-line").filter({ hasText: /^l = n − / }).waitFor();
  // A side is only looked at: nothing there changes the set-up.
  assert.equal(await drawer.locator(".turns button").count(), 0);
  await page.keyboard.press("Escape");
  assert.equal(await page.locator("#now [data-answer=left]").innerText(), left);
  await close();
});

test("all of it is said in German, and every target is large enough for a thumb", async () => {
  const { page, close } = await opened("#now", { locale: "de-DE" });
  for (const opener of ["[data-do=convert]", "#now [data-do=turn]"]) {
    await page.locator(opener).tap();
    const drawer = page.locator(".drawer-made");
    await soon.doesNotMatch(() => drawer.innerText(), /\b(the|with|left|Copy|Take|Light|Stop you)\b/);
    const small = await drawer.locator("button, input, a").evaluateAll((all) => all
      .filter((one) => one.offsetParent !== null && one.getBoundingClientRect().height < 44).map((one) => one.outerHTML));
    assert.deepEqual(small, []);
    await page.keyboard.press("Escape");
    await soon.equal(() => drawer.count(), 0);
  }
  await close();
});
