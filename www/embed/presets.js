// @ts-check
/**
 * A set-up in words, as somebody writes it in a page:
 * `reading="T16" want="T2.8" kit="0.3 0.6 0.9 pola" slots="2"`.
 */
import { ask } from "../engine/ask.js";
import { demoDocument, ownDocument } from "../document/demo.js";
import { documentFrom } from "../hand-over/offered-set-up.js";
import { freeId } from "../document/document.js";
import { isPolarizer } from "../parts/piece-text.js";
import { say } from "../language/say.js";
import { refusalSentence } from "../language/words/shared.js";

/** @typedef {import("../document/document.js").Document} Document */

/** Attributes that say a set-up. */
export const PRESETS = ["setup", "reading", "want", "kit", "slots"];
const MOST_SLOTS = 8;
const USUAL_SLOTS = 3;

/** What stands in an attribute and cannot be read. */
export class NotRead extends Error {}

/** @param {string} text @param {"aperture" | "density"} as */
function read(text, as) {
  const { reply, refusal } = ask("readText", { text, as });
  if (reply) return reply.value;
  throw new NotRead(`${text}: ${refusalSentence(refusal, { as, path: as })}`);
}

/** Pieces as they are marked, with a blank or, where marks have blanks, a comma or semicolon between. @param {string} text */
function kitOf(text) {
  /** @type {import("../document/setup.js").Piece[]} */
  const kit = [];
  const marks = text.split(/[,;]\s/.test(text) ? /[,;]\s+/ : /[;\s]+/).map((mark) => mark.trim()).filter(Boolean);
  for (const mark of marks) {
    const what = isPolarizer(mark) ? { kind: /** @type {const} */ ("polarizer") } : { kind: /** @type {const} */ ("nd"), density: read(mark, "density") };
    kit.push({ id: freeId(kit, mark), size: "", count: 1, ...what });
  }
  return kit;
}

/** @param {string | null} text */
function slotsOf(text) {
  const count = text === null ? USUAL_SLOTS : Number(text);
  if (!Number.isInteger(count) || count < 1 || count > MOST_SLOTS) throw new NotRead(`slots="${text}"`);
  return Array.from({ length: count }, (_, at) => ({ id: say("slot {number}", { number: at + 1 }), size: "", rotates: true }));
}

/**
 * The document that the attributes of an element say. Where a kit is named it is
 * one of its own, in trays that take any size; else it is the link's, or the demo's.
 * @param {(name: string) => string | null} attribute
 * @returns {Promise<Document>}
 */
export async function presetDocument(attribute) {
  const link = attribute("setup");
  const reading = attribute("reading");
  const want = attribute("want");
  const kit = attribute("kit");
  const document = link ? await documentFrom(link) : kit !== null ? ownDocument() : demoDocument();
  if (kit !== null) {
    document.kit = kitOf(kit);
    document.rigs = [{ id: "rig", mount: "matteBox", slots: slotsOf(attribute("slots")), always: [] }];
    document.inUse = { ...document.inUse, rig: "rig" };
    document.keep = [];
    document.today.rigs = {};
    document.reading.through = [];
  }
  if (reading !== null) document.reading.aperture = read(reading, "aperture");
  if (want !== null) document.shot.aperture = read(want, "aperture");
  return document;
}
