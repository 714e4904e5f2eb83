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
  longPupilMm: say("pupil at the long end, mm"),
  pupil: say("pupil as measured"),
  by: say("known by"),
  verticalMm: say("upright, mm"),
  nearHeightMm: say("edge of the near card, mm"),
  farMm: say("far card, mm"),
  farHeightMm: say("edge of the far card, mm"),
  up: say("cards upright"),
  ringDiameterMm: say("ring, mm"),
  darkensFromMm: say("darkens from, mm"),
  ringFNumber: say("looked at, f"),
  frontDiameterMm: say("front, mm"),
  imageCircleMm: say("image circle, mm"),
  squeeze: say("squeeze"),
  pupilRatio: say("exit pupil against entrance pupil"),
  movesOut: say("moves out as a whole"),
  nearMm: say("near, mm"),
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
  rampMm: say("ramp, mm"),
  topDensity: say("density at the top"),
  points: say("measured points"),
  distanceFromRimMm: say("ahead of the rim, mm"),
  diameterMm: say("diameter, mm"),
  offsetXMm: say("off the axis sideways, mm"),
  offsetYMm: say("off the axis upwards, mm"),
  rotationDeg: say("turned, degrees"),
  turns: say("turns"),
  seen: say("as seen"),
};

/** @param {string} field */
export const caseFieldName = (field) => FIELDS[field] ?? field;

/** Words that stand for themselves in a file. @type {Record<string, Record<string, string>>} */
const CODES = {
  kind: KINDS,
  mount: MOUNTS,
  pupilBy: PUPIL_BY,
  by: { figure: say("pupil|a figure"), cards: PUPIL_BY.twoCards, ring: PUPIL_BY.ring, front: PUPIL_BY.front },
  material: { glass: say("material|glass"), resin: say("material|resin") },
};

/** What a record holds in a field, for the eye. @param {string} field @param {any} value @returns {string} */
export function caseValueText(field, value) {
  if (value === undefined) return say("not said");
  if (typeof value === "boolean") return value ? say("yes") : say("no");
  if (typeof value === "number") return fixed(value, 6);
  if (typeof value !== "object") return CODES[field]?.[value] ?? String(value);
  if (field === "opening") return openingText(value);
  if (Array.isArray(value)) return value.map((item, at) => caseValueText(`${at + 1}`, item)).join("; ");
  return Object.entries(value).map(([name, inner]) => `${caseFieldName(name)} ${caseValueText(name, inner)}`).join(", ");
}
