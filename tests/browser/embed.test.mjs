// A set-up in other people's pages: sandboxed, under a strict policy, on another origin, in a wiki's page.
import assert from "node:assert/strict";
import { once } from "node:events";
import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import { after, before, test } from "node:test";
import { DIST, PHONE, servedPage } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { until } from "./until.mjs";
import { writeLink } from "../../target/modules/hand-over/link.js";
import { elementSnippet, frameSnippet } from "../../target/modules/hand-over/snippet.js";
import { demoDocument } from "../../target/modules/document/demo.js";

const { browser, server } = await servedPage();
/** A page of somebody else, on an origin of its own. */
let host;
let hosted = { policy: "", body: "", lang: "en" };
let link;
before(async () => {
  host = createServer((_, response) => {
    response.setHeader("Content-Type", "text/html; charset=utf-8");
    response.setHeader("Content-Security-Policy", hosted.policy);
    response.end(`<!doctype html><html lang="${hosted.lang}"><title>Host</title><body>${hosted.body}</body></html>`);
  }).listen(0, "127.0.0.1");
  await once(host, "listening");
  const document = demoDocument();
  document.reading.aperture = 22;
  link = await writeLink(document);
});
after(() => host.close());

/** Opens the host page; gives what the browser complained about too. */
async function openHost(policy, body, { lang = "en", ...more } = {}) {
  hosted = { policy, body, lang };
  const context = await browser.newContext({ viewport: PHONE, ...more });
  const page = await context.newPage();
  const errors = [];
  page.on("pageerror", (error) => errors.push(error.message));
  page.on("console", (message) => message.type() === "error" && errors.push(message.text()));
  const requests = [];
  context.on("request", (request) => requests.push(request.url()));
  await page.goto(`http://127.0.0.1:${host.address().port}/`);
  return { context, page, errors, requests };
}

/** Only the frame is allowed, and the one script that sets its height. */
const framePolicy = () => `default-src 'none'; frame-src ${server.url}; style-src 'unsafe-inline'; script-src 'nonce-a'; img-src data:`;
const HEIGHT_SCRIPT = async () => {
  const help = await readFile(`${DIST}embed-help.html`, "utf8");
  const snippet = help.match(/<code>(window\.addEventListener[^]*?)<\/code>/)[1];
  return `<script nonce="a">${snippet.replaceAll("&gt;", ">").replaceAll("&lt;", "<").replaceAll("&amp;", "&")}</script>`;
};

test("the frame's snippet works sandboxed under a strict policy, and its height is told", async () => {
  const { context, page, errors, requests } = await openHost(framePolicy(), (await HEIGHT_SCRIPT()) + frameSnippet(link, `${server.url}#day`, "en"));
  const frame = page.frameLocator("iframe");
  await frame.locator(".need-stops").waitFor();
  await soon.match(() => frame.locator(".need-stops").innerText(), /^6 stops$/);
  await soon.match(() => frame.locator(".caution").innerText(), /not eye protection/);
  await soon.equal(() => frame.locator("input, button").count(), 0);
  await until("the frame's height", () => page.evaluate(() => Number(document.querySelector("iframe").height) !== 620));
  const tall = await page.locator("iframe").evaluate((one) => one.clientHeight);
  const content = await frame.locator("html").evaluate((one) => one.scrollHeight);
  assert.ok(Math.abs(tall - content) <= 1, `${tall} for ${content}`);
  // No origin of its own: no storage, no worker, and nothing asked for but itself.
  await soon.equal(() => frame.locator("html").evaluate(() => window.origin), "null");
  assert.deepEqual(requests.filter((url) => url.startsWith(server.url)).map((url) => new URL(url).pathname), ["/embed.html"]);
  assert.deepEqual(errors, []);
  await context.close();
});

test("a live frame answers, steps, and keeps what is typed under the finger", async () => {
  const { context, page, errors } = await openHost(framePolicy(), frameSnippet(`${link}&mode=live&look=night`, server.url, "en"));
  const frame = page.frameLocator("iframe");
  const stop = frame.getByLabel("You read", { exact: true });
  await stop.fill("T11 and two thirds");
  await soon.match(() => frame.locator(".need-stops").innerText(), /^4\.67 stops$/);
  await soon.equal(() => stop.inputValue(), "T11 and two thirds");
  await frame.getByRole("button", { name: "You want: open a third" }).click();
  await soon.match(() => frame.locator(".need-stops").innerText(), /^5 stops$/);
  await stop.fill("nothing");
  await soon.match(() => frame.locator(".field-error").first().innerText(), /not understood/);
  await soon.match(() => frame.locator(".need-stops").innerText(), /^5 stops$/);
  await soon.equal(() => frame.locator(".glass").getAttribute("data-look"), "night");
  assert.deepEqual(errors, []);
  await context.close();
});

test("the host changes the frame's look by a message", async () => {
  const script = '<script nonce="a">document.querySelector("iframe").addEventListener("load", (e) => e.target.contentWindow.postMessage({ type: "glasscall:look", look: "sun" }, "*"))</script>';
  const { context, page } = await openHost(framePolicy(), frameSnippet(link, server.url, "en") + script);
  await page.frameLocator("iframe").locator('.glass[data-look="sun"]').waitFor();
  await context.close();
});

