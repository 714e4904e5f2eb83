// @ts-check
/** How well each input is known, to be said better: made when it is first opened. */
import { askFit } from "../../questions/fit.js";
import { OPEN_UP, asIfRead } from "../../questions/open-up.js";
import { answerTo } from "../../questions/question.js";
import { say } from "../../language/say.js";
import { fixed, stopsText } from "../../language/numbers.js";
import { all } from "../../parts/dom.js";
import { mountField } from "../../parts/field.js";
import { field } from "../../parts/rows.js";

/** @typedef {import("../../start/start.js").App} App */

/** What is against them: each question that takes them. @param {import("../../document/setup.js").Setup} setup */
const check = (setup) => answerTo(OPEN_UP, asIfRead(setup)).refusal ?? askFit(setup).refusal;

/** Fields for all of them; what an empty one means is the core's table. @param {HTMLElement} box @param {App} app @returns {() => void} */
export function fillKnown(box, app) {
  const mm = (/** @type {number} */ length) => `${fixed(length, 1)} mm`;
  const one = (/** @type {string} */ name, /** @type {string} */ label, /** @type {string} */ kind, /** @type {string} */ usual, /** @type {string} */ hint = "") =>
    field(label, `uncertainty.${name}`, kind, usual, hint);
  box.replaceChildren(
    one("readingStops", say("A reading"), "stops", stopsText(0.1), say("read in thirds")),
    one("markedShare", say("A marked density"), "share", `${fixed(5.8, 1)} %`, say("of what is marked")),
    one("measuredDensity", say("A measured density"), "number", fixed(0.01, 2)),
    one("statedStops", say("A loss told in stops"), "stops", stopsText(0.19)),
    one("polarizerStops", say("A polarizer nobody measured"), "stops", stopsText(0.38)),
    one("clearGlassStops", say("Glass taken to cost nothing"), "stops", stopsText(0.04)),
    one("edgeMm", say("Where the edge of a grad stands"), "mm", mm(0.5)),
    one("openingMm", say("How far ahead of the rim an opening stands"), "mm", mm(0.5)),
    one("cardsMm", say("The height of a card"), "mm", mm(0.5), say("the most it is misread by")),
    one("clockSeconds", say("The clock, in seconds"), "number", fixed(60, 0)),
    one("placeDeg", say("The place, in degrees over the ground"), "number", fixed(0.1, 1), say("a tenth is eleven kilometres")),
    one("skyShare", say("A clear sky, of its spread"), "share", `${fixed(50, 0)} %`),
  );
  const fields = all(box, ".field").map((made) => mountField(made, app, check));
  return () => fields.forEach((show) => show());
}
