// @ts-check
/** The answers about light asked back, and how each is worked out. */
import { uncertaintyOf } from "../../questions/known.js";
import { DRIFT, GHOST, MEASURED, PAIR, SKY } from "../../questions/light.js";
import { localIso, offsetMinutes, offsetText } from "../../document/moment.js";
import { OPEN_UP } from "../../questions/open-up.js";
import { stopComes, stopOfTurn } from "../../questions/turned.js";
import { workingOf } from "../../questions/workings.js";
import { say } from "../../language/say.js";
import { distanceText, fixed } from "../../language/numbers.js";
import { bearing, clockTime } from "../../language/words/light.js";
import { degrees, length, openFigures } from "../../parts/figures.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { openTurned } from "../../parts/turned.js";
import { openWorking, workingPart } from "../../parts/working.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../api/glasscall.js").SunReply} Sun
 */

const stop = KINDS_OF_FIELD.aperture.show;
const stops = KINDS_OF_FIELD.thirds.show;

/** The day's first minute by this device's clock. @param {string} at */
function midnight(at) {
  const noon = new Date(`${at.slice(0, 10)}T12:00:00`);
  return `${at.slice(0, 10)}T00:00:00${offsetText(offsetMinutes(noon))}`;
}

/** Minutes of a day as the time they are, and put into Light as that. @param {App} app @param {string} from */
function hours(app, from) {
  const then = (/** @type {number} */ minutes) => new Date(Date.parse(from) + minutes * 60_000);
  return {
    name: say("Hour"), path: "time", from: 0, to: 1440, field: "light.at",
    show: (/** @type {number} */ minutes) => clockTime(then(minutes).toISOString()),
    edit: (/** @type {Setup} */ { light }, /** @type {number} */ minutes) => {
      light.at = localIso(then(minutes));
    },
  };
}

/** Where the sun stands, now or at noon. @param {HTMLElement} opener @param {App} app @param {string} at @param {Sun} sun @param {string} [first] */
export function turnSun(opener, app, at, { apparentElevationDeg, azimuthDeg }, first) {
  const { place } = app.setup.light;
  const from = midnight(at);
  openFigures(opener, app, {
    title: say("When is the sun so high"), question: "sun", request: { ...place, time: at }, first,
    figures: [["apparentElevationDeg", say("Sun above the horizon"), "tilt", apparentElevationDeg], ["azimuthDeg", say("term|Sun’s direction"), "bearing", azimuthDeg]],
    unknowns: [
      { ...hours(app, from), request: { ...place, time: from } },
      { name: say("Farther north or south"), path: "latitudeDeg", from: -66, to: 66, field: "light.place", edit: ({ light }, value) => {
        if (light.place) light.place.latitudeDeg = value;
      } },
    ],
    working: { ...place, time: at, ...uncertaintyOf(app.setup) },
  });
}

/**
 * The centre of the picture, or one of its corners.
 * @param {HTMLElement} opener @param {App} app @param {Sun} sun @param {string} at @param {import("../../api/glasscall.js").SkyReply} told
 * @param {string} [first] the figure that was tapped
 */
