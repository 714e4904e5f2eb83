// @ts-check
/** The rig in use as a whole, and rigs that are kept beside it. */
import { ask } from "../../engine/ask.js";
import { IN_USE } from "../../document/case-content.js";
import { movedRefusal } from "../../questions/plan.js";
import { forgetLostSlots, freeId } from "../../document/setup.js";
import { say } from "../../language/say.js";
import { fixed } from "../../language/numbers.js";
import { MOUNTS, openingText, slotsText } from "../../language/words/planning.js";
import { all, el, one } from "../../parts/dom.js";
import { mountField } from "../../parts/field.js";
import { checkField, choiceField, field, rows, textField } from "../../parts/rows.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../api/glasscall.js").CaseSlot} CaseSlot
 */

/** @param {Setup} setup */
const rigsCheck = ({ stock: { rigs, slots } }) =>
  movedRefusal(ask("writeCase", { case: { rigs, slots }, as: "json" }).refusal, "", "stock.");

/** @param {Setup} setup */
const inUseCheck = ({ rig: { slots: _, always: __, ...facts } }) =>
  movedRefusal(ask("writeCase", { case: { rigs: [{ id: IN_USE, ...facts }] }, as: "json" }).refusal, "rigs[0]", "rig");

/** What a rig is besides its slots. @param {string} path */
const factFields = (path) => [
  field(say("Minutes a move"), `${path}.minutesPerMove`, "number", say("not known"), say("take out, clean, put in, check")),
  field(say("Weighs, grams"), `${path}.massG`, "number", say("not known"), say("without filters")),
  field(say("Its middle ahead of the rim"), `${path}.middleMm`, "length", say("at the rim"), say("where its weight hangs")),
  field(say("Screws on a thread of"), `${path}.threadMm`, "mm", say("stands on rods"), say("then rings join it to each lens")),
  field(say("Costs"), `${path}.cost`, "number", say("nothing"), say("0 where you have it")),
];

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountRigs(root, app) {
  const facts = one(root, ".rig-facts");
  const mount = choiceField(say("How filters go in"), MOUNTS, app.setup.rig.mount, undefined, (value) =>
    app.change(({ rig }) => {
      rig.mount = /** @type {any} */ (value);
    }));
  facts.append(mount, ...factFields("rig"));
  const fields = all(facts, ".field").map((box) => mountField(box, app, inUseCheck));

  const slotsOf = (/** @type {string} */ id) => app.setup.stock.slots.filter((slot) => slot.rig === id);
  const rigs = rows(one(root, "[data-rows='stock.rigs']"), app, {
    list: () => app.setup.stock.rigs,
    path: "stock.rigs",
    fields: rigFields,
    facts: ({ id, mount: how, minutesPerMove }) => [
      MOUNTS[how],
      slotsText(slotsOf(id).length),
      minutesPerMove === undefined ? "" : say("{minutes} min a move", { minutes: fixed(minutesPerMove, 2) }),
    ].filter(Boolean).join(", "),
    check: rigsCheck,
    remove: ({ stock }, at) => {
      const [gone] = stock.rigs.splice(at, 1);
      stock.slots = stock.slots.filter((slot) => slot.rig !== gone.id);
      stock.openings = stock.openings.filter((opening) => opening.rig !== gone.id);
    },
  });
  const slots = rows(one(root, "[data-rows='stock.slots']"), app, {
    list: () => app.setup.stock.slots,
    // Another shape has other fields.
    kind: (slot) => slot.opening?.shape ?? "",
    path: "stock.slots",
    fields: slotFields,
    facts: (/** @type {CaseSlot} */ { rig, size, rotates, opening }) =>
      [say("slot|of {rig}", { rig }), size, rotates ? say("rotates") : "", openingText(opening)].filter(Boolean).join(", "),
    check: rigsCheck,
    remove: ({ stock }, at) => {
      stock.slots.splice(at, 1);
    },
  });
  one(root, "[data-do=keep-rig]").addEventListener("click", () =>
    app.change(({ stock, rig }) => {
      const { slots: used, always, ...what } = structuredClone(rig);
      const id = freeId(stock.rigs, say("id|rig"));
      stock.rigs.push({ id, ...what });
      stock.slots.push(...used.map((slot) => ({ rig: id, ...slot })));
      stock.openings.push(...always.map((opening) => ({ rig: id, opening })));
    }));
  one(root, "[data-do=add-kept-slot]").addEventListener("click", () =>
    app.change(({ stock }) => {
      if (stock.rigs.length === 0) stock.rigs.push({ id: say("id|rig"), mount: "matteBox" });
      const rig = stock.rigs[stock.rigs.length - 1].id;
      const like = stock.slots.filter((slot) => slot.rig === rig);
      stock.slots.push({ rig, id: freeId(like, say("slot {number}", { number: like.length + 1 })), size: "", rotates: false });
    }));
  return () => {
    one(mount, "select").value = app.setup.rig.mount;
    fields.forEach((show) => show());
    rigs();
    slots();
  };
}

