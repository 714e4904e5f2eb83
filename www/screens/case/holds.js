// @ts-check
/** The first question of a case: what holds the filters; later, what holds the others. */
import { addRig, startRig } from "../../document/edits.js";
import { isRound, sized, strandedSizes } from "../../document/listed.js";
import { isNotSaid } from "../../document/usual-rigs.js";
import { say } from "../../language/say.js";
import { all, el, one } from "../../parts/dom.js";

/** @typedef {import("../../start/start.js").App} App */
/** @typedef {Parameters<typeof addRig>[1]} Usual */

/** Another rig, with the size of the pieces it is for. @param {import("../../document/document.js").Document} document @param {Usual} name */
const startSizedRig = (document, name) => sized(startRig(document, name));

/** One more rig for pieces of one size. @param {import("../../document/document.js").Document} document @param {string} size */
function addRigFor(document, size) {
  const next = addRig(document, isRound(size) ? "screw" : "box");
  const last = next.rigs.at(-1);
  const thread = isRound(size) ? { threadMm: Number.parseFloat(size) } : {};
  const rigs = next.rigs.map((rig) => (rig === last ? { ...rig, ...thread, slots: rig.slots.map((slot) => ({ ...slot, size })) } : rig));
  return { ...next, rigs };
}

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountHolds(root, app) {
  const first = one(root, ".holds");
  const more = one(root, ".holds-more");
  const stranded = one(root, ".holds-stranded");
  for (const button of all(root, "[data-rig]")) {
    button.addEventListener("click", () => {
      const wasFirst = isNotSaid(app.document);
      app.do(startSizedRig, /** @type {Usual} */ (button.dataset.rig));
      // What was tapped is gone; the box is what comes next.
      if (wasFirst) one(root, "#new-piece").focus({ preventScroll: true });
    });
  }
  return () => {
    const unsaid = isNotSaid(app.document);
    first.hidden = !unsaid || app.setup.demo;
    more.hidden = unsaid;
    stranded.replaceChildren(...(unsaid ? [] : strandedSizes(app.document)).map((size) => el("p", { class: "holds-ask" },
      say("No slot takes {size}.", { size }), " ",
      el("button", { type: "button", "data-do": "hold-size", onclick: () => app.do(addRigFor, size) },
        isRound(size) ? say("Screw-in {size}", { size }) : say("Matte box {size}", { size })))));
  };
}
