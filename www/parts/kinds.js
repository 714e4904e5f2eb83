// @ts-check
/**
 * Kinds of fields: how a text becomes a value and back, and what the steppers
 * step through. Values come from the core; only lists of the trade stand here.
 */
import { ask } from "../engine.js";
import { distanceText, distanceUnit, fixed, lengthText, lengthUnit } from "../show.js";

/**
 * @typedef {object} Kind
 * @property {string} as what `readText` reads it as
 * @property {(text: string) => any} read the value, or throws a Refusal
 * @property {(value: any) => string} show
 * @property {() => any[]} [steps] values the steppers go through, rising
 * @property {boolean} [wraps] whether the last step leads to the first
 * @property {[string, string]} [stepNames] what one step down and up do
 */

/** @param {string} text @param {any} as */
function read(text, as) {
  const { reply, refusal } = ask("readText", { text, as });
  if (refusal) throw refusal;
  return reply;
}

/** @param {any} as @returns {Pick<Kind, "as" | "read" | "show">} */
function plain(as) {
  return {
    as,
    read: (text) => read(text, as).value,
    show: (value) => ask("readText", { text: plainText(value), as }).reply?.label ?? String(value),
  };
}

const PLAIN = new Intl.NumberFormat("en", { useGrouping: false, maximumFractionDigits: 12 });

/** A number as text without an exponent. @param {number} value */
const plainText = (value) => PLAIN.format(value);

const FULL_STOPS = ["1", "1.4", "2", "2.8", "4", "5.6", "8", "11", "16", "22", "32", "45"];
const THIRDS = ["", "⅓", "⅔"];
/** @type {number[] | undefined} */
let thirdStops;
function apertures() {
  thirdStops ??= FULL_STOPS.flatMap((full) => THIRDS.map((third) => read(full + third, "aperture").value));
  return thirdStops;
}

/** @param {number} from @param {number} to @param {number} by */
const rising = (from, to, by) => Array.from({ length: (to - from) / by + 1 }, (_, nth) => from + nth * by);

const INDEXES = [50, 64, 80, 100, 125, 160, 200, 250, 320, 400, 500, 640, 800, 1000, 1280, 1600, 2000, 2560, 3200, 4000, 5120, 6400, 12800];
const RATES = [8, 12, 16, 18, 23.976, 24, 25, 29.97, 30, 48, 50, 59.94, 60, 72, 75, 96, 100, 120, 150, 200, 240, 300, 480, 960];
const ANGLES = [11.25, 22.5, 45, 60, 72, 75, 86.4, 90, 108, 120, 144, 150, 172.8, 180, 200, 216, 270, 300, 360];

const KELVINS = [2000, 2800, 3000, 3200, 3400, 4000, 4300, 4500, 5000, 5500, 5600, 6000, 6500, 7500, 10000];

const MIRED = /\s*(mired|mrd|mk-?1|mk⁻¹)$/i;

const INFINITY = /^(∞|inf(inity|inite)?)$/i;

/** A bare number counts in the unit the field shows. @param {string} text @param {string} unit */
const withUnit = (text, unit) => (/^[-+−]?[\d.,\s]+$/.test(text) ? `${text} ${unit}` : text);

/** @param {string} text */
const readLength = (text) => read(withUnit(text, lengthUnit()), "length").value;

