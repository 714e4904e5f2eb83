// @ts-check
/** What fields are called in a sentence. */
import { say } from "../say.js";

const FOCAL = say("The focal length");
const DISTANCE = say("The distance ahead of the rim");
const PUPIL = say("The pupil");
const STOP = say("The stop");
const SHUTTER = say("The shutter");
const RATE = say("The frame rate");
const LAMP = say("The lamp’s place");

/**
 * By a field's path, or by its end where all that end so are called the same
 * (`heightMm` is `nearHeightMm` too); what ends in a point stands for whatever is
 * below. Numbers of places in lists are left out.
 * @type {Record<string, string>}
 */
const NAMES = {
  "reading.aperture": say("The stop you read"),
  "shot.aperture": say("The stop you want"),
  exposureIndex: say("The exposure index"),
  frameRate: RATE, frameRates: RATE,
  shutter: SHUTTER, shutterAngleDeg: SHUTTER,
  shutterSeconds: say("The exposure time"),
  widestAperture: say("The widest stop"),
  "uncertainty.": say("The uncertainty"),
  // Of lens, depth, colour, infrared and ramps.
  focalLengthMm: FOCAL, focalMm: FOCAL,
  "lens.lossStops": say("The light lost in the lens"),
  extender: say("The extender"),
  pupilRatio: say("The pupil ratio"),
  "lens.nearMm": say("The closest focus"),
  "focus.onMm": say("The focus"),
  "focus.backgroundMm": say("The background"),
  "focus.circleMm": say("The circle of confusion"),
  "focus.diagonalParts": say("The part of the diagonal"),
  "sensor.widthMm": say("The picture’s width"),
  "sensor.heightMm": say("The picture’s height"),
  "wish.depthMm": say("The wanted depth"),
  "wish.nearMm": say("The nearest sharp place"),
  "wish.farMm": say("The farthest sharp place"),
  "wish.": say("The wanted blur"),
  "colour.": say("The colour temperature"),
  "infrared.": say("The limit"),
  refractiveIndex: say("The refractive index"),
  "behind.": say("The thickness"),
  "ramp.aperture": say("The stop at the end"),

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

  // Of Frame and Fit.
  "frame.fromRimMm": say("The filter’s distance from the rim"),
  "frame.allowedStops": say("What may stay"),
  tiltToDeg: say("The tilt"),
  panToDeg: say("The pan"),
  "frame.move.focalLengthToMm": say("The zoom"),
  fNumber: say("The f-number"),
  squeeze: say("The squeeze"),
  shiftXMm: say("The shift"), shiftYMm: say("The shift"),
  distanceFromRimMm: DISTANCE,
  offsetXMm: say("The offset"), offsetYMm: say("The offset"),
  depthMm: say("The depth"),
  rotationDeg: say("The turn"),
  diameterMm: say("The diameter"),
  widthMm: say("The width"),
  heightMm: say("The height"),
  "pupil.nearMm": DISTANCE, "pupil.farMm": DISTANCE, darkensFromMm: DISTANCE,
  pupilBehindRimMm: PUPIL, "pupilBehindRimMm.": PUPIL, pupilMm: PUPIL, "lens.pupil.": PUPIL,

  // Of Light.
  "light.place": say("The place"), latitudeDeg: say("The place"), longitudeDeg: say("The place"),
  azimuthDeg: say("The direction"),
  elevationDeg: say("The tilt up"),
  rollDeg: say("The roll"),
  maxPolarization: say("The clearness of the sky"),
  lensHeightMm: say("The lens height"),
  "surface.angleDeg": say("The angle from square on"),
  "pair.stops": say("What the pair takes"),
  extinctionRatio: say("The extinction ratio"),
  aperture: STOP, pullTo: STOP, "plan.wanted": STOP,
  hingeFromAxisMm: say("The hinge from the axis"),
  hingeFromRimMm: say("The hinge from the rim"),
  leanDeg: say("The lean"),
  tiltDeg: say("The tilt"),
  lampMm: LAMP, "light.flag.lamp.": LAMP,
  reflectances: say("The reflected share"),

  // Of the plan and of the stock.
  focalToMm: say("The longest focal length"),
  tNumber: say("The T-stop"),
  threadMm: say("The thread"), filterMm: say("The thread"),
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
  stepStops: say("The step"),
  fromHour: say("The hour"), toHour: say("The hour"),
  counterArmMm: say("The arm of the counterweight"),
};

/** The longest end that has a name decides, whole or from a capital on; else what it stands in. @param {string} path */
export function fieldName(path) {
  const plain = path.replace(/\[\d+\]/g, "");
  const ends = [...plain.matchAll(/^|(?<=\.)|(?=[A-Z])/g)].map(({ index }) => plain.charAt(index).toLowerCase() + plain.slice(index + 1));
  const held = Object.keys(NAMES).find((name) => name.endsWith(".") && plain.startsWith(name));
  return NAMES[ends.find((end) => NAMES[end]) ?? held ?? ""] ?? path;
}
