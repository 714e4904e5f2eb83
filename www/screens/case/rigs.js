// @ts-check
/** The rig in use as a whole, and rigs that are kept beside it. */
import { RIG_IN_USE, RIGS } from "../../questions/case-lists.js";
import { answerTo } from "../../questions/question.js";
import { copyRig, putOnRig, removeRecord, renameRecord } from "../../document/edits.js";
import { freeId } from "../../document/document.js";
import { say } from "../../language/say.js";
import { fixed } from "../../language/numbers.js";
import { MOUNTS, openingText, slotsText } from "../../language/words/planning.js";
import { all, el, one } from "../../parts/dom.js";
import { mountField } from "../../parts/field.js";
import { checkField, choiceField, field, nameField, rows } from "../../parts/rows.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../api/glasscall.js").CaseRig} CaseRig
 * @typedef {import("../../api/glasscall.js").CaseSlot} CaseSlot
 */

/** @param {Setup} setup */
const rigsCheck = (setup) => answerTo(RIGS, setup).refusal;

/** @param {Setup} setup */
const inUseCheck = (setup) => answerTo(RIG_IN_USE, setup).refusal;

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
    path: "stock.rigs",
    fields: rigFields,
    facts: (/** @type {CaseRig} */ { id, mount: how, minutesPerMove }) => [
      MOUNTS[how],
      slotsText(slotsOf(id).length),
      minutesPerMove === undefined ? "" : say("{minutes} min a move", { minutes: fixed(minutesPerMove, 2) }),
    ].filter(Boolean).join(", "),
    check: rigsCheck,
    removes: ({ id }) => app.do(removeRecord, "rigs", id),
  });
  const slots = rows(one(root, "[data-rows='stock.slots']"), app, {
    // Another shape has other fields.
    kind: (/** @type {CaseSlot} */ slot) => slot.opening?.shape ?? "",
    path: "stock.slots",
    fields: slotFields,
    facts: (/** @type {CaseSlot} */ { rig, size, rotates, opening }) =>
      [say("slot|of {rig}", { rig }), size, rotates ? say("rotates") : "", openingText(opening)].filter(Boolean).join(", "),
    check: rigsCheck,
  });
  one(root, "[data-do=keep-rig]").addEventListener("click", () =>
    app.do(copyRig, app.setup.rig.id, say("id|rig")));
  one(root, "[data-do=add-kept-slot]").addEventListener("click", () =>
    app.change(({ stock }) => {
      if (stock.rigs.length === 0) stock.rigs.push({ id: say("id|rig"), mount: "matteBox" });
      const { id: rig = "" } = stock.rigs.at(-1) ?? {};
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

/** @param {App} app @param {import("../../parts/rows.js").Entry<CaseRig>} record */
function rigFields(app, record) {
  const { path, now, change } = record;
  return [
    nameField(app, record, (name) => app.do(renameRecord, "rig", now().id, name)),
    choiceField(say("How filters go in"), MOUNTS, now().mount, undefined, (value) =>
      change((rig) => {
        rig.mount = /** @type {any} */ (value);
      })),
    ...factFields(path),
    el("button", { type: "button", class: "row-use", onclick: () => app.do(putOnRig, now().id) }, say("Put it on the camera")),
  ];
}

/** @param {App} app @param {import("../../parts/rows.js").Entry<CaseSlot>} record */
function slotFields(app, record) {
  const { path, now, change } = record;
  const { opening, rig, rotates } = now();
  const names = Object.fromEntries(app.setup.stock.rigs.map(({ id }) => [id, id]));
  return [
    choiceField(say("Rig"), names, rig, undefined, (value) =>
      change((slot, { stock }) => {
        slot.rig = value;
        slot.id = freeId(stock.slots.filter((other) => other !== slot && other.rig === value), slot.id);
      })),
    nameField(app, record, (name) => change((slot) => {
      slot.id = name;
    })),
    field(say("Size"), `${path}.size`, "text", say("any"), say("as your pieces call it")),
    checkField(say("a piece in it can be turned"), Boolean(rotates), (on) =>
      change((slot) => {
        slot.rotates = on;
      })),
    choiceField(say("Clear opening"), { rectangle: say("rectangular"), circle: say("round") }, opening?.shape ?? "", say("not known"), (value) =>
      change((slot) => {
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
