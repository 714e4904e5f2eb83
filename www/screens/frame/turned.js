// @ts-check
/** The grad asked back: which line, density or stop takes so much, or blends so wide. */
import { ask } from "../../engine/ask.js";
import { besideAt, GRAD_IN, LINE, MOTION, profileIn } from "../../questions/frame.js";
import { say } from "../../language/say.js";
import { fixed, stopLabel, stopsText } from "../../language/numbers.js";
import { percent, readoutText } from "../../language/words/frame.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { el } from "../../parts/dom.js";
import { openDrawer } from "../../parts/drawer.js";
import { openFigures } from "../../parts/figures.js";
import { workingOf } from "../../questions/workings.js";
import { workingPart } from "../../parts/working.js";

/** @typedef {import("../../start/start.js").App} App */
/** @typedef {import("../../document/setup.js").Setup} Setup */

const millimetres = (/** @type {number} */ mm) => `${fixed(mm, 1)} mm`;
const density = (/** @type {number} */ value) => say("ND {density}", { density: fixed(value, 2) });
const stopNumber = (/** @type {number} */ value) => `f/${stopLabel(String(Number(value.toFixed(2))))}`;

/** What a grad's numbers hang on, at those paths. @param {any} grad @param {string} at */
const edgeOf = (grad, at) => [
  { name: say("Line"), path: `${at}lineAtFrameHeight`, from: 0, to: 1, show: percent, field: "frame.line", edit: (/** @type {Setup} */ { frame }, /** @type {number} */ value) => {
    frame.line = value;
  } },
  ...(grad.profile.density === undefined ? [] : [{ name: say("Density"), path: `${at}profile.density`, from: 0, to: 4, show: density }]),
  { name: say("f-number"), path: "fNumber", from: 0.7, to: 64, show: stopNumber, field: "lens.fNumber", edit: (/** @type {Setup} */ { lens }, /** @type {number} */ value) => {
    lens.fNumber = value;
  } },
  { name: say("Ahead of the rim"), path: `${at}distanceFromRimMm`, from: 0, to: 400, show: millimetres, field: "frame.fromRimMm", edit: (/** @type {Setup} */ { frame }, /** @type {number} */ value) => {
    frame.fromRimMm = value;
  } },
  ...(grad.profile.rampMm === undefined ? [] : [{ name: say("Ramp of the grad"), path: `${at}profile.rampMm`, from: 0, to: 200, show: millimetres }]),
  { name: say("Focal length"), path: "focalLengthMm", from: 8, to: 400, show: millimetres },
];

/**
 * @param {HTMLElement} opener @param {App} app @param {Setup} held with the grad in its slot
 * @param {string} what which figure was tapped
 */
export function turnLine(opener, app, held, what) {
  const request = LINE.request(held);
  const asked = { ...request, edges: { skylineOfFrame: held.frame.skyline } };
  const told = request && ask("line", asked).reply;
  if (!told) return;
  const blends = told.blendStopsOfFrame === undefined ? "blendOfFrame" : "blendStopsOfFrame";
  openFigures(opener, app, {
    title: what === "blend" ? say("What would blend so wide") : say("What would take so much of the subject"),
    question: "line", request: asked, first: what === "blend" ? blends : what,
    figures: [
      ["heights[0].stops", say("Stops taken at {share} of the height", { share: percent(request.heights[0]) }), "thirds", told.heights[0].stops],
      [blends, blends === "blendOfFrame" ? say("Whole blend, of the picture’s height") : say("Blend from 10 % to 90 % of its stops, of the picture’s height"), "share", told[blends]],
      ["lineHeightMm", say("term|Line on the filter"), "length", told.lineHeightMm],
      ["slidePerDegreeMm", say("term|To slide for a degree of tilt"), "length", told.slidePerDegreeMm],
      ["unslidDegreeStops", say("Stops for a degree, unslid"), "factor", told.unslidDegreeStops],
      ["edge.hard.blendOfFrame", say("Blend of a hard edge"), "share", told.edge?.hard.blendOfFrame],
      ["edge.soft.blendOfFrame", say("Blend of a soft edge"), "share", told.edge?.soft.blendOfFrame],
    ],
    unknowns: edgeOf(request, ""),
    working: request,
  });
}

