// @ts-check
/** The light's part of the set-up, and what is asked of the core about it. */
import { fNumberOf, knownOf, lensOf, pupilOf } from "./fit.js";
import { uncertaintyOf } from "./known.js";
import { offsetMinutes } from "../document/moment.js";
import { wheelReadThrough } from "./open-up.js";
import { question } from "./question.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../api/glasscall.js").ReflectionRequest} ReflectionRequest
 * @typedef {import("../api/glasscall.js").FlagRequest} FlagRequest
 * @typedef {import("../api/glasscall.js").GhostRequest} GhostRequest
 */

/**
 * @typedef {import("../api/glasscall.js").TimedReadingRequest & {through: string[], wheelDensity?: number}} TimedReading
 */

/**
 * @typedef {object} LightPart
 * @property {{latitudeDeg: number, longitudeDeg: number}} [place] absent: nobody has said where
 * @property {string} [at] an ISO moment with its offset; absent: now
 * @property {{azimuthDeg?: number, elevationDeg?: number, rollDeg: number}} aim absent: nobody has said where to, and level
 * @property {"level" | "sun" | "upright" | "uprightAway"} [facing] what the first plan's light falls on; absent: level ground
 * @property {number} maxPolarization
 * @property {ReflectionRequest} surface
 * @property {{stops: number, lossStops?: number, extinctionRatio?: number, pullTo?: number}} pair
 * @property {{bareAperture?: number, brightestAperture?: number, darkestAperture?: number}} measured
 * @property {TimedReading[]} timed readings as they were taken
 * @property {boolean} followSky whether the clear sky's curve at the place is taken for the trend
 * @property {Pick<FlagRequest, "glass" | "flag" | "lamp"> & {against?: "sun" | "lamp"}} flag
 * @property {Omit<GhostRequest, "focalLengthMm">} ghost
 */

/** What a picture needs to know of the lens; a length nobody told is taken as 50 mm. @param {Setup} setup */
function picture(setup) {
  const { sensor, focalLengthMm = 50, squeeze } = lensOf(setup);
  return { sensor, focalLengthMm, ...(squeeze === undefined ? {} : { squeeze }) };
}

/** @type {import("./paths.js").Paths} */
const PICTURE = { focalLengthMm: "lens.focalLengthMm", squeeze: "lens.squeeze" };

/** Where the sun stands; nothing where nobody said the place. */
export const SUN = question("sun", sunRequest, { latitudeDeg: "light.place", longitudeDeg: "light.place" });
export const SUN_DAY = question("sunDay", dayRequest);
/** The sky where the lens points; nothing where nobody said where to. */
export const SKY = question("sky", skyRequest, PICTURE, {
  aimAzimuthDeg: "light.aim.azimuthDeg", aimElevationDeg: "light.aim.elevationDeg", rollDeg: "light.aim.rollDeg", maxPolarization: "light.maxPolarization",
});
export const SKY_AIMS = question("skyAims", aimsRequest);
export const SKY_HOURS = question("skyHours", hoursRequest);
export const REFLECTION = question("reflection", (/** @type {Setup} */ { light }) => light.surface, { "": "light.surface" });
export const PAIR = question("crossedPolarizers", pairRequest, { "": "light.pair", "pull.toAperture": "light.pair.pullTo" });
export const MEASURED = question("measuredPolarizer", measuredRequest, { "": "light.measured" });
/** Nothing while nobody has told where the pupil is, or, against the sun, where the lens points. */
export const FLAG = question("flag", flagRequest, PICTURE, { fNumber: "lens.fNumber", glass: "light.flag.glass", flag: "light.flag.flag", lamp: "light.flag.lamp" });
export const GHOST = question("ghost", ghostRequest, { "": "light.ghost" });
/** The trend of the timed readings, for the shot and the case as they are. */
export const DRIFT = question("drift", driftRequest, { readings: "light.timed" });

/** @param {Setup} setup @param {string} time */
function sunRequest({ light }, time) {
  return light.place && { ...light.place, time };
}

/** @param {{latitudeDeg: number, longitudeDeg: number}} place @param {string} at */
function dayRequest(place, at) {
  return { ...place, date: at.slice(0, 10), offsetMinutes: offsetMinutes(new Date(at)) };
}

/**
 * @param {Setup} setup
 * @param {{azimuthDeg: number, elevationDeg: number}} sun
 */