/** @type {Record<string, Kind>} */
export const KINDS_OF_FIELD = {
  aperture: { ...plain("aperture"), steps: apertures, stepNames: ["open a third", "close a third"] },
  // The pupil is measured in f-stops; a bare number here is one.
  fNumber: { ...plain("aperture") },
  index: { ...plain("number"), steps: () => INDEXES },
  rate: { ...plain("number"), steps: () => RATES },
  density: { ...plain("density") },
  stops: { ...plain("stops") },
  number: { ...plain("number") },
  // What hangs about the lens: millimetres or inches, as chosen.
  length: { as: "length", read: readLength, show: (mm) => lengthText(mm, 3) },
  // Focal lengths, sensors, threads, thickness of glass: millimetres everywhere.
  mm: { ...plain("length") },
  angle: { ...plain("angle") },
  bearing: { ...plain("angle"), steps: () => rising(0, 355, 5), wraps: true, stepNames: ["turn left", "turn right"] },
  tilt: { ...plain("angle"), steps: () => rising(-90, 90, 5), stepNames: ["down", "up"] },
  place: {
    as: "place",
    read(text) {
      const { reply, refusal } = ask("readPlace", { text });
      if (refusal) throw refusal;
      return { latitudeDeg: reply.latitudeDeg, longitudeDeg: reply.longitudeDeg };
    },
    show: ({ latitudeDeg, longitudeDeg }) =>
      ask("readPlace", { text: `${plainText(latitudeDeg)}, ${plainText(longitudeDeg)}` }).reply?.label ?? "",
  },
  shutter: {
    as: "shutter",
    read(text) {
      const { value, unit } = read(text, "shutter");
      return unit === "deg" ? { shutterAngleDeg: value } : { shutterSeconds: value };
    },
    show: ({ shutterAngleDeg, shutterSeconds }) =>
      shutterSeconds === undefined
        ? read(`${plainText(shutterAngleDeg)}°`, "shutter").label
        : read(`${plainText(shutterSeconds)} s`, "shutter").label,
    steps: () => ANGLES.map((shutterAngleDeg) => ({ shutterAngleDeg })),
  },
  wheel: {
    as: "density",
    read: (text) => text.split(/[;/]|\s{1,}(?=[\d.])/).map((one) => one.trim()).filter(Boolean)
      .map((one) => read(one, "density").value),
    show: (densities) => densities.map((/** @type {number} */ d) => read(`${plainText(d)} D`, "density").label).join("; "),
  },
  distance: {
    as: "distance",
    read: (text) => (INFINITY.test(text.trim()) ? "infinity" : read(withUnit(text, distanceUnit()), "length").value),
    show: (place) => distanceText(place, 3),
  },
  share: {
    as: "share",
    read: (text) => read(text.replace("%", "").trim(), "number").value / 100,
    show: (share) => `${fixed(share * 100, 3)} %`,
  },
  thicknesses: {
    as: "length",
    read: (text) => text.split(/[;/]/).map((one) => one.trim()).filter(Boolean).map((one) => read(one, "length").value),
    show: (list) => list.map((/** @type {number} */ mm) => fixed(mm, 3)).join("; "),
  },
  stopsOpen: {
    as: "aperture",
    read: (text) => text.split(/[;/]/).map((one) => one.trim()).filter(Boolean).map((one) => read(one, "aperture").value),
    show: (list) => list.map((/** @type {number} */ number) => read(plainText(number), "aperture").label).join("; "),
  },
  rates: {
    as: "number",
    read: (text) => text.split(/[;/]/).map((one) => one.trim()).filter(Boolean).map((one) => read(one, "number").value),
    show: (list) => list.map((/** @type {number} */ rate) => fixed(rate, 3)).join("; "),
  },
  kelvin: {
    as: "number",
    read: (text) => {
      // Meters tell either; a bare number is kelvin.
      if (!MIRED.test(text)) return read(text.replace(/k$/i, "").trim(), "number").value;
      const { reply, refusal } = ask("colour", { lightMired: read(text.replace(MIRED, "").trim(), "number").value });
      if (refusal) throw refusal;
      return reply.light.kelvin;
    },
    show: (kelvin) => `${fixed(kelvin, 1)} K`,
    steps: () => KELVINS,
  },
  text: { as: "text", read: (text) => text.trim(), show: (value) => value },
};
// A density is shown with its unit understood, so that 2 does not ask back.
KINDS_OF_FIELD.density.show = (value) => read(`${plainText(value)} D`, "density").label;
KINDS_OF_FIELD.stops.show = (value) => read(plainText(value), "stops").label;
KINDS_OF_FIELD.fNumber.show = (value) => KINDS_OF_FIELD.aperture.show(value).replace("T", "f/");
