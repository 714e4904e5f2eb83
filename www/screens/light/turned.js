// @ts-check
/** The answers about light asked back, and how each is worked out. */
import { ask } from "../../engine/ask.js";
import { uncertaintyOf } from "../../questions/known.js";
import { DRIFT, GHOST, PAIR, SKY } from "../../questions/light.js";
import { localIso, offsetMinutes, offsetText } from "../../document/moment.js";
import { OPEN_UP } from "../../questions/open-up.js";
import { stopComes } from "../../questions/turned.js";
import { workingOf } from "../../questions/workings.js";
import { say } from "../../language/say.js";
import { fixed, lengthText } from "../../language/numbers.js";
import { bearing, clockTime } from "../../language/words/light.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { openTurned } from "../../parts/turned.js";
import { openWorking, workingPart } from "../../parts/working.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../api/glasscall.js").SunReply} Sun
 */

const degrees = (/** @type {number} */ value) => `${fixed(value, 1)}°`;
const asked = () => say("undo|what was asked back");

/** The day's first minute by this device's clock. @param {string} at */
function midnight(at) {
  const noon = new Date(`${at.slice(0, 10)}T12:00:00`);
  return `${at.slice(0, 10)}T00:00:00${offsetText(offsetMinutes(noon))}`;
}

/** Minutes of a day as the time they are, and put into Light as that. @param {App} app @param {string} from */
function hours(app, from) {
  const then = (/** @type {number} */ minutes) => new Date(Date.parse(from) + minutes * 60_000);
  return {
    show: (/** @type {number} */ minutes) => clockTime(then(minutes).toISOString()),
    take: (/** @type {number} */ minutes) => app.change(({ light }) => {
      light.at = localIso(then(minutes));
    }, true, undefined, asked()),
  };
}

/** When the sun stands so high. @param {HTMLElement} opener @param {App} app @param {string} at @param {number} height */
export function turnSun(opener, app, at, height) {
  const { place } = app.setup.light;
  const from = midnight(at);
  openTurned(opener, {
    title: say("When is the sun so high"),
    wanted: { label: say("Sun above the horizon"), kind: "tilt", is: Math.round(height * 10) / 10 },
    turns: (is) => [{
      name: say("Hour"), ...hours(app, from),
      found: ask("solve", { question: "sun", request: { ...place, time: from }, unknown: { path: "time", from: 0, to: 1440 }, wanted: { path: "apparentElevationDeg", is } }).reply,
    }],
    more: workingPart(workingOf("sun", { ...place, time: at, ...uncertaintyOf(app.setup) })),
  });
}

/**
 * The centre of the picture, or one of its corners.
 * @param {HTMLElement} opener @param {App} app @param {Sun} sun @param {number} stops what it is now @param {string} at
 * @param {{name: string, path: string}} [corner]
 */
