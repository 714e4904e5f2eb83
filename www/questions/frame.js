// @ts-check
/** What the Frame screen asks of the core: the set-up as requests. */
import { inHand, SOFT_RAMP_MM } from "../document/frame.js";
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
 * @typedef {import("../document/frame.js").HeldLine} HeldLine
 * @typedef {{id: string, slot: string, profile: Profile, said?: HeldLine, held?: import("../api/glasscall.js").GradRequest}} Beside
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

/** A filter so far ahead of the rim, as requests have it. @param {HeldLine} line @param {number} distanceFromRimMm */
const heldAs = ({ line, rotationDeg, invert }, distanceFromRimMm) => ({ distanceFromRimMm, lineAtFrameHeight: line, rotationDeg, invert });

/** The one in hand. @param {Setup} setup */
const held = (setup) => heldAs(setup.frame, fromRim(setup).mm);

/** Graduated filters that are in beside the one in hand, outward; `said` where their line is. @param {Setup} setup @returns {Beside[]} */
export function gradsBeside(setup) {
  const { frame, rig, inPlace } = setup;
  const grads = gradsOf(setup);
  const own = inPlace.find(({ piece }) => piece === frame.grad);
  /** @type {HeldLine} */
  const like = { ...frame, fromRimMm: undefined };
  return rig.slots.flatMap(({ id: slot, opening }) => {
    const there = inPlace.find((placed) => placed.slot === slot);
    const grad = there === own ? undefined : grads.find(({ id }) => id === there?.piece);
    // Two alike are held alike.
    const said = grad?.id === frame.grad ? like : frame.lines?.find(({ piece }) => piece === grad?.id);
    const mm = said?.fromRimMm ?? opening?.distanceFromRimMm ?? USUAL_FROM_RIM;
    return grad ? [{ ...grad, slot, ...(said ? { said, held: { ...heldAs(said, mm), profile: grad.profile } } : {}) }] : [];
  });
}

/** The set-up with each in hand in turn of those that are in and whose line is said, outward. @param {Setup} setup @returns {Setup[]} */
export function eachInHand(setup) {
  const { frame, rig, inPlace } = setup;
  const grads = new Set(gradsOf(setup).map(({ id }) => id));
  return rig.slots.flatMap(({ id }) => {
    const piece = inPlace.find(({ slot }) => slot === id)?.piece ?? "";
    const said = piece === frame.grad || frame.lines?.some((one) => one.piece === piece);
    return grads.has(piece) && said ? [{ ...setup, frame: inHand(frame, piece) }] : [];
  });
}

/** How those are held whose line is said. @param {Setup} setup */
const heldBeside = (setup) => gradsBeside(setup).flatMap((beside) => beside.held ?? []);

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

/** What each that is in beside takes by itself at one place; turned glass is told down the middle only. @param {Setup} setup @param {{across: number, up: number}} place */
export const besideAt = (setup, { across, up }) => gradsBeside(setup).flatMap(({ id, held }) => {
  if (!held) return [];
  const told = held.rotationDeg === 0 || across === 0.5;
  return [{ id, stops: told ? ask("line", { ...pictureLens(setup), ...held, heights: [up] }).reply?.heights[0]?.stops : undefined }];
});

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

/** What could be in hand: all but what is in beside it. @param {Setup} setup */
function gradsLeft(setup) {
  const beside = gradsBeside(setup).map(({ id }) => id);
  const uses = (/** @type {string} */ id) => beside.filter((one) => one === id).length;
  const count = (/** @type {string} */ id) => setup.kit.find((piece) => piece.id === id)?.count ?? 1;
  return gradsOf(setup).filter(({ id }) => id === setup.frame.grad || uses(id) < count(id));
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
    grads: gradsLeft(setup),
    others: heldBeside(setup),
    ...uncertaintyOf(setup),
  };
}

/** @param {Setup} setup @returns {any} nothing with no such grad */
function gradInRequest(setup) {
  const grads = gradsOf(setup).filter(({ id }) => id === setup.frame.grad);
  const request = balanceRequest(setup);
  return request && grads.length > 0 ? { ...request, grads } : undefined;
}

/** The graduated filter in hand, if it is in the rig. @param {Setup} setup */
export const gradIn = (setup) => gradsOf(setup).map(({ id }) => id)
  .find((id) => id === setup.frame.grad && setup.inPlace.some(({ piece }) => piece === id));

/** Whether a slot by itself takes a piece: its size, and whether it must turn. @param {Setup} setup @param {import("../document/setup.js").Slot} slot @param {string} id */
function takes(setup, slot, id) {
  const alone = { ...setup, rig: { ...setup.rig, slots: [slot], always: [] }, inPlace: [], keep: [id] };
  return answerTo(PLACING, alone, id).reply !== undefined;
}

/**
 * Where this graduated filter goes, in the place of the one in hand: into the
 * slot that held that one, else the outermost free one, where its line is sharpest
 * and nothing else moves; else wherever all finds room. Nothing where none takes it.
 * @param {Setup} setup @param {string} id @returns {import("../document/setup.js").InPlace[] | undefined}
 */
export function roomFor(setup, id) {
  const now = gradIn(setup);
  if (now === id) return setup.inPlace;
  const there = setup.inPlace.find(({ piece }) => piece === now);
  const others = setup.inPlace.filter((placed) => placed !== there);
  const held = there?.slot;
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

/**
 * One more beside all that are in: what would be proposed, those counted, or the
 * nearest to it; nothing with none in or no room.
 * @param {Setup} setup @returns {GradAnswer}
 */
export function gradMore(setup) {
  if (gradIn(setup) === undefined) return {};
  const all = { ...setup, frame: inHand(setup.frame, "") };
  const first = gradAnswer(all, "", true);
  const answer = first.held ? first : gradAnswer(all, first.balance?.grads[0]?.id);
  return answer.slots ? answer : {};
}

/** @param {Setup} setup @returns {any} */
function motionRequest(setup) {
  const { frame } = setup;
  const lens = pictureLens(setup);
  return lens && {
    ...lens,
    grad: { ...held(setup), profile: profileIn(setup) ?? ANY_GRAD },
    others: heldBeside(setup),
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
    grads: heldBeside(setup),
    ...skyOf(setup),
    openings: openingsOf(setup).map(({ opening }) => opening),
    columns,
    rows,
  };
}
