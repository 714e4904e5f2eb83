// @ts-check
/** Case: the user's own pieces, slots and wheel. */
import { demoDocument } from "../../document/demo.js";
import { isNotSaid } from "../../document/usual-rigs.js";
import { removePiece } from "../../document/edits.js";
import { renamePiece, renameSlot } from "../../document/name-edits.js";
import { freeId } from "../../document/document.js";
import { weighs, weightOf } from "../../questions/rig-compare.js";
import { workingOf } from "../../questions/workings.js";
import { ANY_BEHIND } from "../../questions/depth-and-colour.js";
import { answerTo } from "../../questions/question.js";
import { say } from "../../language/say.js";
import { fixed, stopsText } from "../../language/numbers.js";
import { nameEdit } from "../../language/words/edits.js";
import { densityText, KINDS } from "../../language/words/shared.js";
import { gotText } from "../../language/words/list.js";
import { askedBack } from "../../parts/asked-back.js";
import { all, el, one } from "../../parts/dom.js";
import { mountField } from "../../parts/field.js";
import { checkField, choiceField, field, nameField, rows } from "../../parts/rows.js";
import { openWorking } from "../../parts/working.js";
import { startOwn } from "../../start/own-case.js";
import { caseReader } from "./file.js";
import { gradFields } from "./graduated-edge.js";
import { mountHolds } from "./holds.js";
import { mountListBox } from "./list-box.js";
import { kindText } from "./listed-text.js";
import { turnCase } from "./turned.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Piece} Piece
 * @typedef {import("../../document/setup.js").Slot} Slot
 * @typedef {import("../../parts/rows.js").Entry<Piece>} PieceEntry
 */

nameEdit(renamePiece, say("undo|a new name"));
nameEdit(renameSlot, say("undo|a new name"));

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountCase(root, app) {
  const wheel = mountField(one(root, "[data-field=wheel]"), app);
  const behind = all(root, "[data-field^=behind]").map((field) => mountField(field, app, (setup) => answerTo(ANY_BEHIND, setup).refusal));
  const pieces = rows(one(root, "[data-rows=kit]"), app, {
    path: "kit",
    kind: (/** @type {Piece} */ { kind, profile }) => `${kind} ${profile?.kind ?? ""}`,
    fields: pieceFields,
    facts: pieceFacts,
    removes: ({ id }) => app.do(removePiece, id),
  });
  const slots = rows(one(root, "[data-rows='rig.slots']"), app, {
    path: "rig.slots",
    fields: slotFields,
    facts: slotFacts,
  });
  const holds = mountHolds(root, app);
  const list = mountListBox(one(root, "[data-list=anything]"), app, {
    draft: "new-piece", of: "anything", readFile: caseReader(app, one(root, ".list-file")),
  });
  one(root, "[data-do=add-slot]").addEventListener("click", () =>
    app.change((setup) => {
      const id = freeId(setup.rig.slots, say("slot {number}", { number: setup.rig.slots.length + 1 }));
      setup.rig.slots.push({ id, size: "", rotates: false });
    }));
  one(root, "[data-do=empty-case]").addEventListener("click", () => startOwn(app));
  one(root, "[data-do=demo-case]").addEventListener("click", () =>
    app.take(demoDocument(), say("undo|the example")));
  return () => {
    wheel();
    behind.forEach((show) => show());
    pieces();
    slots();
    holds();
    list();
    const held = heldText(app);
    one(root, ".case-held").replaceChildren(app.setup.kit.length === 0 ? held : el("button", {
      type: "button", class: "asked-back", "data-do": "turn-case", "data-opens": "turn case",
      onclick: (/** @type {Event} */ event) => turnCase(/** @type {HTMLElement} */ (event.currentTarget), app),
    }, held));
    one(root, "[data-if=demo]").hidden = !app.setup.demo;
  };
}

/** The answer of the case: how much is in it, and what holds it. @param {App} app */
function heldText({ setup: { kit, stock }, document }) {
  const got = gotText([...kit.map((piece) => ({ piece })), ...stock.lenses.map((lens) => ({ lens }))]);
  const rigs = isNotSaid(document) ? "" : document.rigs.map(({ id, slots }) => [id, slots[0]?.size].filter(Boolean).join(" ")).join(", ");
  return [got || say("nothing in the case yet"), rigs].filter(Boolean).join(" · ");
}

