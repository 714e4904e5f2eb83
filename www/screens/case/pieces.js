// @ts-check
/** Case: the user's own pieces, slots and wheel. */
import { ask } from "../../engine/ask.js";
import { demoDocument } from "../../document/demo.js";
import { addPiece, removePiece, renamePiece, renameSlot, startRig } from "../../document/edits.js";
import { freeId } from "../../document/document.js";
import { weighs } from "../../questions/rig-compare.js";
import { onPage } from "../../questions/depth-and-colour.js";
import { say } from "../../language/say.js";
import { fixed, stopsText } from "../../language/numbers.js";
import { densityText, KINDS, refusalSentence } from "../../language/words/shared.js";
import { choiceLabel, takenAs } from "../../parts/choices.js";
import { all, el, one } from "../../parts/dom.js";
import { mountField } from "../../parts/field.js";
import { isPolarizer } from "../../parts/piece-text.js";
import { choiceField, field, rows, textField } from "../../parts/rows.js";
import { startOwn } from "../../start/own-case.js";
import { gradFields } from "./graduated-edge.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Piece} Piece
 * @typedef {import("../../document/setup.js").Slot} Slot
 */

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountCase(root, app) {
  const wheel = mountField(one(root, "[data-field=wheel]"), app);
  const behind = all(root, "[data-field^=behind]").map((field) => mountField(field, app, behindCheck));
  const pieces = rows(one(root, "[data-rows=kit]"), app, {
    list: () => app.setup.kit,
    path: "kit",
    kind: ({ kind, profile }) => `${kind} ${profile?.kind ?? ""}`,
    fields: pieceFields,
    facts: pieceFacts,
    removes: (at) => app.do(removePiece, app.setup.kit[at].id),
  });
  const slots = rows(one(root, "[data-rows='rig.slots']"), app, {
    list: () => app.setup.rig.slots,
    path: "rig.slots",
    fields: slotFields,
    facts: slotFacts,
    remove: (setup, at) => {
      setup.rig.slots.splice(at, 1);
    },
  });
  mountAdd(root, app);
  one(root, "[data-do=add-slot]").addEventListener("click", () =>
    app.change((setup) => {
      const id = freeId(setup.rig.slots, say("slot {number}", { number: setup.rig.slots.length + 1 }));
      setup.rig.slots.push({ id, size: "", rotates: false });
    }));
  one(root, "[data-do=take-rig]").addEventListener("change", (/** @type {Event} */ event) => {
    const choice = /** @type {HTMLSelectElement} */ (event.target);
    if (choice.value) app.do(startRig, /** @type {any} */ (choice.value));
    choice.value = "";
  });
  one(root, "[data-do=empty-case]").addEventListener("click", () => startOwn(app));
  one(root, "[data-do=demo-case]").addEventListener("click", () =>
    app.take(demoDocument(), say("undo|the example")));
  return () => {
    wheel();
    behind.forEach((show) => show());
    pieces();
    slots();
    one(root, "[data-if=demo]").hidden = !app.setup.demo;
  };
}

/** @param {import("../../document/setup.js").Setup} setup */
function behindCheck(setup) {
  const { behind } = setup;
  const plate = (/** @type {number | undefined} */ thicknessMm) => [{ thicknessMm: thicknessMm ?? 0, refractiveIndex: behind.refractiveIndex }];
  const { refusal } = ask("behindLens", {
    focalLengthMm: 50,
    fNumber: 8,
    circleMm: 0.02,
    behind: plate(behind.nowMm),
    setFor: plate(behind.setForMm),
    inFront: plate(behind.frontMm),
    wheel: behind.wheelMm.flatMap(plate),
  });
  return onPage(refusal);
}

/** One line of text becomes a piece. @param {HTMLElement} root @param {App} app */
function mountAdd(root, app) {
  const box = one(root, "[data-draft=new-piece]");
  const input = /** @type {HTMLInputElement} */ (one(box, "input"));
  const error = el("p", { class: "field-error", id: "new-piece-error" });
  box.append(error);
  input.setAttribute("aria-describedby", error.id);
  input.value = app.drafts["new-piece"] ?? "";
  input.addEventListener("input", () => {
    app.drafts["new-piece"] = input.value;
    error.replaceChildren();
    app.keep();
  });
  const put = (/** @type {Omit<Piece, "count" | "id" | "size">} */ piece, /** @type {string} */ name) => {
    const trial = structuredClone(app.setup.kit);
    const id = freeId(trial, name);
    app.do(addPiece, { id, size: "", count: 1, ...piece });
    input.value = "";
    delete app.drafts["new-piece"];
    error.replaceChildren();
    app.keep();
    input.focus();
  };
  const add = () => {
    const text = input.value.trim();
    if (isPolarizer(text)) return put({ kind: "polarizer" }, text);
    const { reply, refusal } = ask("readText", { text, as: "density" });
    if (reply) return put({ kind: "nd", density: reply.value }, text);
    error.replaceChildren(refusalSentence(refusal, { as: "density", path: "density" }));
    for (const choice of refusal.choices ?? []) {
      const take = () => put({ kind: "nd", density: choice.value }, `${text} (${takenAs(choice)})`);
      error.append(" ", el("button", { type: "button", class: "choice", onclick: take }, choiceLabel(choice)));
    }
    return undefined;
  };
  one(root, "[data-do=add-piece]").addEventListener("click", add);
  input.addEventListener("keydown", (event) => {
    if (event.key === "Enter") add();
  });
}

