// @ts-check
/** Sentences of lenses, rings, packing and the order of the day. */
import { fixed } from "../show.js";

/** How sure an answer is. @param {import("../long.js").Progress} progress @param {string} least what is not ruled out */
export function proofText({ busy, stopped, reply }, least) {
  if (!reply) return busy ? "Looking…" : stopped ? "Stopped before anything was found." : "";
  if (reply.proven) return "Proven: nothing better exists.";
  if (busy) return `Best so far; ${least} is not ruled out. Still looking…`;
  return `${stopped ? "Stopped" : "Not proven"}: best found; ${least} is not ruled out.`;
}

/** @param {number} count @param {string} one @param {string} [many] */
export const counted = (count, one, many = `${one}s`) => `${count} ${count === 1 ? one : many}`;

/** Some names and how many more there are. @param {string[]} names */
export const fewNames = (names) => (names.length <= 4 ? names.join("; ") : `${names.slice(0, 3).join("; ")} and ${names.length - 3} more`);

/** @param {{fromMm: number, toMm: number, clamp: boolean}} ring */
export const ringText = ({ fromMm, toMm, clamp }) => `${clamp ? "clamp " : ""}${fixed(fromMm, 1)} → ${fixed(toMm, 1)}`;

/** @param {import("../api/glasscall.js").RingPathReply} path */
export function pathText({ reaches, rings, depthMm, spareMm }) {
  if (!reaches) return "no way with these rings";
  if (rings.length === 0) return "straight on";
  const spare = spareMm ?? 0;
  const room = spareMm === undefined ? "" : spare < 0 ? `, shades by ${fixed(-spare, 1)} mm wide open` : `, ${fixed(spare, 1)} mm to spare wide open`;
  const look = spareMm !== undefined && spareMm < 3 ? ": look through the lens" : "";
  return `${rings.map(ringText).join(", then ")}; ${fixed(depthMm, 1)} mm deep${room}${look}`;
}

/** @param {import("../api/glasscall.js").OpeningRequest | undefined} opening */
export function openingText(opening) {
  if (!opening) return "";
  const { shape, diameterMm = 0, widthMm = 0, heightMm = 0, distanceFromRimMm } = opening;
  const size = shape === "circle" ? `⌀ ${fixed(diameterMm, 1)}` : `${fixed(widthMm, 1)} × ${fixed(heightMm, 1)}`;
  return `${size} mm at ${fixed(distanceFromRimMm, 1)} mm`;
}

/** How a pupil's place was got. @type {Record<string, string>} */
export const PUPIL_BY = { twoCards: "two cards", ring: "a ring at the corners", front: "the front of the lens", stated: "a data sheet" };

/** How filters go in. @type {Record<string, string>} */
export const MOUNTS = { screwIn: "screwed in", snapOn: "snapped on", matteBox: "trays of a matte box" };

/** What a lens makes of a rig, in a cell. @param {import("../rig-compare.js").LensFit} told */
export function fitWord({ fit, why }) {
  if (!fit) return { noRing: "no ring", noPupil: "?", noOpening: "?" }[why ?? "noOpening"];
  return fit.trust === "look" ? `${fit.verdict}, look` : fit.verdict;
}

export const FITS = {
  /** What the cells leave unsaid. @param {import("../rig-compare.js").LensFit[]} fits */
  notes(fits) {
    const has = (/** @type {string} */ why) => fits.some((told) => told.why === why);
    return [
      ...(fits.some(({ fit }) => fit?.trust === "look") ? ["“look”: too close for figures; look through the lens."] : []),
      ...(has("noPupil") ? ["“?”: give the lens its focal length, widest stop and pupil under Lenses."] : []),
      ...(has("noOpening") ? ["“?”: give each slot of the rig its clear opening, under Pieces or Fit."] : []),
      ...(has("noRing") ? ["“no ring”: no ring joins that lens to the rig’s thread; see Lenses."] : []),
    ];
  },
};

export const PLAN_WORDS = {
  partly: "+ more than that: some weight is not known. A piece weighs what is entered, or what its size, thickness and material make.",
  moment: "Moment is about the rim, camera level, with the heaviest stack of the day on the deepest rings. Minutes and weights are starting values from common practice: put in your own under Pieces, Rig.",
  noSetUps: "No set-ups yet. Add the need of each, as you expect or read it.",
  noMinutes: "How many minutes a move takes is not said yet: under Pieces, “What sort of rig”.",
  noLenses: "No lenses yet.",
  noNeeds: "No needs yet: list set-ups under Day order, or say above what light you expect.",
  tooDark: (/** @type {number} */ count) => `${counted(count, "need")} left out: too dark there even without glass.`,
  noFront: "has neither thread nor outside diameter",
  narrow: "A ring that narrows is used only where the picture is known to pass it: give the lens its pupil and widest stop, or the clear diameter it needs.",
  ringPrices: "No prices yet: any single ring is taken to be on offer, all at one price.",
  cannot: (/** @type {string[]} */ ids) => `No stack serves ${fewNames(ids)}: other pieces, more slots, or a slot that rotates.`,
  imported: (/** @type {number} */ pieces) => `Read: ${counted(pieces, "piece")}. Undo brings the old case back.`,
  skipped: (/** @type {number} */ lines) => `${counted(lines, "line")} left out:`,
  fileBad: (/** @type {number | undefined} */ line, /** @type {string} */ why) => `Nothing was read. Line ${line ?? "?"}: ${why}`,
  fileTooLarge: "Nothing was read: a case file has at most 4 MB.",
  unsaved: (/** @type {number} */ changes) => `${counted(changes, "change")} since this case was last saved as a file. A file survives a lost phone.`,
  earlier: (/** @type {string | undefined} */ at, /** @type {number} */ pieces) =>
    `${counted(pieces, "piece")}, ${at === undefined ? "kept before" : `as opened ${new Date(at).toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" })}`}`,
  noEarlier: "None is kept yet.",
  damagedText: "the text is broken off or is no case file.",
};
