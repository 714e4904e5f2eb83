// @ts-check
/** The lines of the filters over the picture: of the one in hand with its handle, of each other with its name. */
import { gradsBeside, profileIn } from "../../questions/frame.js";
import { FRAME_WORDS } from "../../language/words/frame.js";
import { el, one } from "../../parts/dom.js";

/** @typedef {import("../../document/setup.js").Setup} Setup */
/** @typedef {import("../../document/frame.js").HeldLine} HeldLine */

/** @param {HTMLElement} root @param {Setup} setup as drawn @param {(id: string) => void} take another of them in hand */
export function showGrips(root, setup, take) {
  const grip = one(root, ".frame-grip");
  const handle = one(root, ".frame-handle");
  grip.hidden = handle.hidden = profileIn(setup) === undefined;
  place(setup.frame, grip, handle);
  showOthers(one(root, ".frame-others"), setup, take);
}

/** @param {HeldLine} held @param {HTMLElement} grip @param {HTMLElement} mark */
function place({ line, rotationDeg }, grip, mark) {
  grip.style.top = mark.style.top = `${(1 - line) * 100}%`;
  grip.style.transform = `rotate(${-rotationDeg}deg)`;
}

/** @param {HTMLElement} box @param {Setup} setup @param {(id: string) => void} take */
function showOthers(box, setup, take) {
  const others = gradsBeside(setup).flatMap(({ id, said }) => (said ? [{ id, said }] : []));
  const told = JSON.stringify(others);
  // What is under a finger stays there while the one in hand is slid.
  if (told === box.dataset.told) return;
  const focused = box.contains(document.activeElement);
  box.dataset.told = told;
  box.replaceChildren(...others.flatMap(({ id, said }, nth) => {
    const grip = el("div", { class: "frame-grip frame-grip-other", "aria-hidden": "true" });
    const mark = el("button", { type: "button", class: "frame-other", "aria-label": FRAME_WORDS.takeInHand(id), onclick: () => take(id) },
      el("span", { translate: "no", text: id }));
    place(said, grip, mark);
    mark.style.setProperty("--nth", String(nth));
    return [grip, mark];
  }));
  if (focused) box.querySelector("button")?.focus({ preventScroll: true });
}
