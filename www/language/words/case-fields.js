// @ts-check
/** What the lists of a case and the fields in them are called where two records stand side by side. */
import { say } from "../say.js";
import { fixed } from "../numbers.js";
import { KINDS } from "./shared.js";
import { MOUNTS, PUPIL_BY, openingText } from "./planning.js";

/** @type {Record<string, string>} */
export const LIST_NAMES = {
  pieces: say("Piece"), lenses: say("Lens"), rings: say("Ring"), rigs: say("Rig"), slots: say("Slot"),
  openings: say("Opening"), bodies: say("Body"), modes: say("Mode"), wheels: say("Wheel"), plates: say("Plate"),
};

/** @type {Record<string, string>} */
const FIELDS = {
  id: say("name"),
  kind: say("kind"),
  density: say("density"),
  measuredDensity: say("measured density"),
  measuredOn: say("measured on"),
  lossStops: say("loss, stops"),
  size: say("size"),
  infraredDensity: say("infrared density"),
  miredShift: say("mired shift"),
  dioptres: say("dioptres"),
  split: say("split"),
  profile: say("profile"),
  thicknessMm: say("thickness, mm"),
  material: say("material"),
  massG: say("mass, grams"),
  count: say("count"),
  focalMm: say("focal length, mm"),
  focalToMm: say("longest focal length, mm"),
  tNumber: say("T-stop"),
  fNumber: say("f-stop"),
  threadMm: say("thread, mm"),
  outerMm: say("outside diameter, mm"),
  needsClearMm: say("needs clear, mm"),
  pupilBehindRimMm: say("pupil behind the rim, mm"),
  pupilBy: say("pupil known by"),
  fromMm: say("from, mm"),
  toMm: say("to, mm"),
  clamp: say("clamp"),
  depthMm: say("depth, mm"),
  clearMm: say("clear diameter, mm"),
  mount: say("how filters go in"),
  minutesPerMove: say("minutes a move"),
  cost: say("cost"),
  middleMm: say("middle, mm"),
  rig: say("rig"),
  rotates: say("rotates"),
  opening: say("opening"),
  body: say("body"),
  exposureIndex: say("exposure index"),
  glassMm: say("glass before the sensor, mm"),
  setForMm: say("set for, mm"),
  frontMm: say("in front, mm"),
  refractiveIndex: say("refractive index"),
  widthMm: say("width, mm"),
  heightMm: say("height, mm"),
};

/** @param {string} field */
export const caseFieldName = (field) => FIELDS[field] ?? field;

/** Words that stand for themselves in a file. @type {Record<string, Record<string, string>>} */
const CODES = {
  kind: KINDS,
  mount: MOUNTS,
  pupilBy: PUPIL_BY,
  material: { glass: say("material|glass"), resin: say("material|resin") },
};

/** What a record holds in a field, for the eye. @param {string} field @param {any} value */
export function caseValueText(field, value) {
  if (value === undefined) return say("not said");
  if (typeof value === "boolean") return value ? say("yes") : say("no");
  if (typeof value === "number") return fixed(value, 6);
  if (typeof value !== "object") return CODES[field]?.[value] ?? String(value);
  return field === "opening" ? openingText(value) : JSON.stringify(value);
}
