// @ts-check
/** Whole steps and thirds to tap, for a field of stops; typing stays possible. */
import { say } from "../language/say.js";
import { stopLabel } from "../language/numbers.js";
import { el } from "./dom.js";
import { THIRDS } from "./kinds.js";

/** The stop at hand, and where another goes. @typedef {{now: () => number | undefined, take: (value: number) => void}} Stop */

/** Whole step and third nearest to the stop at hand. @param {import("./kinds.js").Pad} keys @param {number | undefined} here */
function nearest(keys, here) {
  const all = keys.values();
  const away = all.map((value) => (here === undefined ? Infinity : keys.apart(value, here)));
  const least = Math.min(...away);
  const at = away.indexOf(least);
  return { all, at, full: Math.floor(at / THIRDS.length), third: at % THIRDS.length, exact: least < 0.001 };
}

/**
 * Head and keys of the pad.
 * @param {import("./kinds.js").Pad} keys
 * @param {Stop} stop
 * @param {{label: string, show: () => void, type: () => void, done: () => void}} acts
 */
function drawn(keys, { now, take }, { label, show, type, done }) {
  const { all, at, full, third, exact } = nearest(keys, now());
  const go = (/** @type {number} */ to) => () => {
    const value = all[Math.max(0, Math.min(all.length - 1, to))];
    if (value !== undefined) take(value);
    show();
  };
  const key = (/** @type {string} */ text, /** @type {() => void} */ act, /** @type {Record<string, string>} */ more = {}) =>
    el("button", { type: "button", class: "pad-key", onclick: act, ...more }, text);
  const stops = keys.fulls.map((text, nth) =>
    key(stopLabel(text), go(nth * THIRDS.length), { "aria-pressed": String(exact && nth === full), "aria-label": keys.name(stopLabel(text)) }));
  const thirds = THIRDS.slice(1).map((text, nth) =>
    key(`+${text}`, go(full * THIRDS.length + nth + 1), { "aria-pressed": String(exact && nth + 1 === third) }));
  return [
    el("div", { class: "pad-head" },
      el("span", { class: "pad-title", text: label }),
      el("button", { type: "button", onclick: done }, say("Done"))),
    el("div", { class: "pad-keys" },
      ...stops,
      ...thirds,
      key("−1", go(at - THIRDS.length), { "aria-label": keys.wholeSteps[0] }),
      key("+1", go(at + THIRDS.length), { "aria-label": keys.wholeSteps[1] }),
      el("button", { type: "button", class: "pad-key pad-type", onclick: type }, say("type it"))),
  ];
}

/**
 * @param {HTMLElement} root the field
 * @param {HTMLInputElement} input
 * @param {import("./kinds.js").Pad} keys
 * @param {Stop} stop
 */
export function mountStopPad(root, input, keys, stop) {
  // The pad is the keyboard, until somebody asks for the device's own.
  input.inputMode = "none";
  const label = root.querySelector("label")?.textContent ?? "";
  /** @type {HTMLElement | undefined} */
  let pad;

  const close = () => {
    pad?.remove();
    pad = undefined;
    document.removeEventListener("pointerdown", beside);
  };
  const beside = (/** @type {PointerEvent} */ { target }) => {
    if (!root.contains(/** @type {Node} */ (target))) close();
  };
  const show = () => pad?.replaceChildren(...drawn(keys, stop, { label, show, type, done: () => {
    close();
    input.focus({ preventScroll: true });
  } }));
  const type = () => {
    close();
    // The device's own keyboard, of numbers; “16 1/3” and “16⅓” are both read.
    input.inputMode = "decimal";
    input.blur();
    input.focus();
    input.select();
    input.addEventListener("blur", () => {
      input.inputMode = "none";
    }, { once: true });
  };
  const open = () => {
    if (pad || input.inputMode !== "none") return;
    pad = el("div", { class: "stop-pad", role: "group", "aria-label": label });
    // The field keeps the focus: whoever has keys goes on typing.
    pad.addEventListener("pointerdown", (event) => event.preventDefault());
    show();
    root.append(pad);
    document.addEventListener("pointerdown", beside);
  };
  input.addEventListener("click", open);
  root.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && pad) close();
  });
  root.addEventListener("focusout", ({ relatedTarget }) => {
    if (relatedTarget && !root.contains(/** @type {Node} */ (relatedTarget))) close();
  });
}
