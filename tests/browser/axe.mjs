/** Faults that axe-core finds on the page as it stands. */
import { createRequire } from "node:module";

const AXE = createRequire(import.meta.url).resolve("axe-core/axe.min.js");
const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

/** The context needs `bypassCSP`. @param {import("playwright-core").Page} page @returns {Promise<string[]>} */
export async function faultsOf(page) {
  const size = page.viewportSize();
  // As tall as the content: what lies under the tabs would count as covered.
  await page.setViewportSize({ width: size.width, height: 600 + await page.evaluate(() => (document.querySelector(".page") ?? document.documentElement).scrollHeight) });
  if (!await page.evaluate(() => "axe" in window)) await page.addScriptTag({ path: AXE });
  const { violations } = await page.evaluate((runOnly) => window.axe.run(document, { runOnly }), RULES);
  await page.setViewportSize(size);
  return violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.target.join(" ")).join(", ")}`);
}

/** Faults against single rules on the page at the place it is scrolled to. @param {import("playwright-core").Page} page @param {string[]} rules @returns {Promise<string[]>} */
export async function faultsAsItStands(page, rules) {
  if (!await page.evaluate(() => "axe" in window)) await page.addScriptTag({ path: AXE });
  const { violations } = await page.evaluate((values) => window.axe.run(document, { runOnly: { type: "rule", values } }), rules);
  return violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.target.join(" ")).join(", ")}`);
}

/** Every screen there is, from the page itself. @param {import("playwright-core").Page} page @returns {Promise<string[]>} */
export const screensOf = (page) => page.locator(".tabs a").evaluateAll((links) => links.map((link) => link.getAttribute("href").slice(1)));

/** Opens everything of the screens that can be opened. @param {import("playwright-core").Page} page @param {string} [within] */
export const openAll = (page, within = "main") => page.locator(`${within} details`).evaluateAll((all) => all.forEach((one) => { one.open = true; }));
