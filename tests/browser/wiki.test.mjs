// A set-up in the page of a real wiki engine (TiddlyWiki, a single-page wiki), written as its users write.
import { once } from "node:events";
import { createServer } from "node:http";
import { createRequire } from "node:module";
import { after, before, test } from "node:test";
import { PHONE, servedPage } from "./harness.mjs";
import { soon } from "./soon.mjs";
import { openUp } from "../../target/modules/api/glasscall.js";
import { partsToSend } from "../../target/modules/hand-over/offered-set-up.js";
import { answerTable } from "../../target/modules/day/columns.js";
import { writeLink } from "../../target/modules/hand-over/link.js";
import { html } from "../../target/modules/day/markup.js";
import { elementSnippet, frameSnippet } from "../../target/modules/hand-over/snippet.js";
import { demoDocument } from "../../target/modules/document/demo.js";
import { resolve } from "../../target/modules/document/resolve.js";
import { OPEN_UP } from "../../target/modules/questions/open-up.js";

const { browser, server } = await servedPage();
let wiki;
let link;
let table;

before(async () => {
  const document = demoDocument();
  document.reading.aperture = 22;
  link = await writeLink(partsToSend(document));
  const setup = resolve(document);
  table = answerTable(setup, openUp(OPEN_UP.request(setup)));
  wiki = createServer((request, response) => {
    response.setHeader("Content-Type", "text/html; charset=utf-8");
    response.end(pages.get(request.url ?? "") ?? "");
  }).listen(0, "127.0.0.1");
  await once(wiki, "listening");
});
after(() => wiki.close());

/** Pages of the wiki by their path. @type {Map<string, string>} */
const pages = new Map();

const require = createRequire(import.meta.url);
const THEMES = ["vanilla", "snowwhite"].map((name) => require.resolve(`tiddlywiki/themes/tiddlywiki/${name}/plugin.info`).replace("/plugin.info", ""));

/** Opens the whole wiki, with this text as the note it begins with. @param {string} text */
async function openWiki(text, more = {}) {
  const engine = require("tiddlywiki").TiddlyWiki();
  engine.boot.argv = ["--version"];
  engine.preloadTiddler({ title: "Pickup", text });
  engine.preloadTiddler({ title: "$:/DefaultTiddlers", text: "Pickup" });
  await new Promise((done) => engine.boot.boot(done));
  for (const theme of THEMES) engine.wiki.addTiddler(new engine.Tiddler(engine.loadPluginFolder(theme)));
  pages.set("/", engine.wiki.renderTiddler("text/plain", "$:/core/save/all"));
  const context = await browser.newContext({ viewport: PHONE, ...more });
  const page = await context.newPage();
  await page.goto(`http://127.0.0.1:${wiki.address().port}/`);
  await page.getByRole("heading", { name: "Pickup" }).waitFor();
  return { context, page };
}

test("the frame works in a note of the wiki", async () => {
  const { context, page } = await openWiki(`Tomorrow again:\n\n${frameSnippet(`${link}&mode=live`, server.url, "en")}`);
  const frame = page.frameLocator("iframe");
  await frame.locator(".need-stops").waitFor();
  await soon.equal(() => frame.locator(".need-stops").innerText(), "6 stops");
  await frame.getByLabel("You want", { exact: true }).fill("4");
  await soon.equal(() => frame.locator(".need-stops").innerText(), "5 stops");
  await soon.equal(() => frame.locator("html").evaluate(() => window.origin), "null");
  await soon.match(() => frame.locator(".caution").innerText(), /not eye protection/);
  await context.close();
});

test("where the wiki strips scripts, the element's place still tells the answer", async () => {
  // Script tags of a note are not run here, as in most wikis.
  const { context, page } = await openWiki(elementSnippet(link, server.url, html(table)));
  const cells = page.locator("glasscall-setup td");
  await cells.first().waitFor();
  await soon.deepEqual(() => cells.allInnerTexts(), table.rows.flat());
  await context.close();
});

test("the plain table stands in a note as it was written", async () => {
  const { context, page } = await openWiki(html(table));
  const caption = page.locator("caption");
  await caption.waitFor();
  await soon.equal(() => caption.innerText(), table.caption);
  await soon.deepEqual(() => page.locator(".tc-tiddler-frame td").allInnerTexts(), table.rows.flat());
  await context.close();
});
