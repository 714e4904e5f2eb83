// @ts-check
/** One line above the tabs: what has just happened, with a way back. */
import { say } from "../language/say.js";
import { el, one } from "../parts/dom.js";

/** How long a line stands that nobody touches. */
const STANDS_MS = 9000;

/** @type {ReturnType<typeof setTimeout> | undefined} */
let timer;
/** Whether a pointer is on the line. After a finger `:hover` would stay, even on the next line. */
let over = false;

/**
 * What must be answered stays; all else goes by itself.
 * @param {string} text
 * @param {string} [action]
 * @param {() => void} [act]
 * @param {boolean} [stays]
 */
export function notify(text, action, act, stays = false) {
  const notice = one(document, "#notice");
  const away = () => {
    clearTimeout(timer);
    over = false;
    notice.hidden = true;
    notice.replaceChildren();
  };
  notice.classList.toggle("notice-stays", stays);
  notice.replaceChildren(el("span", { class: "notice-text", text }));
  if (action && act) {
    notice.append(el("button", { type: "button", onclick: () => {
      away();
      act();
    } }, action));
  }
  notice.append(el("button", { type: "button", class: "notice-away", "aria-label": say("Close this line"), onclick: away }, "×"));
  notice.hidden = false;
  notice.onpointerenter = () => (over = true);
  notice.onpointerleave = () => (over = false);
  clearTimeout(timer);
  if (stays) return;
  const goes = () => {
    // Whoever reads or reaches for it is not robbed of it.
    if (over || notice.matches(":focus-within")) timer = setTimeout(goes, STANDS_MS);
    else away();
  };
  timer = setTimeout(goes, STANDS_MS);
}
