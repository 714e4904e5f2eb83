// @ts-check
/** The grad asked back: which line, density or stop takes so much, or blends so wide. */
import { ask } from "../../engine/ask.js";
import { GRAD_IN, LINE, profileIn } from "../../questions/frame.js";
import { say } from "../../language/say.js";
import { fixed, stopLabel, stopsText } from "../../language/numbers.js";
import { percent, readoutText } from "../../language/words/frame.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { el } from "../../parts/dom.js";
import { openDrawer } from "../../parts/drawer.js";
import { openTurned } from "../../parts/turned.js";
import { workingOf } from "../../questions/workings.js";
import { workingPart } from "../../parts/working.js";

/** @typedef {import("../../start/start.js").App} App */
/** @typedef {import("../../document/setup.js").Setup} Setup */

/**
 * @param {HTMLElement} opener @param {App} app @param {Setup} held with the grad in its slot
 * @param {"line" | "blend"} what which figure was tapped
 */
export function turnLine(opener, app, held, what) {
  const request = LINE.request(held);
  const told = request && ask("line", request).reply;
  if (!told) return;
  const blends = told.blendStopsOfFrame === undefined ? "blendOfFrame" : "blendStopsOfFrame";
  const wanted = what === "line" ? "heights[0].stops" : blends;
  const found = (/** @type {number} */ is) => (/** @type {string} */ path, /** @type {number} */ from, /** @type {number} */ to) =>
    ask("solve", { question: "line", request, unknown: { path, from, to }, wanted: { path: wanted, is } }).reply;
  const put = (/** @type {string} */ draft, /** @type {(setup: Setup, value: number) => void} */ edit) => (/** @type {number} */ value) => {
    delete app.drafts[draft];
    app.change((setup) => edit(setup, value), true, undefined, say("undo|what was asked back"));
  };
  const stop = { show: (/** @type {number} */ value) => `f/${stopLabel(String(Number(value.toFixed(2))))}`, take: put("lens.fNumber", (setup, value) => {
    setup.lens.fNumber = value;
  }) };
  const away = { show: (/** @type {number} */ value) => `${fixed(value, 1)} mm`, take: put("frame.fromRimMm", (setup, value) => {
    setup.frame.fromRimMm = value;
  }) };
  const line = put("frame.line", (setup, value) => {
    setup.frame.line = value;
  });
  const marked = request.profile.density !== undefined;
  const ramped = request.profile.rampMm !== undefined;
  openTurned(opener, {
    title: what === "line" ? say("What would take so much of the subject") : say("What would blend so wide"),
    wanted: what === "line"
      ? { label: say("Stops taken at {share} of the height", { share: percent(request.heights[0]) }), kind: "thirds", is: Math.round(told.heights[0].stops * 3) / 3 }
      : { label: blends === "blendOfFrame" ? say("Whole blend, of the picture’s height") : say("Blend from 10 % to 90 % of its stops, of the picture’s height"), kind: "share", is: Math.round((told[blends] ?? 0) * 100) / 100 },
    turns: (is) => {
      const of = found(is);
      return [
        ...(what === "line" ? [{ name: say("Line"), found: of("lineAtFrameHeight", 0, 1), show: (/** @type {number} */ value) => percent(value), take: line }] : []),
        ...(what === "line" && marked ? [{ name: say("Density"), found: of("profile.density", 0, 4), show: (/** @type {number} */ value) => say("ND {density}", { density: fixed(value, 2) }) }] : []),
        { name: say("f-number"), found: of("fNumber", 0.7, 64), ...stop },
        { name: say("Ahead of the rim"), found: of("distanceFromRimMm", 0, 400), ...away },
        ...(what === "blend" && ramped ? [{ name: say("Ramp of the grad"), found: of("profile.rampMm", 0, 200), show: (/** @type {number} */ value) => `${fixed(value, 1)} mm` }] : []),
        ...(what === "blend" ? [{ name: say("Focal length"), found: of("focalLengthMm", 8, 400), show: (/** @type {number} */ value) => `${fixed(value, 1)} mm` }] : []),
      ];
    },
    more: workingPart(ask("line", { ...request, explain: true }).reply?.working),
  });
}

/** How far sky and ground would stand apart with it in. @param {HTMLElement} opener @param {Setup} held with the grad in its slot */
export function turnLeft(opener, held) {
  const request = GRAD_IN.request(held);
  const told = request && ask("skyAndGround", request).reply?.grads[0];
  if (!told) return;
  const found = (/** @type {number} */ is) => (/** @type {string} */ path, /** @type {number} */ from, /** @type {number} */ to) =>
    ask("solve", { question: "skyAndGround", request, unknown: { path, from, to }, wanted: { path: "grads[0].leftStops", is } }).reply;
  const stop = KINDS_OF_FIELD.aperture.show;
  openTurned(opener, {
    title: say("What would leave sky and ground so far apart"),
    wanted: { label: say("Stops apart with {piece}", { piece: held.frame.grad }), kind: "signedThirds", is: Math.round(told.leftStops * 3) / 3 },
    turns: (is) => {
      const of = found(is);
      return [
        ...(request.grads[0].profile.density === undefined ? [] : [{ name: say("Density"), found: of("grads[0].profile.density", 0, 4), show: (/** @type {number} */ value) => say("ND {density}", { density: fixed(value, 2) }) }]),
        { name: say("Line"), found: of("lineAtFrameHeight", 0, 1), show: (/** @type {number} */ value) => percent(value) },
        { name: say("The bright part reads"), found: of("bright.aperture", 0.7, 128), show: stop },
        { name: say("The dark part reads"), found: of("dark.aperture", 0.7, 128), show: stop },
      ];
    },
    more: workingPart(workingOf("skyAndGround", request)),
  });
}

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
  const rest = lost === undefined || (line && grad === undefined) ? undefined : lost - even - (grad ?? 0);
  openDrawer(opener, say("What stands at this place"), () => [
    el("ul", { class: "notes" }, ...[
      readoutText(told, { across, up }),
      say("{stops} by the even glass", { stops: stopsText(even) }),
      ...(grad === undefined ? [] : [say("{stops} by {grad}, as far as its line is from here", { stops: stopsText(grad), grad: setup.frame.grad })]),
      ...(rest === undefined || Math.abs(rest) < NOTHING ? [] : [say("{stops} by sky, edges and corners", { stops: stopsText(rest) })]),
    ].map((text) => el("li", { text }))),
    ...(request ? workingPart(workingOf("line", request)) : []),
  ]);
}
