// The Light screen in a browser: by touch, by keyboard, at a known time and place.
import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, open, ready, servedPage, setMoment } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";
import { putInSlot } from "./now-acts.mjs";

const { browser, server } = await servedPage();

/** A phone in UTC+2 on the longest day. */
async function light(options = {}) {
  const context = await browser.newContext({
    viewport: PHONE, hasTouch: true, isMobile: true, ...options,
  });
  const page_ = await open(context, `${server.url}#light`);
  const go = async (view) => {
    const link = page_.page.locator(`.light-views a[href="#light?${view}"]`);
    await link.tap();
    await page_.page.locator(`.light-views a[href="#light?${view}"][aria-current]`).waitFor();
  };
  /** It is that moment; the view that was open is again. */
  const at = async (iso) => {
    const open = await page_.page.locator(".light-views a[aria-current]").getAttribute("href");
    await go("sun");
    await setMoment(page_.page, iso);
    await page_.page.locator("[data-do=now]").tap();
    await go(open.replace("#light?", ""));
  };
  return { context, ...page_, at, go };
}

const text = (page, selector) => page.locator(`#light ${selector}`).first().innerText();

test("the cautions on sun and eyes stand on the screen, whatever is set", async () => {
  const { context, page, errors } = await light();
  await soon.match(() => text(page, ".light-caution"), /Never look at the sun through a lens, a finder or any filter/);
  await page.locator(".light-caution summary").tap();
  await soon.match(() => text(page, ".light-caution"), /not eye protection/);
  await soon.equal(() => page.locator(".light-caution button").count(), 0);
  assert.deepEqual(errors, []);
  await context.close();
});

test("a pasted place and a date give the sun of a reference day", async () => {
  const { context, page, errors } = await light();
  await page.getByLabel("Place", { exact: true }).fill("52° 0′ N 5° 0′ E");
  await page.locator("[data-do=date]").fill("2024-03-20");
  // tests/reference/sun_day.json: 05:41:46 and 17:53:53 UTC; the zone is UTC+1 then.
  const day = await text(page, ".sun-day");
  // Five times of one size on one line, one of which can be tapped.
  const times = await page.locator(".sun-day dd:not(.sun-at)").evaluateAll((all) => all.map((one) => {
    const shown = document.createRange();
    shown.selectNodeContents(one.querySelector("button") ?? one);
    const { y, height } = shown.getBoundingClientRect();
    return { size: getComputedStyle(one.querySelector("button") ?? one).fontSize, lines: Math.round(height / parseFloat(getComputedStyle(one).fontSize)), y: Math.round(y + height / 2) };
  }));
  assert.equal(times.length, 5);
  for (const one of times) assert.ok(one.size === times[0].size && one.lines === 1 && Math.abs(one.y - times[0].y) <= 3, JSON.stringify(times));
  assert.match(day, /Rise\s+06:41/);
  assert.match(day, /Set\s+18:53/);
  await soon.match(() => text(page, ".light-zone"), /UTC\+01:00, Europe\/Brussels/);
  assert.deepEqual(errors, []);
  await context.close();
});

test("far north the day has a name instead of a rise", async () => {
  const { context, page } = await light();
  await page.getByLabel("Place", { exact: true }).fill("78.2, 15.6");
  await page.locator("[data-do=date]").fill("2025-06-21");
  await soon.match(() => text(page, ".sun-day"), /does not set on this day/);
  await page.locator("[data-do=date]").fill("2027-12-21");
  await soon.match(() => text(page, ".sun-day"), /does not rise on this day/);
  await soon.match(() => text(page, ".sky-answer"), /sun is down/);
  await context.close();
});

