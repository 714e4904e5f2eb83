// @ts-check
/** The rig from the side, and the same as a list: a tap puts in, takes out, changes the lens. */
import { ask } from "../../engine/ask.js";
import { emptySlot, putInSlot, putOnLens, turnWheel } from "../../document/edits.js";
import { asIfRead, OPEN_UP } from "../../questions/open-up.js";
import { openingsOf } from "../../questions/fit.js";
import { say } from "../../language/say.js";
import { fixed, lengthText } from "../../language/numbers.js";
import { KINDS, WORDS } from "../../language/words/shared.js";
import { lensesToPick, rigName } from "../../parts/in-use.js";
import { showChips } from "../../parts/chips.js";
import { el, one } from "../../parts/dom.js";
import { openDrawer } from "../../parts/drawer.js";
import { lensName } from "../../parts/picks.js";
import { sideView } from "../../parts/side-view.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../document/setup.js").Slot} Slot
 */

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountRig(root, app) {
  const list = one(root, ".side-list");
  const view = one(root, ".side-view");
  /** What each part opens. @type {Record<string, (button: HTMLElement) => void>} */
  let opens = {};
  // The picture is touched where it shows the thing; keys and readers have the list.
  view.addEventListener("click", (/** @type {Event} */ { target }) => {
    const name = /** @type {Element} */ (target).closest("[data-part]")?.getAttribute("data-part") ?? "";
    const button = list.querySelector(`[data-opens="${CSS.escape(name)}"]`);
    if (button instanceof HTMLElement) opens[name]?.(button);
  });
  return () => {
    const { setup } = app;
    const focused = list.contains(document.activeElement) ? /** @type {HTMLElement} */ (document.activeElement).dataset.opens : undefined;
    view.replaceChildren(sideView(setup));
    const ofLens = (/** @type {HTMLElement} */ button) => changeLens(button, app);
    opens = { lens: ofLens };
    list.replaceChildren(
      el("li", {}, opener("lens", lensName(setup), say("lens"), ofLens)),
      ...setup.rig.slots.map((slot) => {
        const id = setup.inPlace.find((placed) => placed.slot === slot.id)?.piece;
        const ofSlot = (/** @type {HTMLElement} */ button) => changeSlot(button, app, slot);
        opens[`slot ${slot.id}`] = ofSlot;
        return el("li", {}, opener(`slot ${slot.id}`, id ?? "—", slotText(setup, slot), ofSlot));
      }));
    if (focused !== undefined) /** @type {HTMLElement | null} */ (list.querySelector(`[data-opens="${CSS.escape(focused)}"]`))?.focus({ preventScroll: true });
    one(root, "#rig-title").textContent = say("In the rig: {rig}", { rig: rigName(setup) });
    showChips(one(root, "[data-chips=wheel]"), setup.wheel.map((density) => ({
      id: WORDS.wheelAt(density),
      on: density === setup.wheelNow,
    })), (id) => app.do(turnWheel, setup.wheel.find((density) => WORDS.wheelAt(density) === id) ?? 0));
  };
}

/** @param {string} name @param {string} text @param {string} note @param {(button: HTMLElement) => void} open */
function opener(name, text, note, open) {
  const button = el("button", { type: "button", class: text === "—" ? "side-part side-empty" : "side-part", "aria-haspopup": "dialog" },
    el("span", { class: "side-name", text: note }), el("span", { class: "side-piece", text }));
  button.dataset.opens = name;
  button.addEventListener("click", () => open(button));
  return button;
}

/** @param {Setup} setup @param {Slot} slot */
function slotText(setup, slot) {
  const at = openingsOf(setup).find((found) => found.slot === slot.id)?.opening.distanceFromRimMm;
  return [slot.id, at === undefined ? "" : lengthText(at, 0), slot.rotates ? "↻" : ""].filter(Boolean).join(" · ");
}

/** @param {HTMLElement} button @param {App} app */
function changeLens(button, app) {
  const { ids, on } = lensesToPick(app.setup);
  openDrawer(button, say("Lens"), (close) => [
    el("div", { class: "drawer-list" }, ...ids.map((id) => {
      const lens = app.setup.stock.lenses.find((one_) => one_.id === id);
      const stop = lens?.tNumber === undefined ? "" : `T${fixed(lens.tNumber, 2)}`;
      return el("button", { type: "button", "aria-pressed": String(id === on), onclick: () => {
        app.do(putOnLens, id);
        close();
      } }, el("span", { text: id }), el("small", { text: stop }));
    })),
    el("p", {}, el("a", { href: "#case?lenses" }, say("More lenses: in the case"))),
  ]);
}

/** @param {HTMLElement} button @param {App} app @param {Slot} slot */
function changeSlot(button, app, slot) {
  const now = app.setup.inPlace.find((placed) => placed.slot === slot.id)?.piece;
  openDrawer(button, say("Into {slot}", { slot: slot.id }), (close) => {
    const fitting = app.setup.kit.filter((piece) => goesIn(app.setup, slot, piece.id));
    return [
      el("div", { class: "drawer-list" },
        ...(now === undefined ? [] : [el("button", { type: "button", class: "drawer-out", onclick: () => {
          app.do(emptySlot, slot.id);
          close();
        } }, say("Take {piece} out", { piece: now }))]),
        ...fitting.map((piece) => {
          const where = app.setup.inPlace.find((placed) => placed.piece === piece.id && placed.slot !== slot.id)?.slot;
          return el("button", { type: "button", "aria-pressed": String(piece.id === now), onclick: () => {
            app.do(putInSlot, slot.id, piece.id);
            close();
          } }, el("span", { text: piece.id }), el("small", { text: [piece.kind === "nd" ? "" : KINDS[piece.kind ?? "nd"], where && say("now in {slot}", { slot: where })].filter(Boolean).join(", ") }));
        })),
      ...(fitting.length === 0 ? [el("p", { class: "hint", text: say("No piece of the case fits this slot.") })] : []),
    ];
  });
}

/** Whether a slot takes a piece: its size, and whether it must turn. @param {Setup} setup @param {Slot} slot @param {string} id */
function goesIn(setup, slot, id) {
  const { fit: _, wheelInfrared: __, ...question } = OPEN_UP.request(asIfRead(setup));
  const { reply } = ask("openUp", {
    ...question,
    kit: (question.kit ?? []).filter((piece) => piece.id === id || question.reading.through?.includes(piece.id))
      .map((piece) => ({ ...piece, count: Math.max(1, piece.count ?? 1) })),
    rig: { slots: [{ id: slot.id, size: slot.size, rotates: slot.rotates }] },
    wheel: [],
    inPlace: [],
    keep: [id],
    limit: 1,
  });
  return reply !== undefined;
}
