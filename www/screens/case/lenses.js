// @ts-check
/** Lenses, rings and bodies of the case, and which rings join what. */
import { askProven } from "../../engine/proven.js";
import { freeId } from "../../document/document.js";
import { putOnBody, putOnLens, putOnMode, removeRecord, renameRecord } from "../../document/edits.js";
import { RING_OFFERS, STOCK } from "../../questions/case-lists.js";
import { answerTo } from "../../questions/question.js";
import { RINGS } from "../../questions/rings.js";
import { say, sayCount } from "../../language/say.js";
import { fixed, lengthText, listText } from "../../language/numbers.js";
import { densityText, refusalSentence } from "../../language/words/shared.js";
import { pathText, PLAN_WORDS, PUPIL_BY, ringText, stackText } from "../../language/words/planning.js";
import { askedBack } from "../../parts/asked-back.js";
import { askedWords } from "../../parts/asked-words.js";
import { el, one } from "../../parts/dom.js";
import { mountField } from "../../parts/field.js";
import { caseReader } from "./file.js";
import { mountListBox } from "./list-box.js";
import { lensText } from "./listed-text.js";
import { choiceField, checkField, field, nameField, rows } from "../../parts/rows.js";
import { turnRings } from "./turned-rings.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../api/glasscall.js").CaseLens} CaseLens
 */

/** @template T @typedef {import("../../parts/rows.js").Entry<T>} Entry */

/** What the core has against the stock. @param {Setup} setup */
const stockCheck = (setup) => answerTo(STOCK, setup).refusal;

/** @param {Setup} setup */
const offersCheck = (setup) => answerTo(RING_OFFERS, setup).refusal;

/** @param {Setup} setup */
const ringsCheck = (setup) => answerTo(RINGS, setup, setup.plan.filterMm).refusal;

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountLenses(root, app) {
  const filter = mountField(one(root, "[data-field='plan.filterMm']"), app, ringsCheck);
  const lists = {
    lenses: list(root, app, "lenses", lensFields, lensFacts),
    rings: list(root, app, "rings", ringFields, ringFacts),
    bodies: list(root, app, "bodies", bodyFields, bodyFacts),
    modes: list(root, app, "modes", modeFields, modeFacts),
    wheels: list(root, app, "wheels", wheelFields, wheelFacts),
  };
  const add = (/** @type {keyof typeof lists} */ name, /** @type {(setup: Setup) => void} */ put) =>
    one(root, `[data-do=add-${name}]`).addEventListener("click", () => {
      app.change(put);
      lists[name].open(-1);
    });
  add("rings", ({ stock, plan }) => stock.rings.push({ fromMm: 77, toMm: plan.filterMm, count: 1, clamp: false }));
  add("bodies", ({ stock }) => stock.bodies.push({ id: freeId(stock.bodies, say("id|body")) }));
  const ofBody = (/** @type {Setup} */ { stock }) => {
    if (stock.bodies.length === 0) stock.bodies.push({ id: say("id|body") });
    return stock.bodies.at(-1)?.id ?? "";
  };
  add("modes", (setup) => {
    const body = ofBody(setup);
    setup.stock.modes.push({ body, id: freeId(setup.stock.modes, say("id|full")), widthMm: 36, heightMm: 24 });
  });
  add("wheels", (setup) => {
    const body = ofBody(setup);
    setup.stock.wheels.push({ body, id: freeId(setup.stock.wheels, say("id|clear")), density: 0 });
  });
  const offers = rows(one(root, "[data-rows='plan.ringOffers']"), app, {
    path: "plan.ringOffers",
    fields: offerFields,
    facts: (/** @type {Setup["plan"]["ringOffers"][number]} */ ring) => say("{ring}, costs {cost}", { ring: ringText({ ...ring, clamp: ring.clamp ?? false }), cost: fixed(ring.cost, 2) }),
    check: offersCheck,
  });
  one(root, "[data-do=add-ring-offer]").addEventListener("click", () =>
    app.change(({ plan }) => {
      plan.ringOffers.push({ fromMm: 77, toMm: plan.filterMm, cost: 0, clamp: false });
    }));
  const list_ = mountListBox(one(root, "[data-list=lenses]"), app, {
    draft: "new-lenses", of: "lenses", readFile: caseReader(app, one(root, ".list-file")),
  });
  const answer = one(root, ".rings-answer");
  return () => {
    filter();
    list_();
    Object.values(lists).forEach((show) => show());
    offers();
    answer.replaceChildren(...ringsAnswer(app));
  };
}

/**
 * @param {HTMLElement} root
 * @param {App} app
 * @param {"lenses" | "rings" | "bodies" | "modes" | "wheels"} name
 * @param {(app: App, record: Entry<any>) => HTMLElement[]} fields
 * @param {(item: any) => string} facts
 */
