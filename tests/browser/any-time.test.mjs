// What must hold whenever and wherever the page is opened.
import { test } from "node:test";
import { screensOf } from "./axe.mjs";
import { PHONE, open, ready, servedPage, setMoment } from "./harness.mjs";
import { soon } from "./soon.mjs";

const { browser, server } = await servedPage();

/**
 * Local times by hand: UTC and the zone's offset on that day, from the public
 * time zone database. `up` is whether the sun is, which is plain to see at
 * these hours and places.
 */
const TIMES = {
  "noon": { moment: "2026-06-21T11:45:00Z", zone: "Europe/Brussels", local: "2026-06-21 13:45", up: true },
  "night": { moment: "2026-12-21T02:00:00Z", zone: "Europe/Brussels", local: "2026-12-21 03:00", up: false },
  "midnight itself": { moment: "2026-06-20T22:00:00Z", zone: "Europe/Brussels", local: "2026-06-21 00:00", up: false },
  "a polar day at midnight": { moment: "2026-06-20T22:30:00Z", zone: "Europe/Brussels", place: "78.2, 15.6", local: "2026-06-21 00:30", up: true },
  "a polar night at noon": { moment: "2026-12-21T11:00:00Z", zone: "Europe/Brussels", place: "78.2, 15.6", local: "2026-12-21 12:00", up: false },
  "the end of a month": { moment: "2026-04-30T21:59:59Z", zone: "Europe/Brussels", local: "2026-04-30 23:59", up: false },
  "the end of a year, a day ahead of UTC": { moment: "2026-12-31T10:30:00Z", zone: "Pacific/Kiritimati", local: "2027-01-01 00:30", up: true },
  "a leap day": { moment: "2028-02-29T12:00:00Z", zone: "Europe/Brussels", local: "2028-02-29 13:00", up: true },
  "the hour that summer time leaves out": { moment: "2026-03-29T01:00:00Z", zone: "Europe/Brussels", local: "2026-03-29 03:00", up: false },
  "an offset of 12:45": { moment: "2026-06-21T12:00:00Z", zone: "Pacific/Chatham", local: "2026-06-22 00:45", up: true },
};

for (const [when, { moment, zone, place, local, up }] of Object.entries(/** @type {Record<string, {moment: string, zone: string, place?: string, local: string, up: boolean}>} */ (TIMES))) {
  test(`${when}: every screen answers, and the time is the device's`, async () => {
    const context = await browser.newContext({ viewport: PHONE, timezoneId: zone });
    const { page } = await open(context, server.url);
    await setMoment(page, moment);
    await page.reload();
    await ready(page);
    for (const name of await screensOf(page)) {
      await page.goto(`${server.url}#${name}`);
      await page.locator(`#${name}`).waitFor();
      await soon.doesNotMatch(() => page.locator(`#${name}`).innerText(), /NaN|Infinity|Invalid|undefined/, name);
    }
    await page.goto(`${server.url}#light`);
    if (place) await page.locator("#light-place").fill(place);
    const [day, clock] = local.split(" ");
    await soon.equal(() => page.locator("#light [data-do=date]").inputValue(), day);
    // By night as by day it says where the sun is and what the sky does.
    await soon.match(() => page.locator("#light .sun-now").innerText(), /\d°/);
    await soon.match(() => page.locator("#light .sun-day").innerText(), up || !place ? /\d\d:\d\d|does not set/ : /does not rise/);
    const sky = page.locator("#light .sky-answer");
    await soon.notEqual(() => sky.innerText(), "");
    await (up ? soon.doesNotMatch : soon.match)(() => sky.innerText(), /sun is down/);
    await page.goto(`${server.url}#day`);
    await page.locator("#day [data-do=log]").click();
    await soon.ok(async () => (await page.locator(".day-log > .row").first().innerText()).startsWith(`${clock} `), `logged at ${clock}`);
    await context.close();
  });
}
