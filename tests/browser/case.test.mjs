/** A case of one's own by touch on a phone: what holds the filters, one box for all of it, rows edited in place. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, open, ready, servedPage } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

const { browser, server } = await servedPage();

/** 14 pieces, 9 lenses, as a crew writes them down. */
const CASE = `4x4: 0.3 0.6 0.9 1.2 0.3, 1.5 IR, pola, 0.6 hard, 0.6 soft, clear; 82: 0.9 1.8 pola clear
25 T1.9 82, 32 T1.9 82, 40 T1.9 82, 50 T1.9 82, 75 T1.9 82, 100 T1.9 82, 135 T1.9 82, 24–70 T2.8 82, 70–200 T2.8 95`;

/** What the device keeps. */
const kept = (page) => page.evaluate(() => JSON.parse(localStorage.glasscall).setup);
const fresh = async (hash = "", options = {}) => {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, ...options });
  return { context, ...(await open(context, `${server.url}${hash}`)) };
};
const box = (page) => page.locator("#new-piece");
const lines = (page) => page.locator("[data-list=anything] .list-table tr");

/** A case of one's own, its first question open. */
async function own(page) {
  await page.locator("#now .now-demo [data-do=own]").tap();
  await until("the first question", () => page.locator(".holds").isVisible());
}

test("own case to an answer on Now: 14 pieces, 9 lenses and two rigs in at most 40 taps", async () => {
  const { context, page, errors } = await fresh();
  let taps = 0;
  const tap = async (selector) => {
    taps += 1;
    await page.locator(selector).tap();
  };
  await tap("#now .now-demo [data-do=own]");
  await tap(".holds [data-rig=box]");
  // Typed once; a tap puts the caret in, which it has already.
  await box(page).fill(CASE);
  await tap("[data-do=add-piece]");
  await soon.equal(() => box(page).inputValue(), "", "all of it was taken");
  await tap("[data-do=hold-size]");
  await tap(".tabs a[href='#now']");
  // Nothing is answered to a reading that nobody took.
  await soon.match(() => page.locator("#now").innerText(), /Nothing is read yet/);
  await page.locator("#read-stop").fill("T16");
  await until("an answer", async () => /T2\.8/.test(await page.locator("[data-answer=stop]").innerText()));
  await soon.equal(() => page.locator("[data-answer=pieces]").innerText().then((text) => text.split("\n")[0]), "1.5 IR");
  assert.ok(taps <= 40, `${taps} taps`);
  assert.equal(taps, 5);
  const { kit, lenses, rigs, inUse } = await kept(page);
  assert.equal(kit.reduce((sum, { count }) => sum + count, 0), 14);
  assert.equal(lenses.length, 9);
  assert.equal(inUse.lens, "25");
  assert.deepEqual(rigs.map(({ id, slots }) => [id, slots[0].size, slots.some(({ rotates }) => rotates)]), [["matte box", "4x4", true], ["screw-in", "82", true]]);
  assert.deepEqual(errors, []);
  await context.close();
});

test("every way to hold filters takes a polarizer", async () => {
  for (const way of ["box", "small", "screw", "snap", "holder100", "holder150"]) {
    const { context, page } = await fresh();
    await own(page);
    await page.locator(`.holds [data-rig=${way}]`).tap();
    await box(page).fill("pola, 0.6");
    await page.locator("[data-do=add-piece]").tap();
    await page.locator(".tabs a[href='#now']").tap();
    await page.locator("#read-stop").fill("T16");
    await page.locator("#now .side-list [data-opens^='slot ']").first().tap();
    await page.locator(".drawer-list button", { hasText: "pola" }).first().tap();
    await until("the polarizer in", async () => (await kept(page)).keep.includes("pola"));
    await until(`an answer with it, ${way}`, async () => /pola/.test(await page.locator("[data-answer=pieces]").innerText()));
    await context.close();
  }
});

test("what can mean two things is asked, what is not understood stays with its reason", async () => {
  const { context, page, errors } = await fresh();
  await own(page);
  await page.locator(".holds [data-rig=box]").tap();
  await box(page).fill("4x4: 0.3, 1/8, ND2, brolly, 0.6 hrad; 82: pola");
  await soon.equal(() => lines(page).count(), 6);
  const line = (text) => lines(page).filter({ has: page.getByRole("button", { name: `Change “${text}”` }) });
  await soon.match(() => line("brolly").innerText(), /not understood/);
  await soon.match(() => line("0.6 hrad").innerText(), /not understood/);
  await line("1/8").getByRole("button", { name: "strength of a diffusion" }).tap();
  await page.locator("[data-do=add-piece]").tap();
  // The heading stays with what waits under it.
  await soon.equal(() => box(page).inputValue(), "4x4: ND2, brolly, 0.6 hrad");
  await line("ND2").getByRole("button", { name: /^stops/ }).tap();
  await page.locator("[data-do=add-piece]").tap();
  await soon.equal(() => box(page).inputValue(), "4x4: brolly, 0.6 hrad");
  await line("brolly").getByRole("button", { name: /Leave out/ }).tap();
  await soon.equal(() => box(page).inputValue(), "4x4: 0.6 hrad");
  // A tap on a line selects it where it is written.
  await line("0.6 hrad").getByRole("button", { name: /Change/ }).tap();
  await page.keyboard.type("0.6 hard");
  await soon.equal(() => box(page).inputValue(), "4x4: 0.6 hard");
  await page.locator("[data-do=add-piece]").tap();
  const { kit } = await kept(page);
  assert.deepEqual(kit.map(({ kind, size, density }) => [kind, size, density && Math.round(density * 100) / 100]), [
    ["nd", "4x4", 0.3], ["effect", "4x4", undefined], ["polarizer", "82", undefined], ["nd", "4x4", 0.6], ["grad", "4x4", 0.6],
  ]);
  assert.equal(kit.at(-1).profile.kind, "hard");
  assert.deepEqual(errors, []);
  await context.close();
});

