// @ts-check
/**
 * The one check of a document: what the page accepts and what a start opens.
 * Whatever passes here can be shown; whatever does not is refused with its reason.
 */
import { NotThere, ask, isWhole } from "../engine/ask.js";
import { caseContent } from "../document/case-content.js";
import { demoDocument } from "../document/demo.js";
import { resolve } from "../document/resolve.js";
import { asIfRead, isRead, OPEN_UP } from "./open-up.js";
import { answerTo, question } from "./question.js";
import { timedReading } from "../document/timed-reading.js";

/**
 * @typedef {import("../document/document.js").Document} Document
 * @typedef {import("../engine/ask.js").Refusal} Refusal
 */

/**
 * @typedef {object} Answer
 * @property {import("../document/setup.js").Setup} setup
 * @property {import("../api/glasscall.js").OpenUpReply} [reply]
 * @property {Refusal} [refusal]
 * @property {boolean} [waits] for the whole module: there is neither yet
 */

/** Documents are never changed, so what was asked of one stays true. @type {WeakMap<Document, Answer>} */
const answers = new WeakMap();
/** @type {WeakMap<Document, {refusal?: Refusal}>} */
const checked = new WeakMap();

/** The set-up in use and the main answer to it. @param {Document} document @returns {Answer} */
export function answerOf(document) {
  const known = answers.get(document);
  if (known) return known;
  const setup = resolve(document);
  const answer = orLater(() => answerTo(OPEN_UP, setup));
  if (answer === undefined) return { setup, waits: true };
  const told = { setup, ...answer };
  answers.set(document, told);
  return told;
}

/** What is asked, or nothing while only the whole module could answer. @template T @param {() => T} asks @returns {T | undefined} */
function orLater(asks) {
  try {
    return asks();
  } catch (error) {
    if (error instanceof NotThere) return undefined;
    throw error;
  }
}

/** What is against a document, if anything. @param {Document} document @returns {Refusal | undefined} */
export function refusalOf(document) {
  const known = checked.get(document);
  if (known) return known.refusal;
  const refusal = damageOf(document) ?? orLater(() => answerRefusal(document) ?? caseRefusal(document) ?? othersRefusal(document));
  // What passes without the whole module is asked once more when that is there.
  if (refusal || isWhole()) checked.set(document, { refusal });
  return refusal;
}

/** @param {Document} document @returns {Refusal | undefined} */
function answerRefusal(document) {
  const { setup, refusal: ofAnswer } = answerOf(document);
  // That nobody read yet is no fault; what else is wrong is one.
  const refusal = isRead(setup) ? ofAnswer : answerTo(OPEN_UP, asIfRead(setup)).refusal;
  // Pieces that find no room are an answer, not damage.
  return refusal?.code === "noRoom" ? undefined : refusal;
}

/** The document as a case file; some lists are called otherwise there. */
const CASE_FILE = question("writeCase", (/** @type {Document} */ document) => ({ case: caseContent(document), as: /** @type {const} */ ("json") }), {
  case: "", pieces: "kit", wheels: "wheel", "case.pieces": "kit", "case.wheels": "wheel",
});

/** What cannot go into a file cannot be handed over; only the whole module writes one. @param {Document} document @returns {Refusal | undefined} */
function caseRefusal(document) {
  return isWhole() ? answerTo(CASE_FILE, document).refusal : undefined;
}

/** What is against a rig or a body by itself: records are never changed either. @type {WeakMap<object, {refusal?: Refusal}>} */
const alone = new WeakMap();

/** A rig or a body that could not be put on is not kept beside the one in use. @param {Document} document @returns {Refusal | undefined} */
function othersRefusal(document) {
  const all = [...document.rigs.map((record) => ({ record, inUse: { rig: record.id } })), ...document.bodies.map((record) => ({ record, inUse: { body: record.id } }))];
  for (const { record, inUse } of all) {
    if (!alone.has(record)) alone.set(record, ask("openUp", emptyRequest({ ...document, inUse })));
    const refusal = alone.get(record)?.refusal;
    if (refusal) return refusal;
  }
  return undefined;
}