function skyRequest(setup, sun) {
  const { aim, maxPolarization } = setup.light;
  return aim.azimuthDeg === undefined ? undefined : {
    sunAzimuthDeg: sun.azimuthDeg,
    sunElevationDeg: sun.elevationDeg,
    aimAzimuthDeg: aim.azimuthDeg,
    aimElevationDeg: aim.elevationDeg ?? 0,
    rollDeg: aim.rollDeg,
    ...picture(setup),
    maxPolarization,
  };
}

/** @param {Setup} setup @param {{azimuthDeg: number, elevationDeg: number}} sun */
function aimsRequest(setup, sun) {
  const { aim, maxPolarization } = setup.light;
  return {
    sunAzimuthDeg: sun.azimuthDeg,
    sunElevationDeg: sun.elevationDeg,
    aimElevationDeg: aim.elevationDeg ?? 0,
    maxPolarization,
  };
}

/** @param {Setup} setup @param {string} at */
function hoursRequest({ light: { aim, maxPolarization, place } }, at) {
  return !place || aim.azimuthDeg === undefined ? undefined : {
    ...dayRequest(place, at),
    aimAzimuthDeg: aim.azimuthDeg,
    aimElevationDeg: aim.elevationDeg ?? 0,
    maxPolarization,
  };
}

/** @param {Setup} setup */
function pairRequest(setup) {
  const { stops, lossStops, extinctionRatio, pullTo } = setup.light.pair;
  return {
    stops,
    ...(lossStops === undefined ? {} : { lossStops }),
    ...(extinctionRatio === undefined ? {} : { extinctionRatio }),
    ...(pullTo === undefined ? {} : { pull: { fromAperture: setup.shot.aperture, toAperture: pullTo } }),
    picture: picture(setup),
  };
}

/** @param {Setup} setup */
function measuredRequest(setup) {
  const { bareAperture, brightestAperture, darkestAperture } = setup.light.measured;
  return bareAperture === undefined || brightestAperture === undefined || darkestAperture === undefined
    ? undefined
    : { bareAperture, brightestAperture, darkestAperture, ...uncertaintyOf(setup) };
}

/**
 * @param {Setup} setup
 * @param {{azimuthDeg: number, elevationDeg: number}} sun
 */
function flagRequest(setup, sun) {
  const { aim, flag } = setup.light;
  const { place } = pupilOf(setup);
  const lamp = flag.against === "lamp" ? flag.lamp : undefined;
  return place === undefined || (!lamp && aim.azimuthDeg === undefined) ? undefined : {
    ...picture(setup),
    fNumber: fNumberOf(setup),
    ...knownOf(setup, place),
    glass: flag.glass,
    flag: flag.flag,
    ...uncertaintyOf(setup),
    ...(lamp ? { lamp } : { sun: {
      sunAzimuthDeg: sun.azimuthDeg,
      sunElevationDeg: sun.elevationDeg,
      aimAzimuthDeg: aim.azimuthDeg ?? 0,
      aimElevationDeg: aim.elevationDeg ?? 0,
      rollDeg: aim.rollDeg,
    } }),
  };
}

/** @param {Setup} setup */
function ghostRequest(setup) {
  const { sensor, focalLengthMm } = picture(setup);
  return { ...setup.light.ghost, focalLengthMm, edgeMm: sensor.widthMm / 2 };
}

/**
 * @param {Setup} setup
 * @param {import("../api/glasscall.js").OpenUpRequest} openUp the main question
 */
function driftRequest({ light }, openUp) {
  const { shot, lens, kit = [], rig, wheel, wheelInfrared, inPlace, keep, uncertainty } = openUp;
  // A position of the wheel is read through like a piece; each density once.
  const nameOf = (/** @type {number} */ density) => `(wheel ${density})`;
  const densities = [...new Set(light.timed.flatMap(({ wheelDensity }) => wheelDensity ?? []))];
  return {
    readings: light.timed.map(({ wheelDensity, ...reading }) =>
      (wheelDensity === undefined ? reading : { ...reading, through: [...reading.through, nameOf(wheelDensity)] })),
    shot,
    ...(lens === undefined ? {} : { lens }),
    kit: [...kit, ...densities.flatMap((density) => wheelReadThrough(density, nameOf(density)))],
    rig, wheel, inPlace, keep,
    ...(wheelInfrared === undefined ? {} : { wheelInfrared }),
    ...(uncertainty === undefined ? {} : { uncertainty }),
    ...(light.place ? { place: light.place } : {}),
    ...(light.followSky && light.place ? { model: /** @type {const} */ ("clearSky") } : {}),
  };
}
