/** Day by touch on a phone: the log first, slates counting up, a shot matched on the rig it was made with, what stands on a screen on paper. */
import assert from "node:assert/strict";
import { test } from "node:test";
import { PHONE, chooseLook, open, ready, servedPage } from "./harness.mjs";
import { putInWay } from "./now-acts.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

const { browser, server } = await servedPage();

const fresh = async (hash = "", options = {}) => {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true, ...options });
  return { context, ...(await open(context, `${server.url}${hash}`)) };
};
const rows = (page) => page.locator(".day-log > .row");
const toScreen = (page, name) => page.locator(`.tabs a[href='#${name}']`).tap();

test("the log stands first, the newest on top, with the lens; the next slate is proposed", async () => {
  const { context, page, errors } = await fresh();
  await putInWay(page, "0.9 + 0.6");
  await toScreen(page, "day");
  const next = page.locator(".day-next-line");
  await until("what would be logged", async () => (await next.innerText()) === "50 mm · 0.9 + 0.6 · T2.8");
  await page.locator("#slate-scene").fill("14");
  await page.locator("#slate-take").fill("08");
  await page.locator("#day [data-do=log]").tap();
  await until("the next take", async () => await page.locator("#slate-take").inputValue() === "09");
  await page.locator("#day [data-do=log]").tap();
  await until("the take after it", async () => await page.locator("#slate-take").inputValue() === "10");
  await soon.equal(() => rows(page).count(), 2);
  await soon.match(() => rows(page).first().innerText(), /A 14 \/ 09\s*T2\.8, 0\.9 \+ 0\.6, 50 mm/);
  // The entry and its count are one step back.
  await page.locator("[data-do=undo]").tap();
  await soon.equal(() => rows(page).count(), 1);
  await soon.equal(() => page.locator("#slate-take").inputValue(), "09");
  await page.locator("[data-do=redo]").tap();
  await soon.equal(() => rows(page).count(), 2);
  await soon.equal(() => page.locator("#slate-take").inputValue(), "10");
  // Time stands still here: what falls into one second keeps its turn.
  for (const take of ["11", "12", "13"]) {
    await page.locator("#day [data-do=log]").tap();
    await until(`take ${take} proposed`, async () => await page.locator("#slate-take").inputValue() === take);
  }
  await soon.deepEqual(async () => (await rows(page).locator(".row-name").allInnerTexts()).map((name) => name.slice(-2)), ["12", "11", "10", "09", "08"]);
  // All of the newest record on the first screen.
  const { y, height } = await rows(page).first().boundingBox();
  assert.ok(y + height < PHONE.height - 54, `${y + height}`);
  assert.deepEqual(errors, []);
  await context.close();
});

test("say it, match, two bodies, hand over, codes and print stand behind one button each", async () => {
  const { context, page } = await fresh("#day");
  const ways = page.locator(".day-part");
  await soon.deepEqual(() => ways.evaluateAll((all) => all.map((way) => [way.dataset.day, way.open])),
    [["say", false], ["match", false], ["bodies", false], ["hand", false], ["codes", false], ["print", false]]);
  for (const [name, control] of [["say", "[data-do=copy-sentence]"], ["hand", "[data-do=copy-out]"], ["codes", "[data-do=show-code]"], ["print", "[data-do=print]"]]) {
    const way = page.locator(`.day-part[data-day=${name}]`);
    await soon.equal(() => way.locator(control).isVisible(), false, name);
    const summary = way.locator(":scope > summary");
    await soon.ok(async () => (await summary.boundingBox()).height >= 44, name);
    await summary.tap();
    await soon.ok(() => way.locator(control).isVisible(), name);
  }
  await context.close();
});

