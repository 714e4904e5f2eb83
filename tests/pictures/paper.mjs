// Every screen as the browser's own command prints it, and every sheet of Day,
// on A4 and Letter, as PDF files to look at: `node pictures/paper.mjs FOLDER`
import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { PHONE, launch, open, serveDist, unfoldDay } from "../browser/harness.mjs";
import { putInWay } from "../browser/now-acts.mjs";

const SCREENS = ["now", "fit", "light", "frame", "case", "day"];
const folder = process.argv[2];
if (!folder) throw new Error("where to?");
await mkdir(folder, { recursive: true });
const [browser, server] = await Promise.all([launch(), serveDist()]);
const context = await browser.newContext({ viewport: PHONE });
await context.addInitScript(unfoldDay);
const { page } = await open(context, server.url);
await page.waitForSelector("html[data-ready='every screen']", { state: "attached" });
await putInWay(page, "0.9 + 0.6");
await page.locator("#now [data-do=log]").click();

/** @param {string} name @param {import("playwright-core").PDFOptions} options */
async function keep(name, options) {
  const pdf = await page.pdf(options);
  await writeFile(join(folder, `${name}.pdf`), pdf);
  console.log(name, pdf.toString("latin1").match(/\/Type\s*\/Page\b/g)?.length, "pages");
}

for (const screen of SCREENS) {
  await page.goto(`${server.url}#${screen}`);
  await page.locator(`#${screen}`).waitFor();
  for (const format of ["A4", "Letter"]) {
    await page.evaluate(() => delete document.documentElement.dataset.print);
    await keep(`screen-${screen}-${format}`, { format });
  }
}
await page.evaluate(() => {
  window.print = () => undefined;
});
const sheets = await page.locator("[data-do=print-what] option").evaluateAll((all) => all.map((one) => /** @type {HTMLOptionElement} */ (one).value));
for (const sheet of sheets) {
  for (const paper of ["a4", "letter"]) {
    await page.locator("[data-do=print-what]").selectOption(sheet);
    await page.locator("[data-do=paper]").selectOption(paper);
    await page.locator("[data-do=print]").click();
    await keep(`sheet-${sheet}-${paper}`, { preferCSSPageSize: true });
  }
}
await browser.close();
await server.stop();
