// @ts-check
/** The whole case as a file holds it, flat, and back into the document. */
import { emptyDay } from "./case.js";
import { freeId } from "./document.js";
import { flatBodies, flatDays, flatRigs, nestedBodies, nestedDays, nestedRigs } from "./flat.js";
import { putOnBody } from "./edits.js";
import { forgetWhatIsGone } from "./keep-whole.js";

/**
 * @typedef {import("../api/glasscall.js").CaseContent} CaseContent
 * @typedef {import("./document.js").Document} Document
 */

/** What the first form of the case file called the rig and the body in use. */
const IN_USE = "in use";

/** What is in use first, as a reader of the file expects. @template {{id: string}} T @param {T[]} list @param {string | undefined} id */
const first = (list, id) => [...list.filter((record) => record.id === id), ...list.filter((record) => record.id !== id)];

/** @param {Document} document @returns {CaseContent} */
export function caseContent({ kit, lenses, rings, rigs, bodies, days, wares, ringOffers, inUse }) {
  return {
    pieces: kit,
    lenses,
    rings,
    ...flatRigs(first(rigs, inUse.rig)),
    ...flatBodies(first(bodies, inUse.body)),
    ringOffers,
    wares,
    ...flatDays(first(days, inUse.day)),
  };
}

/** A case from a file in place of this one. @param {Document} document @param {any} read @returns {Document} */
export function takeCase(document, read) {
  const { pieces, lenses, rings, ringOffers, wares, ...lists } = read;
  const [rigs, bodies] = withoutOldNames(nestedRigs(lists), nestedBodies(lists));
  const days = nestedDays(lists, emptyDay());
  const next = {
    ...document,
    demo: false,
    kit: pieces,
    lenses, rings, ringOffers, wares, rigs, bodies,
    // A file without a day leaves the one in hand.
    days: days.length > 0 ? days : document.days,
  };
  // What was in use when it was written stands first.
  const inUse = { lens: next.inUse.lens, rig: rigs[0]?.id, day: days[0]?.id ?? next.inUse.day };
  return putOnBody(forgetWhatIsGone({ ...next, inUse }), bodies[0]?.id);
}

/**
 * The rig and the body of a file of the first form, which wrote both so and
 * first, get names of their own; a record that somebody called so keeps its name.
 * @param {import("./document.js").RigRecord[]} rigs
 * @param {import("./document.js").BodyRecord[]} bodies
 * @returns {[import("./document.js").RigRecord[], import("./document.js").BodyRecord[]]}
 */
function withoutOldNames(rigs, bodies) {
  if (rigs[0]?.id !== IN_USE || bodies[0]?.id !== IN_USE) return [rigs, bodies];
  const named = (/** @type {{id: string}[]} */ list, /** @type {string} */ wanted) => /** @type {any[]} */ ([{ ...list[0], id: freeId(list, wanted) }, ...list.slice(1)]);
  return [named(rigs, "rig"), named(bodies, "body")];
}

/** The part of a case that phones share: what is in it, not what is in use. @param {Document} document @returns {CaseContent} */
export function caseToSend(document) {
  const { ringOffers: _, wares: __, days, setUps, wants, ...content } = caseContent({ ...document, inUse: {} });
  const others = (/** @type {any[] | undefined} */ list = []) => list.filter((record) => (record.day ?? record.id) !== document.inUse.day);
  return { ...content, days: others(days), setUps: others(setUps), wants: others(wants) };
}

/** Puts the shared part in place; lists it does not hold stay. @param {Document} document @param {CaseContent} content @returns {Document} */
export function takeShared(document, content) {
  const mine = caseToSend(document);
  const lists = { ...mine, ...content };
  const { pieces = [], lenses = [], rings = [] } = lists;
  const inHand = document.days.filter(({ id }) => id === document.inUse.day);
  return forgetWhatIsGone({
    ...document,
    demo: false,
    kit: pieces,
    lenses,
    rings: /** @type {any} */ (rings),
    rigs: nestedRigs(lists),
    bodies: nestedBodies(lists),
    days: [...inHand, ...nestedDays(lists, emptyDay())],
  });
}