export function turnSky(opener, app, sun, at, told, first) {
  const request = SKY.request(app.setup, sun);
  // The figure that opens this is only there with an aim.
  if (!request) return;
  const from = midnight(at);
  const { sunAzimuthDeg: _, sunElevationDeg: __, ...lens } = request;
  const aim = (/** @type {"azimuthDeg" | "elevationDeg" | "rollDeg"} */ name) => ({ field: `light.aim.${name}`, edit: (/** @type {Setup} */ { light }, /** @type {number} */ value) => {
    light.aim[name] = value;
  } });
  const { topLeft, topRight, bottomLeft, bottomRight } = told.corners;
  openFigures(opener, app, {
    title: say("What would darken the sky so"), question: "sky", request, first,
    figures: [
      ["darkeningStops", say("Stops darker at the centre"), "signedThirds", told.darkeningStops],
      ["corners.topLeft", say("Stops darker at the top left"), "signedThirds", topLeft],
      ["corners.topRight", say("Stops darker at the top right"), "signedThirds", topRight],
      ["corners.bottomLeft", say("Stops darker at the bottom left"), "signedThirds", bottomLeft],
      ["corners.bottomRight", say("Stops darker at the bottom right"), "signedThirds", bottomRight],
      ["polarizerDeg", say("term|Turn of the ring"), "angle", told.polarizerDeg],
      ["quarterTurnStops", say("term|Exposure over a quarter turn"), "thirds", told.quarterTurnStops],
      ["spreadStops", say("Stops from side to side"), "thirds", told.spreadStops],
    ],
    unknowns: [
      { name: say("Aim"), path: "aimAzimuthDeg", from: 0, to: 360, show: bearing, ...aim("azimuthDeg") },
      { name: say("Aim above the horizon"), path: "aimElevationDeg", from: 0, to: 80, ...aim("elevationDeg") },
      { name: say("Camera rolled"), path: "rollDeg", from: -90, to: 90, ...aim("rollDeg") },
      { name: say("Sun’s height"), path: "sunElevationDeg", from: 0, to: 80 },
      { name: say("Focal length"), path: "focalLengthMm", from: 8, to: 400, show: (mm) => `${fixed(mm, 1)} mm`, field: "lens.focalLengthMm", edit: (setup, mm) => {
        setup.lens.focalLengthMm = mm;
      } },
      // With the ring at its darkest only the angle between the two counts at the centre: along the horizon it is the aim.
      { name: say("Angle from the sun"), path: "aimAzimuthDeg", from: 0, to: 180, only: ["darkeningStops", "quarterTurnStops"],
        request: { ...request, sunAzimuthDeg: 0, sunElevationDeg: 0, aimElevationDeg: 0, rollDeg: 0 } },
      { ...hours(app, from), request: { ...lens, ...app.setup.light.place, time: from } },
    ],
  });
}

/** @param {HTMLElement} opener @param {App} app @param {Sun} sun @param {number} aperture what it is now @param {string} at */
export function turnPlan(opener, app, sun, aperture, at) {
  const { light: { facing = "level", place } } = app.setup;
  const from = midnight(at);
  const hour = hours(app, from);
  openTurned(opener, {
    title: say("When does this light come"),
    wanted: { label: say("Stop that exposes right"), kind: "aperture", is: aperture },
    turns: (is) => {
      const { heights, times } = stopComes(app.setup, is, from);
      return [
        { name: say("Sun’s height"), found: heights, show: degrees },
        ...(place ? [{ name: say("Hour"), found: times, show: hour.show, take: (/** @type {number} */ minutes) => app.change((setup) => hour.edit(setup, minutes), true, undefined, say("undo|what was asked back")) }] : []),
      ];
    },
    more: workingPart(workingOf("daylight", { sunElevationDeg: sun.elevationDeg, facing })),
  });
}

/** @param {HTMLElement} opener @param {App} app @param {Sun | undefined} sun @param {import("../../api/glasscall.js").DaylightReply} told */
export function turnLight(opener, app, sun, { facingLux, facingEv100 }) {
  openFigures(opener, app, {
    title: say("When does this light come"), question: "daylight", request: { sunElevationDeg: sun?.elevationDeg, facing: app.setup.light.facing },
    figures: [["facingLux", say("term|Light of a clear sky"), "light", facingLux], ["facingEv100", say("term|Exposure value at EI 100"), "factor", facingEv100]],
    unknowns: [{ name: say("Sun’s height"), path: "sunElevationDeg", from: -18, to: 90 }],
  });
}

/** @param {HTMLElement} opener @param {App} app @param {import("../../api/glasscall.js").DriftReply} told @param {string} [first] */
export function turnDrift(opener, app, { needStops, stopsPerHour }, first) {
  const request = DRIFT.request(app.setup, OPEN_UP.request(app.setup));
  openFigures(opener, app, {
    title: say("Which readings would make it so"), question: "drift", request, first,
    figures: [["stopsPerHour", say("Stops an hour"), "signedThirds", stopsPerHour], ["needStops", say("term|Need"), "signedThirds", needStops]],
    unknowns: request.readings.map((reading, nth) => ({
      name: say("Read at {time}", { time: clockTime(reading.time) }), path: `readings[${nth}].aperture`, from: 0.5, to: 256, show: stop,
    })),
  });
}