test("a place that is none keeps the last good one and says why", async () => {
  const { context, page } = await light();
  const before_ = await text(page, ".sun-day");
  await page.getByLabel("Place", { exact: true }).fill("somewhere");
  await soon.match(() => text(page, "[data-field='light.place'] .field-error"), /not understood.*51\.5/);
  await page.getByLabel("Place", { exact: true }).fill("95, 3");
  await soon.match(() => text(page, "[data-field='light.place'] .field-error"), /goes from.*90/);
  await soon.equal(() => text(page, ".sun-day"), before_);
  await context.close();
});

test("the place is taken from the device when that is allowed", async () => {
  const { context, page } = await light({ permissions: ["geolocation"], geolocation: { latitude: -33.9, longitude: 151.2 } });
  await page.getByRole("button", { name: "Here" }).tap();
  const place = page.getByLabel("Place", { exact: true });
  await until("the device's place", async () => (await place.inputValue()).includes("33.9"));
  await soon.equal(() => place.inputValue(), "33.9° S, 151.2° E");
  await context.close();
});

test("in a case of one's own nobody has said where it is", async () => {
  const { context, page } = await light();
  await page.locator(".tabs").getByText("Now").tap();
  await page.locator(".now-demo [data-do=own]").tap();
  await page.locator(".tabs").getByText("Light").tap();
  await soon.equal(() => page.getByLabel("Place", { exact: true }).inputValue(), "");
  await soon.match(() => text(page, ".sun-now"), /not said yet/);
  await soon.match(() => text(page, ".plan"), /not said yet/);
  // Nor where the lens points: the invented crew's aim is not this one's.
  await page.getByLabel("Place", { exact: true }).fill("10, 20");
  for (const view of ["sky", "flag"]) {
    await page.locator(`.light-views a[href="#light?${view}"]`).tap();
    await soon.match(() => text(page, `[data-answer=${view}]`), /Where the lens points is not said yet/);
    await soon.equal(() => page.getByLabel("Lens points to", { exact: true }).inputValue(), "");
  }
  await page.getByLabel("Lens points to", { exact: true }).fill("180");
  await soon.doesNotMatch(() => text(page, "[data-answer=flag]"), /Where the lens points/);
  await context.close();
});

test("the first plan becomes the reading of the Now screen", async () => {
  const { context, page, at, go } = await light();
  await go("plan");
  await at("2026-06-21T11:47:00Z");
  await soon.match(() => text(page, ".plan-more"), /on level ground.* give or take ⅓ stop/);
  const level = await text(page, ".plan .plan-stop");
  await page.getByLabel("Light on").selectOption("sun");
  await soon.match(() => text(page, ".plan-more"), /turned to the sun/);
  await soon.notEqual(() => text(page, ".plan .plan-stop"), level);
  await page.getByLabel("Light on").selectOption("level");
  const need = (await text(page, ".plan .plan-line")).match(/take away ([\d.]+ stops)/)[1];
  await page.getByRole("button", { name: "Take it as the reading" }).tap();
  await page.locator(".tabs").getByText("Now").tap();
  await soon.equal(() => page.locator(".need-stops").innerText(), need);
  await page.getByRole("button", { name: "Undo" }).tap();
  await soon.equal(() => page.locator(".need-stops").innerText(), "5 stops");
  await context.close();
});

test("towards the sun a caution comes up; across it the sky darkens", async () => {
  const { context, page, at, go } = await light();
  await go("sky");
  await at("2026-06-21T17:00:00Z");
  const azimuth = Number((await page.locator(".sun-now").textContent()).match(/at (\d+)°/)[1]);
  await page.getByLabel("Lens points to", { exact: true }).fill(String(azimuth));
  await soon.match(() => text(page, ".sky-answer"), /sun is in or near the picture/);
  await page.getByLabel("Lens points to", { exact: true }).fill(String((azimuth + 90) % 360));
  await soon.doesNotMatch(() => text(page, ".sky-answer"), /in or near/);
  await soon.ok(async () => Number((await text(page, ".sky-answer .plan-stop")).replace("+", "")) > 1.5);
  await soon.match(() => text(page, ".sky-answer"), /ring at \d+:\d\d or \d+:\d\d/);
  await context.close();
});

