// @ts-check
/** Tables that only go on paper: where glass clips, and which rings join what. */
import { ask } from "../engine/ask.js";
import { openingsOf } from "../questions/fit.js";
import { RINGS } from "../questions/rings.js";
import { answerTo } from "../questions/question.js";
import { say } from "../language/say.js";
import { fixed, lengthNumber, lengthText } from "../language/numbers.js";
import { DAY_WORDS } from "../language/words/day.js";
import { verdictWord } from "../language/words/stack-fit.js";

/**
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("./columns.js").Table} Table
 * @typedef {import("../api/glasscall.js").CaseLens} CaseLens
 */

/** Lenses of the case by what is in front of the one in use. @param {Setup} setup @returns {Table} */
export function clipTable(setup) {
  const found = openingsOf(setup);
  const ends = setup.stock.lenses.flatMap((lens) =>
    [lens.focalMm, lens.focalToMm].filter((focal) => focal !== undefined).map((focal) => ({ lens, focal: Number(focal) })));
  return {
    caption: DAY_WORDS.clipCaption(`${fixed(setup.sensor.widthMm, 2)} × ${fixed(setup.sensor.heightMm, 2)}`),
    head: [say("Lens"), say("Pupil behind the rim"), ...found.map(({ opening }) => `${opening.name ?? say("opening")}, ${lengthText(opening.distanceFromRimMm, 0)}`)],
    rows: ends.map(({ lens, focal }) => {
      const pupil = pupilOf(setup, lens, focal);
      const name = lens.focalToMm === undefined ? lens.id : say("{lens} at {focal} mm", { lens: lens.id, focal: fixed(focal, 0) });
      return [name, pupil?.said ?? DAY_WORDS.pupilUnknown, ...cells(setup, lens, focal, pupil?.place, found)];
    }),
  };
}

/** Where the pupil is; by the front of the lens where nobody has measured. @param {Setup} setup @param {CaseLens} lens @param {number} focalLengthMm */
function pupilOf(setup, lens, focalLengthMm) {
  if (lens.pupilBehindRimMm !== undefined) return { place: lens.pupilBehindRimMm, said: lengthText(lens.pupilBehindRimMm, 0) };
  const [front, stop] = [lens.threadMm ?? lens.outerMm, widest(lens)];
  if (front === undefined || stop === undefined) return undefined;
  const { sensor, lens: { squeeze } } = setup;
  const circle = lens.pupil?.imageCircleMm;
  const { reply } = ask("pupilByFront", { sensor, ...(squeeze === undefined ? {} : { squeeze }), focalLengthMm, widestFNumber: stop, frontDiameterMm: front, ...(circle === undefined ? {} : { imageCircleMm: circle }) });
  return reply && {
    place: { nearestMm: reply.nearestMm, farthestMm: reply.farthestMm },
    said: say("{nearest} to {farthest}, by its front", { nearest: lengthNumber(reply.nearestMm, 0), farthest: lengthText(reply.farthestMm, 0) }),
  };
}

/** @param {CaseLens} lens */
const widest = (lens) => lens.fNumber ?? lens.tNumber;

/**
 * @param {Setup} setup
 * @param {CaseLens} lens
 * @param {number} focalLengthMm
 * @param {any} place
 * @param {ReturnType<typeof openingsOf>} found
 */
function cells(setup, lens, focalLengthMm, place, found) {
  const fNumber = widest(lens) ?? setup.shot.aperture;
  const { sensor, lens: { squeeze } } = setup;
  const { reply } = place === undefined ? {} : ask("fit", {
    sensor,
    ...(squeeze === undefined ? {} : { squeeze }),
    focalLengthMm,
    fNumber,
    pupilBehindRimMm: place,
    // What was seen was seen with another lens.
    openings: found.map(({ opening: { seen: _, ...opening } }) => opening),
  });
  return found.map((_, at) => {
    const told = reply?.openings[at];
    return told?.spareMm === undefined ? DAY_WORDS.look : `${verdictWord(told)} ${lengthNumber(told.spareMm, 1)}`;
  });
}

/** Lenses by the rings that join them to the filters. @param {Setup} setup @param {(path: any) => string} pathText @returns {Table} */
export function ringTable(setup, pathText) {
  const { reply } = answerTo(RINGS, setup, setup.plan.filterMm);
  const front = (/** @type {string} */ id) => {
    const lens = setup.stock.lenses.find((one) => one.id === id);
    return lens?.threadMm !== undefined ? say("{diameter} thread", { diameter: fixed(lens.threadMm, 1) }) : say("{diameter} outside", { diameter: fixed(lens?.outerMm ?? 0, 1) });
  };
  return {
    caption: say("Rings to {diameter} mm filters", { diameter: fixed(setup.plan.filterMm, 1) }),
    head: [say("Lens"), say("Front, mm"), say("Rings from the lens outward")],
    rows: (reply?.lenses ?? []).map((path) => [path.id, front(path.id), pathText(path)]),
  };
}