/** @param {HTMLElement} opener @param {App} app @param {import("../../api/glasscall.js").ReflectionReply} told @param {string} [first] */
export function turnSurface(opener, app, told, first) {
  const put = (/** @type {"angleDeg" | "refractiveIndex" | "lensHeightMm"} */ name) => ({ field: `light.surface.${name}`, edit: (/** @type {Setup} */ { light }, /** @type {number} */ value) => {
    light.surface[name] = value;
  } });
  openFigures(opener, app, {
    title: say("From where does it go so far"), question: "reflection", request: app.setup.light.surface, first,
    figures: [
      ["weakerByStops", say("Stops weaker"), "thirds", told.weakerByStops],
      ["leftByPolarizer", say("term|Share left"), "share", told.leftByPolarizer],
      ["mean", say("Reflected from here"), "share", told.mean],
      ["brewsterDeg", say("term|Angle at which it goes"), "angle", told.brewsterDeg],
      ["brewsterDistanceMm", say("Where to stand for it"), "distance", told.brewsterDistanceMm],
    ],
    unknowns: [
      { name: say("Angle from square on"), path: "angleDeg", from: 0, to: 89.9, ...put("angleDeg") },
      { name: say("Index"), path: "refractiveIndex", from: 1.1, to: 3, show: (value) => fixed(value, 3), ...put("refractiveIndex") },
      ...(told.brewsterDistanceMm === undefined ? [] : [{ name: say("Lens above it"), path: "lensHeightMm", from: 100, to: 20_000, show: distanceText, ...put("lensHeightMm") }]),
    ],
  });
}

/** @param {HTMLElement} opener @param {App} app @param {Partial<import("../../api/glasscall.js").CrossedPolarizersReply>} told @param {string} [first] */
export function turnPair(opener, app, { angleDeg, stopsPerDegree, unevenStops, mostStops }, first) {
  const { stops: now, pull: _, ...request } = PAIR.request(app.setup);
  const put = (/** @type {"stops" | "extinctionRatio" | "pullTo"} */ name) => ({ field: `light.pair.${name}`, edit: (/** @type {Setup} */ { light }, /** @type {number} */ value) => {
    light.pair[name] = value;
  } });
  openFigures(opener, app, {
    title: say("What does that turn take"), question: "crossedPolarizers", request: { ...request, stops: now }, first,
    figures: [
      ["angleDeg", say("Turned from parallel"), "angle", angleDeg],
      ["stopsPerDegree", say("Stops a degree there"), "factor", stopsPerDegree],
      ["unevenStops", say("Stops apart over the picture"), "factor", unevenStops],
      ["mostStops", say("Stops when crossed"), "thirds", mostStops],
    ],
    unknowns: [
      { name: say("Stops"), path: "stops", from: 0.5, to: 14, show: stops, ...put("stops") },
      { name: say("Extinction ratio"), path: "extinctionRatio", from: 10, to: 100_000, show: (value) => fixed(value, 0), ...put("extinctionRatio") },
      { name: say("Iris pulled to, as bright as now"), path: "", from: 0.7, to: 64, solved: (is) => stopOfTurn(app.setup, request, is), only: ["angleDeg"], show: stop, ...put("pullTo") },
    ],
  });
}

/** @param {HTMLElement} opener @param {App} app @param {import("../../api/glasscall.js").MeasuredPolarizerReply} told @param {string} [first] */
export function turnMeasured(opener, app, told, first) {
  const read = (/** @type {"bareAperture" | "brightestAperture" | "darkestAperture"} */ path, /** @type {string} */ name) => ({
    name, path, from: 0.7, to: 128, show: stop, field: `light.measured.${path}`, edit: (/** @type {Setup} */ { light }, /** @type {number} */ value) => {
      light.measured[path] = value;
    },
  });
  openFigures(opener, app, {
    title: say("Which readings would make it so"), question: "measuredPolarizer", request: MEASURED.request(app.setup), first,
    figures: [
      ["lossStops", say("Stops from plain light"), "thirds", told.lossStops],
      ["turnedStops", say("term|Exposure over a quarter turn"), "thirds", told.turnedStops],
      ["polarization", say("term|Polarized there"), "share", told.polarization],
    ],
    unknowns: [read("bareAperture", say("Without it")), read("brightestAperture", say("Brightest")), read("darkestAperture", say("Darkest"))],
  });
}

