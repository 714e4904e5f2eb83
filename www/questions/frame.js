// @ts-check
/** What the Frame screen asks of the core: the set-up as requests. */
import { SOFT_RAMP_MM } from "../document/frame.js";
import { ask } from "../engine/ask.js";
import { same } from "../document/document.js";
import { fNumberOf, knownOf, lensOf, lossOf, openingsOf, pupilOf, pupilRefusal } from "./fit.js";
import { uncertaintyOf } from "./known.js";
import { SUN } from "./light.js";
import { localIso } from "../document/moment.js";
import { asIfRead, PLACING, WHAT_IS_IN } from "./open-up.js";
import { answerTo, question, answerInto } from "./question.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../api/glasscall.js").ProfileRequest} Profile
 * @typedef {import("../engine/ask.js").Refusal} Refusal
 * @typedef {import("../document/frame.js").Frame} Frame
 */

/** The fields of the questions about the picture. @type {import("./paths.js").Paths} */
const PATHS = {
  distanceFromRimMm: "frame.fromRimMm",
  "grad.distanceFromRimMm": "frame.fromRimMm",
  rotationDeg: "frame.rotationDeg",
  "grad.rotationDeg": "frame.rotationDeg",
  "edges.skylineOfFrame": "frame.skyline",
  "bright.aperture": "frame.bright.aperture",
  "dark.aperture": "reading.aperture",
  allowedStops: "frame.allowedStops",
  move: "frame.move",
  focalLengthMm: "lens.focalLengthMm",
  fNumber: "lens.fNumber",
  squeeze: "lens.squeeze",
  lensLossStops: "lens.lossStops",
};

/** Where the line falls and which edge suits. */
const EDGE = question("line", edgeRequest, PATHS);
/** The grad that is in, and what it takes of the subject. */
export const LINE = question("line", lineRequest, PATHS);
/** Which filter of the case brings sky and ground together. */
const BALANCE = question("skyAndGround", balanceRequest, PATHS);
/** Sky and ground with the grad alone that is in. */
export const GRAD_IN = question("skyAndGround", gradInRequest, PATHS);
/** What the filter costs while the shot moves. */
export const MOTION = question("lineMotion", motionRequest, PATHS);
/** What the whole picture loses, everything in. */
const MAP = question("frameMap", mapRequest, PATHS);

