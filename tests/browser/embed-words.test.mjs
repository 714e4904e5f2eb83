// The element and the frame set up in words, every screen by its name, in hosts that are hostile by chance.
import assert from "node:assert/strict";
import { once } from "node:events";
import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import { after, before, test } from "node:test";
import { DIST, PHONE, servedPage } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";
import { readLink, writeLink } from "../../target/modules/hand-over/link.js";
import { partsToSend } from "../../target/modules/hand-over/offered-set-up.js";
import { demoDocument } from "../../target/modules/document/demo.js";

const { browser, server } = await servedPage();
let host;
let hosted = { body: "", type: "text/html; charset=utf-8" };

before(async () => {
  host = createServer((request, response) => {
    if (request.url !== "/") {
      // The host's own copy, with no word about its charset.
      response.setHeader("Content-Type", "text/javascript");
      readFile(DIST + request.url).then((script) => response.end(script), () => response.writeHead(404).end());
      return;
    }
    response.setHeader("Content-Type", hosted.type);
    response.end(`<!doctype html><html lang="en"><title>Host</title><body>${hosted.body}</body></html>`);
  }).listen(0, "127.0.0.1");
  await once(host, "listening");
});
after(() => host.close());

async function openHost(body, { type = "text/html; charset=utf-8", ...more } = {}) {
  hosted = { body, type };
  const context = await browser.newContext({ viewport: PHONE, ...more });
  const page = await context.newPage();
  await page.goto(`http://127.0.0.1:${host.address().port}/`);
  return { context, page };
}

const WORDS = '<script src="embed.js" defer></script><glasscall-setup reading="T16" want="T2.8" kit="0.3 0.6 0.9 pola" slots="2" mode="live"></glasscall-setup>';

test("a set-up in words answers, tells what is typed, and keeps it over a reload", async () => {
  const { context, page } = await openHost(`<script>addEventListener("glasscall-change", ({ detail }) => { window.told = detail; });</script>${WORDS}`);
  const element = page.locator("glasscall-setup");
  await soon.match(() => element.locator(".need-stops").innerText(), /^5 stops$/);
  await soon.deepEqual(() => element.locator(".stack .slot-piece").allInnerTexts(), ["0.9", "0.6"]);
  await element.getByLabel("You want", { exact: true }).fill("T4");
  await until("the change", () => page.evaluate(() => window.told?.needStops === 4));
  const told = await page.evaluate(() => window.told);
  assert.deepEqual([told.reading, told.want, told.pieces], [16, 4, ["0.9", "0.3"]]);
  const sent = await readLink(told.setup);
  assert.equal(sent.shot.aperture, 4);
  await page.reload();
  await soon.match(() => element.locator(".need-stops").innerText(), /^4 stops$/);
  // Another preset is another question.
  await element.evaluate((one) => one.setAttribute("reading", "T22"));
  await element.locator(".need-stops", { hasText: "6 stops" }).waitFor();
  await element.evaluate((one) => one.setAttribute("kit", "3 stops, ND64, pola"));
  await element.locator(".stack").first().waitFor();
  await element.evaluate((one) => one.setAttribute("reading", "soup"));
  await soon.match(() => element.getByRole("alert").innerText(), /soup/);
  await context.close();
});

test("neither inherited styles nor the direction of the host come in", async () => {
  const plain = await openHost(WORDS);
  const text = (page) => page.locator("glasscall-setup .glass").evaluate((one) => [one.innerText, Math.round(one.getBoundingClientRect().width), Math.round(one.getBoundingClientRect().height)]);
  await plain.page.locator("glasscall-setup .stack").first().waitFor();
  const wanted = await text(plain.page);
  await plain.context.close();
  const styles = "text-transform:uppercase;letter-spacing:1em;white-space:nowrap;text-align:right;direction:rtl;font-size:40px;line-height:4;color:red;word-spacing:3em;visibility:visible";
  const loud = await openHost(`<style>html { ${styles} } glasscall-setup { ${styles} }</style>${WORDS}`);
  await loud.page.locator("glasscall-setup .stack").first().waitFor();
  await soon.deepEqual(() => text(loud.page), wanted);
  await loud.context.close();
});

test("nothing runs out of a narrow column", async () => {
  const { context, page } = await openHost(`<div style="width:260px">${WORDS}</div>`);
  const element = page.locator("glasscall-setup");
  await element.locator(".stack").first().waitFor();
  const out = await element.evaluate((one) => [...one.shadowRoot.querySelectorAll("*")].filter((inner) => inner.getBoundingClientRect().right > one.getBoundingClientRect().right + 1).map((inner) => inner.className));
  assert.deepEqual(out, []);
  await context.close();
});