/** @param {HTMLElement} opener @param {App} app @param {any} request @param {import("../../api/glasscall.js").FlagReply} told @param {string} [first] */
export function turnFlag(opener, app, request, told, first) {
  const put = (/** @type {"hingeFromAxisMm" | "hingeFromRimMm" | "leanDeg"} */ name) => ({ path: `flag.${name}`, field: `light.flag.flag.${name}`, edit: (/** @type {Setup} */ { light }, /** @type {number} */ value) => {
    light.flag.flag[name] = value;
  } });
  openFigures(opener, app, {
    title: say("What would do with a flag so long"), question: "flag", request, first,
    figures: [
      ["shortestMm", say("Flag, at the shortest"), "length", told.shortestMm],
      ["longestMm", say("term|Flag, at the longest"), "length", told.longestMm],
      ["sureLongestMm", say("Flag, for certain"), "length", told.sureLongestMm],
      ["reachFromMm", say("Its end, from the axis"), "length", told.reachFromMm],
      ["reachToMm", say("Its other end, from the axis"), "length", told.reachToMm],
    ],
    unknowns: [
      { name: say("Hinge from the axis"), from: 20, to: 400, show: length, ...put("hingeFromAxisMm") },
      { name: say("Hinge ahead of the rim"), from: 0, to: 400, show: length, ...put("hingeFromRimMm") },
      { name: say("Leans out"), from: -60, to: 60, ...put("leanDeg") },
      ...(request.sun ? [{ name: say("Sun’s height"), path: "sun.sunElevationDeg", from: 0, to: 80 }] : []),
    ],
  });
}

/** @param {HTMLElement} opener @param {App} app @param {import("../../api/glasscall.js").GhostReply} told @param {string} [first] */
export function turnGhost(opener, app, told, first) {
  const { ghost } = app.setup.light;
  const put = (/** @type {"tiltDeg" | "lampMm"} */ name) => ({ path: name, field: `light.ghost.${name}`, edit: (/** @type {Setup} */ { light }, /** @type {number} */ value) => {
    light.ghost[name] = value;
  } });
  const millimetres = (/** @type {number} */ mm) => `${fixed(mm, 1)} mm`;
  openFigures(opener, app, {
    title: say("What would weaken the ghost so"), question: "ghost", request: GHOST.request(app.setup), first,
    figures: [
      ["weakerByStops", say("Stops weaker than the lamp"), "thirds", told.weakerByStops],
      ["ghostMm", say("term|Ghost, from the axis"), "mm", told.ghostMm],
      ["shiftMm", say("term|Moved by the tilt alone"), "mm", told.shiftMm],
      ["tiltToClearDeg", say("term|Tilt that throws it out"), "angle", told.tiltToClearDeg],
    ],
    unknowns: [
      ...ghost.reflectances.map((_, nth) => ({
        name: nth === 0 ? say("First reflects") : say("Second reflects"), path: `reflectances[${nth}]`, from: 0.0001, to: 0.3, show: (/** @type {number} */ share) => `${fixed(share * 100, 2)} %`,
        field: `light.ghost.reflectances[${nth}]`, edit: (/** @type {Setup} */ { light }, /** @type {number} */ share) => {
          light.ghost.reflectances[nth] = share;
        },
      })),
      { name: say("Filter tilted"), from: -20, to: 20, ...put("tiltDeg") },
      { name: say("Lamp from the centre"), from: -30, to: 30, show: millimetres, ...put("lampMm") },
    ],
  });
}

/** What no other number turns round: how it is worked out. @param {HTMLElement} opener @param {import("../../questions/workings.js").Worked} question @param {any} request */
export const work = (opener, question, request) => openWorking(opener, workingOf(question, request));