/** @param {Piece} piece */
function pieceFacts(piece) {
  const weight = weighs(piece)?.massG;
  return [
    piece.kind === "nd" ? "" : kindText(piece),
    densityText(piece),
    piece.lossStops === undefined ? "" : stopsText(piece.lossStops),
    piece.size,
    weight === undefined ? "" : `${fixed(weight, 0)} g`,
    (piece.count ?? 1) > 1 ? say("{count} of them", { count: piece.count ?? 1 }) : "",
  ].filter(Boolean).join(", ");
}

/** How a weight by size, thickness and material comes about. @param {Piece} piece */
function weightPart(piece) {
  const grams = piece.massG === undefined ? weighs(piece)?.massG : undefined;
  if (!grams) return [];
  return [el("p", { class: "hint" }, askedBack(say("{piece} weighs {mass} g.", { piece: piece.id, mass: fixed(grams, 0) }), "work-weight",
    (opener) => openWorking(opener, workingOf("weight", { items: [{ name: piece.id, ...weightOf(piece), distanceFromRimMm: 0 }] }))))];
}

/** @param {Slot} slot */
function slotFacts(slot) {
  return [slot.size || say("any size"), slot.rotates ? say("rotates") : ""].filter(Boolean).join(", ");
}

/** The name is what the rest of the document calls the piece. @param {App} app @param {PieceEntry} record */
function pieceFields(app, record) {
  const { path, now, change } = record;
  const { kind, material } = now();
  const choose = choiceField(say("Kind"), KINDS, kind, undefined, (value) =>
    change((piece) => {
      piece.kind = /** @type {Piece["kind"]} */ (value);
      // Neutral density needs one; the user corrects it in place.
      if (value === "nd") piece.density ??= 0.3;
    }));
  const isNd = kind === "nd";
  return [
    nameField(app, record, (name) => app.do(renamePiece, now().id, name)),
    choose,
    field(say("Marked density"), `${path}.density`, "density", isNd ? undefined : say("none"), say("0.9, ND64 or 3 stops")),
    ...(kind === "closeUp" ? closeUpFields(record) : []),
    ...(kind === "grad" ? gradFields(record) : []),
    field(say("Measured density"), `${path}.measuredDensity`, "density", say("not measured"), say("reading in minus reading out, as stops or density")),
    ...(isNd ? [] : [field(say("Loss"), `${path}.lossStops`, "stops", kind === "polarizer" ? say("1⅔ assumed") : say("none"), say("stops it costs all over"))]),
    field(say("Size"), `${path}.size`, "text", say("any"), say("as your slots call it: 4x5.65, 77")),
    field(say("Density in infrared"), `${path}.infraredDensity`, "density", say("not known")),
    field(say("Mired shift"), `${path}.miredShift`, "number", say("none"), say("positive is warmer")),
    field(say("Measured on"), `${path}.measuredOn`, "text", say("not said"), say("as 2026-05-01")),
    field(say("Thickness"), `${path}.thicknessMm`, "mm", say("not known")),
    choiceField(say("Made of"), { glass: say("material|glass"), resin: say("material|resin") }, material ?? "", say("not said"), (value) =>
      change((piece) => {
        if (value) piece.material = /** @type {any} */ (value);
        else delete piece.material;
      })),
    field(say("Weighs, grams"), `${path}.massG`, "number", say("from the above"), say("left empty: of size, thickness and material, no frame")),
    field(say("How many"), `${path}.count`, "number", "1"),
    ...weightPart(now()),
  ];
}

/** @param {PieceEntry} record */
function closeUpFields({ path, now, change }) {
  return [
    field(say("Power, dioptres"), `${path}.dioptres`, "number", say("not known")),
    checkField(say("covers only part of the picture"), now().split ?? false, (on) =>
      change((piece) => {
        piece.split = on;
      })),
  ];
}

/** @param {App} app @param {import("../../parts/rows.js").Entry<Slot>} record */
function slotFields(app, record) {
  const { path, now, change } = record;
  return [
    nameField(app, record, (name) => app.do(renameSlot, now().id, name)),
    field(say("Size"), `${path}.size`, "text", say("any"), say("as your pieces call it")),
    checkField(say("a piece in it can be turned"), Boolean(now().rotates), (on) =>
      change((slot) => {
        slot.rotates = on;
      })),
  ];
}