/** @param {Piece} piece */
function pieceFacts(piece) {
  const weight = weighs(piece)?.massG;
  return [
    piece.kind === "nd" ? "" : KINDS[piece.kind],
    densityText(piece),
    piece.lossStops === undefined ? "" : stopsText(piece.lossStops),
    piece.size,
    weight === undefined ? "" : `${fixed(weight, 0)} g`,
    (piece.count ?? 1) > 1 ? say("{count} of them", { count: piece.count ?? 1 }) : "",
  ].filter(Boolean).join(", ");
}

/** @param {Slot} slot */
function slotFacts(slot) {
  return [slot.size || say("any size"), slot.rotates ? say("rotates") : ""].filter(Boolean).join(", ");
}

/** @param {App} app @param {number} at @param {string} path */
function pieceFields(app, at, path) {
  const kind = el("select", {
    onchange: (event) => {
      const value = /** @type {HTMLSelectElement} */ (event.target).value;
      app.change((setup) => {
        setup.kit[at].kind = /** @type {Piece["kind"]} */ (value);
        // Neutral density needs one; the user corrects it in place.
        if (value === "nd" && setup.kit[at].density === undefined) setup.kit[at].density = 0.3;
      });
    },
  }, ...Object.entries(KINDS).map(([value, text]) => el("option", { value }, text)));
  kind.value = app.setup.kit[at].kind;
  const isNd = app.setup.kit[at].kind === "nd";
  return [
    nameField(app, at, path),
    el("label", { class: "row-kind" }, `${say("Kind")} `, kind),
    field(say("Marked density"), `${path}.density`, "density", isNd ? undefined : say("none"), say("0.9, ND64 or 3 stops")),
    field(say("Measured density"), `${path}.measuredDensity`, "density", say("not measured"), say("reading in minus reading out, as stops or density")),
    ...(isNd ? [] : [field(say("Loss"), `${path}.lossStops`, "stops", kind.value === "polarizer" ? say("1⅔ assumed") : say("none"), say("stops it costs all over"))]),
    field(say("Size"), `${path}.size`, "text", say("any"), say("as your slots call it: 4x5.65, 77")),
    field(say("Density in infrared"), `${path}.infraredDensity`, "density", say("not known")),
    field(say("Mired shift"), `${path}.miredShift`, "number", say("none"), say("positive is warmer")),
    field(say("Measured on"), `${path}.measuredOn`, "text", say("not said"), say("as 2026-05-01")),
    field(say("Thickness"), `${path}.thicknessMm`, "mm", say("not known")),
    choiceField(say("Made of"), { glass: say("material|glass"), resin: say("material|resin") }, app.setup.kit[at].material ?? "", say("not said"), (value) =>
      app.change((setup) => {
        if (value) setup.kit[at].material = /** @type {any} */ (value);
        else delete setup.kit[at].material;
      })),
    field(say("Weighs, grams"), `${path}.massG`, "number", say("from the above"), say("left empty: of size, thickness and material, no frame")),
    ...(kind.value === "closeUp" ? closeUpFields(app, at, path) : []),
    ...(kind.value === "grad" ? gradFields(app, at, path) : []),
    field(say("How many"), `${path}.count`, "number", "1"),
  ];
}

/** @param {App} app @param {number} at @param {string} path */
function closeUpFields(app, at, path) {
  const split = el("input", {
    type: "checkbox",
    onchange: (event) => {
      const { checked } = /** @type {HTMLInputElement} */ (event.target);
      app.change((setup) => {
        setup.kit[at].split = checked;
      });
    },
  });
  split.checked = app.setup.kit[at].split ?? false;
  return [
    field(say("Power, dioptres"), `${path}.dioptres`, "number", say("not known")),
    el("label", { class: "row-check" }, split, ` ${say("covers only part of the picture")}`),
  ];
}

/** The name is what the rest of the document calls the piece. @param {App} app @param {number} at @param {string} path */
function nameField(app, at, path) {
  return textField(app, say("Name"), `${path}.id`, app.setup.kit[at].id, (name) => {
    if (app.setup.kit.some((piece, other) => other !== at && piece.id === name)) return say("“{name}” is used already.", { name });
    app.do(renamePiece, app.setup.kit[at].id, name);
    return "";
  });
}

/** @param {App} app @param {number} at @param {string} path */
function slotFields(app, at, path) {
  const rotates = el("input", {
    type: "checkbox",
    onchange: (event) => {
      const { checked } = /** @type {HTMLInputElement} */ (event.target);
      app.change((setup) => {
        setup.rig.slots[at].rotates = checked;
      });
    },
  });
  rotates.checked = Boolean(app.setup.rig.slots[at].rotates);
  const name = textField(app, say("Name"), `${path}.id`, app.setup.rig.slots[at].id, (wanted) => {
    if (app.setup.rig.slots.some((slot, other) => other !== at && slot.id === wanted)) return say("“{name}” is used already.", { name: wanted });
    app.do(renameSlot, app.setup.rig.slots[at].id, wanted);
    return "";
  });
  return [
    name,
    field(say("Size"), `${path}.size`, "text", say("any"), say("as your pieces call it")),
    el("label", { class: "row-check" }, rotates, ` ${say("a piece in it can be turned")}`),
  ];
}
