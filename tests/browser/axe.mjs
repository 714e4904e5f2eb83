/** Faults that axe-core finds on the page as it stands. */
import { createRequire } from "node:module";

const AXE = createRequire(import.meta.url).resolve("axe-core/axe.min.js");
const RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
/** What alone of it another look can break. */
export const BY_COLOUR = { type: "rule", values: ["color-contrast", "link-in-text-block"] };

/**
 * What it finds in the page. It goes through every node there is, those of screens out of
 * sight too, which takes half its time: they stand aside meanwhile.
 * @param {import("playwright-core").Page} page @param {object} runOnly which rules @param {boolean} [whole] nothing stands aside
 * @returns {Promise<string[]>}
 */
async function found(page, runOnly, whole = false) {
  if (!await page.evaluate(() => "axe" in window)) await page.addScriptTag({ path: AXE });
  const violations = await page.evaluate(async ([rules, all]) => {
    const aside = [...document.querySelectorAll(all ? "nothing" : ".screen[hidden]")].map((screen) => {
      const content = document.createDocumentFragment();
      content.append(...screen.childNodes);
      return { screen, content };
    });
    try {
      return (await window.axe.run(document, { runOnly: rules, resultTypes: ["violations"] })).violations;
    } finally {
      for (const { screen, content } of aside) screen.prepend(content);
    }
  }, /** @type {const} */ ([runOnly, whole]));
  return violations.map((one) => `${one.id}: ${one.nodes.map((node) => node.target.join(" ")).join(", ")}`);
}

/**
 * The context needs `bypassCSP`.
 * @param {import("playwright-core").Page} page @param {{rules?: object, whole?: boolean}} [how]
 * @returns {Promise<string[]>}
 */
export async function faultsOf(page, { rules = RULES, whole = false } = {}) {
  const size = page.viewportSize();
  // As tall as the content: what lies under the tabs would count as covered.
  await page.setViewportSize({ width: size.width, height: 600 + await page.evaluate(() => (document.querySelector(".page") ?? document.documentElement).scrollHeight) });
  const faults = await found(page, rules, whole);
  await page.setViewportSize(size);
  return faults;
}

/** Faults against single rules on the page at the place it is scrolled to. @param {import("playwright-core").Page} page @param {string[]} rules */
export const faultsAsItStands = (page, rules) => found(page, { type: "rule", values: rules });

/** Every screen there is, from the page itself. @param {import("playwright-core").Page} page @returns {Promise<string[]>} */
export const screensOf = (page) => page.locator(".tabs a").evaluateAll((links) => links.map((link) => link.getAttribute("href").slice(1)));

/** Opens everything of the screens that can be opened. @param {import("playwright-core").Page} page @param {string} [within] */
export const openAll = (page, within = "main") => page.locator(`${within} details`).evaluateAll((all) => all.forEach((one) => { one.open = true; }));
