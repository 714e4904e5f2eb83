// @ts-check
/** Rigs that are kept beside the one in use. */
import { ask } from "../engine.js";
import { forgetLostSlots, freeId } from "../setup.js";
import { movedRefusal } from "../stock.js";
import { fixed } from "../show.js";
import { counted, MOUNTS } from "../words/planning.js";
import { el, one } from "../parts/dom.js";
import { choiceField, field, rows, textField } from "../parts/rows.js";

/**
 * @typedef {import("../app.js").App} App
 * @typedef {import("../setup.js").Setup} Setup
 */

/** @param {Setup} setup */
const rigsCheck = (setup) =>
  movedRefusal(ask("writeCase", { case: { rigs: setup.stock.rigs }, as: "json" }).refusal, "", "stock.");

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountRigs(root, app) {
  const slotsOf = (/** @type {string} */ id) => app.setup.stock.slots.filter((slot) => slot.rig === id);
  const rigs = rows(one(root, "[data-rows='stock.rigs']"), app, {
    list: () => app.setup.stock.rigs,
    path: "stock.rigs",
    fields: rigFields,
    facts: ({ id, mount, minutesPerMove }) => [
      MOUNTS[mount],
      counted(slotsOf(id).length, "slot"),
      minutesPerMove === undefined ? "" : `${fixed(minutesPerMove, 2)} min a move`,
    ].filter(Boolean).join(", "),
    check: rigsCheck,
    remove: ({ stock }, at) => {
      const [gone] = stock.rigs.splice(at, 1);
      stock.slots = stock.slots.filter((slot) => slot.rig !== gone.id);
    },
  });
  one(root, "[data-do=keep-rig]").addEventListener("click", () =>
    app.change(({ stock, rig }) => {
      const id = freeId(stock.rigs, "rig");
      stock.rigs.push({ id, mount: "matteBox" });
      stock.slots.push(...rig.slots.map((slot) => ({ rig: id, ...structuredClone(slot) })));
    }));
  return rigs;
}

/** @param {App} app @param {number} at @param {string} path */
function rigFields(app, at, path) {
  const { rigs } = app.setup.stock;
  return [
    textField("Name", rigs[at].id, (name) => {
      if (name === "in use" || rigs.some((rig, other) => other !== at && rig.id === name)) return `“${name}” is used already.`;
      app.change(({ stock }) => {
        const from = stock.rigs[at].id;
        stock.rigs[at].id = name;
        for (const slot of stock.slots) if (slot.rig === from) slot.rig = name;
      });
      return "";
    }),
    choiceField("How filters go in", MOUNTS, rigs[at].mount, undefined, (value) =>
      app.change(({ stock }) => {
        stock.rigs[at].mount = /** @type {any} */ (value);
      })),
    field("Minutes a move", `${path}.minutesPerMove`, "number", "not known"),
    field("Weighs, grams", `${path}.massG`, "number", "not known", "without filters"),
    field("Costs", `${path}.cost`, "number", "not known"),
    el("button", {
      type: "button",
      class: "row-use",
      onclick: () => app.change((setup) => {
        const { id } = setup.stock.rigs[at];
        setup.rig.slots = structuredClone(setup.stock.slots.filter((slot) => slot.rig === id)
          .map(({ rig: _, ...slot }) => slot));
        forgetLostSlots(setup);
      }),
    }, "Put it on the camera"),
  ];
}
