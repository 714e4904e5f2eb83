// @ts-check
/** Depth, colour, infrared, lamps, a ramp and flat glass asked back: what stands below the answer. */
import { COLOUR, DEPTH, LAMPS, RAMP } from "../../questions/depth-and-colour.js";
import { shotSettings } from "../../questions/open-up.js";
import { STACK_INFRARED, piecesOf } from "../../questions/stack.js";
import { answerTo } from "../../questions/question.js";
import { say } from "../../language/say.js";
import { distanceText, fixed } from "../../language/numbers.js";
import { openFigures } from "../../parts/figures.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../api/glasscall.js").OfferReply} Offer
 * @typedef {import("../../parts/figures.js").Figure} Figure
 */

const stop = KINDS_OF_FIELD.aperture.show;
const density = (/** @type {number} */ value) => `D ${fixed(value, 2)}`;
const number = (/** @type {any} */ place) => (typeof place === "number" ? place : undefined);

/** @param {HTMLElement} opener @param {App} app @param {number} focalLengthMm as it works @param {number} tNumber of the column @param {string} first */
export function openDepth(opener, app, focalLengthMm, tNumber, first) {
  const request = DEPTH.request(app.setup, focalLengthMm, tNumber);
  const { reply } = answerTo(DEPTH, app.setup, focalLengthMm, tNumber);
  if (!reply) return;
  const { extender, movesOut } = app.setup.lens;
  // An extender and a lens that moves out stand between what works and what is typed.
  const plain = extender === undefined && !movesOut;
  openFigures(opener, app, {
    title: say("What would make it so sharp"), question: "depth", request, first,
    figures: [
      ["nearMm", say("Sharp from"), "distance", reply.nearMm],
      ["farMm", say("term|Sharp to"), "distance", number(reply.farMm)],
      ["depthMm", say("Depth"), "distance", number(reply.depthMm)],
      ["backgroundBlurMm", say("Background blur, mm"), "light", reply.backgroundBlurMm],
      ["backgroundBlurOfFrame", say("of the height"), "share", reply.backgroundBlurOfFrame],
      ["diffractionMm", say("Diffraction, mm"), "light", reply.diffractionMm],
      ["hyperfocalMm", say("term|Hyperfocal"), "distance", reply.hyperfocalMm],
      ["diffractionFromFNumber", say("Diffraction shows from f/"), "number", reply.diffractionFromFNumber],
    ],
    unknowns: [
      { name: say("Stop"), path: "tNumber", from: 0.7, to: 64, show: stop, ...(plain ? { field: "shot.aperture", edit: (/** @type {Setup} */ { shot }, /** @type {number} */ value) => {
        shot.aperture = value;
      } } : {}) },
      { name: say("Focused at"), path: "focusMm", from: 100, to: 200_000, show: distanceText, field: "focus.onMm", edit: ({ focus }, value) => {
        focus.onMm = value;
      } },
      { name: say("Focal length"), path: "focalLengthMm", from: 4, to: 1200, show: (mm) => `${fixed(mm, 1)} mm`, ...(plain ? { field: "lens.focalLengthMm", edit: (/** @type {Setup} */ { lens }, /** @type {number} */ mm) => {
        lens.focalLengthMm = mm;
      } } : {}) },
      request.circleMm === undefined
        ? { name: say("term|Parts of the diagonal"), path: "diagonalParts", from: 300, to: 6000, show: (parts) => fixed(parts, 0) }
        : { name: say("term|Circle of confusion"), path: "circleMm", from: 0.001, to: 0.2, show: (mm) => `${fixed(mm, 4)} mm` },
    ],
  });
}

/** @param {HTMLElement} opener @param {App} app @param {Offer} stack */
export function openInfrared(opener, app, stack) {
  const { reply } = answerTo(STACK_INFRARED, app.setup, stack);
  if (!reply) return;
  const request = STACK_INFRARED.request(app.setup, stack);
  openFigures(opener, app, {
    title: say("What would pass so much infrared"), question: "infrared", request,
    figures: [
      ["excessDensity", say("Excess, a density"), "number", reply.excessDensity],
      ["infraredStops", say("Stops of infrared taken"), "thirds", reply.infraredStops],
      ["visibleStops", say("Stops of visible light taken"), "thirds", reply.visibleStops],
    ],
    unknowns: piecesOf(app.setup, stack).flatMap(({ id, measuredDensity }, nth) => [
      { name: say("{piece}, infrared", { piece: id }), path: `pieces[${nth}].infraredDensity`, from: 0, to: 6, show: density },
      { name: id, path: `pieces[${nth}].${measuredDensity === undefined ? "density" : "measuredDensity"}`, from: 0, to: 6, show: density },
    ]),
  });
}