test("what is half written outlives a reload", async () => {
  const { context, page } = await fresh();
  await own(page);
  await box(page).fill("4x4: 0.3, ND2");
  await page.reload();
  await ready(page);
  await page.waitForFunction(() => document.querySelectorAll("[data-list=anything] .list-table tr").length === 2);
  await soon.equal(() => box(page).inputValue(), "4x4: 0.3, ND2");
  await context.close();
});

test("a case file pasted into the box is read", async () => {
  const { context, page, errors } = await fresh("#case");
  const texts = await page.evaluate(async () => {
    const file = (form) => new Promise((done) => {
      const make = URL.createObjectURL;
      URL.createObjectURL = (blob) => {
        blob.text().then(done);
        URL.createObjectURL = make;
        return make.call(URL, blob);
      };
      document.querySelector(`[data-do=write-case][data-form=${form}]`).click();
    });
    return [await file("json"), await file("csv")];
  });
  for (const text of texts) {
    await box(page).fill(text);
    await page.locator("[data-do=add-piece]").tap();
    await until("an empty box", async () => (await box(page).inputValue()) === "");
    await soon.match(() => page.locator("[data-part=pieces] .list-file").innerText(), /9/);
    const { kit, lenses, demo } = await kept(page);
    assert.equal(demo, false);
    assert.deepEqual([kit.length, lenses.length], [9, 5]);
  }
  assert.deepEqual(errors, []);
  await context.close();
});

test("lenses have the same box", async () => {
  const { context, page } = await fresh("#case?lenses");
  await page.locator("#new-lenses").fill("28 2.8 72, 65 T1.3 front 114");
  await page.locator("[data-do=add-lenses]").tap();
  const { lenses } = await kept(page);
  assert.deepEqual(lenses.slice(-2).map(({ id, tNumber, threadMm, outerMm }) => [id, Math.round(tNumber * 10) / 10, threadMm, outerMm]),
    [["28", 2.8, 72, undefined], ["65", 1.3, undefined, 114]]);
  await context.close();
});

test("a row stays open, and the hand in it, whatever is chosen; the list says how an edge runs", async () => {
  const { context, page, errors } = await fresh("#case");
  const row = page.locator("[data-rows=kit] > li").nth(1);
  await row.locator("summary").tap();
  await row.getByLabel("Kind").focus();
  await row.getByLabel("Kind").selectOption("grad");
  await soon.ok(() => row.locator("details").evaluate((details) => details.open));
  await soon.equal(() => page.evaluate(() => document.activeElement?.labels?.[0]?.textContent.startsWith("Kind")), true);
  await row.getByLabel("Edge").selectOption("hard");
  await soon.ok(() => row.locator("details").evaluate((details) => details.open));
  await soon.match(() => row.locator(".row-facts").innerText(), /graduated, hard, D 0\.6/);
  // Another row more leaves it open as well.
  await box(page).fill("2.1");
  await page.locator("[data-do=add-piece]").tap();
  await soon.ok(() => row.locator("details").evaluate((details) => details.open));
  assert.deepEqual(errors, []);
  await context.close();
});

for (const [width, locale] of [[360, "en-GB"], [390, "en-GB"], [360, "de-DE"]]) {
  test(`in an open row of ${width} px boxes stand in line, nothing hinted is cut, targets are 44 px, ${locale}`, async () => {
    const { context, page } = await fresh("#case", { viewport: { width, height: 640 }, locale });
    for (const [part, list] of [["pieces", "kit"], ["lenses", "stock.lenses"]]) {
      await page.goto(`${server.url}#case?${part}`);
      for (const at of [0, 5]) {
        const summary = page.locator(`[data-rows='${list}'] > li`).nth(Math.min(at, 4)).locator("summary");
        if (at === 0 || list === "kit") await summary.tap();
      }
      const found = await page.evaluate((list) => {
        const draw = document.createElement("canvas").getContext("2d");
        const faults = [];
        for (const fields of document.querySelectorAll(`[data-rows='${list}'] details[open] .row-fields`)) {
          const boxes = [...fields.querySelectorAll(":scope > :is(.field, .row-kind)")].map((field) => ({
            field, top: field.getBoundingClientRect().top, box: field.querySelector("input, select").getBoundingClientRect(),
          }));
          for (const one of boxes) {
            const name = one.field.textContent.slice(0, 20);
            if (one.box.height < 43.9) faults.push(`${name} is ${one.box.height} high`);
            const twin = boxes.find((other) => other !== one && Math.abs(other.top - one.top) < 1);
            if (twin && Math.abs(twin.box.top - one.box.top) > 1) faults.push(`${name} stands ${twin.box.top - one.box.top} beside`);
            // A neighbour's second line may come between, nothing more.
            const label = one.field.querySelector("label");
            if (label && one.box.top - label.getBoundingClientRect().bottom > 30) faults.push(`${name} is ${one.box.top - label.getBoundingClientRect().bottom} from its name`);
            const input = one.field.querySelector("input");
            if (!input?.placeholder) continue;
            const style = getComputedStyle(input, "::placeholder");
            draw.font = `${style.fontStyle} ${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
            const room = input.clientWidth - Number.parseFloat(getComputedStyle(input).paddingLeft) - Number.parseFloat(getComputedStyle(input).paddingRight);
            const wide = draw.measureText(input.placeholder).width;
            if (wide > room) faults.push(`“${input.placeholder}” is ${wide}, room ${room}`);
          }
        }
        return faults;
      }, list);
      assert.deepEqual(found, [], part);
    }
    await context.close();
  });
}