function list(root, app, name, fields, facts) {
  return rows(one(root, `[data-rows='stock.${name}']`), app, {
    path: `stock.${name}`,
    fields,
    facts,
    check: stockCheck,
    // What belongs to a body goes with it.
    ...(name === "bodies" ? { removes: ({ id }) => app.do(removeRecord, "bodies", id) } : {}),
  });
}

/** @param {App} app @param {Entry<CaseLens>} record */
function lensFields(app, record) {
  const { path, now, change } = record;
  return [
    nameField(app, record, (name) => app.do(renameRecord, "lens", now().id, name)),
    field(say("Focal length"), `${path}.focalMm`, "mm", say("not known"), say("of a zoom the shortest")),
    field(say("Longest, of a zoom"), `${path}.focalToMm`, "mm", say("no zoom")),
    field(say("Widest T-stop"), `${path}.tNumber`, "widest", say("not known")),
    field(say("Widest f-stop"), `${path}.fNumber`, "widest", say("not known")),
    field(say("Filter thread"), `${path}.threadMm`, "mm", say("no thread")),
    field(say("Outside diameter"), `${path}.outerMm`, "mm", say("not known"), say("of a front without thread")),
    field(say("Clear diameter it needs"), `${path}.needsClearMm`, "length", say("from pupil and stop"), say("left empty it follows from pupil and widest stop")),
    field(say("Pupil behind the rim"), `${path}.pupilBehindRimMm`, "length", say("not known")),
    choiceField(say("Pupil known by"), PUPIL_BY, now().pupilBy ?? "", say("not said"), (value) =>
      change((lens) => {
        if (value) lens.pupilBy = /** @type {any} */ (value);
        else delete lens.pupilBy;
      })),
    field(say("Weighs, grams"), `${path}.massG`, "number", say("not known")),
    el("button", {
      type: "button",
      class: "row-use",
      onclick: () => app.do(putOnLens, now().id),
    }, say("Put it on the camera")),
  ];
}

/** @param {CaseLens} lens */
const lensFacts = (lens) => [lensText(lens), lens.threadMm === undefined && lens.outerMm === undefined ? PLAN_WORDS.noFront : ""].filter(Boolean).join(", ");

/** @param {App} _ @param {Entry<Setup["stock"]["rings"][number]>} record */
function ringFields(_, { path, now, change }) {
  return [
    field(say("Towards the lens"), `${path}.fromMm`, "mm", undefined, say("thread, or what a clamp holds")),
    field(say("Towards the filter"), `${path}.toMm`, "mm", undefined),
    field(say("Depth"), `${path}.depthMm`, "length", say("{length} assumed", { length: lengthText(3, 0) })),
    field(say("Clear diameter"), `${path}.clearMm`, "length", say("{length} less assumed", { length: lengthText(4, 0) })),
    field(say("How many"), `${path}.count`, "number", undefined),
    checkField(say("a clamp for a front without thread"), Boolean(now().clamp), (on) =>
      change((ring) => {
        ring.clamp = on;
      })),
  ];
}

/** @param {App} _ @param {Entry<Setup["plan"]["ringOffers"][number]>} record */
function offerFields(_, { path, now, change }) {
  return [
    field(say("Towards the lens"), `${path}.fromMm`, "mm", undefined, say("thread, or what a clamp holds")),
    field(say("Towards the filter"), `${path}.toMm`, "mm", undefined),
    field(say("Costs"), `${path}.cost`, "number", undefined),
    field(say("Depth"), `${path}.depthMm`, "length", say("{length} assumed", { length: lengthText(3, 0) })),
    field(say("Clear diameter"), `${path}.clearMm`, "length", say("{length} less assumed", { length: lengthText(4, 0) })),
    checkField(say("a clamp for a front without thread"), Boolean(now().clamp), (on) =>
      change((ring) => {
        ring.clamp = on;
      })),
  ];
}

/** @param {any} ring */
const ringFacts = (ring) => [ringText(ring), ring.count === 1 ? "" : say("{count} of them", { count: ring.count })].filter(Boolean).join(", ");

/** @param {App} app @param {Entry<Setup["stock"]["bodies"][number]>} record */
function bodyFields(app, record) {
  const { path, now } = record;
  return [
    nameField(app, record, (name) => app.do(renameRecord, "body", now().id, name)),
    field(say("Exposure index"), `${path}.exposureIndex`, "index", say("not said")),
    el("button", {
      type: "button",
      class: "row-use",
      onclick: () => app.do(putOnBody, now().id),
    }, say("Put it in use")),
  ];
}

/** @param {any} body */
const bodyFacts = (body) => (body.exposureIndex === undefined ? "" : say("EI {index}", { index: fixed(body.exposureIndex, 0) }));

