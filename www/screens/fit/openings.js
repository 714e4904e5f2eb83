// @ts-check
/** The openings of the Fit screen: each with its picture, verdict and sizes. */
import { openingsOf } from "../../questions/fit.js";
import { say } from "../../language/say.js";
import { arcsText, reachText, roomRangeText } from "../../language/words/fit.js";
import { lossText, roomText, verdictWord } from "../../language/words/stack-fit.js";
import { one } from "../../parts/dom.js";
import { frontView } from "../../parts/front-view.js";
import { addRing } from "./opening-edits.js";
import { openingRow } from "./opening-row.js";
import { usualSizes } from "./usual-sizes.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../parts/field.js").Check} Check
 * @typedef {import("../../api/glasscall.js").FitReply} FitReply
 * @typedef {import("../../api/glasscall.js").OpeningReply} Told
 * @typedef {import("../../questions/fit.js").Found} Found
 */

/**
 * @param {HTMLElement} root
 * @param {App} app
 * @param {(field: HTMLElement) => Check} check
 * @param {(trial: Setup | undefined) => void} preview
 */
export function mountOpenings(root, app, check, preview) {
  const list = one(root, ".fit-rows");
  const given = { app, check, preview, sizes: usualSizes() };
  /** @type {import("./opening-row.js").Row[]} */
  let rows = [];
  let built = "";

  one(root, "[data-do=add-always]").addEventListener("click", () => app.change(addRing));

  /** Rebuilds only when another opening or another shape is there. */
  function update() {
    const keys = keysOf(app.setup);
    if (keys.join(";") !== built) {
      built = keys.join(";");
      const open = new Set(rows.filter(({ made }) => made.querySelector("details")?.open).map(({ path }) => path));
      rows = keys.map((key) => {
        const [path = ""] = key.split(",");
        return openingRow(path, open.has(path), given);
      });
      list.replaceChildren(...rows.map(({ made }) => made));
    }
    rows.forEach((one_) => one_.update());
  }

  /** @param {Setup} setup @param {FitReply | undefined} reply */
  function show(setup, reply) {
    openingsOf(setup).forEach((found, at) => {
      const made = rows.find(({ path }) => path === found.path)?.made;
      const told = reply?.openings[at];
      if (!made) return;
      showLine(made, found, told);
      if (told && reply) showTold(made, found, told, reply);
    });
  }

  return { update, show };
}

/** What a row is made for: where it stands, and what its fields hang on. @param {Setup} setup */
const keysOf = (setup) => [
  // Rings of the lens are told in a line of their own and changed in the case.
  ...openingsOf(setup).filter(({ path }) => !path.startsWith("rings")).map(({ path, opening }) => [path, opening.shape, opening.turns, ""].join()),
  ...setup.rig.slots.flatMap((slot, at) => (slot.opening ? [] : [[`rig.slots[${at}].opening`, "", "", slot.id].join()])),
];

/** @param {HTMLElement} made @param {Found} found @param {Told | undefined} told */
function showLine(made, { opening, piece }, told) {
  one(made, ".fit-name").textContent = [opening.name || say("ring"), piece].filter(Boolean).join(" · ");
  one(made, ".fit-row-word").textContent = told ? verdictWord(told) : say("verdict|Not known");
  one(made, ".fit-row-room").textContent = told?.spareMm === undefined || told.seen ? "" : roomText(told.spareMm);
  // What was seen at another stop may not hold at this one.
  one(made, "[data-do=seen]", HTMLSelectElement).value = told && !told.seen ? "" : opening.seen ?? "";
}

/** @param {HTMLElement} made @param {Found} found @param {Told} told @param {FitReply} reply */
function showTold(made, { opening }, told, reply) {
  made.dataset.verdict = told.trust;
  const loss = told.verdict === "clear" || told.seen ? [] : [sentence(lossText(told.cornerLossStops))];
  const look = told.trust === "look" ? [say("Look through the lens.")] : [];
  const seen = told.seen ? [say("As seen through the lens; by figures {room}.", { room: roomText(told.spareMm ?? 0) })] : [];
  const range = told.trust === "look" && !told.seen ? [roomRangeText(told)] : [];
  const turns = opening.turns && opening.shape === "rectangle" ? [arcsText(told)] : [];
  one(made, ".fit-row-more").textContent = [...seen, ...look, ...range, ...loss, reachText(told), ...turns].join(" ");
  one(made, ".fit-view").replaceChildren(frontView(opening, told, reply.pupil, `${opening.name || say("ring")}: ${verdictWord(told)}`));
}

/** @param {string} text */
const sentence = (text) => `${text.slice(0, 1).toUpperCase()}${text.slice(1)}.`;