/** The main question with nothing in the case, which takes no search. @param {Document} document */
function emptyRequest(document) {
  const { fit: _, ...question } = OPEN_UP.request(asIfRead(resolve({ ...document, today: { lenses: {}, rigs: {}, bodies: {} } })));
  return { ...question, reading: { ...question.reading, through: [] }, kit: [], keep: [], inPlace: [] };
}

/** @type {Document | undefined} */
let model;

/** A document whose lists all hold something, to compare others with. @returns {Document} */
function full() {
  const demo = demoDocument();
  const setup = resolve(demo);
  const opening = { name: "hood", distanceFromRimMm: 0, shape: /** @type {const} */ ("circle"), diameterMm: 77 };
  return {
    ...demo,
    rigs: demo.rigs.map((rig) => ({ ...rig, always: [opening] })),
    bodies: demo.bodies.map((body) => ({ ...body, wheel: [{ id: "1", density: 0 }], plates: [{ id: "1", thicknessMm: 1 }] })),
    days: demo.days.map((day) => ({ ...day, wanted: [1], frameRates: [24] })),
    keep: ["0.9"],
    reading: { ...demo.reading, through: ["0.9"], wheelDensity: 0.3, inThen: "" },
    frame: { ...demo.frame, lines: [{ piece: "", line: 1, rotationDeg: 1, invert: true, fromRimMm: 1 }], bright: { ...demo.frame.bright, through: ["0.9"], wheelDensity: 0.3 } },
    light: { ...demo.light, timed: [timedReading(setup, 16, true, new Date(0))] },
  };
}

/** What differs today, by record. */
const TODAY = {
  lenses: { focalLengthMm: 1, focusMm: 1, fNumber: 1, extender: 1, shiftXMm: 1, shiftYMm: 1, withoutRings: true, closeFocalMm: 1, closePupilMm: 1 },
  rigs: { inPlace: [{ slot: "", piece: "" }] },
  bodies: { exposureIndex: 1, wheelNow: 1, mode: "", sensor: { widthMm: 1, heightMm: 1 } },
};

/** Whether it is built like a document at all. @param {any} document @returns {Refusal | undefined} */
export function damageOf(document) {
  const bad = (/** @type {string} */ field) => /** @type {Refusal} */ ({ code: "damaged", field });
  model ??= full();
  for (const [part, inner] of Object.entries(model)) {
    if (part !== "today" && document[part] !== undefined && !isLike(document[part], inner)) return bad(part);
  }
  for (const [part, inner] of Object.entries(TODAY)) {
    const all = document.today?.[part];
    if (typeof all !== "object" || !Object.values(all).every((differs) => isLike(differs, inner))) return bad(`today.${part}`);
  }
  const missing = Object.keys(model).find((part) => document[part] === undefined);
  return missing === undefined ? undefined : bad(missing);
}

/** Where a word stands for a number. */
const WORDS = /** @type {Record<string, string>} */ ({
  onMm: "infinity", focusMm: "infinity", backgroundMm: "infinity", farMm: "infinity", depthMm: "infinity", turnDeg: "darkest",
});

/**
 * Whether a value is built like another: what is there is of the same type,
 * what a list holds is like its first. Fields may be more or fewer.
 * @param {any} value
 * @param {any} like
 * @param {string} [name]
 * @returns {boolean}
 */
function isLike(value, like, name = "") {
  if (Array.isArray(like)) return Array.isArray(value) && value.every((item) => like.length === 0 ? item !== null && item !== undefined : isLike(item, like[0]));
  if (typeof like === "number") return Number.isFinite(value) || (WORDS[name] !== undefined && value === WORDS[name]);
  if (typeof like !== "object" || like === null) return typeof value === typeof like;
  return typeof value === "object" && value !== null && !Array.isArray(value)
    && Object.entries(like).every(([key, inner]) => value[key] === undefined || isLike(value[key], inner, key));
}