/** @param {HTMLElement} opener @param {App} app @param {Offer} stack */
export function openColour(opener, app, stack) {
  const { reply } = answerTo(COLOUR, app.setup, stack);
  if (!reply) return;
  const request = COLOUR.request(app.setup, stack);
  const kelvin = (/** @type {"lightKelvin" | "balanceKelvin"} */ name) => ({ path: name, from: 1500, to: 20_000, show: KINDS_OF_FIELD.kelvin?.show, field: `colour.${name}`, edit: (/** @type {Setup} */ { colour }, /** @type {number} */ value) => {
    colour[name] = value;
  } });
  openFigures(opener, app, {
    title: say("What would shift the colour so"), question: "colour", request,
    figures: [
      ["sumMired", say("Shift of the stack, mired"), "number", reply.shifts ? reply.sumMired : undefined],
      ["light.mired", say("The light, mired"), "number", reply.light.mired],
      ["seen.kelvin", say("Seen as"), "kelvin", reply.seen === "none" ? undefined : reply.seen.kelvin],
      ["cast.mired", say("The picture’s cast, mired"), "number", reply.cast?.mired],
    ],
    unknowns: [
      { name: say("term|Light’s colour"), ...kelvin("lightKelvin") },
      ...(request.balanceKelvin === undefined ? [] : [{ name: say("White balance"), ...kelvin("balanceKelvin") }]),
      ...piecesOf(app.setup, stack).map(({ id }, nth) => ({ name: id, path: `shiftsMired[${nth}]`, from: -200, to: 200, show: (/** @type {number} */ mired) => say("{shift} mired", { shift: fixed(mired, 0) }) })),
    ],
  });
}

/** @param {App} app @returns {import("../../parts/figures.js").Unknown[]} the shot's rate and shutter */
function shutterOf(app) {
  return [
    { name: say("Frame rate"), path: "frameRate", from: 1, to: 1000, show: (value) => say("{rate} fps", { rate: fixed(value, 2) }), field: "shot.frameRate", edit: ({ shot }, value) => {
      shot.frameRate = value;
    } },
    !("shutterSeconds" in shotSettings(app.setup))
      ? { name: say("Shutter"), path: "shutterAngleDeg", from: 1, to: 360, field: "shot.shutter", edit: ({ shot }, value) => {
        shot.shutterAngleDeg = value;
      } }
      : { name: say("Shutter"), path: "shutterSeconds", from: 0.0001, to: 1, show: (value) => KINDS_OF_FIELD.shutter.show({ shutterSeconds: value }), field: "shot.shutter", edit: ({ shot }, value) => {
        shot.shutterSeconds = value;
      } },
  ];
}

/** @param {HTMLElement} opener @param {App} app @param {number} nth which mains */
export function openLamps(opener, app, nth) {
  const shot = shotSettings(app.setup);
  const mains = answerTo(LAMPS, shot.frameRate, shot).reply?.mains[nth];
  if (!mains) return;
  openFigures(opener, app, {
    title: say("What would pulse so"), question: "flicker", request: LAMPS.request(shot.frameRate, shot),
    figures: [
      [`mains[${nth}].beatHz`, say("Pulses a second"), "number", mains.beatHz],
      [`mains[${nth}].given.ripple`, say("Either way at worst"), "share", mains.given?.ripple],
      [`mains[${nth}].bands`, say("Bands in the picture"), "number", mains.bands],
    ],
    unknowns: [...shutterOf(app), { name: say("term|From the first line to the last"), path: "readoutSeconds", only: [`mains[${nth}].bands`], from: 0.0005, to: 0.05, show: (seconds) => `${fixed(seconds * 1000, 1)} ms` }],
  });
}

/** @param {HTMLElement} opener @param {App} app @param {number} nth which moment @param {string} first */
export function openRamp(opener, app, nth, first) {
  const shot = shotSettings(app.setup);
  const request = RAMP.request(app.setup, shot);
  const step = answerTo(RAMP, app.setup, shot).reply?.steps[nth];
  if (!step) return;
  const end = (/** @type {"frameRate" | "aperture" | "shutterAngleDeg"} */ name, /** @type {string} */ label, /** @type {number} */ from, /** @type {number} */ to, /** @type {(value: number) => string} */ show) =>
    (request.to[name] === undefined ? [] : [{ name: label, path: `to.${name}`, from, to, show, field: `ramp.${name}`, edit: (/** @type {Setup} */ { ramp }, /** @type {number} */ value) => {
      ramp[name] = value;
    } }]);
  openFigures(opener, app, {
    title: say("Which end would make it so"), question: "ramp", request, first: `steps[${nth}].${first}`,
    figures: [
      [`steps[${nth}].frameRate`, say("Frame rate"), "number", step.frameRate],
      [`steps[${nth}].shutterAngleDeg`, say("Shutter"), "angle", step.shutterAngleDeg],
      [`steps[${nth}].aperture`, say("Iris"), "aperture", step.aperture],
      [`steps[${nth}].turnStops`, say("Turn, stops"), "signedThirds", step.turnStops],
    ],
    unknowns: [
      ...end("frameRate", say("fps"), 1, 1000, (value) => fixed(value, 2)),
      ...end("aperture", say("Iris"), 0.7, 64, stop),
      ...end("shutterAngleDeg", say("Shutter"), 1, 360, (value) => `${fixed(value, 1)}°`),
    ],
  });
}
