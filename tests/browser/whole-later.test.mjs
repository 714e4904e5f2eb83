// The first half of the module answers what most set-ups ask; what asks for more waits for the whole, and loses nothing.
import assert from "node:assert/strict";
import { test } from "node:test";
import { demoDocument } from "../../target/modules/document/demo.js";
import { partsToSend } from "../../target/modules/hand-over/offered-set-up.js";
import { writeLink } from "../../target/modules/hand-over/link.js";
import { PHONE, meansToFail, open, ready, servedPage } from "./harness.mjs";
import { inBothPlaces } from "./kept.mjs";
import { soon } from "./soon.mjs";

const { browser, server } = await servedPage();

/** @typedef {import("../../www/document/document.js").Document} Document */

/** The demo with another lens or rig, in ways whose pupil or rings are asked for. @param {(document: any) => void} edit @returns {Document} */
function with_(edit) {
  const document = /** @type {any} */ (structuredClone(demoDocument()));
  edit(document);
  return { ...document, demo: false };
}
const pupil = (/** @type {object} */ known) => with_(({ lenses }) => Object.assign(lenses.find((/** @type {any} */ { id }) => id === "50"), { pupil: known }));
const KEPT = {
  "a lens by its front": pupil({ by: "front", frontDiameterMm: 77 }),
  "a lens by two cards": pupil({ by: "cards", nearMm: 500, nearHeightMm: 260, farMm: 1500, farHeightMm: 740 }),
  "a lens by a ring": pupil({ by: "ring", ringDiameterMm: 80, darkensFromMm: 30 }),
  "a lens nobody measured": with_(({ inUse }) => Object.assign(inUse, { lens: "zoom 50–140" })),
  "a rig that screws on": with_(({ inUse }) => Object.assign(inUse, { rig: "screw-in", lens: "85" })),
  "an extender": with_(({ today }) => Object.assign(today.lenses, { 50: { extender: 1.4 } })),
};

/** A page that finds this document. @param {Document} setup */
async function pageWith(setup) {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true });
  await context.addInitScript((text) => {
    if (window.origin !== "null" && !localStorage.glasscall) localStorage.setItem("glasscall", text);
  }, JSON.stringify({ version: 2, setup, drafts: {}, look: "system", shows: {}, edit: 7, by: "w", heads: { w: 7 }, unsaved: 0 }));
  return { context, ...(await open(context, server.url)) };
}

/** A new page whose second half is held back until it is let go. */
async function withoutTheRest() {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true });
  let letGo = () => {};
  const gone = new Promise((done) => (letGo = () => done(undefined)));
  await context.route("**/rest.wasm", async (route) => {
    await gone;
    await route.continue();
  });
  return { context, page: await context.newPage(), letGo: () => letGo() };
}

for (const [what, setup] of Object.entries(KEPT)) {
  test(`a case with ${what} is there again after a reload`, async () => {
    const { context, page, errors } = await pageWith(setup);
    for (const visit of ["first", "second"]) {
      await ready(page);
      await soon.deepEqual(() => page.evaluate(() => [localStorage["glasscall-aside"], JSON.parse(localStorage.glasscall).setup.inUse]), [undefined, setup.inUse], visit);
      await soon.ok(() => page.locator("#now .plate-stop").isVisible(), visit);
      await soon.ok(() => page.locator("#notice").isHidden(), visit);
      await page.reload();
    }
    assert.deepEqual(errors, []);
    await context.close();
  });
}

test("an edit that only the whole module can answer is kept, said to wait, and answered", async () => {
  const { context, page, letGo } = await withoutTheRest();
  await page.goto(server.url);
  await page.locator("html[data-answered]").waitFor();
  const rig = page.locator("select[data-pick=rig]");
  await rig.selectOption("screw-in");
  await page.locator("#now").getByText("The rest of this page is on its way.").waitFor();
  // No stop of the set-up before stands there as if it were this one's.
  await soon.ok(() => page.locator("#now .plate-stop").isHidden());
  await soon.ok(() => page.locator("#notice").isHidden());
  letGo();
  await ready(page);
  await soon.ok(() => page.locator("#now .plate-stop").isVisible());
  await soon.equal(() => rig.inputValue(), "screw-in");
  await soon.equal(() => page.getByText("The rest of this page is on its way.").filter({ visible: true }).count(), 0);
  await page.reload();
  await ready(page);
  await soon.equal(() => rig.inputValue(), "screw-in");
  await context.close();
});

