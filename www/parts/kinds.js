// @ts-check
/**
 * Kinds of fields: how a text becomes a value and back, and what the steppers
 * step through. Values come from the core; only lists of the trade stand here.
 */
import { ask } from "../engine/ask.js";
import { say } from "../language/say.js";
import { distanceText, distanceUnit, fixed, lengthText, lengthUnit, stopLabel, stopsText } from "../language/numbers.js";

/**
 * @typedef {object} Kind
 * @property {string} as what `readText` reads it as
 * @property {(text: string) => any} read the value, or throws a Refusal
 * @property {(value: any) => string} show
 * @property {() => any[]} [steps] values the steppers go through, rising
 * @property {boolean} [wraps] whether the last step leads to the first
 * @property {[string, string]} [stepNames] what one step down and up do
 * @property {Pad} [pad] keys to tap where the field has `data-pad`
 */

/**
 * @typedef {object} Pad
 * @property {string[]} fulls the whole steps
 * @property {() => number[]} values each whole step and its thirds, rising
 * @property {(a: number, b: number) => number} apart how far two values are from each other
 * @property {(label: string) => string} name what a key of a whole step is called
 * @property {[string, string]} wholeSteps what a whole step down and up do
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
    show: (value) => stopLabel(ask("readText", { text: plainText(value), as }).reply?.label ?? String(value)),
  };
}

/** What the core calls a value. @param {string} text @param {any} as @returns {string} */
const labelled = (text, as) => stopLabel(read(text, as).label);

/** With its unit understood, so that 2 does not ask back. @param {number} density */
const densityLabel = (density) => labelled(`${plainText(density)} D`, "density");

/** Stops as a meter says them, where they are thirds. @param {number} stops */
function thirdsText(stops) {
  const thirds = Math.round(stops * 3);
  if (Math.abs(stops * 3 - thirds) > 0.0005) return fixed(stops, 2);
  const [whole, third] = [Math.floor(Math.abs(thirds) / 3), Math.abs(thirds) % 3];
  return `${thirds < 0 ? "−" : ""}${whole || (third ? "" : 0)}${THIRDS[third]}`;
}

const PLAIN = new Intl.NumberFormat("en", { useGrouping: false, maximumFractionDigits: 12 });

/** A number as text without an exponent. @param {number} value */
const plainText = (value) => PLAIN.format(value);

const FULL_STOPS = ["1", "1.4", "2", "2.8", "4", "5.6", "8", "11", "16", "22", "32", "45"];
export const THIRDS = ["", "⅓", "⅔"];
/** @type {number[] | undefined} */
let thirdStops;
function apertures() {
  thirdStops ??= FULL_STOPS.flatMap((full) => THIRDS.map((third) => read(full + third, "aperture").value));
  return thirdStops;
}

/** @type {Pad} */
const APERTURE_PAD = {
  fulls: FULL_STOPS,
  values: apertures,
  apart: (a, b) => Math.abs(Math.log(a / b)),
  name: (label) => `T${label}`,
  wholeSteps: [say("open a stop"), say("close a stop")],
};

const WHOLE_STOPS = ["0", "1", "2", "3", "4", "5", "6", "7", "8", "9", "10", "11"];
/** @type {Pad} */
const STOPS_PAD = {
  fulls: WHOLE_STOPS,
  values: () => WHOLE_STOPS.flatMap((_, whole) => THIRDS.map((_third, third) => whole + third / THIRDS.length)),
  apart: (a, b) => Math.abs(a - b),
  name: (label) => label,
  wholeSteps: [say("a stop less"), say("a stop more")],
};

/** @type {Pad} */
const F_PAD = { ...APERTURE_PAD, name: (label) => `f/${label}` };

/** @param {number} from @param {number} to @param {number} by */
const rising = (from, to, by) => Array.from({ length: (to - from) / by + 1 }, (_, nth) => from + nth * by);

/** Steps of a third. @param {number} from thirds @param {number} to @returns {Pick<Kind, "steps" | "stepNames">} */
const byThirds = (from, to) => ({
  steps: () => rising(from, to, 1).map((thirds) => thirds / 3), stepNames: [say("a third less"), say("a third more")],
});

const INDEXES = [50, 64, 80, 100, 125, 160, 200, 250, 320, 400, 500, 640, 800, 1000, 1280, 1600, 2000, 2560, 3200, 4000, 5120, 6400, 12800];
const RATES = [8, 12, 16, 18, 23.976, 24, 25, 29.97, 30, 48, 50, 59.94, 60, 72, 75, 96, 100, 120, 150, 200, 240, 300, 480, 960];
const ANGLES = [11.25, 22.5, 45, 60, 72, 75, 86.4, 90, 108, 120, 144, 150, 172.8, 180, 200, 216, 270, 300, 360];

const KELVINS = [2000, 2800, 3000, 3200, 3400, 4000, 4300, 4500, 5000, 5500, 5600, 6000, 6500, 7500, 10000];

const MIRED = /\s*(mired|mrd|mk-?1|mk⁻¹)$/i;

const INFINITY = /^(∞|inf(inity|inite)?|unendlich)$/i;