test("sharing out goes to the device’s sheet; closed again it says nothing, refused it copies and says so", async () => {
  // A device without a sheet has no button for one.
  const none = await fresh("#day", { permissions: ["clipboard-read", "clipboard-write"] });
  await none.page.addInitScript(() => Object.assign(window, { sheet: { takesFiles: true, ends: "", had: [] } }));
  await none.page.addInitScript(() => {
    const { sheet } = /** @type {any} */ (window);
    if (!sessionStorage.getItem("sheet")) return void Object.defineProperty(navigator, "share", { value: undefined });
    Object.defineProperty(navigator, "canShare", { value: () => sheet.takesFiles });
    Object.defineProperty(navigator, "share", { value: async (/** @type {ShareData} */ given) => {
      sheet.had.push({ text: given.text, files: await Promise.all((given.files ?? []).map(async (file) => [file.name, file.type, await file.text()])) });
      if (sheet.ends) throw new DOMException("", sheet.ends);
    } });
  });
  const { context, page, errors } = none;
  const share = page.locator("[data-do=share-out]");
  const message = page.locator(".day-part[data-day=hand] .day-message");
  const out = page.locator(".day-text");
  const again = async () => {
    await page.reload();
    await ready(page);
    await page.locator(".day-part[data-day=hand] > summary").tap();
    await page.locator("[data-do=form]").selectOption("csv");
    await page.locator("[data-do=copy-out]").waitFor();
  };
  await again();
  assert.equal(await share.count(), 0);
  await page.evaluate(() => sessionStorage.setItem("sheet", "yes"));
  await again();
  const had = () => page.evaluate(() => /** @type {any} */ (window).sheet.had);
  const tapped = async (/** @type {object} */ how) => {
    await page.evaluate((set) => Object.assign(/** @type {any} */ (window).sheet, set, { had: [] }), how);
    await share.tap();
    return until("what the sheet had", async () => (await had())[0]);
  };
  const asFile = await tapped({ takesFiles: true, ends: "" });
  assert.equal(asFile.text, undefined);
  const [name, type, table] = asFile.files[0];
  assert.match(name, /^glasscall-answer-2026-06-21\.csv$/);
  assert.equal(type, "text/csv");
  assert.match(table, /0\.3/);
  const asText = await tapped({ takesFiles: false, ends: "" });
  assert.deepEqual(asText, { text: table, files: [] });
  await tapped({ ends: "AbortError" });
  // Closed without a choice: neither a failure nor a copy.
  await soon.equal(() => message.innerText(), "");
  assert.ok(await out.isHidden());
  await tapped({ ends: "NotAllowedError" });
  await message.filter({ hasText: "Sharing is blocked here. Copied." }).waitFor();
  // A text box has its own line ends.
  assert.equal(await out.inputValue(), table.replaceAll("\r\n", "\n"));
  assert.equal(await page.evaluate(() => navigator.clipboard.readText()), table);
  assert.deepEqual(errors, []);
  await context.close();
});

test("a tapped record is matched on the rig it was made with", async () => {
  const { context, page, errors } = await fresh();
  await putInWay(page, "0.9 + 0.6");
  // What logs is fetched at the tap, and may be slow: logged is what stood there then.
  let letGo = () => {};
  const gone = new Promise((done) => (letGo = () => done(undefined)));
  await context.route("**/log-it-*.js", async (route) => {
    await gone;
    await route.continue();
  });
  await page.locator("#now [data-do=log]").tap();
  await page.locator("select[data-pick=rig]").selectOption("screw-in");
  await until("the other rig", () => page.evaluate(() => JSON.parse(localStorage.glasscall).setup.inUse.rig === "screw-in"));
  letGo();
  await page.locator("#notice").filter({ visible: true, hasText: /log/i }).waitFor();
  await toScreen(page, "day");
  await rows(page).first().locator("summary").tap();
  await rows(page).first().locator("[data-do=match-this]").tap();
  const answer = page.locator(".match-answer");
  await soon.ok(() => answer.isVisible());
  await soon.equal(() => answer.locator(".match-rig").innerText(), "On matte box, as it was logged.");
  await soon.equal(() => answer.locator(".complaint").count(), 0);
  await soon.match(() => answer.locator(".say").innerText(), /Set T2\.8.*In: .*rotating|Set T2\.8.*tray 1/s);
  // What else would do is asked back as itself.
  const other = answer.locator(".plain-list [data-do=turn-match]").first();
  const left = /\(([+−]?[\d.]+)\)\.$/.exec(await other.innerText())?.[1] ?? "";
  await other.tap();
  await page.locator("#turn-wanted").fill(left);
  const stop = page.locator(".drawer-made .turn", { has: page.locator(".turn-name:text-is('Stop to set')") }).locator(".turn-value");
  await soon.match(() => stop.innerText(), /^T\d/);
  await page.keyboard.press("Escape");
  assert.deepEqual(errors, []);
  await context.close();
});

