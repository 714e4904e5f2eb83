// Taps and texts that nobody chose: the page never breaks, never runs off its side, tells no figure that is none, and has after a reload what it had before.
import assert from "node:assert/strict";
import { test } from "node:test";
import { open, ready, servedPage } from "./harness.mjs";
import { until } from "./until.mjs";

const { browser, server } = await servedPage();

/** Runs by their seed, each on a screen of its own; a seed that failed once stays. */
const RUNS = { 4: [360, 640], 24: [844, 390], 30: [390, 844] };
const STEPS = 60;
const TEXTS = [
  "0", "-1", "1e9", "abc", "", "T2.8", "0.9", "1/3", "12 mm", "3 m", "infinity", "∞", "T16", "50", "200", "pola", "0.3 0.6 0.9", "1,5", "f/8", "1/50", "172.8",
  "999999", "0.000001", "51.5, 3.5", "-23, 400", "89.9, 0", "2\"", "half", "<b>x</b>", "a".repeat(60), "'=1+1", "matte box", "4x5.65: 0.3, 1.2 IR",
];
const DATES = ["2026-06-21", "2024-02-29", "1950-01-01", "2099-12-31"];
/** What leaves the page or shows the browser's own window. */
const NOT_THESE = "[data-do=language], [data-do=print], [data-do=share], [data-do=scan], [type=file], a[download]";

/** Numbers of one seed (a linear congruence), each from 0 to 1. @param {number} seed */
function chance(seed) {
  let state = seed * 2_654_435_761 % 2 ** 32;
  return () => (state = (state * 1_664_525 + 1_013_904_223) % 2 ** 32) / 2 ** 32;
}

/** What a finger could reach now, as far as it is scrolled for. @param {import("playwright-core").Page} page @param {number} share of all of it */
const reached = (page, share) => page.evaluateHandle(([not, at]) => {
  const all = [...document.querySelectorAll("button, summary, input, select, textarea, a[href^='#']")].filter((one) =>
    one instanceof HTMLElement && one.checkVisibility({ visibilityProperty: true }) && !one.matches(`${not}, :disabled`) && !one.closest("[inert]"));
  for (let nth = 0; nth < all.length; nth += 1) {
    const one = all[(Math.floor(Number(at) * all.length) + nth) % all.length];
    one.scrollIntoView({ block: "center", inline: "center" });
    const { left, top, width, height } = one.getBoundingClientRect();
    const met = document.elementFromPoint(left + width / 2, top + height / 2);
    if (met && (one.contains(met) || met.contains(one))) return one;
  }
  return null;
}, /** @type {const} */ ([NOT_THESE, share]));

/** @param {import("playwright-core").ElementHandle<HTMLElement>} target @param {() => number} next @returns {Promise<string>} what was done */
async function act(target, next) {
  const [tag, type, name] = await target.evaluate((one) => [one.tagName, one.getAttribute("type") ?? "", (one.getAttribute("aria-label") ?? one.textContent ?? one.id).trim().slice(0, 40)]);
  /** @template T @param {T[]} all */
  const pick = (all) => /** @type {T} */ (all[Math.floor(next() * all.length)]);
  if (tag === "SELECT") {
    const index = Math.floor(next() * await target.evaluate((one) => /** @type {any} */ (one).options.length));
    await target.selectOption({ index });
    return `${index} of ${name}`;
  }
  if (type === "range") {
    const share = next();
    await target.evaluate((one, at) => {
      const range = /** @type {HTMLInputElement} */ (one);
      range.value = String(Number(range.min) + at * (Number(range.max) - Number(range.min)));
      for (const event of ["input", "change"]) range.dispatchEvent(new Event(event, { bubbles: true }));
    }, share);
    return `${share.toFixed(2)} of ${name}`;
  }
  if (tag === "TEXTAREA" || (tag === "INPUT" && ["", "text", "search", "date"].includes(type))) {
    const text = pick(type === "date" ? DATES : TEXTS);
    await target.fill(text);
    await target.evaluate((one) => one.blur());
    return `“${text}” in ${await target.evaluate((one) => one.id)}`;
  }
  await target.tap();
  return name;
}

/** What no page may show, whatever was done to it. @param {import("playwright-core").Page} page */
const wrong = (page) => page.evaluate(() => [
  document.body.innerText.match(/.{0,40}(\bNaN\b|undefined|\[object|Infinity).{0,40}/)?.[0],
  document.documentElement.scrollWidth > innerWidth + 1 ? `${document.documentElement.scrollWidth} of ${innerWidth} wide` : undefined,
  [...document.querySelectorAll("[id]")].map(({ id }) => id).find((id, at, all) => all.indexOf(id) !== at),
].filter((one) => one !== undefined));

/** What is kept, whatever order it was written in. @param {import("playwright-core").Page} page @returns {Promise<any>} */
const kept = (page) => page.evaluate(() => {
  const { setup, drafts } = JSON.parse(localStorage.glasscall);
  return { setup, drafts };
});

/** Tapped until it can do no more. @param {import("playwright-core").Page} page @param {"undo" | "redo"} step */
async function all(page, step) {
  const button = page.locator(`[data-do=${step}]`);
  let count = 0;
  for (; await button.isVisible() && await button.isEnabled(); count += 1) await button.tap();
  return count;
}

for (const [seed, [width, height]] of Object.entries(RUNS)) {
  test(`any taps and texts, seed ${seed}, ${width}×${height}`, async () => {
    const context = await browser.newContext({ viewport: { width, height }, hasTouch: true, isMobile: true });
    await context.addInitScript(() => {
      window.print = () => {};
    });
    const { page, errors } = await open(context, server.url);
    page.on("dialog", (dialog) => void dialog.accept());
    const next = chance(Number(seed));
    /** @type {string[]} */
    const done = [];
    for (let step = 0; step < STEPS; step += 1) {
      const target = /** @type {any} */ ((await reached(page, next())).asElement());
      assert.ok(target, `something can be tapped after ${done.slice(-5).join(" | ")}`);
      done.push(await act(target, next));
      assert.deepEqual([await wrong(page), errors], [[], []], done.slice(-5).join(" | "));
    }
    await page.keyboard.press("Escape");
    await page.keyboard.press("Escape");
    await all(page, "redo");
    const before = await kept(page);
    const steps = await all(page, "undo");
    assert.equal(await all(page, "redo"), steps);
    assert.deepEqual({ ...(await kept(page)).setup, edited: {} }, { ...before.setup, edited: {} }, "undone and done again");
    const there = await kept(page);
    await page.reload();
    await ready(page);
    await until("every screen", () => page.evaluate(() => document.documentElement.dataset.ready === "every screen"));
    assert.deepEqual(await kept(page), there, "after a reload");
    assert.deepEqual(errors, []);
    await context.close();
  });
}
