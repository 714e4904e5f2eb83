// For everybody on every size: tablets, what opens, what is wrong, what is told.
import assert from "node:assert/strict";
import { test } from "node:test";
import { faultsOf, openAll, screensOf } from "./axe.mjs";
import { PHONE, open, ready, servedPage } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";

const TABLETS = { upright: { width: 820, height: 1180 }, lying: { width: 1180, height: 820 } };

const { browser, server } = await servedPage();

/** @param {{width: number, height: number}} [viewport] */
async function opened(viewport = PHONE) {
  const context = await browser.newContext({ viewport, bypassCSP: true });
  const { page, errors } = await open(context, server.url);
  const goTo = async (/** @type {string} */ place) => {
    await page.goto(`${server.url}#${place}`);
    await page.locator(`#${place.split("?")[0]}`).waitFor();
  };
  const done = async () => {
    assert.deepEqual(errors, []);
    await context.close();
  };
  return { page, goTo, done };
}

test("a fault put there is found", async () => {
  const { page, done } = await opened();
  await page.evaluate(() => document.querySelector("label[for=read-stop]")?.remove());
  await soon.match(async () => (await faultsOf(page)).join(), /^label[a-z-]*: #read-stop/);
  await done();
});

for (const [way, viewport] of Object.entries(TABLETS)) {
  test(`no accessibility fault on a tablet, ${way}`, async () => {
    const { page, goTo, done } = await opened(viewport);
    for (const name of await screensOf(page)) {
      await goTo(name);
      await openAll(page);
      await soon.deepEqual(() => faultsOf(page), [], name);
    }
    await done();
  });
}

test("no accessibility fault in what opens and in what is compared", async () => {
  const { page, goTo, done } = await opened(TABLETS.upright);
  for (const part of ["pieces", "lenses", "order", "packing", "systems", "file"]) {
    await goTo(`case?${part}`);
    await openAll(page);
    await soon.deepEqual(() => faultsOf(page), [], part);
  }
  await goTo("day");
  await page.locator("#day [data-do=log]").click();
  await openAll(page, "#day");
  for (const act of ["show-code", "copy-link"]) await page.locator(`[data-do=${act}]`).click();
  await page.locator(".code-picture svg, .code-picture canvas").waitFor();
  await soon.deepEqual(() => faultsOf(page), [], "a code and a hand over");
  await page.locator("[data-do=code-what]").selectOption("case");
  await page.locator("[data-do=show-code]").click();
  await page.locator("[data-do=code-pause]").waitFor({ state: "attached" });
  await soon.deepEqual(() => faultsOf(page), [], "the case as a code");
  await goTo("now");
  await openAll(page, "#now");
  await page.locator("[data-do=wish-kind]").selectOption("places");
  await soon.deepEqual(() => faultsOf(page), [], "a wish");
  await done();
});

test("no accessibility fault where nothing typed is understood", async () => {
  const { page, goTo, done } = await opened(TABLETS.lying);
  for (const name of await screensOf(page)) {
    await goTo(name);
    await openAll(page, `#${name}`);
    const fields = page.locator(`#${name} .field input:visible`);
    for (const field of await fields.all()) await field.fill("?!");
    await page.evaluate(() => /** @type {HTMLElement} */ (document.activeElement).blur());
    if (name !== "day") await soon.ok(async () => await page.locator(`#${name} [aria-invalid=true]`).count() > 0, name);
    await soon.deepEqual(() => faultsOf(page), [], name);
  }
  await done();
});

test("no accessibility fault with a full case and records to settle", async () => {
  const { page, goTo, done } = await opened();
  await page.evaluate(() => {
    const kept = JSON.parse(localStorage.glasscall);
    const { setup } = kept;
    setup.bodies[0].wheel = [0, 0.6, 1.2, 1.8].map((density, at) => ({ id: `${at}`, density }));
    setup.kit.push(...Array.from({ length: 40 }, (_, at) => ({ ...setup.kit[0], id: `p${at}`, measuredDensity: 0.31 + at / 100 })));
    setup.rigs[0].always = [{ name: "hood", distanceFromRimMm: 30, shape: "circle", diameterMm: 95 }];
    setup.unsettled = [{ list: "kit", key: setup.kit[0].id, theirs: { ...setup.kit[0], density: 1.5 }, edited: "2026-06-01T10:00:00Z" }];
    localStorage.glasscall = JSON.stringify(kept);
  });
  await page.reload();
  await ready(page);
  for (const name of ["now", "case", "day"]) {
    await goTo(name);
    await openAll(page, `#${name}`);
    if (name === "day") await page.locator(".unsettled .conflict").waitFor();
    await soon.deepEqual(() => faultsOf(page), [], name);
  }
  await done();
});

/** A node as a screen reader has it. @typedef {{role: string, name: string, live: string, text: string}} Told */

/** Everything a screen reader is told. @param {import("playwright-core").Page} page @returns {Promise<Told[]>} */
async function told(page) {
  const session = await page.context().newCDPSession(page);
  const { nodes } = await session.send("Accessibility.getFullAXTree");
  await session.detach();
  const byId = new Map(nodes.map((node) => [node.nodeId, node]));
  const textIn = (node) => node.role?.value === "StaticText" ? node.name?.value ?? ""
    : (node.childIds ?? []).map((id) => byId.get(id)).filter(Boolean).map(textIn).join(" ");
  return nodes.filter((node) => !node.ignored).map((node) => ({
    role: String(node.role?.value), name: String(node.name?.value ?? ""), text: textIn(node).replace(/\s+/g, " ").trim(),
    live: String(node.properties?.find(({ name }) => name === "live")?.value?.value ?? ""),
  }));
}

test("whatever can be set has a name", async () => {
  const { page, goTo, done } = await opened();
  const settable = ["textbox", "searchbox", "combobox", "listbox", "slider", "spinbutton", "checkbox", "radio", "button", "switch", "link", "Date"];
  for (const name of await screensOf(page)) {
    await goTo(name);
    await openAll(page);
    const nodes = (await told(page)).filter(({ role }) => settable.includes(role));
    assert.ok(nodes.length > 10, name);
    assert.deepEqual(nodes.filter((node) => node.name.trim() === ""), [], name);
  }
  await done();
});

/** What is told when something is changed. */
const LIVE = {
  "the answer": { screen: "now", before: /^5 stops, 1\.2 IR, 0\.3, T2\.8, clear$/, change: ["#read-stop", "T11"], after: /^4 stops, 1\.2 IR, T2\.8, clear$/ },
  "the fit": { screen: "fit", before: /^Clear,? .* mm to spare/, change: ["#fit-focal", "8"], after: /^Clips,? .* mm too narrow/ },
  "the grad": { screen: "frame", before: /^0\.9 hard, 5\.5 mm up, 0\.94 of 3 stops stay$/, change: ["#frame-bright", "T32"], after: / of 2 stops stay$/ },
  "the sun": { screen: "light", before: /\d°/, change: ["#light-place", "-33.9, 18.4"], after: /\d°/ },
  "the order of the day": { screen: "case?order", before: /moves?/, change: ["#new-set-up", "pier 2"], press: "[data-do=add-set-up]", after: /^\d+ moves$/ },
};
for (const [what, { screen, before: first, change: [field, value], press, after: then }] of Object.entries(LIVE)) {
  test(`${what} is told anew when what it rests on changes`, async () => {
    const { page, goTo, done } = await opened();
    await goTo(screen);
    await openAll(page);
    const live = async () => (await told(page)).filter((node) => node.live === "polite");
    // Some answers come from a worker.
    const some = async (/** @type {() => Promise<Told[]>} */ found) => {
      await until(`${what} to be told`, async () => (await found()).length > 0 || Promise.reject(JSON.stringify(await live())));
    };
    await some(async () => (await live()).filter(({ text }) => first.test(text)));
    const were = await live();
    await page.locator(field).fill(value);
    await page.locator(field).blur();
    if (press) await page.locator(press).click();
    await some(async () => (await live()).filter(({ text }) => then.test(text) && !were.some((one) => one.text === text)));
    await done();
  });
}

test("a picture says what it shows in words", async () => {
  const { page, goTo, done } = await opened();
  for (const [name, view] of [["fit"], ["frame"], ["light", "sky"]]) {
    await goTo(view ? `${name}?${view}` : name);
    // A drawing lies in the row of its slot, and is told when that is open.
    await openAll(page, `#${name}`);
    const pictures = (await told(page)).filter(({ role }) => ["img", "image", "graphics-document"].includes(role));
    assert.ok(pictures.length > 0, name);
    assert.deepEqual(pictures.filter((one) => one.name.trim() === ""), [], name);
  }
  await done();
});