test("where the whole module did not come, the next signal asks again", async () => {
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true });
  let asked = 0;
  await context.route("**/rest.wasm", (route) => {
    asked += 1;
    return route.abort();
  });
  meansToFail(/ERR_FAILED/);
  const page = await context.newPage();
  await page.goto(server.url);
  await page.locator("html[data-answered]").waitFor();
  await page.locator("select[data-pick=rig]").selectOption("screw-in");
  const waits = page.locator("#now").getByText("The rest of this page is on its way.");
  await waits.waitFor();
  await soon.ok(() => asked > 0);
  await context.unroute("**/rest.wasm");
  await page.evaluate(() => window.dispatchEvent(new Event("online")));
  await soon.ok(() => page.locator("#now .plate-stop").isVisible());
  await soon.ok(() => waits.isHidden());
  await soon.equal(() => page.locator("select[data-pick=rig]").inputValue(), "screw-in");
  await context.close();
});

test("a record that says it is newer and cannot be used is told of, and what is older stands", async () => {
  const { context, page } = await pageWith(demoDocument());
  await ready(page);
  await soon.ok(() => page.evaluate(() => JSON.parse(localStorage.glasscall).edit >= 7));
  await page.locator("#now .step").filter({ visible: true }).first().tap();
  await inBothPlaces(page);
  const edit = await page.evaluate(() => JSON.parse(localStorage.glasscall).edit);
  await page.goto(`${server.url}icon.svg`);
  const spoiled = JSON.stringify({ version: 2, setup: { kit: "none" }, edit: edit + 1 });
  await page.evaluate((text) => localStorage.setItem("glasscall", text), spoiled);
  await page.goto(server.url);
  await ready(page);
  await soon.match(() => page.locator("#notice").innerText(), /What was kept last could not be read/);
  await soon.equal(() => page.evaluate(() => localStorage["glasscall-aside"]), spoiled);
  await context.close();
});

test("the element answers a lens by its front, and says what it has not", async () => {
  const host = await browser.newContext({ viewport: PHONE });
  for (const [what, told] of [["a lens by its front", /stops/], ["an extender", /stops/], ["a rig that screws on", /embed-more\.js/]]) {
    const page = await host.newPage();
    await page.route("**/host.html", async (route) => route.fulfill({
      contentType: "text/html",
      body: `<!doctype html><script src="embed.js" defer></script><glasscall-setup setup="${await writeLink(partsToSend(KEPT[/** @type {keyof typeof KEPT} */ (what)]))}"></glasscall-setup>`,
    }));
    await page.goto(`${server.url}host.html`);
    await soon.match(() => page.locator("glasscall-setup .glass").innerText(), /** @type {RegExp} */ (told), String(what));
    await page.close();
  }
  await host.close();
});

test("a set-up in a link waits for the whole module, and so does whatever is tapped before it is there", async () => {
  const { context, page, letGo } = await withoutTheRest();
  /** @type {Error[]} */
  const errors = [];
  page.on("pageerror", (error) => errors.push(error));
  await page.goto(`${server.url}#now?s=${await writeLink(partsToSend(KEPT["a rig that screws on"]))}`);
  await page.locator("html[data-answered]").waitFor();
  await page.locator("#now [data-do=said]").tap();
  letGo();
  await page.locator("#drawer, .drawer").filter({ visible: true }).waitFor();
  await page.keyboard.press("Escape");
  const notice = page.locator("#notice");
  await soon.match(() => notice.innerText(), /A set-up has come[\s\S]*Use it/);
  // Told whole, not to be scrolled for.
  await soon.ok(() => notice.locator(".notice-text").evaluate((text) => text.scrollHeight <= text.clientHeight + 1));
  assert.deepEqual(errors, []);
  await context.close();
});
