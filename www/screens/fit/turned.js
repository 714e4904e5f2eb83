// @ts-check
/** The fit turned round: which number would leave this room. */
import { fitTurned, fitWorking } from "../../questions/turned.js";
import { say } from "../../language/say.js";
import { fixed, lengthText, stopLabel } from "../../language/numbers.js";
import { openTurned } from "../../parts/turned.js";
import { workingPart } from "../../parts/working.js";

/**
 * @param {HTMLElement} opener
 * @param {import("../../api/glasscall.js").FitRequest} request
 * @param {import("../../api/glasscall.js").FitReply} told
 */
export function turnFit(opener, request, { openings, pupil, worst = 0 }) {
  const length = (/** @type {number} */ mm) => lengthText(mm, 1);
  openTurned(opener, {
    title: say("What would leave this room"),
    wanted: { label: say("Room at the worst corner"), kind: "length", is: 0 },
    turns: (spareMm) => {
      const found = fitTurned(request, worst, spareMm);
      return [
        { name: say("Focal length"), found: found.focal, show: (mm) => `${fixed(mm, 1)} mm`, span: true },
        { name: say("f-number"), found: found.number, show: (number) => `f/${stopLabel(String(Number(number.toFixed(2))))}`, span: true },
        { name: say("{name}, ahead of the rim", { name: openings[worst].name || say("the ring") }), found: found.distance, show: length, span: true },
        ...(found.pupil && pupil ? [{ name: say("Pupil behind the rim"), found: found.pupil, show: length, span: true }] : []),
      ];
    },
    more: workingPart(fitWorking(request)),
  });
}
