// @ts-check
/** What the Frame screen asks of the core: the set-up as requests. */
import { ask } from "./engine.js";
import { fNumberOf, openingsOf, pupilOf } from "./lens-fit.js";
import { localIso, sunRequest } from "./light.js";
import { withWhatIsInRequest } from "./setup.js";

/**
 * @typedef {import("./setup.js").Setup} Setup
 * @typedef {import("./api/glasscall.js").ProfileRequest} Profile
 * @typedef {import("./engine.js").Refusal} Refusal
 * @typedef {import("./frame-setup.js").Frame} Frame
 * @typedef {import("./frame-setup.js").Spot} Spot
 */

/** The lens as every question about the picture has it, or nothing without a pupil. @param {Setup} setup */
function lensOf(setup) {
  const { place, refusal } = pupilOf(setup);
  if (place === undefined) return { refusal };
  const { focalLengthMm, squeeze = 1, shiftXMm = 0, shiftYMm = 0 } = setup.lens;
  const { sensor } = setup;
  return { lens: { sensor, squeeze, shiftXMm, shiftYMm, focalLengthMm, fNumber: fNumberOf(setup), pupilBehindRimMm: place } };
}

/** @param {Frame} frame */
const held = ({ fromRimMm, line, rotationDeg, invert }) =>
  ({ distanceFromRimMm: fromRimMm, lineAtFrameHeight: line, rotationDeg, invert });

/** The profile of the filter that is in, if one is. @param {Frame} frame @returns {Profile | undefined} */
export function profileIn(frame) {
  return frame.grads.find((grad) => grad.id === frame.grad)?.profile;
}

/** What the edge advice takes when no filter is in. @type {Profile} */
const ANY_GRAD = { kind: "hard", density: 0.6 };

/** Asks, with refusals in the page's own fields. @param {any} name @param {Setup} setup @param {(lens: any) => any} request @returns {{reply?: any, refusal?: Refusal}} */
function asked(name, setup, request) {
  const { lens, refusal: noPupil } = lensOf(setup);
  if (!lens) return { refusal: noPupil };
  const { reply, refusal } = ask(name, request(lens));
  return refusal ? { refusal: asField(refusal) } : { reply };
}

/** Where the line falls and which edge suits. @param {Setup} setup */
export function askLine(setup) {
  const { frame } = setup;
  return asked("line", setup, (lens) => ({
    ...lens,
    ...held(frame),
    profile: profileIn(frame) ?? ANY_GRAD,
    heights: [],
    edges: { skylineOfFrame: frame.skyline },
  }));
}

/** Which filter of the case brings sky and ground together. @param {Setup} setup */
export function askBalance(setup) {
  const { frame } = setup;
  const spot = (/** @type {Spot} */ { aperture, at }) => ({ aperture, atFrameHeight: at });
  return asked("skyAndGround", setup, (lens) => ({
    ...lens,
    ...held(frame),
    bright: spot(frame.bright),
    dark: spot(frame.dark),
    allowedStops: frame.allowedStops,
    subject: { atFrameHeight: frame.subject },
    grads: frame.grads,
  }));
}

/** What the filter costs while the shot moves. @param {Setup} setup */
export function askMotion(setup) {
  const { frame } = setup;
  return asked("lineMotion", setup, (lens) => ({
    ...lens,
    grad: { ...held(frame), profile: profileIn(frame) ?? ANY_GRAD },
    subject: { atFrameHeight: frame.subject },
    move: frame.move,
  }));
}

/** What the even glass that is in takes. @param {Setup} setup */
export function uniformStops(setup) {
  return ask("openUp", withWhatIsInRequest(setup)).reply?.stacks[0]?.stops ?? 0;
}

/** Where the sun stands at the place and time of the light. @param {Setup} setup */
export function sunOf(setup) {
  return ask("sun", sunRequest(setup, setup.light.at ?? localIso(new Date()))).reply;
}

/** The sky behind the polarizer, as the light's place, time and aim have it. @param {Setup} setup */
function skyOf(setup) {
  const sun = sunOf(setup);
  const { frame, light } = setup;
  if (!frame.sky.polarized || !sun) return {};
  return {
    sky: {
      sunAzimuthDeg: sun.azimuthDeg,
      sunElevationDeg: sun.elevationDeg,
      aimAzimuthDeg: light.aim.azimuthDeg,
      rollDeg: light.aim.rollDeg,
      maxPolarization: light.maxPolarization,
      horizonAtFrameHeight: frame.horizon,
      polarizerDeg: frame.sky.turnDeg ?? "darkest",
    },
  };
}

/**
 * The request of a map, or why there is none.
 * @param {Setup} setup
 * @param {{columns: number, rows: number}} size
 * @param {number} uniform
 * @returns {{request?: any, refusal?: Refusal}}
 */
export function mapRequest(setup, { columns, rows }, uniform) {
  const { lens, refusal } = lensOf(setup);
  if (!lens) return { refusal };
  const { frame } = setup;
  const profile = profileIn(frame);
  return {
    request: {
      ...lens,
      uniformStops: uniform,
      ...(profile ? { grad: { ...held(frame), profile } } : {}),
      ...skyOf(setup),
      openings: openingsOf(setup).map(({ opening }) => opening),
      columns,
      rows,
    },
  };
}

/** The core's word for a field and the page's. @type {[RegExp, string][]} */
const FIELDS = [
  [/^(?:grad\.)?distanceFromRimMm$/, "frame.fromRimMm"],
  [/^(?:grad\.)?rotationDeg$/, "frame.rotationDeg"],
  [/^edges\.skylineOfFrame$/, "frame.skyline"],
  [/^(bright|dark)\.aperture$/, "frame.$1.aperture"],
  [/^allowedStops$/, "frame.allowedStops"],
  [/^move\.(\w+)$/, "frame.move.$1"],
  [/^(focalLengthMm|fNumber|squeeze)$/, "lens.$1"],
];

/** @param {Refusal} refusal @returns {Refusal} */
export function asField(refusal) {
  const known = FIELDS.find(([pattern]) => pattern.test(refusal.field));
  const { code, field, given, min, max } = refusal;
  return { code, field: known ? field.replace(known[0], known[1]) : field, given, min, max };
}