export function turnSky(opener, app, sun, stops, at, corner) {
  const told = corner?.path ?? "darkeningStops";
  const request = SKY.request(app.setup, sun);
  // The figure that opens this is only there with an aim.
  if (!request) return;
  const found = (/** @type {string} */ path, /** @type {number} */ from, /** @type {number} */ to, /** @type {number} */ is) =>
    ask("solve", { question: "sky", request, unknown: { path, from, to }, wanted: { path: told, is } }).reply;
  const from = midnight(at);
  const { sunAzimuthDeg: _, sunElevationDeg: __, ...lens } = request;
  const byTime = (/** @type {number} */ is) => ask("solve", {
    question: "sky", request: { ...lens, ...app.setup.light.place, time: from }, unknown: { path: "time", from: 0, to: 1440 }, wanted: { path: told, is },
  }).reply;
  // With the ring at its darkest only the angle between the two counts: along the horizon it is the aim.
  const fromSun = (/** @type {number} */ is) => ask("solve", {
    question: "sky", request: { ...request, sunAzimuthDeg: 0, sunElevationDeg: 0, aimElevationDeg: 0, rollDeg: 0 },
    unknown: { path: "aimAzimuthDeg", from: 0, to: 180 }, wanted: { path: told, is },
  }).reply;
  const put = (/** @type {string} */ field, /** @type {(setup: import("../../document/setup.js").Setup, value: number) => void} */ edit) => (/** @type {number} */ value) => {
    delete app.drafts[field];
    app.change((setup) => edit(setup, value), true, undefined, asked());
  };
  const aim = (/** @type {"azimuthDeg" | "elevationDeg"} */ name) => put(`light.aim.${name}`, ({ light }, value) => {
    light.aim[name] = value;
  });
  openTurned(opener, {
    title: say("What would darken the sky so"),
    wanted: { label: corner?.name ?? say("Stops darker at the centre"), kind: corner ? "signedThirds" : "thirds", is: Math.round(stops * 3) / 3 },
    turns: (is) => [
      { name: say("Aim"), found: found("aimAzimuthDeg", 0, 360, is), show: bearing, take: aim("azimuthDeg") },
      { name: say("Aim above the horizon"), found: found("aimElevationDeg", 0, 80, is), show: degrees, take: aim("elevationDeg") },
      { name: say("Sun’s height"), found: found("sunElevationDeg", 0, 80, is), show: degrees },
      // Wide of the axis the lens counts; there no one angle from the sun does.
      ...(corner
        ? [{ name: say("Focal length"), found: found("focalLengthMm", 8, 400, is), show: (/** @type {number} */ mm) => `${fixed(mm, 1)} mm`, take: put("lens.focalLengthMm", ({ lens }, mm) => {
          lens.focalLengthMm = mm;
        }) }]
        : [{ name: say("Angle from the sun"), found: fromSun(is), show: degrees }]),
      { name: say("Hour"), found: byTime(is), ...hours(app, from) },
    ],
    more: workingPart(workingOf("sky", request)),
  });
}

/** @param {HTMLElement} opener @param {App} app @param {Sun} sun @param {number} aperture what it is now @param {string} at */
export function turnPlan(opener, app, sun, aperture, at) {
  const { light: { facing = "level", place } } = app.setup;
  const from = midnight(at);
  openTurned(opener, {
    title: say("When does this light come"),
    wanted: { label: say("Stop that exposes right"), kind: "aperture", is: aperture },
    turns: (is) => {
      const { heights, times } = stopComes(app.setup, is, from);
      return [
        { name: say("Sun’s height"), found: heights, show: degrees },
        ...(place ? [{ name: say("Hour"), found: times, ...hours(app, from) }] : []),
      ];
    },
    more: workingPart(workingOf("daylight", { sunElevationDeg: sun.elevationDeg, facing })),
  });
}

/** @param {HTMLElement} opener @param {App} app */
export function workDrift(opener, app) {
  openWorking(opener, workingOf("drift", DRIFT.request(app.setup, OPEN_UP.request(app.setup))));
}

/** @param {HTMLElement} opener @param {App} app @param {number} stops what it is now */
export function turnSurface(opener, app, stops) {
  const { surface } = app.setup.light;
  openTurned(opener, {
    title: say("From where does it go so far"),
    wanted: { label: say("Stops weaker"), kind: "thirds", is: Math.round(stops * 3) / 3 },
    turns: (is) => [{
      name: say("Angle from square on"), show: degrees,
      found: ask("solve", { question: "reflection", request: surface, unknown: { path: "angleDeg", from: 0, to: 89.9 }, wanted: { path: "weakerByStops", is } }).reply,
      take: (value) => {
        delete app.drafts["light.surface.angleDeg"];
        app.change(({ light }) => {
          light.surface.angleDeg = value;
        }, true, undefined, asked());
      },
    }],
    more: workingPart(workingOf("reflection", surface)),
  });
}

