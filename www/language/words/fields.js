// @ts-check
/** What fields are called in a sentence: as the label beside them says, where they stand on the page. */
import { say } from "../say.js";

const FOCAL = say("The focal length");
const DISTANCE = say("The distance ahead of the rim");
const PUPIL = say("The pupil");
const SHUTTER = say("The shutter");
const RATE = say("The frame rate");

/**
 * For what has no label: a record of a file, a list that is closed, a field of
 * the element. By a field's path, or by its end where all that end so are called
 * the same (`heightMm` is `nearHeightMm` too); what ends in a point stands for
 * whatever is below. Numbers of places in lists are left out.
 * @type {Record<string, string>}
 */
const NAMES = {
  "reading.aperture": say("The stop you read"),
  "shot.aperture": say("The stop you want"),
  aperture: say("The stop"),
  exposureIndex: say("The exposure index"),
  frameRate: RATE, frameRates: RATE,
  shutter: SHUTTER, shutterAngleDeg: SHUTTER,
  shutterSeconds: say("The exposure time"),
  widestAperture: say("The widest stop"),
  "uncertainty.": say("The uncertainty"),
  // Of lenses.
  focalLengthMm: FOCAL, focalMm: FOCAL,
  pupilRatio: say("The pupil ratio"),
  refractiveIndex: say("The refractive index"),

  // Of pieces and what holds them.
  dioptres: say("The power"),
  measuredDensity: say("The measured density"),
  infraredDensity: say("The infrared density"),
  density: say("The density"),
  lossStops: say("The loss"),
  miredShift: say("The mired shift"),
  count: say("The count"),
  wheel: say("The wheel"),
  kit: say("The case"),
  "rig.slots": say("The rig"),
  rampMm: say("The ramp"),
  id: say("The name"),
  text: say("This"),

  // Of Fit.
  fNumber: say("The f-number"),
  squeeze: say("The squeeze"),
  distanceFromRimMm: DISTANCE,
  offsetXMm: say("The offset"), offsetYMm: say("The offset"),
  depthMm: say("The depth"),
  rotationDeg: say("The turn"),
  diameterMm: say("The diameter"),
  widthMm: say("The width"),
  heightMm: say("The height"),
  "pupil.nearMm": DISTANCE, "pupil.farMm": DISTANCE, darkensFromMm: DISTANCE,
  pupilBehindRimMm: PUPIL, "pupilBehindRimMm.": PUPIL, pupilMm: PUPIL,

  // Of the plan and of the stock.
  focalToMm: say("The longest focal length"),
  tNumber: say("The T-stop"),
  threadMm: say("The thread"),
  outerMm: say("The outside diameter"),
  clearMm: say("The clear diameter"),
  fromMm: say("The diameter"), toMm: say("The diameter"),
  massG: say("The weight"),
  cost: say("The cost"),
  needStops: say("The need"),
  toleranceStops: say("What is near enough"),
  minutesPerMove: say("The minutes"),
  slots: say("The number of slots"), rotating: say("The number of slots"),
  measuredOn: say("The day"),
  rig: say("The name"), body: say("The name"),
  setUps: say("The day"),
};

/** @param {string} path */
export function fieldName(path) {
  const label = labelAt(path);
  return label === undefined ? nameFor(path) : labelled(label);
}

/** What a label says, in a sentence. @param {string} label */
export const labelled = (label) => say("“{label}”", { label: label.replace(/\s+/g, " ").trim() });

/** The label of the field that is that path or holds it; of several, of one that is in sight. @param {string} path */
function labelAt(path) {
  const page = /** @type {Document | undefined} */ (globalThis.document);
  for (let at = path; page && at !== ""; at = at.replace(/[.[]?[^.[]*$/, "")) {
    const labels = [...page.querySelectorAll(`[data-field="${CSS.escape(at)}"] label`)];
    const label = labels.find((one) => !one.closest("[hidden]")) ?? labels[0];
    if (label?.textContent) return label.textContent;
  }
  return undefined;
}

/** The longest end that has a name decides, whole or from a capital on; else what it stands in. @param {string} path */
function nameFor(path) {
  const plain = path.replace(/\[\d+\]/g, "");
  const ends = [...plain.matchAll(/^|(?<=\.)|(?=[A-Z])/g)].map(({ index }) => plain.charAt(index).toLowerCase() + plain.slice(index + 1));
  const held = Object.keys(NAMES).find((name) => name.endsWith(".") && plain.startsWith(name));
  return NAMES[ends.find((end) => NAMES[end]) ?? held ?? ""] ?? path;
}
