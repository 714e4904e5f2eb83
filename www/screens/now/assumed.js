// @ts-check
/** What the answer rests on that nobody has said, each line leading to where it is said. */
import { say, sayCount } from "../../language/say.js";
import { fixed } from "../../language/numbers.js";
import { stopsKnownText } from "../../language/words/known.js";
import { el, one } from "../../parts/dom.js";

/** @typedef {import("../../start/start.js").App} App */

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountAssumed(root, app) {
  const showKnown = mountKnown(root, app);
  return () => {
    showKnown();
    const lines = assumptions(app);
    one(root, ".now-assumed-line").textContent = sayCount(lines.length, "{count} thing", "{count} things");
    one(root, ".assumed").replaceChildren(...lines.map(([text, href]) =>
      el("li", {}, href ? el("a", { href }, text) : text)));
  };
}

/** How well the answer is known; what that rests on is made when it is first opened. @param {HTMLElement} root @param {App} app */
function mountKnown(root, app) {
  const box = /** @type {HTMLDetailsElement} */ (one(root, ".now-known"));
  /** @type {(() => void) | undefined} */
  let show;
  const fill = async () => {
    if (show) return;
    show = () => {};
    const { fillKnown } = await import("./known.js");
    show = fillKnown(one(box, ".now-known-fields"), app);
    show();
  };
  box.addEventListener("toggle", () => {
    if (box.open) void fill();
  });
  const wanted = async () => {
    if (location.hash !== "#now?known") return;
    // Out of the address, so that the same link leads here again.
    window.history.replaceState(null, "", "#now");
    box.open = true;
    // Only what is there can be scrolled to the top.
    await fill();
    box.scrollIntoView();
    one(box, "summary").focus({ preventScroll: true });
  };
  window.addEventListener("hashchange", () => void wanted());
  void wanted();
  return () => {
    const known = app.answer?.stacks[0]?.uncertainty ?? app.answer?.needUncertainty;
    one(box, ".now-known-line").textContent = known ? stopsKnownText(known) : "";
    show?.();
  };
}

/** @param {import("../../document/setup.js").Piece[]} pieces */
const named = (pieces) => pieces.map(({ id }) => id).join(", ");

/** @param {App} app @returns {[string, string?][]} */
function assumptions({ setup, answer }) {
  /** @type {[string, string?][]} */
  const lines = [];
  const fit = answer?.stacks[0]?.fit;
  if (!fit || fit.verdict === "unknown") lines.push([say("Whether glass shades is not known: say the pupil or the front of the lens, and each slot’s opening."), "#fit"]);
  else if (setup.lens.pupil.by === "front") lines.push([say("The pupil is known only by the front of the lens."), "#fit"]);
  const polarizer = setup.kit.find((piece) =>
    piece.kind === "polarizer" && piece.measuredDensity === undefined && piece.lossStops === undefined && piece.density === undefined);
  if (polarizer) lines.push([say("{piece} (polarizer) costs 1⅔ stops: common practice, not measured.", { piece: polarizer.id }), "#case?pieces"]);
  const marked = setup.kit.filter((piece) => piece.kind === "nd" && piece.measuredDensity === undefined);
  if (marked.length) lines.push([say("Taken as marked: {pieces}.", { pieces: named(marked) }), "#case?pieces"]);
  const unknown = setup.kit.filter((piece) => piece.kind === "nd" && piece.infraredDensity === undefined);
  if (unknown.length) lines.push([say("Stops no infrared, for all we know: {pieces}.", { pieces: named(unknown) }), "#case?pieces"]);
  if (fit && setup.lens.focalLengthMm !== undefined) {
    lines.push([say("The fit is for {focal} mm on {width} × {height} mm, as the Fit screen has it.", {
      focal: fixed(setup.lens.focalLengthMm, 1), width: fixed(setup.sensor.widthMm, 2), height: fixed(setup.sensor.heightMm, 2),
    }), "#fit"]);
  }
  if (setup.lens.widestAperture === undefined) lines.push([say("How wide the lens opens is not known."), "#case?lenses"]);
  if (answer && setup.shot.exposureIndex === undefined) lines.push([say("You shoot at the settings the light was read for, where none are given.")]);
  if (setup.lens.lossStops === undefined) lines.push([say("Depth is counted with the T-number as if it were the f-number: light lost in the lens is not known (under settings).")]);
  lines.push([say("Stops are T-stops; a stop without a letter counts as T. Labels such as 2.8 stand for their exact value.")]);
  return lines;
}
