// @ts-check
/** Ways to hold filters, compared on the day that is planned. */
import { ask } from "../engine.js";
import { longQuestion } from "../long.js";
import { freeId } from "../setup.js";
import { movedRefusal, orderInSystem } from "../stock.js";
import { fixed } from "../show.js";
import { counted } from "../words/planning.js";
import { el, one } from "../parts/dom.js";
import { field, rows, textField } from "../parts/rows.js";

/**
 * @typedef {import("../app.js").App} App
 * @typedef {import("../setup.js").Setup} Setup
 * @typedef {import("../stock.js").SystemPlan} SystemPlan
 */

/** What the core has against the systems. @param {Setup} setup */
function systemCheck(setup) {
  for (const [at, system] of setup.plan.systems.entries()) {
    const whole = Number.isInteger(system.slots) && system.slots >= 0 && system.slots <= 8;
    const path = `plan.systems[${at}]`;
    if (!whole) return /** @type {any} */ ({ code: "outOfRange", field: `${path}.slots`, given: system.slots, min: 0, max: 8 });
    const order = ask("orderDay", { ...orderInSystem(setup, system), setUps: [], kit: [] }).refusal;
    const refusal = order ?? ask("weight", weightRequest(setup, system, [])).refusal
      ?? ask("coverKit", { needs: [], catalogue: [{ id: "a", kind: "clear", cost: system.cost }] }).refusal;
    const moved = movedRefusal(movedRefusal(refusal, "items[0]", path), "catalogue[0]", path);
    if (moved) return { ...moved, field: moved.field.startsWith("plan.") ? moved.field : `${path}.${moved.field}` };
  }
  return undefined;
}

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountSystems(root, app) {
  /** @type {Map<string, any>} */
  const known = new Map();
  const table = one(root, ".systems-answer");
  const show = () => table.replaceChildren(...comparison(app, known));
  const systems = rows(one(root, "[data-rows='plan.systems']"), app, {
    list: () => app.setup.plan.systems,
    path: "plan.systems",
    fields: systemFields,
    facts: (system) => `${counted(system.slots, "slot")}, ${system.rotating} turning; ${fixed(system.minutesPerMove, 2)} min a move`,
    check: systemCheck,
    remove: ({ plan }, at) => {
      plan.systems.splice(at, 1);
    },
  });
  one(root, "[data-do=add-system]").addEventListener("click", () =>
    app.change(({ plan }) => {
      plan.systems.push({ id: freeId(plan.systems, "another"), slots: 2, rotating: 1, minutesPerMove: 0.5, massG: 0, cost: 0, distanceFromRimMm: 20 });
    }));
  /** @type {ReturnType<typeof longQuestion>[]} */
  const questions = [];
  return () => {
    systems();
    app.setup.plan.systems.forEach((system, at) => {
      questions[at] ??= longQuestion("orderDay", ({ reply }) => {
        known.set(String(at), reply);
        show();
      });
      questions[at].ask(orderInSystem(app.setup, system));
    });
    show();
  };
}

/** @param {App} app @param {number} at @param {string} path */
function systemFields(app, at, path) {
  return [
    textField("Name", app.setup.plan.systems[at].id, (name) => {
      app.change(({ plan }) => {
        plan.systems[at].id = name;
      });
      return "";
    }),
    field("Slots", `${path}.slots`, "number", undefined),
    field("Slots that turn", `${path}.rotating`, "number", undefined),
    field("Minutes a move", `${path}.minutesPerMove`, "number", undefined, "unscrew, clean, put in, check"),
    field("Weighs, grams", `${path}.massG`, "number", undefined, "without filters"),
    field("Its middle ahead of the rim", `${path}.distanceFromRimMm`, "length", undefined),
    field("Costs", `${path}.cost`, "number", undefined),
  ];
}

/** What hangs in front with these pieces in. @param {Setup} setup @param {SystemPlan} system @param {string[]} ids */
function weightRequest(setup, system, ids) {
  const glass = setup.kit.filter((piece) => ids.includes(piece.id) && piece.massG !== undefined)
    .map((piece) => ({ name: piece.id, massG: piece.massG, distanceFromRimMm: system.distanceFromRimMm }));
  return { items: [{ name: system.id, massG: system.massG, distanceFromRimMm: system.distanceFromRimMm }, ...glass] };
}

/** @param {App} app @param {Map<string, any>} known */
function comparison(app, known) {
  const { systems } = app.setup.plan;
  if (systems.length === 0) return [];
  const replies = systems.map((_, at) => known.get(String(at)));
  const weights = systems.map((system, at) => heaviest(app.setup, system, replies[at]));
  const lines = /** @type {[string, (at: number) => string][]} */ ([
    ["Moves", (at) => `${replies[at].moves}${replies[at].proven ? "" : "?"}`],
    ["Minutes", (at) => fixed(replies[at].minutes ?? 0, 2)],
    ["Cannot serve", (at) => String(replies[at].cannot.length || "–")],
    ["Front, g", (at) => `${fixed(weights[at]?.massG ?? 0, 0)}${weights[at]?.partly ? "+" : ""}`],
    ["Moment, N·m", (at) => fixed(weights[at]?.momentNm ?? 0, 3)],
    ["Costs", (at) => fixed(systems[at].cost, 2)],
  ]);
  const cell = (/** @type {number} */ at, /** @type {(at: number) => string} */ of) =>
    el("td", { text: replies[at] ? of(at) : "…" });
  const partly = weights.some((weight) => weight?.partly);
  return [
    el("table", { class: "systems" },
      el("thead", {}, el("tr", {}, el("th", { scope: "col" }, el("span", { class: "unseen", text: "What" })), ...systems.map(({ id }) => el("th", { scope: "col", text: id })))),
      el("tbody", {}, ...lines.map(([name, of]) =>
        el("tr", {}, el("th", { scope: "row", text: name }), ...systems.map((_, at) => cell(at, of)))))),
    ...(partly ? [el("p", { class: "hint", text: "+ some pieces have no weight entered and are left out." })] : []),
    el("p", { class: "hint", text: "Moment is about the rim, camera level, with the heaviest stack of the day. Minutes a move are starting values from common practice: put in your own." }),
  ];
}

/** Weight of the heaviest stack of the day. @param {Setup} setup @param {SystemPlan} system @param {any} reply */
function heaviest(setup, system, reply) {
  if (!reply) return undefined;
  const stacks = [[], ...reply.stages.map((/** @type {any} */ stage) => stage.slots.map((/** @type {any} */ { piece }) => piece))];
  return stacks
    .map((ids) => {
      const partly = ids.some((/** @type {string} */ id) => setup.kit.find((piece) => piece.id === id)?.massG === undefined);
      return { partly, ...ask("weight", weightRequest(setup, system, ids)).reply };
    })
    .reduce((most, one_) => ({
      ...((one_.massG ?? 0) > (most.massG ?? 0) ? one_ : most),
      partly: one_.partly || most.partly,
    }));
}