/** @param {App} app @param {Entry<{body: string}>} record */
function bodyChoice(app, { now, change }) {
  const ids = Object.fromEntries(app.setup.stock.bodies.map((body) => [body.id, body.id]));
  return choiceField(say("Body"), ids, now().body, undefined, (value) =>
    change((item) => {
      item.body = value;
    }));
}

/** @param {App} app @param {Entry<Setup["stock"]["modes"][number]>} record */
function modeFields(app, record) {
  const { path, now, change } = record;
  return [
    bodyChoice(app, record),
    nameField(app, record, (name) => change((mode, { inUse }) => {
      if (inUse.body === mode.body && inUse.mode === mode.id) inUse.mode = name;
      mode.id = name;
    })),
    field(say("Width read out"), `${path}.widthMm`, "mm", undefined),
    field(say("Height read out"), `${path}.heightMm`, "mm", undefined),
    el("button", {
      type: "button",
      class: "row-use",
      onclick: () => {
        const { body, id } = now();
        app.do(putOnMode, body, id);
      },
    }, say("Use its size now")),
  ];
}

/** @param {any} mode */
const modeFacts = (mode) => `${mode.body}, ${fixed(mode.widthMm, 2)} × ${fixed(mode.heightMm, 2)} mm`;

/** @param {App} app @param {Entry<Setup["stock"]["wheels"][number]>} record */
function wheelFields(app, record) {
  const { path, change } = record;
  return [
    bodyChoice(app, record),
    nameField(app, record, (name) => change((position) => {
      position.id = name;
    })),
    field(say("Marked density"), `${path}.density`, "density", undefined),
    field(say("Measured density"), `${path}.measuredDensity`, "density", say("not measured")),
    field(say("Density in infrared"), `${path}.infraredDensity`, "density", say("not known")),
  ];
}

/** @param {any} position */
const wheelFacts = (position) =>
  `${position.body}, ${densityText(position)}`;

/** @param {string[]} rings @param {number | undefined} cost */
function buyText(rings, cost) {
  if (rings.length === 0) return say("Nothing to buy.");
  const what = rings.join(", ");
  return cost === undefined ? say("Buy {rings}.", { rings: what }) : say("Buy {rings} for {cost}.", { rings: what, cost: fixed(cost, 2) });
}

/** @param {App} app */
function ringsAnswer(app) {
  const request = RINGS.request(app.setup, app.setup.plan.filterMm);
  if (request.lenses.length === 0) return [el("p", { class: "hint", text: PLAN_WORDS.noLenses })];
  const { reply, refusal } = askProven("rings", request, ringsAnswer);
  if (!reply) return [el("p", { class: "complaint", text: refusalSentence(refusal) })];
  const turn = (/** @type {HTMLElement} */ opener) => turnRings(opener, request, reply);
  const named = (/** @type {string} */ id, /** @type {string} */ text) => {
    const words = askedWords(text, "turn-way", turn);
    words.prepend(el("strong", { text: id }), " ");
    return el("li", {}, words);
  };
  const way = (/** @type {import("../../api/glasscall.js").RingPathReply} */ path) => named(path.id, pathText(path));
  const alone = (/** @type {import("../../api/glasscall.js").RingPathReply} */ path) => named(path.id, [pathText(path), stackText(path)].filter(Boolean).join(". "));
  const clashes = reply.clashes.map((clash) => el("li", {}, askedWords(
    sayCount(clash.owned, "{ring}: wanted by {lenses}, {count} ring owned.", "{ring}: wanted by {lenses}, {count} rings owned.", {
      ring: ringText(clash.ring), lenses: listText(clash.lenses),
    }), "turn-clash", turn)));
  const stays = reply.settled.filter((path) => path.reaches);
  const lost = reply.settled.filter((path) => !path.reaches).map((path) => path.id);
  const buy = reply.buy.map(({ ring, count }) => `${count > 1 ? `${count} × ` : ""}${ringText(ring)}`);
  const priced = app.setup.plan.ringOffers.length > 0;
  return [
    el("h4", { text: say("Each lens by itself, with the rings you have") }),
    el("ul", { class: "plain-list" }, ...reply.lenses.map(alone)),
    ...(clashes.length ? [el("h4", { text: say("Rings that would have to move") }), el("ul", { class: "plain-list" }, ...clashes)] : []),
    el("h4", { text: say("So that every ring stays on its lens") }),
    el("p", { class: "plan-sum" }, askedBack(buyText(buy, priced ? reply.cost : undefined), "turn-rings", turn)),
    el("ul", { class: "plain-list" }, ...stays.map(way)),
    ...(lost.length ? [el("p", { class: "complaint", text: `${say("No ring reaches {lenses}.", { lenses: lost.join(", ") })} ${PLAN_WORDS.narrow}` })] : []),
    el("p", { class: "hint", text: `${reply.proven ? say("Proven: no cheaper way exists.") : say("Not proven.")} ${priced ? "" : PLAN_WORDS.ringPrices}` }),
  ];
}
