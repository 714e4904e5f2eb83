// @ts-check
/**
 * Two notations of what a record holds: one for files and records, the same in
 * every language, and the reader's own for the page, for paper and the radio.
 */
import { ask } from "../engine/ask.js";
import { locale, say } from "../language/say.js";
import { distanceText, fixed, lengthText, stopLabel } from "../language/numbers.js";
import { KINDS_OF_FIELD } from "../parts/kinds.js";
import { KINDS } from "../language/words/shared.js";
import { TABLE_WORDS } from "../language/words/day.js";
import { verdictWord } from "../language/words/stack-fit.js";

/** @typedef {import("../api/glasscall.js").Place} Place */
/** @typedef {{shutterAngleDeg?: number, shutterSeconds?: number}} Shutter */

/**
 * @typedef {object} Notation
 * @property {(value: number, most: number) => string} number with so many decimals at most
 * @property {(label: string) => string} label of a stop, as records hold it
 * @property {(aperture: number) => string} aperture
 * @property {(shot: Shutter) => string} shutter
 * @property {(mm: number) => string} length about the lens
 * @property {(place: Place) => string} distance
 * @property {(iso: string) => string} time
 * @property {(kind: string) => string} kind of a piece
 * @property {(fit: {verdict: string, trust: string}) => string} fit
 * @property {(english: string) => string} word headings, and words in cells
 */

/** What a record holds as the stop to set where no iris has it. */
export const NO_IRIS = "beyond any iris";

/** @param {number} value @param {number} most decimals at most; always a point */
function plain(value, most) {
  const text = String(Number(value.toFixed(most)));
  return text === "-0" ? "0" : text;
}

/** What the core calls a value. @param {number} value @param {string} unit @param {"aperture" | "shutter"} as */
const labelled = (value, unit, as) =>
  ask("readText", { text: `${value.toLocaleString("en", { useGrouping: false, maximumFractionDigits: 12 })}${unit}`, as }).reply?.label ?? plain(value, 3);

/** @type {Notation} */
export const WRITTEN = {
  number: plain,
  label: (label) => label,
  aperture: (aperture) => labelled(aperture, "", "aperture"),
  shutter: ({ shutterAngleDeg = 0, shutterSeconds }) =>
    shutterSeconds === undefined ? labelled(shutterAngleDeg, "°", "shutter") : labelled(shutterSeconds, " s", "shutter"),
  length: (mm) => plain(mm, 1),
  distance: (place) => (place === "infinity" ? place : `${plain(Number(place) / 1000, 3)} m`),
  time: (iso) => iso,
  kind: (kind) => kind,
  fit: ({ verdict }) => verdict,
  word: (english) => english,
};

const MOMENT = new Intl.DateTimeFormat(locale, { dateStyle: "medium", timeStyle: "short", hourCycle: "h23", timeZone: "UTC" });

/** A moment by the clock of its place. @param {string} iso with its offset */
export function momentText(iso) {
  const local = new Date(`${iso.slice(0, 19)}Z`);
  // A time from elsewhere may be written in another way.
  return Number.isNaN(local.getTime()) ? iso : MOMENT.format(local);
}

/** @type {Notation} */
export const SAID = {
  number: fixed,
  label: (label) => (label === NO_IRIS ? say("beyond any iris") : stopLabel(label)),
  aperture: (aperture) => KINDS_OF_FIELD.aperture.show(aperture),
  shutter: (shot) => KINDS_OF_FIELD.shutter.show(shot),
  length: (mm) => lengthText(mm, 1),
  distance: (place) => distanceText(place, 3),
  time: momentText,
  kind: (kind) => KINDS[kind] ?? kind,
  fit: verdictWord,
  word: (english) => TABLE_WORDS[english] ?? english,
};
