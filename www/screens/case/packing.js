// @ts-check
/** Packing: the fewest pieces of the case, or the cheapest to buy, for the day. */
import { longQuestion } from "../../engine/long-question.js";
import { freeId } from "../../document/document.js";
import { COVER, NEEDS, ownName, packingNeeds } from "../../questions/plan.js";
import { DAY, WARES } from "../../questions/case-lists.js";
import { answerTo } from "../../questions/question.js";
import { clockTime } from "../../language/words/light.js";
import { say } from "../../language/say.js";
import { fixed, signed, stopsText } from "../../language/numbers.js";
import { KINDS, refusalSentence } from "../../language/words/shared.js";
import { fewNames, needsText, PLAN_WORDS, proofText, timesText } from "../../language/words/planning.js";
import { askedBack } from "../../parts/asked-back.js";
import { all, el, one } from "../../parts/dom.js";
import { mountField } from "../../parts/field.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { whileSeen } from "../../parts/seen.js";
import { choiceField, field, nameField, rows } from "../../parts/rows.js";
import { turnNeeds, turnPacking, turnServed } from "./turned-packing.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {Setup["plan"]["wares"][number]} Ware
 */

/** @param {Setup} setup */
const waresCheck = (setup) => answerTo(WARES, setup).refusal;

/** What the core has against the range of light and what is wanted of it. @param {Setup} setup */
const needsCheck = (setup) => answerTo(NEEDS, setup).refusal ?? answerTo(DAY, setup).refusal;

/** A way of shooting in a few words. @param {any} way @param {string} [time] */
function wayName({ lightAperture, aperture, frameRate }, time) {
  const show = KINDS_OF_FIELD.aperture.show;
  const light = time === undefined ? say("light {stop}", { stop: show(lightAperture) }) : clockTime(time);
  return say("{light}, {stop} at {rate} fps", { light, stop: show(aperture), rate: fixed(frameRate, 2) });
}

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountPacking(root, app) {
  const wares = rows(one(root, "[data-rows='plan.wares']"), app, {
    path: "plan.wares",
    fields: wareFields,
    facts: (/** @type {Ware} */ { density, cost }) => [
      density === undefined ? "" : `D ${fixed(density, 3)}`,
      say("costs {cost}", { cost: fixed(cost ?? 0, 2) }),
    ].filter(Boolean).join(", "),
    check: waresCheck,
  });
  one(root, "[data-do=add-ware]").addEventListener("click", () =>
    app.change(({ plan }) => {
      plan.wares.push({ id: freeId(plan.wares, "ND 0.6"), kind: "nd", density: 0.6, cost: 0, count: 1 });
    }));
  const fields = all(root, ".needs-fields .field").map((box) => mountField(box, app, needsCheck));
  const sources = all(root, "[name=needs-from]").map((radio) => /** @type {HTMLInputElement} */ (radio));
  for (const source of sources) {
    source.addEventListener("change", () => app.change(({ plan }) => {
      plan.needsFrom = /** @type {any} */ (source.value);
    }));
  }
  const polarizer = /** @type {HTMLInputElement} */ (one(root, "[data-do=needs-polarizer]"));
  polarizer.addEventListener("change", () => app.change(({ plan }) => {
    plan.polarizer = polarizer.checked;
  }));
  const own = answer(root, app, ".pack-own", "[data-do=stop-pack-own]", true);
  const buy = answer(root, app, ".pack-buy", "[data-do=stop-pack-buy]", false);
  const pack = whileSeen([root, one(root, "[data-part=packing]")], () => {
    const found = packingNeeds(app.setup, wayName);
    one(root, ".needs-told").replaceChildren(...needsTold(app.setup, found));
    own(found.needs);
    buy(found.needs);
  });
  return () => {
    wares();
    fields.forEach((show) => show());
    const { needsFrom } = app.setup.plan;
    for (const source of sources) source.checked = source.value === needsFrom;
    polarizer.checked = Boolean(app.setup.plan.polarizer);
    for (const box of all(root, "[data-needs]")) box.hidden = !String(box.dataset.needs).split(" ").includes(needsFrom);
    pack();
  };
}

/** @param {HTMLElement} root @param {App} app @param {string} place @param {string} stopper @param {boolean} owned */
function answer(root, app, place, stopper, owned) {
  const shown = one(root, place);
  const stop = one(root, stopper);
  /** @type {import("../../questions/plan.js").Need[]} */
  let needs = [];
  const question = longQuestion("coverKit", (progress) => {
    stop.hidden = !progress.busy;
    shown.replaceChildren(...coverAnswer(app, needs, progress, owned));
  });
  stop.addEventListener("click", () => question.stop());
  return (/** @type {typeof needs} */ now) => {
    needs = now;
    question.ask(COVER.request(app.setup, needs, owned));
  };
}