test("a damaged set-up says so instead of showing another", async () => {
  const { context, page } = await openHost(framePolicy(), frameSnippet(link.slice(0, -20), server.url, "en"));
  const frame = page.frameLocator("iframe");
  await soon.match(() => frame.getByRole("alert").innerText(), /damaged/);
  await soon.equal(() => frame.locator(".need").count(), 0);
  await context.close();
});

/** The element needs its script and WebAssembly, nothing else. */
const elementPolicy = () => `default-src 'none'; script-src ${server.url}embed.js 'nonce-a' 'wasm-unsafe-eval'; style-src 'nonce-a'`;
/** What a host may do to every element there is. */
const LOUD = '<style nonce="a">* { color: rgb(255, 0, 0) !important; font-size: 40px !important } p, .need { display: none !important } .field { border: 9px solid red }</style>';

test("the element's snippet works under a strict policy, apart from the host's styles", async () => {
  const { context, page, errors, requests } = await openHost(elementPolicy(), LOUD + elementSnippet(link, server.url, "<p>Table</p>"));
  const element = page.locator("glasscall-setup");
  await element.locator(".need-stops").waitFor();
  await soon.match(() => element.locator(".need-stops").innerText(), /^6 stops$/);
  const seen = await element.locator(".need-more").evaluate((one) => [getComputedStyle(one).color, getComputedStyle(one).display]);
  assert.notEqual(seen[0], "rgb(255, 0, 0)");
  await soon.match(() => element.locator(".caution").innerText(), /not eye protection/);
  await element.getByLabel("You want", { exact: true }).fill("4");
  await soon.match(() => element.locator(".need-stops").innerText(), /^5 stops$/);
  await element.evaluate((one) => one.setAttribute("mode", "read"));
  await element.locator(".say").waitFor();
  await soon.equal(() => element.locator("input, button").count(), 0);
  assert.deepEqual(requests.filter((url) => url.startsWith(server.url)).map((url) => new URL(url).pathname), ["/embed.js"]);
  assert.deepEqual(errors, []);
  await context.close();
});

test("the element is dark where the host is, and follows when that changes", async () => {
  const dark = '<style nonce="a">body { background: #fff } html.dark-theme body { background: #14181c }</style>';
  const { context, page } = await openHost(elementPolicy(), dark + elementSnippet(link, server.url, ""));
  const box = page.locator("glasscall-setup .glass");
  await box.waitFor();
  await soon.equal(() => box.getAttribute("data-look"), "day");
  const before = await box.evaluate((one) => getComputedStyle(one).backgroundColor);
  await page.evaluate(() => document.documentElement.classList.add("dark-theme"));
  await page.locator('glasscall-setup .glass[data-look="dark"]').waitFor();
  await soon.notEqual(() => box.evaluate((one) => getComputedStyle(one).backgroundColor), before);
  await context.close();
});

test("the element speaks the language of the page it stands in, the frame the one it is asked for", async () => {
  const german = await openHost(elementPolicy(), elementSnippet(link, server.url, ""), { lang: "de-CH", locale: "en-GB" });
  const element = german.page.locator("glasscall-setup");
  await element.locator(".need-stops").waitFor();
  await soon.match(() => element.locator(".need-stops").innerText(), /^6 Blenden$/);
  await soon.match(() => element.locator(".caution").innerText(), /kein Augenschutz/);
  await soon.equal(() => element.getByLabel("Gewünscht", { exact: true }).inputValue(), "T2,8");
  assert.deepEqual(german.errors, []);
  await german.context.close();
  const english = await openHost(framePolicy(), frameSnippet(link, server.url, "en"), { locale: "de-DE" });
  await english.page.frameLocator("iframe").locator(".need-stops", { hasText: "6 stops" }).waitFor();
  await english.context.close();
  const asked = await openHost(framePolicy(), frameSnippet(link, server.url, "de"), { locale: "en-GB" });
  await asked.page.frameLocator("iframe").locator(".need-stops", { hasText: "6 Blenden" }).waitFor();
  assert.deepEqual(asked.errors, []);
  await asked.context.close();
});

test("without a script the element's place shows the table", async () => {
  const { context, page } = await openHost("default-src 'none'", elementSnippet(link, server.url, "<table><tr><td>0.9</td></tr></table>"), { javaScriptEnabled: false });
  await soon.equal(() => page.locator("glasscall-setup td").innerText(), "0.9");
  await context.close();
});

test("the help behind it is dressed, asks for nothing that is not there and fits a phone", async () => {
  const context = await browser.newContext({ viewport: PHONE });
  const page = await context.newPage();
  const answers = [];
  page.on("response", (response) => answers.push([new URL(response.url()).pathname, response.status()]));
  await page.goto(`${server.url}embed-help.html`);
  assert.deepEqual(answers.filter(([, status]) => status !== 200), []);
  const seen = await page.evaluate(() => ({
    top: getComputedStyle(document.querySelector(".top")).backgroundColor,
    wide: document.documentElement.scrollWidth - innerWidth,
    tall: document.documentElement.scrollHeight > innerHeight,
    under: document.querySelector("main").getBoundingClientRect().top - document.querySelector(".top").getBoundingClientRect().bottom,
  }));
  assert.notEqual(seen.top, "rgba(0, 0, 0, 0)");
  assert.ok(seen.wide <= 0 && seen.tall, JSON.stringify(seen));
  assert.ok(Math.abs(seen.under) < 1, JSON.stringify(seen));
  await context.close();
});