test("the dial's best aims are one tap away", async () => {
  const { context, page, at, go } = await light();
  await go("sky");
  await at("2026-06-21T17:00:00Z");
  await page.locator(".dial-aims button").first().tap();
  await soon.ok(async () => Number((await text(page, ".sky-answer .plan-stop")).replace("+", "")) > 1.5);
  await soon.match(() => page.getByRole("img", { name: /How dark the sky gets/ }).getAttribute("aria-label"), /north is up/);
  await context.close();
});

test("aim steppers go round through north", async () => {
  const { context, page, go } = await light();
  await go("sky");
  const aim = page.getByLabel("Lens points to", { exact: true });
  await aim.fill("355");
  await aim.blur();
  await page.getByRole("button", { name: "Lens points to: turn right" }).tap();
  await soon.equal(() => aim.inputValue(), "0°");
  const tilt = page.getByLabel("Tilted up", { exact: true });
  await tilt.fill("-5");
  await tilt.blur();
  await page.getByRole("button", { name: "Tilted up: up" }).tap();
  await soon.equal(() => tilt.inputValue(), "0°");
  await context.close();
});

/** Notes a reading of this moment by keyboard: Enter goes on to the time, and once more notes it. */
async function noted({ page, at, go }, iso, stop) {
  await at(iso);
  await go("drift");
  await page.locator("#timed").fill(stop);
  await page.keyboard.press("Enter");
  await page.keyboard.press("Enter");
}

test("readings noted by keyboard say when the next swap comes", async () => {
  const screen = await light();
  const { context, page } = screen;
  // Cloud coming in before noon: with the sun high a line is drawn through them.
  await noted(screen, "2026-06-21T09:00:00Z", "T11");
  await soon.match(() => text(page, ".drift"), /second reading/);
  await noted(screen, "2026-06-21T10:00:00Z", "T8");
  await soon.match(() => text(page, ".drift"), /fades by 1 stop an hour/);
  await soon.match(() => text(page, ".drift"), /next swap/);
  await soon.match(() => text(page, ".swaps li"), /^\d\d:\d\d ± \d+ min: .+ out, .+ in/);
  await page.getByRole("button", { name: /Forget the reading of 11:00/ }).tap();
  await soon.equal(() => page.locator(".timed li").count(), 1);
  await context.close();
});

test("by a low sun the sky is followed, or more readings asked for", async () => {
  const screen = await light();
  const { context, page } = screen;
  // A stop in the hour before sunset is half of what a clear sky loses in it.
  await noted(screen, "2026-06-21T18:00:00Z", "T11");
  await noted(screen, "2026-06-21T19:00:00Z", "T8");
  await soon.doesNotMatch(() => text(page, ".drift"), /fades by 1 stop an hour/);
  await soon.match(() => text(page, ".drift"), /Not known yet: two more readings/);
  // Nobody said where: a line is all there is.
  await screen.go("sun");
  await page.getByLabel("Place", { exact: true }).fill("");
  await soon.match(() => text(page, ".drift"), /fades by 1 stop an hour/);
  await soon.match(() => text(page, ".drift-more"), /straight line, which knows nothing of dusk: should it be dusk it holds until \d\d:\d\d/);
  await soon.match(() => text(page, ".drift"), /Not known without a place/);
  for (const one of await page.locator("#light .swaps li").allInnerTexts()) assert.match(one, /^\d\d:\d\d(\?| ± )/);
  await context.close();
});

test("a reading written down late is put at its time", async () => {
  const { context, page, at, go } = await light();
  await go("drift");
  const note = async (stop, clock = "") => {
    await page.locator("#timed").fill(stop);
    await page.locator("[data-do=timed-at]").fill(clock);
    await page.getByRole("button", { name: "Note", exact: true }).tap();
  };
  await at("2026-06-21T19:00:00Z");
  await note("T8");
  await note("T11", "20:00");
  await note("T16", "22:30");
  await soon.deepEqual(async () => (await page.locator(".timed li span").allTextContents()).map((line) => line.trim()),
    ["22:30 T16", "20:00 T11", "21:00 T8"], "half past ten has not been yet today");
  await context.close();
});

