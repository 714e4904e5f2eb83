/** The three engines, each behind the same few actions. */
import { existsSync } from "node:fs";
import puppeteer from "puppeteer-core";
import { LOCALE } from "../moment.mjs";
import { surroundings, startWebDriver } from "./webdriver.mjs";

/**
 * What every engine's driver can do.
 * @typedef {object} Driver
 * @property {(url: string) => Promise<unknown>} open
 * @property {(fn: Function, ...given: any[]) => Promise<any>} run runs a function inside the page
 * @property {(css: string) => Promise<unknown>} click
 * @property {(css: string, value: string) => Promise<unknown>} choose one option of a list
 * @property {(text: string) => Promise<unknown>} type into what has the focus
 * @property {(key: "Tab" | "Enter" | "Escape") => Promise<unknown>} press
 * @property {() => Promise<void>} close
 */

/** Where Debian puts WebKitGTK's own small browser. */
export const WEBKIT = ["4.1", "6.0", "4.0"]
  .flatMap((version) => ["x86_64", "aarch64"].map((machine) => `/usr/lib/${machine}-linux-gnu/webkit2gtk-${version}/MiniBrowser`))
  .find(existsSync);

/** Each start is a browser with an empty profile. @type {Record<string, () => Promise<Driver>>} */
export const ENGINES = {
  Chromium: () => startWebDriver(["chromedriver", "--port=PORT"], {
    "goog:chromeOptions": {
      binary: process.env.CHROMIUM ?? "/usr/bin/chromium",
      args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--window-size=500,900", `--accept-lang=${LOCALE}`,
        "--disable-background-networking", "--disable-component-update", "--disable-sync",
        "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"],
    },
  }),
  Firefox: startFirefox,
  WebKit: () => startWebDriver(["xvfb-run", "--auto-servernum", "WebKitWebDriver", "--port=PORT"], {
    "webkitgtk:browserOptions": { binary: WEBKIT, args: ["--automation"] },
  }),
};

/** Debian's Firefox comes without a WebDriver; it speaks WebDriver BiDi itself. @returns {Promise<Driver>} */
async function startFirefox() {
  const browser = await puppeteer.launch({
    browser: "firefox", executablePath: "/usr/bin/firefox-esr", headless: true, env: surroundings,
    extraPrefsFirefox: { "intl.accept_languages": LOCALE },
  });
  const page = await browser.newPage();
  await page.setViewport({ width: 500, height: 900 });
  return {
    open: (url) => page.goto(url),
    run: (fn, ...given) => page.evaluate(/** @type {any} */ (fn), ...given),
    click: (css) => page.click(css),
    choose: (css, value) => page.select(css, value),
    type: (text) => page.keyboard.type(text),
    press: (key) => page.keyboard.press(key),
    close: () => browser.close(),
  };
}
