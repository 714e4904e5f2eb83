// @ts-check
/** Packing: the fewest pieces of the case, or the cheapest to buy, for the day. */
import { ask } from "../engine.js";
import { longQuestion } from "../long.js";
import { freeId } from "../setup.js";
import { coverRequest, movedRefusal } from "../stock.js";
import { fixed, signed, stopsText } from "../show.js";
import { refusalSentence } from "../words.js";
import { counted, PLAN_WORDS, proofText } from "../words/planning.js";
import { el, one } from "../parts/dom.js";
import { choiceField, field, rows, textField } from "../parts/rows.js";

/**
 * @typedef {import("../app.js").App} App
 * @typedef {import("../setup.js").Setup} Setup
 */

/** @param {Setup} setup */
const waresCheck = (setup) =>
  movedRefusal(ask("coverKit", { needs: [], catalogue: setup.plan.wares }).refusal, "catalogue", "plan.wares");

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountPacking(root, app) {
  const wares = rows(one(root, "[data-rows='plan.wares']"), app, {
    list: () => app.setup.plan.wares,
    path: "plan.wares",
    fields: wareFields,
    facts: ({ density, cost }) => [density === undefined ? "" : `D ${fixed(density, 3)}`, `costs ${fixed(cost ?? 0, 2)}`].filter(Boolean).join(", "),
    check: waresCheck,
    remove: ({ plan }, at) => {
      plan.wares.splice(at, 1);
    },
  });
  one(root, "[data-do=add-ware]").addEventListener("click", () =>
    app.change(({ plan }) => {
      plan.wares.push({ id: freeId(plan.wares, "ND 0.6"), kind: "nd", density: 0.6, cost: 0, count: 1 });
    }));
  const own = answer(root, app, ".pack-own", "[data-do=stop-pack-own]", true);
  const buy = answer(root, app, ".pack-buy", "[data-do=stop-pack-buy]", false);
  return () => {
    wares();
    own();
    buy();
  };
}

/** @param {HTMLElement} root @param {App} app @param {string} place @param {string} stopper @param {boolean} owned */
function answer(root, app, place, stopper, owned) {
  const shown = one(root, place);
  const stop = one(root, stopper);
  const question = longQuestion("coverKit", (progress) => {
    stop.hidden = !progress.busy;
    shown.replaceChildren(...coverAnswer(app.setup, progress, owned));
  });
  stop.addEventListener("click", () => question.stop());
  return () => question.ask(coverRequest(app.setup, owned));
}

/** @param {App} app @param {number} at @param {string} path */
function wareFields(app, at, path) {
  const { wares } = app.setup.plan;
  return [
    textField("Name", wares[at].id, (name) => {
      if (wares.some((other, place) => place !== at && other.id === name)) return `“${name}” is used already.`;
      app.change(({ plan }) => {
        plan.wares[at].id = name;
      });
      return "";
    }),
    choiceField("Kind", { nd: "neutral density", polarizer: "polarizer" }, wares[at].kind, undefined, (value) =>
      app.change(({ plan }) => {
        const ware = plan.wares[at];
        ware.kind = /** @type {"nd" | "polarizer"} */ (value);
        if (value === "nd") ware.density ??= 0.6;
        else delete ware.density;
      })),
    field("Density", `${path}.density`, "density", wares[at].kind === "nd" ? undefined : "1⅔ stops assumed"),
    field("Costs", `${path}.cost`, "number", undefined),
    field("How many can be had", `${path}.count`, "number", undefined),
  ];
}

/** @param {string} id */
const ownName = (id) => id.replace(/^own: /, "");

/** @param {Setup} setup @param {import("../long.js").Progress} progress @param {boolean} owned */
function coverAnswer(setup, progress, owned) {
  const { reply, refusal } = progress;
  if (refusal) return [el("p", { class: "complaint", text: refusalSentence(refusal) })];
  if (!reply) return [el("p", { class: "hint", text: proofText(progress, "") })];
  const { setUps } = setup.plan;
  if (setUps.length === 0) return [el("p", { class: "hint", text: PLAN_WORDS.noSetUps })];
  const name = (/** @type {{piece: string, count: number}} */ { piece, count }) => `${count > 1 ? `${count} × ` : ""}${ownName(piece)}`;
  const new_ = reply.chosen.filter((/** @type {any} */ { piece }) => !piece.startsWith("own: "));
  const old = reply.chosen.filter((/** @type {any} */ { piece }) => piece.startsWith("own: "));
  const bought = new_.length ? `Buy ${new_.map(name).join(", ")} for ${fixed(reply.cost, 2)}.` : "Nothing to buy.";
  const sum = owned
    ? `Pack ${reply.chosen.map(name).join(", ") || "nothing"}.`
    : bought;
  const least = owned ? "fewer" : `a cost of ${fixed(reply.leastCost, 2)}`;
  const served = reply.served.map((/** @type {any} */ one_, /** @type {number} */ at) => el("li", {},
    el("strong", { text: setUps[at]?.id ?? "" }), ` ${stopsText(one_.stops)}: `,
    one_.can ? `${one_.pieces.map(ownName).join(" + ") || "nothing in"}, ${signed(one_.leftOverStops)} left` : "cannot be served"));
  const lost = reply.served.flatMap((/** @type {any} */ one_, /** @type {number} */ at) => (one_.can ? [] : [setUps[at]?.id ?? ""]));
  const more = reply.oneMore;
  return [
    el("p", { class: "plan-sum", text: sum }),
    ...(!owned && old.length ? [el("p", { text: `Take along ${old.map(name).join(", ")}.` })] : []),
    el("p", { class: "hint", text: proofText(progress, least) }),
    ...(lost.length ? [el("p", { class: "complaint", text: PLAN_WORDS.cannot(lost) })] : []),
    ...(more ? [el("p", {
      text: `One piece more would add most between D ${fixed(more.fromDensity, 2)} and ${fixed(more.toDensity, 2)}: it serves ${more.serves.map((/** @type {number} */ at) => setUps[at]?.id ?? "").join(", ")}.`,
    })] : []),
    el("details", {}, el("summary", {}, `What serves ${counted(setUps.length, "set-up")}`), el("ul", { class: "plain-list" }, ...served)),
  ];
}
