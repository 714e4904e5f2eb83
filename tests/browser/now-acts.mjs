/** What a hand does on Now, for tests that are about something else. */

/** Puts a piece into a slot by the list beside the picture of the rig. @param {import("playwright-core").Page} page @param {string} slot @param {string} piece */
export async function putInSlot(page, slot, piece) {
  await page.locator(`#now .side-list [data-opens="slot ${slot}"]`).click();
  await page.locator(".drawer-list button", { has: page.getByText(piece, { exact: true }) }).click();
}

/** Takes out what a slot holds. @param {import("playwright-core").Page} page @param {string} slot */
export async function emptySlot(page, slot) {
  await page.locator(`#now .side-list [data-opens="slot ${slot}"]`).click();
  await page.locator(".drawer-made .drawer-out").click();
}

/** What is in, slot by slot. @param {import("playwright-core").Page} page */
export const whatIsIn = (page) => page.locator("#now .side-list > li:not(:first-child) .side-piece").allInnerTexts();

/** One of the ways offered goes in. @param {import("playwright-core").Page} page @param {string} pieces as the strip names them */
export async function putInWay(page, pieces) {
  await page.locator("#now .strip-way", { hasText: `${pieces} →` }).first().click();
  await page.locator("#now [data-do=put-in]").click();
}

/** Opens a line below the answer. @param {import("playwright-core").Page} page @param {string} line */
export async function openLine(page, line) {
  const details = page.locator(`#now details:is(.now-${line}, .now-${line} > details)`).first();
  if (!await details.evaluate((one) => one.open)) await details.locator("summary").first().click();
}
