// The core journeys in Chromium, Firefox and WebKit, served and from disk.
import { pathToFileURL } from "node:url";
import { after, before, test } from "node:test";
import { ENGINES } from "./engines/engines.mjs";
import { start } from "./engines/page.mjs";
import { DIST, serveDist } from "./harness.mjs";
import { soon } from "./soon.mjs";

/** @typedef {import("./engines/page.mjs").Page} Page */

/** @type {Awaited<ReturnType<typeof serveDist>>} */
let server;
before(async () => {
  server = await serveDist();
});
after(() => server.stop());

const SOURCES = {
  served: () => server.url,
  "from disk": () => `${pathToFileURL(DIST)}glasscall.html`,
};

/** @param {string} engine @param {string} url @param {(page: Page) => Promise<void>} act */
async function withPage(engine, url, act) {
  const page = await start(engine, url);
  try {
    await act(page);
    await page.done();
  } finally {
    await page.close();
  }
}

/** @param {Page} page */
async function nineAndSix(page) {
  await page.sees(".need-stops", /^5 stops$/);
  await page.sees("[data-answer=pieces]", /^1\.2 IR \+ 0\.3/);
  await page.sees("[data-answer=stop]", /^T2\.8$/);
}

/** What a crew does with it, in order; each line is one thing that must work. @type {Record<string, (page: Page) => Promise<void>>} */
const JOURNEYS = {
  async "answers, reads what people say, steps back and keeps a look"(page) {
    await nineAndSix(page);
    await page.fill("#read-stop", "T11 and two thirds");
    await soon.equal(() => page.value("#read-stop"), "T11⅔");
    await page.sees(".need-stops", /^4\.67 stops$/);
    await page.tap("[data-do=undo]");
    await nineAndSix(page);

    await page.fill("#read-stop", "letters");
    await page.sees("#now [data-field='reading.aperture'] .field-error", /“letters” is not understood/);
    await nineAndSix(page);
    await page.tap(".shows > summary");
    await page.choose("[data-do=look]", "night");
    const black = () => getComputedStyle(document.documentElement).backgroundColor === "rgb(0, 0, 0)";
    await page.until("the night look", black);
    await page.reload();
    await page.until("the night look after a reload", black);
    await soon.equal(() => page.value("#read-stop"), "letters");
    await nineAndSix(page);
  },

  async "shows every screen with its answer"(page) {
    await page.screen("fit");
    await page.sees(".fit-verdict", /^(Clear|Shades|Clips|Look through the lens)\s+.*\d mm/);
    await page.screen("frame");
    await page.until("the loss map", () => {
      const canvas = /** @type {HTMLCanvasElement} */ (document.querySelector(".frame-picture"));
      if (canvas.width < 2) return false;
      const { data } = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d")).getImageData(0, 0, canvas.width, canvas.height);
      return new Set(Array.from({ length: canvas.height }, (_, row) => data[4 * row * canvas.width + 40])).size > 20;
    });
    await page.sees(".frame-readout", /stops? lost at \d+ % across, \d+ % up/);
    await page.screen("light");
    await page.fill("#light-place", "52° 0′ N 5° 0′ E");
    await page.run(() => {
      const day = /** @type {HTMLInputElement} */ (document.querySelector("[data-do=date]"));
      day.value = "2024-06-21";
      for (const kind of ["input", "change"]) day.dispatchEvent(new Event(kind, { bubbles: true }));
    });
    await page.sees(".sun-day", /Rise\s+\d\d:\d\d/);
    await page.sees(".sun-now", /\d+(\.\d+)?°/);
    await page.run(() => {
      location.hash = "#light?sky";
    });
    await page.sees(".sky-answer", /\d/);
  },

  async "takes pieces in, logs, and has both after a reload"(page) {
    await page.screen("case");
    await page.tap("[data-do=empty-case]");
    for (const piece of ["0.9", "point six"]) {
      await page.fill("#new-piece", piece);
      await page.tap("[data-do=add-piece]");
    }
    await page.screen("now");
    await page.fill("#read-stop", "T16");
    await page.sees("[data-answer=pieces]", /^0\.9 \+ 0\.6/);
    await page.screen("day");
    await page.tap("#day [data-do=log]");
    await page.sees(".day-log > .row", /^\d\d:\d\d\s+T16, nothing in/);
    await page.reload();
    await page.screen("day");
    await page.sees(".day-log > .row", /^\d\d:\d\d\s+T16, nothing in/);
    await soon.equal(async () => await page.run(() => document.querySelectorAll(".day-log > .row").length), 1);
    await page.screen("case");
    await page.sees("[data-rows=kit]", /0\.6/);
  },

  async "searches beside the page"(page) {
    // Counted before the screen that asks is drawn anew.
    await page.run(() => {
      const Plain = Worker;
      /** @type {any} */ (window).heard = 0;
      window.Worker = class extends Plain {
        /** @param {string | URL} url @param {WorkerOptions} [options] */
        constructor(url, options) {
          super(url, options);
          this.addEventListener("message", () => (/** @type {any} */ (window).heard += 1));
        }
      };
    });
    await page.screen("case");
    await page.tap(".case-parts a[href='#case?order']");
    await page.fill("#new-set-up", "quay 5⅓");
    await page.tap("[data-do=add-set-up]");
    await page.sees(".order-answer", /Proven/);
    await page.sees("[data-rows='plan.setUps']", /quay/);
    await soon.ok(async () => await page.run(() => /** @type {any} */ (window).heard) > 0, "a worker answered");
  },
};

for (const engine of Object.keys(ENGINES)) {
  for (const [source, url] of Object.entries(SOURCES)) {
    for (const [name, journey] of Object.entries(JOURNEYS)) {
      test(`${engine}, ${source}: ${name}`, () => withPage(engine, url(), journey));
    }
  }

  test(`${engine}: once opened it answers with the server dead`, async (t) => {
    const own = await serveDist();
    t.after(own.stop);
    await withPage(engine, own.url, async (page) => {
      // A first visit is over when every screen was fetched, by page and worker.
      await page.until("every screen", () => document.documentElement.dataset.ready === "every screen");
      await page.until("the offline copy", async () => (await navigator.serviceWorker.getRegistration())?.active?.state === "activated");
      await own.stop();
      await page.reload();
      await nineAndSix(page);
      await page.screen("light");
      await page.sees(".sun-now", /\d/);
    });
  });
}