/** A bare number, however it is said, counts in the unit the field shows. @param {string} text @param {string} unit */
function readIn(text, unit) {
  const { reply, refusal } = ask("readText", { text: `${text} ${unit}`, as: "length" });
  if (refusal && refusal.code !== "notUnderstood") throw refusal;
  return (reply ?? read(text, "length")).value;
}

/** The parts of a list, which other signs than decimal ones divide. @param {string} text @param {RegExp} [between] */
const parts = (text, between = /[;/]/) => text.split(between).map((part) => part.trim()).filter(Boolean);

/** Those that scripts ask by name. @typedef {"aperture" | "density" | "fNumber" | "length" | "shutter" | "signedThirds" | "stops" | "thirds"} Named */

/** @type {Record<string, Kind> & Record<Named, Kind>} */
export const KINDS_OF_FIELD = {
  aperture: { ...plain("aperture"), steps: apertures, stepNames: [say("open a third"), say("close a third")], pad: APERTURE_PAD },
  // The pupil is measured in f-stops; a bare number here is one.
  fNumber: { ...plain("engravedAperture"), pad: F_PAD },
  // As a lens is engraved, whose 1.2 is no third of a stop.
  widest: { ...plain("engravedAperture"), steps: apertures, stepNames: [say("open a third"), say("close a third")] },
  index: { ...plain("number"), steps: () => INDEXES },
  rate: { ...plain("number"), steps: () => RATES },
  density: { ...plain("density") },
  stops: { ...plain("stops"), pad: STOPS_PAD },
  // The same where the label says what is counted.
  thirds: { ...plain("stops"), ...byThirds(0, 60), pad: STOPS_PAD, show: thirdsText },
  signedThirds: { ...plain("stops"), ...byThirds(-9, 9), show: thirdsText },
  number: { ...plain("number") },
  factor: { ...plain("number"), show: (value) => fixed(value, value < 100 ? 2 : 0) },
  // Two digits more than a meter tells.
  light: { ...plain("number"), show: (value) => fixed(value, Math.max(0, Math.min(9, 3 - Math.floor(Math.log10(value))))) },
  // What hangs about the lens: millimetres or inches, as chosen.
  length: { as: "rigLength", read: (text) => readIn(text, lengthUnit()), show: (mm) => lengthText(mm, 3) },
  // Focal lengths, sensors, threads, thickness of glass: millimetres everywhere.
  mm: { ...plain("length") },
  angle: { ...plain("angle") },
  bearing: { ...plain("angle"), steps: () => rising(0, 355, 5), wraps: true, stepNames: [say("turn left"), say("turn right")] },
  tilt: { ...plain("angle"), steps: () => rising(-90, 90, 5), stepNames: [say("tilt|down"), say("tilt|up")] },
  place: {
    as: "place",
    read(text) {
      const { reply, refusal } = ask("readPlace", { text });
      if (refusal) throw refusal;
      return { latitudeDeg: reply.latitudeDeg, longitudeDeg: reply.longitudeDeg };
    },
    // With points in any language: a comma parts the two.
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
      labelled(shutterSeconds === undefined ? `${plainText(shutterAngleDeg)}°` : `${plainText(shutterSeconds)} s`, "shutter"),
    steps: () => ANGLES.map((shutterAngleDeg) => ({ shutterAngleDeg })),
  },
  // What comes out of a shutter is no step of its ring.
  shutterTyped: { as: "shutter", read: (text) => KINDS_OF_FIELD.shutter.read(text), show: (value) => KINDS_OF_FIELD.shutter.show(value) },
  wheel: {
    as: "density",
    read: (text) => parts(text, /[;/]|\s{1,}(?=[\d.])/).map((one) => read(one, "density").value),
    show: (densities) => densities.map(densityLabel).join("; "),
  },
  distance: {
    as: "distance",
    read: (text) => (INFINITY.test(text.trim()) ? "infinity" : readIn(text, distanceUnit())),
    show: (place) => distanceText(place, 3),
  },
  share: {
    as: "share",
    read: (text) => read(text.replace("%", "").trim(), "number").value / 100,
    show: (share) => `${fixed(share * 100, 3)} %`,
  },
  thicknesses: {
    as: "length",
    read: (text) => parts(text).map((one) => read(one, "length").value),
    show: (list) => list.map((/** @type {number} */ mm) => fixed(mm, 3)).join("; "),
  },
  stopsOpen: {
    as: "aperture",
    read: (text) => parts(text).map((one) => read(one, "aperture").value),
    show: (list) => list.map((/** @type {number} */ number) => labelled(plainText(number), "aperture")).join("; "),
  },
  rates: {
    as: "number",
    read: (text) => parts(text).map((one) => read(one, "number").value),
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
KINDS_OF_FIELD.density.show = densityLabel;
KINDS_OF_FIELD.stops.show = (value) => stopsText(value, 3);
const engraved = KINDS_OF_FIELD.fNumber.show;
KINDS_OF_FIELD.fNumber.show = (value) => engraved(value).replace("T", "f/");

/** The kind that the page's HTML names. @param {string} name @returns {Kind} */
export function kindNamed(name) {
  const kind = KINDS_OF_FIELD[name];
  if (!kind) throw new TypeError(`no kind of field: ${name}`);
  return kind;
}
