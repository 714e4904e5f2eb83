// @ts-check
/** The fit turned round: which number would leave this room. */
import { pupilQuestion } from "../questions/fit.js";
import { fitTurned, fitWorking } from "../questions/turned.js";
import { worked } from "../questions/workings.js";
import { say } from "../language/say.js";
import { fixed, lengthText, stopLabel } from "../language/numbers.js";
import { WORKED } from "../language/words/working.js";
import { el } from "./dom.js";
import { openTurned } from "./turned.js";
import { workingList, workingPart } from "./working.js";

/** How the pupil in it was found, where two cards or the front tell it. @param {import("../document/setup.js").Setup} setup */
export const pupilPart = (setup) => worked(pupilQuestion(setup)).flatMap(({ question, terms }) => [el("h4", { class: "turn-title" }, WORKED[question]), workingList(terms)]);

/**
 * @param {HTMLElement} opener
 * @param {import("../api/glasscall.js").FitRequest} request
 * @param {import("../api/glasscall.js").FitReply} told
 * @param {Node[]} [more] how what the request holds was found
 */
export function turnFit(opener, request, { openings, pupil, worst = 0 }, more = []) {
  const length = (/** @type {number} */ mm) => lengthText(mm, 1);
  openTurned(opener, {
    title: say("What would leave this room"),
    wanted: { label: say("Room at the worst corner"), kind: "length", is: 0 },
    turns: (spareMm) => {
      const found = fitTurned(request, worst, spareMm);
      return [
        { name: say("Focal length"), found: found.focal, show: (mm) => `${fixed(mm, 1)} mm`, span: true },
        { name: say("f-number"), found: found.number, show: (number) => `f/${stopLabel(String(Number(number.toFixed(2))))}`, span: true },
        { name: say("{name}, ahead of the rim", { name: openings[worst]?.name || say("the ring") }), found: found.distance, show: length, span: true },
        ...(found.pupil && pupil ? [{ name: say("Pupil behind the rim"), found: found.pupil, show: length, span: true }] : []),
      ];
    },
    more: [...workingPart(fitWorking(request)), ...more],
  });
}
