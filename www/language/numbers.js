// @ts-check
/** Numbers for the eye, in the reader's own notation and units. */
import { locale, say } from "./say.js";

const INCH = 25.4;
const FOOT = 12 * INCH;

/** @type {Map<string, Intl.NumberFormat>} */
const formats = new Map();

/** Making a format costs a hundred times what using it does. @param {Intl.NumberFormatOptions} options */
function formatOf(options) {
  const name = JSON.stringify(options);
  const format = formats.get(name) ?? new Intl.NumberFormat(locale, options);
  formats.set(name, format);
  return format;
}

/** What the reader has chosen: `mm` or `in`, `m` or `ft`. */
const units = { lengths: "mm", distances: "m" };

/** @param {{lengths: string, distances: string}} chosen */
export function useUnits({ lengths, distances }) {
  Object.assign(units, { lengths, distances });
}

/** The unit of a bare number in a field of lengths, or of distances. */
export const lengthUnit = () => units.lengths;
export const distanceUnit = () => units.distances;

/** Units as they are read. "in" alone would be another word in a German sentence. @type {Record<string, string>} */
const UNITS = { mm: "mm", m: "m", in: say("unit|in"), ft: say("unit|ft") };

/** @param {string} unit as the core knows it */
export const unitName = (unit) => UNITS[unit] ?? unit;

/** @param {number} value @param {number} most decimals at most */
export function fixed(value, most) {
  // A hair below zero is not minus nothing.
  const shown = Math.abs(value) < 0.5 * 10 ** -most ? 0 : value;
  return formatOf({ maximumFractionDigits: most, useGrouping: false }).format(shown);
}

/** A left-over with its sign, always two decimals. @param {number} stops */
export function signed(stops) {
  return formatOf({
    minimumFractionDigits: 2,
    maximumFractionDigits: 2,
    signDisplay: "exceptZero",
  }).format(stops);
}

/** The sign between whole and part, as the reader writes it. */
const decimalSign = new Intl.NumberFormat(locale).formatToParts(0.5).find(({ type }) => type === "decimal")?.value ?? ".";

/** A label of the core, as `T2.8⅓` or `1/59.94 s`, with the reader's decimal sign. @param {string} label */
export const stopLabel = (label) => label.replace(/(\d)\.(?=\d)/g, `$1${decimalSign}`);

/** @param {number} stops @param {number} [most] decimals at most */
export function stopsText(stops, most = 2) {
  const text = fixed(stops, most);
  return text === "1" ? say("{stops} stop", { stops: text }) : say("{stops} stops", { stops: text });
}

/**
 * A length of glass and rigs, in millimetres or inches. Focal lengths, sensors,
 * threads and the thickness of glass are in millimetres everywhere: not by this.
 * @param {number} mm @param {number} most decimals of a millimetre at most
 */
export function lengthText(mm, most) {
  return units.lengths === "in" ? `${fixed(mm / INCH, most + 2)} ${UNITS.in}` : `${fixed(mm, most)} mm`;
}

/** The same as a bare number, where the unit stands beside. @param {number} mm @param {number} most */
export const lengthNumber = (mm, most) => (units.lengths === "in" ? fixed(mm / INCH, most + 2) : fixed(mm, most));

/** The same with its sign, for slides along the filter. @param {number} mm */
export function signedLength(mm) {
  const inches = units.lengths === "in";
  const decimals = inches ? 3 : 2;
  const text = formatOf({
    minimumFractionDigits: decimals, maximumFractionDigits: decimals, signDisplay: "exceptZero",
  }).format(inches ? mm / INCH : mm);
  return `${text} ${UNITS[units.lengths]}`;
}

/** A distance for the eye: from a metre or a foot on. @param {import("../api/glasscall.js").Place} place @param {number} [most] decimals of a metre */
export function distanceText(place, most = 2) {
  if (place === "infinity") return say("infinity");
  const millimetres = Number(place);
  if (units.distances === "ft") return feetText(millimetres, most);
  if (Math.abs(millimetres) >= 1000) return `${fixed(millimetres / 1000, most > 2 || millimetres < 10_000 ? most : 1)} m`;
  return `${fixed(millimetres, most > 2 ? 3 : millimetres < 100 ? 1 : 0)} mm`;
}

/** As tapes are marked: feet, then inches. @param {number} mm @param {number} most decimals of a metre, of which two are half an inch */
function feetText(mm, most) {
  const decimals = most > 2 ? 2 : mm < 3000 ? 1 : 0;
  const inches = Number((mm / INCH).toFixed(decimals));
  const feet = Math.floor(inches / 12);
  const rest = fixed(inches - 12 * feet, decimals);
  if (feet === 0) return `${rest} ${UNITS.in}`;
  return rest === "0" ? `${feet} ${UNITS.ft}` : `${feet} ${UNITS.ft} ${rest} ${UNITS.in}`;
}

/** Names as a list: `a, b and c`. @param {string[]} names */
export const listText = (names) => new Intl.ListFormat(locale, { type: "conjunction" }).format(names);

/** A shift of colour temperature with its sign. @param {number} mired */
export function shiftText(mired) {
  const text = formatOf({ maximumFractionDigits: 0, signDisplay: "exceptZero" }).format(mired);
  return say("{shift} mired", { shift: text });
}

/** Always so many decimals, for columns that are compared. @param {number} value @param {number} decimals */
export function even(value, decimals) {
  return formatOf({ minimumFractionDigits: decimals, maximumFractionDigits: decimals, useGrouping: false }).format(value);
}

/**
 * A limit of a zone, fine enough that near and far of it read apart.
 * @param {import("../api/glasscall.js").Place} place
 * @param {import("../api/glasscall.js").Place} depth
 */
export function limitText(place, depth) {
  if (place === "infinity" || depth === "infinity") return distanceText(place);
  const millimetres = Number(place);
  const feet = units.distances === "ft";
  const [large, small] = feet ? [FOOT, INCH] : [1000, 1];
  const isLarge = millimetres >= large;
  // A twentieth of the zone shows, thousandths of a millimetre never.
  const step = Number(depth) / 20 / (isLarge ? large : small);
  const decimals = Math.min(isLarge ? 4 : 2, Math.max(isLarge ? 1 : 0, Math.ceil(-Math.log10(step))));
  const unit = isLarge ? (feet ? "ft" : "m") : feet ? "in" : "mm";
  return `${even(millimetres / (isLarge ? large : small), decimals)} ${UNITS[unit]}`;
}