test("what stands on every screen prints as it stands: black, with its picture or list, date and page", async () => {
  for (const look of ["day", "night"]) {
    const { context, page, errors } = await fresh();
    await ready(page);
    await putInWay(page, "0.9 + 0.6");
    if (look === "night") await chooseLook(page, look);
    for (const [name, holds] of [["now", /T2\.8/], ["fit", /spare|clear/i], ["frame", /0\.9 soft|T\d/], ["light", /up, at/], ["case", /Rigs[\s\S]*Lenses/]]) {
      await toScreen(page, name);
      for (const format of ["A4", "Letter"]) {
        // The browser's own command is what makes the sheet.
        await page.evaluate(() => delete document.documentElement.dataset.print);
        const pdf = (await page.pdf({ format })).toString("latin1");
        // The whole case is a list, and may go on.
        assert.ok(pdf.match(/\/Type\s*\/Page\b/g).length <= (name === "case" ? 2 : 1), `${name} on ${format}`);
        await soon.equal(() => page.evaluate(() => document.documentElement.dataset.print), "screen");
      }
      await page.emulateMedia({ media: "print" });
      const sheet = page.locator("#sheet");
      const text = await sheet.innerText();
      assert.match(text, holds, name);
      assert.match(text, /21 Jun 2026/, name);
      assert.match(text, /0\.9/, name);
      // Fit has its own: the rig from the side, the tightest opening from behind, and all of them.
      if (name === "fit") {
        await soon.equal(() => sheet.locator(".sheet-row svg").count(), 2);
        await soon.equal(() => sheet.locator("table tbody tr").filter({ hasText: /to spare/ }).count(), 3);
        await soon.equal(() => sheet.locator(".side-hit, .front-mask").filter({ visible: true }).count(), 0);
      }
      // What a tap opens on the screen stands open on paper.
      if (name === "frame") await soon.equal(() => sheet.locator(".frame-table td").count(), 15);
      if (name === "light") assert.match(text, /never look at the sun/i);
      // As wide as A4 between its margins.
      await page.setViewportSize({ width: 703, height: 994 });
      const over = await sheet.evaluate((paper) => [...paper.querySelectorAll("*")].filter((part) => part.getBoundingClientRect().right > paper.getBoundingClientRect().right + 1).map((part) => part.outerHTML.slice(0, 80)));
      assert.deepEqual(over, [], `${name} stays on its sheet`);
      await page.setViewportSize(PHONE);
      if (name === "light") {
        const apart = await sheet.locator(".sheet-answer .plan-stop").evaluate((figure) => {
          const text = document.createRange();
          text.selectNodeContents(figure);
          return Number(figure.nextElementSibling?.getBoundingClientRect().left) - text.getBoundingClientRect().right;
        });
        assert.ok(apart < 30, `the figure stands ${apart} px from its words`);
      }
      await soon.equal(() => page.locator("main").isVisible(), false);
      await soon.equal(() => sheet.locator("button, input, select, textarea").count(), 0);
      const holes = await sheet.locator(".sheet-answer > *").evaluateAll((all) => all.map((one) => {
        const inside = document.createRange();
        inside.selectNodeContents(one);
        return one.getBoundingClientRect().bottom - inside.getBoundingClientRect().bottom;
      }));
      assert.ok(holes.every((hole) => hole < 30), `${name} has no hole: ${holes}`);
      const seen = await page.locator("#sheet, #sheet *").evaluateAll((all) => [...new Set(all.flatMap((one) => {
        const { color, backgroundColor, borderTopColor, stroke, fill } = getComputedStyle(one);
        return one.closest("svg") ? [stroke, fill] : [color, backgroundColor, borderTopColor];
      }))].filter((colour) => !["none", "rgb(0, 0, 0)", "rgb(255, 255, 255)"].includes(colour)));
      assert.deepEqual(seen, [], `${name}, ${look}`);
      if (name === "case") await soon.ok(async () => await sheet.locator("table").count() === 3);
      else await soon.ok(async () => await sheet.locator("svg, img").count() > 0, `${name} has its picture`);
      const foot = await page.evaluate(() => document.adoptedStyleSheets.flatMap((one) => [...one.cssRules].map((rule) => rule.cssText)).join(" "));
      assert.match(foot, /@bottom-right.*counter\(page\).*counter\(pages\)/s);
      assert.match(foot, /@bottom-left.*21 Jun 2026/s);
      await page.emulateMedia({ media: null });
    }
    assert.deepEqual(errors, []);
    await context.close();
  }
});
