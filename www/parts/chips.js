// @ts-check
/** A row of pieces to tap on and off. */
import { el } from "./dom.js";

/**
 * Shows one chip for each piece; keeps focus on the chip that was tapped.
 * @param {HTMLElement} root
 * @param {{id: string, on: boolean, note?: string}[]} chips
 * @param {(id: string) => void} tap
 */
export function showChips(root, chips, tap) {
  const focused = root.contains(document.activeElement)
    ? /** @type {HTMLElement} */ (document.activeElement).dataset.id
    : undefined;
  root.replaceChildren(
    ...chips.map(({ id, on, note }) => {
      const chip = el("button", {
        type: "button",
        class: "chip",
        "aria-pressed": String(on),
        onclick: () => tap(id),
      }, id);
      chip.dataset.id = id;
      if (note) chip.append(" ", el("span", { class: "chip-note" }, note));
      return chip;
    }),
  );
  if (focused !== undefined) {
    const again = [...root.children].find((chip) => /** @type {HTMLElement} */ (chip).dataset.id === focused);
    /** @type {HTMLElement | undefined} */ (again)?.focus();
  }
}
