/** A thumb on a phone that counts what it does: taps, fields, swipes. */
import { drawn } from "../browser/harness.mjs";

/** How far one swipe brings the page, px. */
const SWIPE = 500;

export class Hand {
  taps = 0;
  fields = 0;
  swipes = 0;

  /** @param {import("playwright-core").Page} page */
  constructor(page) {
    this.page = page;
  }

  /** What a selector means; the first of many. @param {string} what */
  #at = (what) => this.page.locator(what).first();

  /** Swipes until it stands in view, clear of what lies over the page. @param {string} what */
  async #bring(what) {
    await this.#at(what).waitFor({ timeout: 5_000 });
    this.swipes += await this.#at(what).evaluate((one, swipe) => {
      const moves = (/** @type {Element} */ box) => box.scrollHeight > box.clientHeight + 1 && /auto|scroll/.test(getComputedStyle(box).overflowY);
      let box = one.parentElement;
      while (box && !moves(box)) box = box.parentElement;
      if (!box) return 0;
      const [seen, frame] = [one.getBoundingClientRect(), box.getBoundingClientRect()];
      const top = Math.max(frame.top, 0);
      const end = Math.min(frame.bottom, window.innerHeight);
      // What is higher than the screen is read from its top.
      const far = seen.top < top ? seen.top - top : Math.max(0, Math.min(seen.bottom - end, seen.top - top));
      if (Math.abs(far) < 1) return 0;
      const swipes = Math.ceil(Math.abs(far) / swipe);
      box.scrollBy(0, far);
      return swipes;
    }, SWIPE);
    await drawn(this.page);
  }

  /** @param {string} what */
  async tap(what) {
    await this.#bring(what);
    this.taps += 1;
    await this.#at(what).tap();
    await drawn(this.page);
  }

  /** A screen by its tab. @param {string} name */
  async go(name) {
    await this.tap(`.tabs a[href='#${name}']`);
    await this.page.locator(`#${name}`).waitFor();
  }

  /** One of a native list: it opens, then a line of it. @param {string} what @param {string} label */
  async pick(what, label) {
    await this.#bring(what);
    this.taps += 2;
    await this.#at(what).selectOption({ label });
    await drawn(this.page);
  }

  /** A tap sets the caret; it is counted with the field. @param {string} what @param {string} text */
  async type(what, text) {
    await this.#bring(what);
    this.fields += 1;
    await this.#at(what).fill(text);
    await this.#at(what).evaluate((one) => one.blur());
    await drawn(this.page);
  }

  /** A drag along a slider. @param {string} what @param {string} value */
  async slide(what, value) {
    await this.#bring(what);
    this.taps += 1;
    await this.#at(what).fill(value);
    await drawn(this.page);
  }

  /** The answer: it must be there, and in view. @param {string} what @param {RegExp} says */
  async see(what, says) {
    const text = () => this.#at(what).evaluate((one) => (("value" in one && one.value) || one.innerText || "").replace(/\s+/g, " "));
    // Some answers come from a worker.
    for (let tries = 0; !says.test(await text()); tries += 1) {
      if (tries > 100) throw new Error(`${says} is not in ${what}: ${await text()}`);
      await drawn(this.page);
    }
    await this.#bring(what);
  }

  /** As the table says it. */
  told() {
    const parts = [[this.taps, "t"], [this.fields, "f"], [this.swipes, "s"]].filter(([n]) => Number(n) > 0);
    return parts.length === 0 ? "0" : parts.map(([n, unit]) => `${n} ${unit}`).join(", ");
  }
}