/** How many needs there are, and where they come from. @param {Setup} setup @param {ReturnType<typeof packingNeeds>} found */
function needsTold(setup, { needs, tooDark, refusal }) {
  if (refusal) return [el("p", { class: "complaint", text: refusalSentence(refusal) })];
  if (setup.plan.needsFrom === "setUps") return [];
  const all_ = needs.map(({ stops }) => stops);
  const count = needsText(needs.length);
  const span = { needs: count, from: fixed(Math.min(...all_), 2), to: stopsText(Math.max(...all_)) };
  return [
    el("p", {}, needs.length === 0 ? `${count}.` : askedBack(say("{needs}, from {from} to {to}.", span), "work-needs", (opener) => turnNeeds(opener, setup))),
    ...(tooDark ? [el("p", { class: "hint", text: PLAN_WORDS.tooDark(tooDark) })] : []),
  ];
}

/** @param {App} app @param {import("../../parts/rows.js").Entry<Ware>} record */
function wareFields(app, record) {
  const { path, now, change } = record;
  const { kind } = now();
  return [
    nameField(app, record, (name) => change((ware) => {
      ware.id = name;
    })),
    choiceField(say("Kind"), { nd: KINDS.nd, polarizer: KINDS.polarizer }, kind, undefined, (value) =>
      change((ware) => {
        ware.kind = /** @type {"nd" | "polarizer"} */ (value);
        if (value === "nd") ware.density ??= 0.6;
        else delete ware.density;
      })),
    field(say("Density"), `${path}.density`, "density", kind === "nd" ? undefined : say("1⅔ stops assumed")),
    field(say("Size"), `${path}.size`, "text", say("size|any"), say("as your slots call it")),
    field(say("Costs"), `${path}.cost`, "number", undefined),
    field(say("How many can be had"), `${path}.count`, "number", undefined),
  ];
}

/** @param {App} app @param {import("../../questions/plan.js").Need[]} needs @param {import("../../engine/long-question.js").Progress} progress @param {boolean} owned */
function coverAnswer(app, needs, progress, owned) {
  const { reply, refusal } = progress;
  if (refusal) return [el("p", { class: "complaint", text: refusalSentence(refusal) })];
  if (!reply) return [el("p", { class: "hint", text: proofText(progress, "") })];
  if (needs.length === 0) return [el("p", { class: "hint", text: PLAN_WORDS.noNeeds })];
  // An answer to needs of before may still be on its way.
  if (reply.served.length !== needs.length) return [el("p", { class: "hint", text: proofText({ ...progress, reply: undefined }, "") })];
  const names = (/** @type {{piece: string, count: number}[]} */ list) => list.map(({ piece, count }) => timesText(ownName(piece), count)).join(", ");
  const new_ = reply.chosen.filter((/** @type {any} */ { piece }) => !piece.startsWith("own: "));
  const old = reply.chosen.filter((/** @type {any} */ { piece }) => piece.startsWith("own: "));
  const bought = new_.length ? say("Buy {names} for {cost}.", { names: names(new_), cost: fixed(reply.cost, 2) }) : say("Nothing to buy.");
  const sum = owned ? say("Pack {names}.", { names: names(reply.chosen) || say("glass|nothing") }) : bought;
  const least = owned ? say("least|fewer") : say("a cost of {cost}", { cost: fixed(reply.leastCost, 2) });
  const served = reply.served.map((/** @type {any} */ one_, /** @type {number} */ at) => el("li", {},
    el("strong", { translate: "no", text: needs[at]?.name ?? "" }), ` ${stopsText(one_.stops)}: `,
    one_.can
      ? askedBack(say("{pieces}, {stops} left", { pieces: one_.pieces.map(ownName).join(" + ") || say("nothing in"), stops: signed(one_.leftOverStops) }), "turn-served",
        (opener) => turnServed(opener, app, needs[at], one_))
      : say("cannot be served")));
  const lost = reply.served.flatMap((/** @type {any} */ one_, /** @type {number} */ at) => (one_.can ? [] : [needs[at]?.name ?? ""]));
  const more = reply.oneMore;
  return [
    el("p", { class: "plan-sum" }, askedBack(sum, owned ? "turn-pack" : "turn-buy", (opener) => turnPacking(opener, app, needs, reply, owned))),
    ...(!owned && old.length ? [el("p", { text: say("Take along {names}.", { names: names(old) }) })] : []),
    el("p", { class: "hint", text: proofText(progress, least) }),
    ...(lost.length ? [el("p", { class: "complaint", text: PLAN_WORDS.cannot(lost) })] : []),
    ...(more ? [el("p", {
      text: say("One piece more would add most between D {from} and {to}: it serves {names}.", {
        from: fixed(more.fromDensity, 2), to: fixed(more.toDensity, 2), names: fewNames(more.serves.map((/** @type {number} */ at) => needs[at]?.name ?? "")),
      }),
    })] : []),
    el("details", {}, el("summary", {}, say("What serves {needs}", { needs: needsText(needs.length) })), el("ul", { class: "plain-list" }, ...served)),
  ];
}