test("a reading through what is in counts its glass", async () => {
  const { context, page, at, go } = await light();
  await page.locator(".tabs").getByText("Now").tap();
  await putInSlot(page, "tray 1", "0.9");
  await page.locator(".tabs").getByText("Light").tap();
  await go("drift");
  await at("2026-06-21T09:00:00Z");
  await page.getByLabel("read through what is in the rig").check();
  await page.locator("#timed").fill("T4");
  await page.getByRole("button", { name: "Note", exact: true }).tap();
  await soon.match(() => text(page, ".timed li"), /11:00 T4 through 0\.9/);
  // One step bare of the same light, a stop lower an hour later: T4 and 2.99 stops are T11.3.
  await page.getByLabel("read through what is in the rig").uncheck();
  await at("2026-06-21T10:00:00Z");
  await page.locator("#timed").fill("T8");
  await page.getByRole("button", { name: "Note", exact: true }).tap();
  await soon.match(() => text(page, ".drift"), /fades by 0\.99 stops an hour/);
  await context.close();
});

test("reflections say where to stand and when to move", async () => {
  const { context, page, go } = await light();
  await go("reflection");
  await page.getByLabel("Angle from square on").fill("53");
  await page.getByLabel("Lens above it").fill("1.5 m");
  await soon.match(() => text(page, ".surface"), /takes it away/);
  await soon.match(() => text(page, ".surface"), /2 m away/);
  await page.getByLabel("Angle from square on").fill("10");
  await soon.match(() => text(page, ".surface"), /move, do not expect a clean pane/);
  await page.getByLabel("Angle from square on").fill("120");
  await soon.match(() => text(page, "[data-field='light.surface.angleDeg'] .field-error"), /goes from 0 to 90/);
  await context.close();
});

test("a pair asked for more than it can says its range", async () => {
  const { context, page, go } = await light();
  await go("polarizers");
  await page.getByLabel("Take away").fill("30");
  await soon.match(() => text(page, "[data-field='light.pair.stops'] .field-error"), /cannot be 30; it goes from 2\.333 to 12\.299/);
  await page.getByLabel("Take away").fill("4⅓");
  await soon.match(() => text(page, ".pair .plan-stop"), /^60°$/);
  // Film lets infrared by, so a pair this dark needs a cut; a lighter one does not.
  await soon.match(() => text(page, ".pair .plate-warn"), /put an infrared cut in/);
  await page.getByLabel("Take away").fill("4");
  await page.locator(".pair .plate-warn").waitFor({ state: "detached" });
  await context.close();
});

test("a measured polarizer goes into the case", async () => {
  const { context, page, go } = await light();
  await go("polarizers");
  await page.getByLabel("Without it", { exact: true }).fill("16");
  await page.getByLabel("Brightest", { exact: true }).fill("11");
  await page.getByLabel("Darkest", { exact: true }).fill("5.6");
  // T0 is the mean of a half and an eighth: 1.678 stops, by hand.
  await soon.match(() => text(page, ".measured"), /1\.68/);
  // T11 and T5.6 are two stops.
  await soon.match(() => text(page, ".measured"), /Turned, exposure changed by 2 stops\./);
  await page.getByRole("button", { name: "Keep it as the loss of pola" }).tap();
  await page.locator(".tabs").getByText("Now").tap();
  await soon.doesNotMatch(() => page.locator("#now .assumed").innerText(), /pola .* costs 1⅔/);
  await context.close();
});

