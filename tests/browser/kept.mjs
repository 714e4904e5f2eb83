/** What a page keeps on the device, looked at in both places. */
import { until } from "./until.mjs";

/** @typedef {import("playwright-core").Page} Page */

const KEY = "glasscall";
/** Every window's record of the case in the second place. */
export const ALL_WINDOWS = ["glasscall", "glasscall \uffff"];

/** @param {Page} page */
export const ready = (page) => page.waitForSelector("html[data-ready]");
/** @param {Page} page */
export const readStop = (page) => page.getByLabel("You read", { exact: true });
/** @param {Page} page */
export const closeThird = (page) => page.getByRole("button", { name: "You read: close a third" }).click();
/** @param {Page} page */
export const notice = (page) => page.locator("#notice");
/** What local storage holds. @param {Page} page */
export const kept = (page) => page.evaluate((key) => JSON.parse(localStorage.getItem(key) ?? "null"), KEY);

/** The newest that the second place holds. @param {Page} page */
export const mirrored = (page) => page.evaluate(([from, to]) => new Promise((done) => {
  const request = indexedDB.open("glasscall");
  request.onsuccess = () => {
    const got = request.result.transaction("kept").objectStore("kept").getAll(IDBKeyRange.bound(from, to));
    got.onsuccess = () => {
      request.result.close();
      done(got.result.sort((a, b) => b.edit - a.edit)[0]);
    };
  };
}), ALL_WINDOWS);

/** Until the second place has what the first has. @param {Page} page */
export const inBothPlaces = (page) =>
  until("the newest edit in the database", async () => {
    const [here, there] = [await kept(page), await mirrored(page)];
    return here !== null && there?.edit === here.edit;
  });

/** Until a start has shown every screen and kept that it could. @param {Page} page */
export const backedUp = (page) => page.waitForFunction(() => new Promise((done) => {
  const request = indexedDB.open("glasscall");
  request.onsuccess = () => {
    const got = request.result.transaction("kept").objectStore("kept").count(IDBKeyRange.bound("glasscall-backup-", "glasscall-backup-\uffff"));
    got.onsuccess = () => {
      request.result.close();
      done(got.result > 0);
    };
  };
}));

/** Until local storage takes no sign more. @param {Page} page */
export const fillLocalStorage = (page) => page.evaluate(() => {
  let part = "x".repeat(1 << 20);
  for (let at = 0; part.length > 0; at += 1) {
    try {
      localStorage.setItem(`filler ${at}`, part);
    } catch {
      part = part.slice(0, part.length >> 1);
    }
  }
});

/** How many pieces the case shows. @param {Page} page @param {string} url */
export async function pieces(page, url) {
  await page.goto(`${url}#case`);
  return page.locator("[data-rows=kit] > li").count();
}