/** The lens as every question about the picture has it; nothing without a pupil. @param {Setup} setup */
function pictureLens(setup) {
  const { place } = pupilOf(setup);
  const lensLossStops = lossOf(setup);
  return place === undefined ? undefined : {
    ...lensOf(setup),
    fNumber: fNumberOf(setup),
    ...(lensLossStops === undefined ? {} : { lensLossStops }),
    ...knownOf(setup, place),
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
const USUAL_EDGE = { kind: "soft", rampMm: SOFT_RAMP_MM };

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

/**
 * What is asked of a picture, or why nothing is known of the pupil.
 * @template {import("../engine/ask.js").Name} N
 * @param {import("./question.js").Question<N, [Setup], any>} of
 * @param {Setup} setup
 * @returns {import("./question.js").Answer<N, undefined>}
 */
function askPicture(of, setup) {
  const refusal = pupilRefusal(setup);
  return refusal ? { refusal } : answerTo(of, setup);
}

/** @param {Setup} setup */
export const askLine = (setup) => askPicture(EDGE, setup);
/** @param {Setup} setup */
export const askBalance = (setup) => askPicture(BALANCE, setup);
/** @param {Setup} setup @param {{columns: number, rows: number}} size @param {number} uniformStops @param {Float32Array} [into] the one painted last */
export function askMap(setup, size, uniformStops, into) {
  const refusal = pupilRefusal(setup);
  return refusal ? { refusal } : answerInto(MAP, [setup, size, uniformStops], into);
}
/** @param {Setup} setup */
export const askMotion = (setup) => askPicture(MOTION, setup);

/** @param {Setup} setup @returns {any} */
function lineRequest(setup) {
  const lens = pictureLens(setup);
  return lens && { ...lens, ...held(setup), profile: profileIn(setup) ?? ANY_GRAD, heights: [setup.frame.subject], ...uncertaintyOf(setup) };
}

/** @param {Setup} setup @returns {any} */
function edgeRequest(setup) {
  const request = lineRequest(setup);
  return request && { ...request, heights: [], edges: { skylineOfFrame: setup.frame.skyline } };
}

/** How well it is known what the grad that is in takes of the subject. @param {Setup} setup @returns {import("../api/glasscall.js").UncertaintyReply | undefined} */
export const subjectKnown = (setup) => answerTo(LINE, setup).reply?.heights[0]?.uncertainty;

/** What the bright one reads through the glass that the reading was taken through. @param {Setup} setup */
function brightRead(setup) {
  const { reading, frame: { bright }, lens } = setup;
  const { aperture, through = [], wheelDensity } = bright;
  if (aperture === undefined || same([through, wheelDensity], [reading.through, reading.wheelDensity])) return aperture;
  const question = WHAT_IS_IN.request({
    ...setup,
    reading: { ...reading, aperture, through, wheelDensity },
    shot: { aperture },
    // Whatever it is put on, the light is the same.
    lens: { ...lens, widestAperture: undefined },
    inPlace: reading.through.map((piece, at) => ({ slot: String(at), piece })),
    wheelNow: reading.wheelDensity ?? 0,
  });
  return ask("openUp", question).reply?.stacks[0]?.apertureToSet ?? aperture;
}

/** @param {Setup} setup @returns {any} */
function balanceRequest(setup) {
  const { frame } = setup;
  const lens = pictureLens(setup);
  return lens && {
    ...lens,
    ...held(setup),
    bright: { aperture: brightRead(setup), atFrameHeight: frame.bright.at },
    dark: { aperture: setup.reading.aperture, atFrameHeight: frame.dark.at },
    allowedStops: frame.allowedStops,
    subject: { atFrameHeight: frame.subject },
    grads: gradsOf(setup),
    ...uncertaintyOf(setup),
  };
}

/** @param {Setup} setup @returns {any} nothing with no such grad */
function gradInRequest(setup) {
  const grads = gradsOf(setup).filter(({ id }) => id === setup.frame.grad);
  const request = balanceRequest(setup);
  return request && grads.length > 0 ? { ...request, grads } : undefined;
}

/** Without any graduated filter in the rig. @param {Setup} setup */
const othersIn = (setup) => {
  const grads = new Set(gradsOf(setup).map(({ id }) => id));
  return setup.inPlace.filter(({ piece }) => !grads.has(piece));
};

/** The graduated filter that is in the rig, if one is. @param {Setup} setup */
export const gradIn = (setup) => gradsOf(setup).map(({ id }) => id).find((id) => setup.inPlace.some(({ piece }) => piece === id));

/** Graduated filters in the rig whose line nobody said: the frame has the line of one. @param {Setup} setup */
export const otherGradsIn = (setup) => {
  const others = new Set(gradsOf(setup).map(({ id }) => id).filter((id) => id !== setup.frame.grad));
  return setup.inPlace.map(({ piece }) => piece).filter((piece) => others.has(piece));
};

/** Whether a slot by itself takes a piece: its size, and whether it must turn. @param {Setup} setup @param {import("../document/setup.js").Slot} slot @param {string} id */
function takes(setup, slot, id) {
  const alone = { ...setup, rig: { ...setup.rig, slots: [slot], always: [] }, inPlace: [], keep: [id] };
  return answerTo(PLACING, alone, id).reply !== undefined;
}

/**
 * Where this graduated filter goes, in the place of any other: into the slot
 * that held one, else the outermost free one, where its line is sharpest and
 * nothing else moves; else wherever all finds room. Nothing where none takes it.
 * @param {Setup} setup @param {string} id @returns {import("../document/setup.js").InPlace[] | undefined}
 */
export function roomFor(setup, id) {
  const now = gradIn(setup);
  if (now === id) return setup.inPlace;
  const others = othersIn(setup);
  const held = setup.inPlace.find(({ piece }) => piece === now)?.slot;
  const free = setup.rig.slots.filter((slot) => !others.some((placed) => placed.slot === slot.id)).reverse();
  const first = free.filter((slot) => slot.id === held);
  const slot = [...first, ...free].find((one) => takes(setup, one, id))?.id;
  if (slot !== undefined) return [...others, { slot, piece: id }];
  return answerTo(PLACING, { ...setup, inPlace: others }, id).reply?.stacks[0]?.slots;
}

/**
 * @typedef {object} GradAnswer
 * @property {import("../api/glasscall.js").SkyAndGroundReply} [balance] nothing where the core refuses
 * @property {Refusal} [refusal]
 * @property {Setup} [held] the set-up with the proposed filter in its slot, or only held up where none takes it
 * @property {import("../document/setup.js").InPlace[]} [slots] where it goes; absent: no slot takes it
 * @property {import("../api/glasscall.js").BalanceReply} [grad] what it does there
 * @property {import("../api/glasscall.js").LineReply} [line]
 */

/**
 * The filter that the two readings ask for, or the one that was chosen, as it
 * is once it is in. While nobody has placed the line it is proposed too: where
 * the subject keeps its light.
 * @param {Setup} setup @param {string} [chosen] @param {boolean} [free] whether the line may be proposed @returns {GradAnswer}
 */
export function gradAnswer(setup, chosen = "", free = false) {
  const { reply: balance, refusal } = askBalance(setup);
  if (!balance) return { refusal };
  const turned = balance.remedies.upsideDown;
  const own = balance.grads.some((/** @type {{id: string}} */ { id }) => id === chosen) ? chosen : undefined;
  const sparing = free && own === undefined ? balance.remedies.sparing : undefined;
  const id = own ?? (balance.verdict === "notNeeded" ? undefined : sparing?.id ?? turned ?? balance.grads[0]?.id);
  if (id === undefined) return { balance };
  const slots = roomFor(setup, id);
  const invert = own === undefined && !sparing && turned !== undefined ? !setup.frame.invert : setup.frame.invert;
  const line = sparing?.lineAtFrameHeight ?? setup.frame.line;
  const held = { ...setup, inPlace: slots ?? setup.inPlace, frame: { ...setup.frame, grad: id, invert, line } };
  // Where it will stand, which is not where another one stands now.
  const there = askBalance(held).reply ?? balance;
  const grad = there.grads.find((/** @type {{id: string}} */ one) => one.id === id);
  const remedies = { ...balance.remedies, sparing: there.remedies.sparing };
  return { balance: { ...there, remedies }, held, slots, grad, line: askLine(held).reply };
}

/** @param {Setup} setup @returns {any} */
function motionRequest(setup) {
  const { frame } = setup;
  const lens = pictureLens(setup);
  return lens && {
    ...lens,
    grad: { ...held(setup), profile: profileIn(setup) ?? ANY_GRAD },
    subject: { atFrameHeight: frame.subject },
    move: frame.move,
  };
}

/** What the even glass that is in takes. @param {Setup} setup */
export function uniformStops(setup) {
  return answerTo(WHAT_IS_IN, asIfRead(setup)).reply?.stacks[0]?.stops ?? 0;
}

/** Where the sun stands at the place and time of the light. @param {Setup} setup */
export function sunOf(setup) {
  return answerTo(SUN, setup, setup.light.at ?? localIso(new Date())).reply;
}

/** The sky behind the polarizer, as the light's place, time and aim have it. @param {Setup} setup */
function skyOf(setup) {
  const sun = sunOf(setup);
  const { frame, light } = setup;
  if (!frame.sky.polarized || !sun || light.aim.azimuthDeg === undefined) return {};
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
 * @param {Setup} setup
 * @param {{columns: number, rows: number}} size
 * @param {number} uniformStops
 * @returns {any}
 */
function mapRequest(setup, { columns, rows }, uniformStops) {
  const lens = pictureLens(setup);
  const profile = profileIn(setup);
  return lens && {
    ...lens,
    uniformStops,
    ...(profile ? { grad: { ...held(setup), profile } } : {}),
    ...skyOf(setup),
    openings: openingsOf(setup).map(({ opening }) => opening),
    columns,
    rows,
  };
}
