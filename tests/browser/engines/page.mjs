/** The page as a test uses it, whatever engine it is in. */
import assert from "node:assert/strict";
import { MOMENT, standAt } from "../moment.mjs";
import { MOST_MS, countUnfinished, untilDone } from "../settled.mjs";
import { until as untilThere } from "../until.mjs";
import { ENGINES } from "./engines.mjs";

/** @typedef {Awaited<ReturnType<typeof start>>} Page */

/**
 * Opens the page in a browser with an empty profile.
 * @param {string} engine @param {string} url
 */
export async function start(engine, url) {
  const driver = await ENGINES[engine]();

  /** Waits until a function in the page gives something; says what it waited for. */
  const until = (/** @type {string} */ what, /** @type {Function} */ fn, /** @type {any[]} */ ...given) =>
    untilThere(`${what} in ${engine}`, () => driver.run(fn, ...given));
  const alive = async () => {
    await until("the page", () => document.documentElement.dataset.ready);
    // WebDriver runs nothing before a page's own scripts; no screen that asks
    // the time is shown by then.
    await driver.run(standAt, MOMENT);
    await driver.run(countUnfinished);
    await driver.run(() => {
      /** @type {any} */ (window).faults = [];
      const note = (/** @type {any} */ event) => /** @type {any} */ (window).faults.push(String(event.message ?? event.reason ?? event.violatedDirective));
      for (const kind of ["error", "unhandledrejection", "securitypolicyviolation"]) addEventListener(kind, note);
    });
  };
  const tap = async (/** @type {string} */ css) => {
    await driver.run(untilDone, MOST_MS);
    // In the middle, where nothing that sticks to an edge covers it; what is in
    // the document and not yet shown cannot be tapped.
    await until(`${css} under a finger`, (/** @type {string} */ css) => {
      const found = document.querySelector(css);
      if (!found?.checkVisibility()) return false;
      found.scrollIntoView({ block: "center", behavior: "instant" });
      const { left, top, width, height } = found.getBoundingClientRect();
      const hit = document.elementFromPoint(left + width / 2, top + height / 2);
      return found.contains(hit) || (hit?.contains(found) && hit.tagName === "LABEL");
    }, css);
    await driver.click(css);
  };
  /** Ends it; what went wrong in the page fails the test. */
  const done = async () => {
    assert.deepEqual(await driver.run(() => /** @type {any} */ (window).faults), [], engine);
  };
  await driver.open(url).then(alive).catch(async (error) => {
    await driver.close();
    throw error;
  });

  return {
    run: driver.run,
    choose: driver.choose,
    press: driver.press,
    until,
    tap,
    /** Types over what a field holds, and leaves it. @param {string} css @param {string} text */
    async fill(css, text) {
      await tap(css);
      await driver.run((/** @type {string} */ css) => /** @type {HTMLInputElement} */ (document.querySelector(css)).select(), css);
      await driver.type(text);
      await driver.press("Tab");
    },
    /** @param {string} css */
    value: (css) => driver.run((/** @type {string} */ css) => /** @type {HTMLInputElement} */ (document.querySelector(css)).value, css),
    /** Waits for a text to be seen. @param {string} css @param {RegExp} wanted */
    async sees(css, wanted) {
      try {
        await until(`${css} to read ${wanted}`, async (/** @type {string} */ css, /** @type {string} */ source) => {
          const found = /** @type {HTMLElement | null} */ (document.querySelector(css));
          return found !== null && found.checkVisibility() && new RegExp(source).test(found.innerText);
        }, css, wanted.source);
      } catch (error) {
        // What stands there says more than that it is not what was wanted.
        const last = await driver.run((/** @type {string} */ css) => /** @type {HTMLElement | null} */ (document.querySelector(css))?.innerText, css);
        assert.match(String(last), wanted, String(error));
        throw error;
      }
    },
    /** @param {string} name */
    async screen(name) {
      await tap(`.tabs a[href="#${name}"]`);
      await until(`the screen ${name}`, (/** @type {string} */ name) => document.querySelector(`#${name}`)?.checkVisibility(), name);
    },
    /** Replaces the page; what went wrong in the old one fails the test. */
    async reload() {
      await done();
      await driver.run(() => {
        document.documentElement.dataset.ready = "";
        // After the answer to this call, which the old page gives.
        setTimeout(() => location.reload());
      });
      await alive();
    },
    done,
    close: driver.close,
  };
}