/** @param {HTMLElement} opener @param {App} app @param {number} angleDeg what it is now */
export function turnPair(opener, app, angleDeg) {
  const { stops: _, pull: __, picture: ___, ...request } = PAIR.request(app.setup);
  openTurned(opener, {
    title: say("What does that turn take"),
    wanted: { label: say("Turned from parallel"), kind: "angle", is: Math.round(angleDeg * 10) / 10 },
    turns: (is) => [{
      name: say("Stops"), show: KINDS_OF_FIELD.thirds.show,
      found: ask("solve", { question: "crossedPolarizers", request, unknown: { path: "stops", from: 0.5, to: 14 }, wanted: { path: "angleDeg", is } }).reply,
      take: (value) => {
        delete app.drafts["light.pair.stops"];
        app.change(({ light }) => {
          light.pair.stops = value;
        }, true, undefined, asked());
      },
    }],
    more: workingPart(workingOf("crossedPolarizers", { ...request, angleDeg })),
  });
}

/** @param {HTMLElement} opener @param {App} app @param {any} request @param {number} shortestMm what it is now */
export function turnFlag(opener, app, request, shortestMm) {
  const length = (/** @type {number} */ mm) => lengthText(mm, 0);
  const put = (/** @type {"hingeFromAxisMm" | "hingeFromRimMm" | "leanDeg"} */ name) => (/** @type {number} */ value) => {
    delete app.drafts[`light.flag.flag.${name}`];
    app.change(({ light }) => {
      light.flag.flag[name] = value;
    }, true, undefined, asked());
  };
  openTurned(opener, {
    title: say("What would do with a flag so long"),
    wanted: { label: say("Flag, at the shortest"), kind: "length", is: Math.round(shortestMm) },
    turns: (is) => {
      const found = (/** @type {string} */ path, /** @type {number} */ from, /** @type {number} */ to) =>
        ask("solve", { question: "flag", request, unknown: { path, from, to }, wanted: { path: "shortestMm", is } }).reply;
      return [
        { name: say("Hinge from the axis"), found: found("flag.hingeFromAxisMm", 20, 400), show: length, take: put("hingeFromAxisMm") },
        { name: say("Hinge ahead of the rim"), found: found("flag.hingeFromRimMm", 0, 400), show: length, take: put("hingeFromRimMm") },
        { name: say("Leans out"), found: found("flag.leanDeg", -60, 60), show: degrees, take: put("leanDeg") },
        ...(request.sun ? [{ name: say("Sun’s height"), found: found("sun.sunElevationDeg", 0, 80), show: degrees }] : []),
      ];
    },
    more: workingPart(workingOf("flag", request)),
  });
}

/** @param {HTMLElement} opener @param {App} app @param {import("../../api/glasscall.js").GhostReply} told */
export function turnGhost(opener, app, { weakerByStops = 0 }) {
  const request = GHOST.request(app.setup);
  openTurned(opener, {
    title: say("What would weaken the ghost so"),
    wanted: { label: say("Stops weaker than the lamp"), kind: "thirds", is: Math.round(weakerByStops * 3) / 3 },
    turns: (is) => [0, 1].map((nth) => ({
      name: nth === 0 ? say("First reflects") : say("Second reflects"),
      found: ask("solve", { question: "ghost", request, unknown: { path: `reflectances[${nth}]`, from: 0.0001, to: 0.3 }, wanted: { path: "weakerByStops", is } }).reply,
      show: (/** @type {number} */ share) => `${fixed(share * 100, 2)} %`,
      take: (/** @type {number} */ share) => {
        delete app.drafts[`light.ghost.reflectances[${nth}]`];
        app.change(({ light }) => {
          light.ghost.reflectances[nth] = share;
        }, true, undefined, asked());
      },
    })),
    more: workingPart(workingOf("ghost", request)),
  });
}

/** What no other number turns round: how it is worked out. @param {HTMLElement} opener @param {import("../../questions/workings.js").Worked} question @param {any} request */
export const work = (opener, question, request) => openWorking(opener, workingOf(question, request));