test("a host with an old charset reads the element's signs right", async () => {
  const script = await readFile(`${DIST}embed.js`);
  assert.ok(script.every((byte) => byte < 0x80), "a sign beyond ASCII");
  const { context, page } = await openHost(WORDS, { type: "text/html; charset=windows-1252" });
  const step = page.locator("glasscall-setup").getByRole("button", { name: "You want: open a third" });
  await step.waitFor();
  await soon.match(() => step.innerText(), /⅓/);
  await context.close();
});

test("however low its frame is, the caution is seen", async () => {
  for (const [height, mode] of [[620, "live"], [300, "live"], [300, ""]]) {
    const { context, page } = await openHost(`<iframe src="${server.url}embed.html#reading=T16&want=T2.8&kit=0.3+0.6+0.9&mode=${mode}" sandbox="allow-scripts" width="320" height="${height}"></iframe>`);
    const caution = page.frameLocator("iframe").locator(".caution");
    await caution.waitFor();
    const { top, bottom, inside } = await caution.evaluate((one) => ({ ...JSON.parse(JSON.stringify(one.getBoundingClientRect())), inside: innerHeight }));
    assert.ok(top >= 0 && bottom <= inside + 1, `${top} to ${bottom} of ${inside}`);
    await context.close();
  }
});

test("the frame tells what is typed", async () => {
  const { context, page } = await openHost(`<script>addEventListener("message", ({ data }) => { if (data.type === "glasscall:change") window.told = data; });</script><iframe src="${server.url}embed.html#reading=T16&want=T2.8&kit=0.3+0.6+0.9&mode=live" sandbox="allow-scripts" width="320" height="620"></iframe>`);
  await page.frameLocator("iframe").getByLabel("You want", { exact: true }).fill("T4");
  await until("the change", () => page.evaluate(() => window.told?.want === 4 && window.told.needStops === 4));
  await context.close();
});

const SCREENS = {
  now: /stops/, fit: /lens|corner|clear|clips|mm/i, frame: /stops lost at/, light: /°/, case: /1\.2 IR/,
};

test("every screen by its name, in a frame and in a page", async () => {
  const link = await writeLink(partsToSend(demoDocument()));
  for (const [screen, says] of Object.entries(SCREENS)) {
    const { context, page } = await openHost(`<iframe src="${server.url}embed-more.html#screen=${screen}&s=${link}" sandbox="allow-scripts" width="360" height="620"></iframe><script src="embed-more.js" defer></script><glasscall-setup screen="${screen}" setup="${link}"></glasscall-setup>`);
    for (const place of [page.frameLocator("iframe"), page]) {
      const glass = place.locator(".glass");
      await glass.locator(".caution").waitFor();
      await soon.match(() => glass.innerText(), says, screen);
      await soon.equal(() => glass.locator(".complaint:not(:empty)").count(), 0, screen);
      await soon.equal(() => glass.locator("input, button").count(), 0);
      if (screen === "frame") {
        const canvas = glass.locator("canvas");
        const colours = await canvas.evaluate((one) => {
          const { data } = one.getContext("2d").getImageData(0, 0, one.width, one.height);
          return new Set(Array.from({ length: one.height }, (_, y) => data.slice((y * one.width + 5) * 4, (y * one.width + 5) * 4 + 3).join())).size;
        });
        assert.ok(colours > 3, `${colours} colours from top to bottom`);
      }
    }
    await context.close();
  }
});

test("a screen that this script does not have says so", async () => {
  const { context, page } = await openHost('<script src="embed.js" defer></script><glasscall-setup screen="frame"></glasscall-setup>');
  await soon.match(() => page.locator("glasscall-setup").getByRole("alert").innerText(), /frame/);
  await context.close();
});

test("the help is dim at night before anything is painted", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const page = await context.newPage();
  await page.goto(`${server.url}embed-help.html`);
  for (const [look, lightest] of [["night", 40], ["day", 255], ["sun", 255]]) {
    await page.evaluate((chosen) => localStorage.setItem("glasscall", JSON.stringify({ look: chosen })), look);
    await page.reload();
    const seen = await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor.match(/\d+/g).map(Number));
    await soon.equal(() => page.locator("html").getAttribute("data-look"), look);
    assert.ok(Math.max(...seen) <= lightest, `${look}: ${seen}`);
    if (look === "night") {
      const colours = await page.evaluate(() => [...document.querySelectorAll("body *")].flatMap((one) => [getComputedStyle(one).color, getComputedStyle(one).backgroundColor, getComputedStyle(one).borderTopColor]));
      for (const colour of new Set(colours)) {
        const [, green, blue, opacity = 1] = colour.match(/[\d.]+/g).map(Number);
        assert.ok(opacity === 0 || (green === 0 && blue === 0), `${colour} at night`);
      }
    }
  }
  await context.close();
});