/** How far sky and ground would stand apart with it in. @param {HTMLElement} opener @param {App} app @param {Setup} held with the grad in its slot @param {string} [first] */
export function turnLeft(opener, app, held, first) {
  const request = GRAD_IN.request(held);
  const told = request && ask("skyAndGround", request).reply?.grads[0];
  if (!told) return;
  const stop = KINDS_OF_FIELD.aperture.show;
  openFigures(opener, app, {
    title: say("What would leave sky and ground so far apart"), question: "skyAndGround", request, first,
    figures: [
      ["grads[0].leftStops", say("Stops apart with {piece}", { piece: held.frame.grad }), "signedThirds", told.leftStops],
      ["grads[0].deliveredStops", say("term|Brought closer by"), "thirds", told.deliveredStops],
      ["grads[0].stolenStops", say("term|Taken from the subject"), "thirds", told.stolenStops],
    ],
    unknowns: [
      ...edgeOf(request.grads[0], "").map((one) => (one.path.startsWith("profile") ? { ...one, path: `grads[0].${one.path}` } : one)),
      { name: say("The bright part reads"), path: "bright.aperture", from: 0.7, to: 128, show: stop },
      { name: say("The dark part reads"), path: "dark.aperture", from: 0.7, to: 128, show: stop },
    ],
  });
}

/** What the subject gets as the shot moves. @param {HTMLElement} opener @param {App} app @param {Setup} setup as drawn */
export function turnMotion(opener, app, setup) {
  const request = MOTION.request(setup);
  const told = request && ask("lineMotion", request).reply;
  if (!told) return;
  const moves = (/** @type {"tiltToDeg" | "panToDeg"} */ name, /** @type {string} */ label) => ({
    name: label, path: `move.${name}`, from: -60, to: 60, field: `frame.move.${name}`, edit: (/** @type {Setup} */ { frame }, /** @type {number} */ value) => {
      frame.move = { ...frame.move, [name]: value };
    },
  });
  openFigures(opener, app, {
    title: say("Which move would change it so"), question: "lineMotion", request: { ...request, move: { tiltToDeg: 0, panToDeg: 0, ...request.move } },
    figures: [
      ["worstStops", say("Stops darker at worst"), "signedThirds", told.worstStops],
      ["worstAt", say("So far into the move"), "share", told.worstAt],
      ["worstSlidingStops", say("Stops darker, slid along"), "signedThirds", told.worstSlidingStops],
      ["slideUpMm", say("To slide up"), "length", told.slideUpMm],
      ["slideDownMm", say("To slide down"), "length", told.slideDownMm],
    ],
    unknowns: [moves("tiltToDeg", say("Tilts by")), moves("panToDeg", say("Pans by")), ...edgeOf(request.grad, "grad.")],
  });
}

/** What no part alone takes; several blends over one pupil take more or less than their sum. @param {number} stops @param {boolean} several */
const restText = (stops, several) => (several
  ? say("{stops} by sky, edges and corners, and as blends overlap", { stops: stopsText(stops) })
  : say("{stops} by sky, edges and corners", { stops: stopsText(stops) }));

/** Less than this is the map's rounding. */
const NOTHING = 1e-3;

/** What stands at one place of the picture: the even glass, the grad there, and what else. @param {HTMLElement} opener @param {Setup} setup as drawn @param {{across: number, up: number}} place @param {number | undefined} told stops lost there @param {number} even stops of the even glass */
export function turnPlace(opener, setup, { across, up }, told, even) {
  const line = profileIn(setup) && LINE.request(setup);
  // Turned glass is told down the middle of the picture only.
  const request = line && (setup.frame.rotationDeg === 0 || across === 0.5) ? { ...line, heights: [up] } : undefined;
  const reply = request && ask("line", request).reply;
  const lost = Number.isNaN(told) ? undefined : told;
  const grad = reply?.heights[0]?.stops;
  const beside = besideAt(setup, { across, up });
  const counted = [grad ?? 0, ...beside.map(({ stops }) => stops ?? NaN)].reduce((sum, stops) => sum + stops, even);
  const rest = lost === undefined || (line && grad === undefined) || Number.isNaN(counted) ? undefined : lost - counted;
  openDrawer(opener, say("What stands at this place"), () => [
    el("ul", { class: "notes" }, ...[
      readoutText(told, { across, up }),
      say("{stops} by the even glass", { stops: stopsText(even) }),
      ...(grad === undefined ? [] : [say("{stops} by {grad}, as far as its line is from here", { stops: stopsText(grad), grad: setup.frame.grad })]),
      ...beside.flatMap(({ id, stops }) => (stops === undefined ? [] : [say("{stops} by {grad}, as far as its line is from here", { stops: stopsText(stops), grad: id })])),
      ...(rest === undefined || Math.abs(rest) < NOTHING ? [] : [restText(rest, beside.length > 0)]),
    ].map((text) => el("li", { text }))),
    ...(request ? workingPart(workingOf("line", request)) : []),
  ]);
}
