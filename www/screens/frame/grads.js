// @ts-check
/** The graduated filters of the case, as the Frame screen lists and adds them. */
import { ask } from "../../engine/ask.js";
import { gradPiece } from "../../document/frame.js";
import { askBalance, gradsOf } from "../../questions/frame.js";
import { removePiece } from "../../document/edits.js";
import { freeId } from "../../document/document.js";
import { say } from "../../language/say.js";
import { fixed, lengthUnit, stopLabel, unitName } from "../../language/numbers.js";
import { refusalSentence } from "../../language/words/shared.js";
import { GRAD_EDGES, GRAD_NAMES, gradText } from "../../language/words/frame.js";
import { all, el, one } from "../../parts/dom.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { tellRemoved } from "../../parts/undoing.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../api/glasscall.js").ProfileRequest} Profile
 * @typedef {{complaint: string, piece?: undefined} | {piece: import("../../document/setup.js").Piece, complaint?: undefined}} Made
 */

/** @param {HTMLElement} root @param {App} app */
export function mountGrads(root, app) {
  const kind = one(root, "[data-new=kind]", HTMLSelectElement);
  kind.replaceChildren(...Object.entries(GRAD_EDGES).map(([value, text]) => el("option", { value }, text)));
  const showFields = () => {
    for (const part of all(root, "[data-new-for]")) {
      part.hidden = (part.dataset.newFor === "points") !== (kind.value === "points");
    }
  };
  kind.addEventListener("change", showFields);
  showFields();
  one(root, "[data-do=add-grad]").addEventListener("click", () => {
    const typed = (/** @type {string} */ name) => /** @type {HTMLInputElement | HTMLTextAreaElement} */ (one(root, `[data-new=${name}]`)).value.trim();
    const { piece, complaint } = kind.value === "points"
      ? measured(typed("points"))
      : marked(kind.value, typed("density"), typed("rampMm"));
    one(root, ".frame-add-error").textContent = complaint ?? add(app, piece);
  });
}

/** Puts a piece into the case when the core takes it; gives the complaint, or nothing. @param {App} app @param {import("../../document/setup.js").Piece} piece */
function add(app, piece) {
  const made = { ...piece, id: freeId(app.setup.kit, piece.id) };
  const put = (/** @type {import("../../document/setup.js").Setup} */ setup) => {
    setup.kit.push(made);
    setup.frame.grad = made.id;
    setup.demo = false;
  };
  const trial = structuredClone(app.setup);
  put(trial);
  const { refusal } = askBalance(trial);
  if (refusal) return refusalSentence(refusal);
  app.change(put);
  return "";
}

/** A length in the unit the page shows, where none is said. @param {string} text @returns {{value?: any, refusal?: any}} */
function lengthOf(text) {
  try {
    return { value: KINDS_OF_FIELD.length.read(text) };
  } catch (refusal) {
    return { refusal };
  }
}

/** Heights and densities as they may be typed, by the unit of lengths. */
const POINTS = { mm: "-15 0\n0 0.45\n15 0.9", in: "-0.6 0\n0 0.45\n0.6 0.9" };

/** A filter by what is written on it. @param {string} kind @param {string} density @param {string} ramp @returns {Made} */
function marked(kind, density, ramp) {
  const read = ask("readText", { text: density, as: "density" });
  if (read.refusal) return { complaint: refusalSentence(read.refusal, { path: "density" }) };
  const { value: typed, refusal } = ramp === "" ? {} : lengthOf(ramp);
  if (refusal) return { complaint: refusalSentence(refusal, { path: "rampMm" }) };
  const rampMm = typed ?? (kind === "hard" ? undefined : 30);
  const profile = { kind: /** @type {Profile["kind"]} */ (kind), ...(rampMm === undefined ? {} : { rampMm }) };
  return { piece: gradPiece(`${fixed(read.reply.value, 2)} ${GRAD_NAMES[kind]}`, read.reply.value, profile) };
}

/** A filter as somebody measured it: a height and a density to a line. @param {string} text @returns {Made} */
function measured(text) {
  const points = [];
  for (const line of text.split("\n").filter((one_) => one_.trim())) {
    const [height = "", density = ""] = line.trim().split(/[\s;]+/);
    const { value: heightMm, refusal } = lengthOf(height);
    if (refusal) return { complaint: refusalSentence(refusal, { path: "heightMm" }) };
    const densityRead = ask("readText", { text: density, as: "density" });
    if (densityRead.refusal) return { complaint: refusalSentence(densityRead.refusal, { path: "density" }) };
    points.push({ heightMm, density: densityRead.reply.value });
  }
  return { piece: gradPiece(GRAD_NAMES.points, undefined, { kind: "points", points }) };
}

/** @param {HTMLElement} root @param {App} app */
export function showGrads(root, app) {
  const unit = unitName(lengthUnit());
  one(root, ".frame-ramp-label").textContent = say("Ramp, {unit}", { unit });
  one(root, ".frame-points-label").textContent = say("Height above the line in {unit} and density, a line each", { unit });
  one(root, "[data-new=points]", HTMLTextAreaElement).placeholder = stopLabel(POINTS[/** @type {keyof typeof POINTS} */ (lengthUnit())]);
  one(root, "[data-new=density]", HTMLInputElement).placeholder = fixed(0.6, 1);
  one(root, ".frame-own").replaceChildren(...gradsOf(app.setup).map(({ id, profile }) =>
    el("li", {}, el("span", { text: `${id}: ${gradText(profile)}` }),
      el("button", {
        type: "button",
        "aria-label": say("Remove {name}", { name: id }),
        onclick: () => {
          app.do(removePiece, id);
          tellRemoved(app, id);
        },
      }, say("Remove")))));
}
