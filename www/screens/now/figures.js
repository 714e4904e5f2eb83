// @ts-check
/** Depth, colour, infrared, lamps, a ramp and flat glass asked back: what stands below the answer. */
import { BEHIND_LENS, CLOSE_UP, COLOUR, DEPTH, LAMPS, RAMP } from "../../questions/depth-and-colour.js";
import { shotSettings } from "../../questions/open-up.js";
import { STACK_INFRARED, piecesOf, WORKING_STOP } from "../../questions/stack.js";
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

const millimetres = (/** @type {number} */ mm) => `${fixed(mm, 2)} mm`;

/** What an extender and close focus take. @param {HTMLElement} opener @param {App} app @param {number} aperture the sensor must see */
export function openLens(opener, app, aperture) {
  const { setup } = app;
  // What a lens that moves out would lose is told before anybody says that it does.
  const request = WORKING_STOP.request(setup, aperture, true);
  const { reply } = answerTo(WORKING_STOP, setup, aperture, true);
  if (!reply) return;
  openFigures(opener, app, {
    title: say("What would take so much in the lens"), question: "workingStop", request,
    first: setup.lens.extender === undefined ? "closeFocusLossStops" : "lossStops",
    figures: [
      ["lossStops", say("Taken in all"), "number", reply.lossStops],
      ["extenderLossStops", say("Taken by the extender"), "number", reply.extenderLossStops],
      ["closeFocusLossStops", say("Taken by close focus"), "number", reply.closeFocusLossStops],
      ["setForAsked", say("Ring to"), "aperture", reply.setForAsked],
    ],
    unknowns: [
      { name: say("Extender or reducer"), path: "extender", from: 0.5, to: 3, show: (times) => `${fixed(times, 2)} ×`, field: "lens.extender", edit: ({ lens }, value) => {
        lens.extender = value;
      } },
      { name: say("Focused at"), path: "focusMm", from: 100, to: 200_000, show: distanceText, field: "focus.onMm", edit: ({ focus }, value) => {
        focus.onMm = value;
      } },
      { name: say("Stop"), path: "aperture", only: ["setForAsked"], from: 0.7, to: 64, show: stop },
    ],
  });
}

/** @param {HTMLElement} opener @param {App} app @param {Offer} stack */
export function openCloseUp(opener, app, stack) {
  const request = CLOSE_UP.request(app.setup, stack);
  const { reply } = answerTo(CLOSE_UP, app.setup, stack);
  if (!request || !reply) return;
  openFigures(opener, app, {
    title: say("What would focus there"), question: "closeUp", request,
    figures: [
      ["nearMm", say("Sharp from"), "distance", number(reply.nearMm)],
      ["farMm", say("term|Sharp to"), "distance", number(reply.farMm)],
      ["dioptres", say("Dioptres in all"), "number", reply.dioptres],
      ["nearMagnification", say("Share of life size at its nearest"), "share", reply.nearMagnification],
    ],
    unknowns: [
      { name: say("Close focus"), path: "lensNearMm", from: 50, to: 20_000, show: distanceText, field: "lens.nearMm", edit: ({ lens }, value) => {
        lens.nearMm = value;
      } },
      ...request.dioptres.map((_, nth) => ({ name: say("Power, dioptres"), path: `dioptres[${nth}]`, from: 0.1, to: 20, show: (/** @type {number} */ value) => fixed(value, 2) })),
      { name: say("Focal length"), path: "focalLengthMm", only: ["nearMagnification"], from: 4, to: 1200, show: (mm) => `${fixed(mm, 1)} mm` },
    ],
  });
}

/** @param {HTMLElement} opener @param {App} app @param {import("../../api/glasscall.js").DepthReply} depth @param {Offer} stack */
export function openFlatGlass(opener, app, { fNumber, circleMm }, stack) {
  const request = BEHIND_LENS.request(app.setup, fNumber, circleMm, stack);
  const { reply } = answerTo(BEHIND_LENS, app.setup, fNumber, circleMm, stack);
  if (!request || !reply) return;
  const plate = (/** @type {"behind" | "inFront"} */ path, /** @type {"nowMm" | "frontMm"} */ field, /** @type {string} */ name, /** @type {string[]} */ only) =>
    (request[path].length === 0 ? [] : [{ name, path: `${path}[0].thicknessMm`, only, from: 0.01, to: 50, show: millimetres, field: `behind.${field}`, edit: (/** @type {Setup} */ { behind }, /** @type {number} */ mm) => {
      behind[field] = mm;
    } }]);
  openFigures(opener, app, {
    title: say("What would move focus so"), question: "behindLens", request, first: reply.shiftMm === 0 ? "inFrontShiftMm" : "shiftMm",
    figures: [
      ["shiftMm", say("Focus moves, mm"), "light", reply.shiftMm || undefined],
      ["inFrontShiftMm", say("Seems nearer, mm"), "light", reply.inFrontShiftMm || undefined],
      ["depthOfFocusMm", say("Depth of focus, mm"), "light", reply.depthOfFocusMm],
    ],
    unknowns: [
      ...plate("behind", "nowMm", say("Glass in now"), ["shiftMm"]),
      ...plate("inFront", "frontMm", say("Flat glass in front"), ["inFrontShiftMm"]),
      { name: say("f-number"), path: "fNumber", only: ["depthOfFocusMm"], from: 0.7, to: 64, show: (value) => `f/${fixed(value, 1)}` },
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
