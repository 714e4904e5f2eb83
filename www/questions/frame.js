// @ts-check
/** What the Frame screen asks of the core: the set-up as requests. */
import { ask } from "../engine/ask.js";
import { fNumberOf, knownOf, lensOf, lossOf, openingsOf, pupilOf } from "./fit.js";
import { askSun, localIso } from "./light.js";
import { withWhatIsInRequest } from "./open-up.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../api/glasscall.js").ProfileRequest} Profile
 * @typedef {import("../engine/ask.js").Refusal} Refusal
 * @typedef {import("../document/frame.js").Frame} Frame
 * @typedef {import("../document/frame.js").Spot} Spot
 */

/** The lens as every question about the picture has it, or nothing without a pupil. @param {Setup} setup */
function pictureLens(setup) {
  const { place, refusal } = pupilOf(setup);
  if (place === undefined) return { refusal };
  const lensLossStops = lossOf(setup);
  return {
    lens: {
      ...lensOf(setup),
      fNumber: fNumberOf(setup),
      ...(lensLossStops === undefined ? {} : { lensLossStops }),
      ...knownOf(setup, place),
    },
  };
}

/** Where a filter stands when no slot's place is known. Common practice, no source. */
const USUAL_FROM_RIM = 36;

/**
 * How far ahead of the rim the filter stands: as said, as the slot it is in, or
 * as the outermost one.
 * @param {Setup} setup
 * @returns {{mm: number, slot?: string}}
 */
export function fromRim({ frame, rig, inPlace }) {
  if (frame.fromRimMm !== undefined) return { mm: frame.fromRimMm };
  const holds = inPlace.find(({ piece }) => piece === frame.grad)?.slot;
  const places = rig.slots.filter(({ id, opening }) => opening && (holds === undefined || id === holds))
    .map(({ id, opening }) => ({ mm: opening?.distanceFromRimMm ?? 0, slot: id }));
  return places.sort((a, b) => b.mm - a.mm)[0] ?? { mm: USUAL_FROM_RIM };
}

/** @param {Setup} setup */
function held(setup) {
  const { line, rotationDeg, invert } = setup.frame;
  return { distanceFromRimMm: fromRim(setup).mm, lineAtFrameHeight: line, rotationDeg, invert };
}

/** How an edge runs when nobody says. Common practice, no source. @type {Profile} */
const USUAL_EDGE = { kind: "soft", rampMm: 30 };

/** The graduated filters of the case. @param {Setup} setup @returns {{id: string, profile: Profile}[]} */
export function gradsOf({ kit }) {
  return kit.filter(({ kind }) => kind === "grad").flatMap(({ id, density, measuredDensity, profile = USUAL_EDGE }) => {
    if (profile.kind === "points") return [{ id, profile }];
    const dense = measuredDensity ?? density;
    return dense === undefined ? [] : [{ id, profile: { ...profile, density: dense } }];
  });
}

/** The profile of the filter that is looked through, if one is. @param {Setup} setup @returns {Profile | undefined} */
export function profileIn(setup) {
  return gradsOf(setup).find(({ id }) => id === setup.frame.grad)?.profile;
}

/** What the edge advice takes when no filter is in. @type {Profile} */
const ANY_GRAD = { kind: "hard", density: 0.6 };

/** Asks, with refusals in the page's own fields. @param {any} name @param {Setup} setup @param {(lens: any) => any} request @returns {{reply?: any, refusal?: Refusal}} */
function asked(name, setup, request) {
  const { lens, refusal: noPupil } = pictureLens(setup);
  if (!lens) return { refusal: noPupil };
  const { reply, refusal } = ask(name, request(lens));
  return refusal ? { refusal: asField(refusal) } : { reply };
}

/** Where the line falls and which edge suits. @param {Setup} setup */
export function askLine(setup) {
  const { frame } = setup;
  return asked("line", setup, (lens) => ({
    ...lens,
    ...held(setup),
    profile: profileIn(setup) ?? ANY_GRAD,
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
    ...held(setup),
    bright: spot(frame.bright),
    dark: spot(frame.dark),
    allowedStops: frame.allowedStops,
    subject: { atFrameHeight: frame.subject },
    grads: gradsOf(setup),
  }));
}

/** What the filter costs while the shot moves. @param {Setup} setup */
export function askMotion(setup) {
  const { frame } = setup;
  return asked("lineMotion", setup, (lens) => ({
    ...lens,
    grad: { ...held(setup), profile: profileIn(setup) ?? ANY_GRAD },
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
  return askSun(setup, setup.light.at ?? localIso(new Date())).reply;
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
  const { lens, refusal } = pictureLens(setup);
  if (!lens) return { refusal };
  const profile = profileIn(setup);
  return {
    request: {
      ...lens,
      uniformStops: uniform,
      ...(profile ? { grad: { ...held(setup), profile } } : {}),
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
  [/^lensLossStops$/, "lens.lossStops"],
];

/** @param {Refusal} refusal @returns {Refusal} */
export function asField(refusal) {
  const known = FIELDS.find(([pattern]) => pattern.test(refusal.field));
  const { code, field, given, min, max } = refusal;
  return { code, field: known ? field.replace(known[0], known[1]) : field, given, min, max };
}