/** @param {App} app @param {number} at @param {string} path */
function rigFields(app, at, path) {
  const { rigs } = app.setup.stock;
  return [
    textField(say("Name"), rigs[at].id, (name) => {
      if (name === IN_USE || rigs.some((rig, other) => other !== at && rig.id === name)) return say("“{name}” is used already.", { name });
      app.change(({ stock }) => {
        const from = stock.rigs[at].id;
        stock.rigs[at].id = name;
        for (const part of [...stock.slots, ...stock.openings]) if (part.rig === from) part.rig = name;
      });
      return "";
    }),
    choiceField(say("How filters go in"), MOUNTS, rigs[at].mount, undefined, (value) =>
      app.change(({ stock }) => {
        stock.rigs[at].mount = /** @type {any} */ (value);
      })),
    ...factFields(path),
    el("button", { type: "button", class: "row-use", onclick: () => app.change((setup) => putOn(setup, at)) }, say("Put it on the camera")),
  ];
}

/** The kept rig as the one in use; the one that was in use is kept only if it was before. @param {Setup} setup @param {number} at */
function putOn(setup, at) {
  const { stock } = setup;
  const { id, ...facts } = structuredClone(stock.rigs[at]);
  const alone = (/** @type {any} */ { rig: _, ...slot }) => slot;
  setup.rig = {
    ...facts,
    slots: structuredClone(stock.slots.filter((slot) => slot.rig === id).map(alone)),
    always: structuredClone(stock.openings.filter((opening) => opening.rig === id).map(({ opening }) => opening)),
  };
  forgetLostSlots(setup);
}

/** @param {App} app @param {number} at @param {string} path */
function slotFields(app, at, path) {
  const { slots, rigs } = app.setup.stock;
  const { opening } = slots[at];
  const names = Object.fromEntries(rigs.map(({ id }) => [id, id]));
  return [
    choiceField(say("Rig"), names, slots[at].rig, undefined, (value) =>
      app.change(({ stock }) => {
        const slot = stock.slots[at];
        slot.rig = value;
        slot.id = freeId(stock.slots.filter((other) => other !== slot && other.rig === value), slot.id);
      })),
    textField(say("Name"), slots[at].id, (name) => {
      if (slots.some((slot, other) => other !== at && slot.rig === slots[at].rig && slot.id === name)) return say("“{name}” is used already.", { name });
      app.change(({ stock }) => {
        stock.slots[at].id = name;
      });
      return "";
    }),
    field(say("Size"), `${path}.size`, "text", say("any"), say("as your pieces call it")),
    checkField(say("a piece in it can be turned"), Boolean(slots[at].rotates), (on) =>
      app.change(({ stock }) => {
        stock.slots[at].rotates = on;
      })),
    choiceField(say("Clear opening"), { rectangle: say("rectangular"), circle: say("round") }, opening?.shape ?? "", say("not known"), (value) =>
      app.change(({ stock }) => {
        const slot = stock.slots[at];
        const { distanceFromRimMm = 10, depthMm } = slot.opening ?? {};
        const where = { distanceFromRimMm, ...(depthMm === undefined ? {} : { depthMm }) };
        if (value === "circle") slot.opening = { ...where, shape: "circle", diameterMm: 78 };
        else if (value) slot.opening = { ...where, shape: "rectangle", widthMm: 134, heightMm: 95 };
        else delete slot.opening;
      })),
    ...(opening ? [
      field(say("Its rear ahead of the rim"), `${path}.opening.distanceFromRimMm`, "length", undefined, say("or of the last ring")),
      field(say("Depth"), `${path}.opening.depthMm`, "length", say("a thin edge")),
      ...(opening.shape === "circle"
        ? [field(say("Clear diameter"), `${path}.opening.diameterMm`, "length", undefined)]
        : [
          field(say("Clear width"), `${path}.opening.widthMm`, "length", undefined),
          field(say("Clear height"), `${path}.opening.heightMm`, "length", undefined),
        ]),
    ] : []),
  ];
}