test("flags answer for the sun at hand and never call it safe", async () => {
  const { context, page, at, go } = await light();
  await go("flag");
  await at("2026-06-21T11:47:00Z");
  await page.getByLabel("Lens points to", { exact: true }).fill("180");
  await soon.match(() => text(page, ".flag"), /A flag works/);
  await page.getByLabel("Lens points to", { exact: true }).fill("0");
  await soon.match(() => text(page, ".flag"), /not needed|no flag is needed|does not reach/);
  await soon.doesNotMatch(() => page.locator("#light").innerText(), /\bsafe\b/i);
  // A lamp high and ahead is flagged like a sun there; one on the axis is in the picture.
  await page.locator("#light [data-do=against]").selectOption("lamp");
  await soon.match(() => text(page, ".flag"), /A flag works/);
  await page.getByLabel("Lamp above the lens").fill("0");
  await soon.match(() => text(page, ".flag"), /source is in the picture/);
  await page.getByLabel("Lamp above the lens").fill("high");
  await soon.match(() => text(page, "[data-field='light.flag.lamp.upMm'] .field-error"), /not understood/);
  await context.close();
});

test("Enter notes nothing before the time is in, and the newest reading goes to Now at a tap", async () => {
  const { context, page, at, go, errors } = await light();
  await at("2026-06-21T19:00:00Z");
  await go("drift");
  await page.locator("#timed").fill("T11");
  await page.keyboard.press("Enter");
  await soon.equal(() => page.locator(".timed li").count(), 0);
  await soon.ok(async () => await page.locator("#timed-at").evaluate((one) => one === document.activeElement), "the time is next");
  await page.locator("#timed-at").fill("20:10");
  await page.keyboard.press("Enter");
  await soon.match(() => text(page, ".timed li"), /^20:10 T11/);
  await page.locator("[data-do=newest-to-now]").tap();
  await soon.ok(() => page.locator("#now").isVisible());
  await soon.equal(() => page.locator("#read-stop").inputValue(), "T11");
  await soon.equal(() => page.locator(".need-stops").innerText(), "4 stops");
  assert.deepEqual(errors, []);
  await context.close();
});

test("each question stands with its inputs and its answer on one screen", async () => {
  const { context, page, at, go, errors } = await light();
  await at("2026-06-21T11:47:00Z");
  const fold = await page.locator(".bar").evaluate((one) => one.getBoundingClientRect().top);
  for (const view of ["sun", "plan", "sky", "drift", "reflection", "flag", "ghost"]) {
    await go(view);
    const fields = page.locator("#light .light-input :is(input, select):visible");
    const boxes = await Promise.all([page.locator(`#light [data-answer=${view}]`), ...await fields.all()].map((one) => one.boundingBox()));
    const [top, bottom] = [Math.min(...boxes.map(({ y }) => y)), Math.max(...boxes.map(({ y, height }) => y + height))];
    assert.ok(bottom - top <= fold, `${view} takes ${bottom - top} px of ${fold}`);
    // No scroll to the answer, and at most one to the last input.
    assert.ok(boxes[0].y + boxes[0].height <= fold, `${view}: ${JSON.stringify(boxes[0])}`);
  }
  assert.deepEqual(errors, []);
  await context.close();
});

test("what was set survives a reload and an older document gains the part", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const { page, errors } = await open(context, `${server.url}#light`);
  await page.getByLabel("Place", { exact: true }).fill("10, 20");
  await page.reload();
  await ready(page);
  await soon.equal(() => page.getByLabel("Place", { exact: true }).inputValue(), "10° N, 20° E");
  await page.evaluate(() => {
    for (const key of Object.keys(localStorage)) {
      const kept = JSON.parse(localStorage.getItem(key) ?? "null");
      if (kept?.setup) {
        delete kept.setup.light;
        localStorage.setItem(key, JSON.stringify(kept));
      }
    }
  });
  await page.reload();
  await ready(page);
  await soon.match(() => page.getByLabel("Place", { exact: true }).inputValue(), /° N/);
  assert.deepEqual(errors, []);
  await context.close();
});
