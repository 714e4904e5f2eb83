// @ts-check
/** Pictures and tables that a screen has only on paper: the sun's way, the whole case. */
import { ask } from "../engine/ask.js";
import { FIT } from "../questions/fit.js";
import { SUN, PAIR } from "../questions/light.js";
import { offsetText } from "../document/moment.js";
import { rigsOf } from "../questions/plan.js";
import { momentOf } from "../questions/turned.js";
import { answerTo } from "../questions/question.js";
import { say } from "../language/say.js";
import { fixed, lengthText } from "../language/numbers.js";
import { roomText, verdictWord } from "../language/words/stack-fit.js";
import { MOUNTS } from "../language/words/planning.js";
import { el } from "../parts/dom.js";
import { frontView } from "../parts/front-view.js";
import { sideView } from "../parts/side-view.js";
import { ringClock, sunPath } from "../parts/sky-pictures.js";
import { kitTable } from "./columns.js";
import { SAID } from "./notation.js";
import { tableElement } from "./table.js";

/**
 * @typedef {import("../start/start.js").App} App
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("./columns.js").Table} Table
 */

/** Half hours of the day by this device's clock. @param {string} at */
function halfHours(at) {
  return Array.from({ length: 49 }, (_, nth) => {
    const time = new Date(`${at.slice(0, 10)}T00:00:00`);
    time.setMinutes(30 * nth);
    const zone = offsetText(-time.getTimezoneOffset());
    return `${new Date(time.getTime() - time.getTimezoneOffset() * 60_000).toISOString().slice(0, 19)}${zone}`;
  });
}

/** The sun over the day, where a place is said. @param {Setup} setup @returns {Element[]} */
function sunPicture(setup) {
  const at = momentOf(setup);
  const standing = (/** @type {string} */ time) => {
    const { reply } = answerTo(SUN, setup, time);
    return reply ? [{ time, azimuthDeg: reply.azimuthDeg, elevationDeg: reply.apparentElevationDeg }] : [];
  };
  const [now] = standing(at);
  return now ? [sunPath(halfHours(at).flatMap(standing), now, setup.light.aim)] : [];
}

/** What Light has on paper besides what stands on it. @param {Setup} setup @param {string} view @returns {Element[]} */
export function lightPictures(setup, view) {
  if (view !== "polarizers") return sunPicture(setup);
  const { reply } = answerTo(PAIR, setup);
  return reply ? [ringClock(reply.angleDeg)] : [];
}

/**
 * The fit on paper: lens and rig from the side, the opening with the least room
 * from behind the camera with the light that has to pass it, and all of them.
 * @param {Setup} setup @returns {{pictures: Element[], table?: HTMLElement}}
 */
export function fitOnPaper(setup) {
  const request = FIT.request(setup);
  const reply = request && ask("fit", request).reply;
  if (!request || !reply) return { pictures: [] };
  const { worst = 0, openings, pupil } = reply;
  const asked = request.openings ?? [];
  const nameOf = ({ name = "" }) => name || say("the ring");
  const [narrow, told] = [asked[worst], openings[worst]];
  const front = narrow && told && pupil ? [frontView(narrow, told, pupil, nameOf(told))] : [];
  const table = {
    caption: say("Openings, from the lens outward"),
    head: [say("Opening"), say("Ahead of the rim"), say("table|Verdict"), say("table|Room")],
    rows: openings.map((one_, at) => [
      nameOf(one_), lengthText(asked[at]?.distanceFromRimMm ?? 0, 1), verdictWord(one_),
      one_.spareMm === undefined || one_.seen ? "" : roomText(one_.spareMm),
    ]),
  };
  return { pictures: [sideView(setup), ...front], table: tableElement(table) };
}

/** The slots of every rig. @param {Setup} setup @returns {Table} */
function rigTable(setup) {
  return {
    caption: say("Rigs"),
    head: [say("Rig"), say("Mount"), say("Slot"), say("Size"), say("Turns")],
    rows: rigsOf(setup).flatMap(({ id, mount, slots }) => slots.map((slot, nth) =>
      [nth === 0 ? id : "", nth === 0 ? MOUNTS[mount] : "", slot.id, slot.size ?? "", slot.rotates ? say("yes") : ""])),
  };
}

/** @param {Setup} setup @returns {Table} */
function lensTable({ stock }) {
  const stop = (/** @type {string} */ letter, /** @type {number | undefined} */ number) => (number === undefined ? "" : `${letter}${fixed(number, 1)}`);
  return {
    caption: say("Lenses"),
    head: [say("Lens"), say("Focal length, mm"), say("Widest stop"), say("Front, mm"), say("Pupil behind the rim")],
    rows: stock.lenses.map((lens) => [
      lens.id,
      [lens.focalMm, lens.focalToMm].filter((mm) => mm !== undefined).map((mm) => fixed(Number(mm), 1)).join("–"),
      stop("T", lens.tNumber) || stop("f/", lens.fNumber),
      [lens.threadMm, lens.outerMm].filter((mm) => mm !== undefined).map((mm) => fixed(Number(mm), 1)).join(" / "),
      lens.pupilBehindRimMm === undefined ? "" : lengthText(lens.pupilBehindRimMm, 0),
    ]),
  };
}

/** The case as a list to go over with a pencil. @param {Setup} setup @returns {Node[]} */
export function caseTables(setup) {
  const tables = [kitTable(setup, SAID), rigTable(setup), lensTable(setup)].filter(({ rows }) => rows.length > 0);
  return [...tables.map((table) => tableElement(filled(table))), el("p", { text: say("Trays are labelled by “Tray labels” on Day.") })];
}

/** Without the columns nothing stands in. @param {Table} table @returns {Table} */
export function filled({ head, rows, ...rest }) {
  const isSaid = (/** @type {string} */ _, /** @type {number} */ at) => rows.length === 0 || rows.some((row) => row[at]);
  return { ...rest, head: head.filter(isSaid), rows: rows.map((row) => row.filter(isSaid)) };
}
