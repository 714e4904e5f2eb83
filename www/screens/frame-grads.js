// @ts-check
/** The graduated filters of the case, as the Frame screen lists and adds them. */
import { ask } from "../engine.js";
import { gradPiece } from "../frame-setup.js";
import { askBalance, gradsOf } from "../frame-glass.js";
import { forgetPiece, freeId } from "../setup.js";
import { fixed } from "../show.js";
import { refusalSentence } from "../words.js";
import { GRAD_EDGES, gradText } from "../words/frame.js";
import { all, el, one } from "../parts/dom.js";

/**
 * @typedef {import("../app.js").App} App
 * @typedef {import("../api/glasscall.js").ProfileRequest} Profile
 * @typedef {{complaint: string, piece?: undefined} | {piece: import("../setup.js").Piece, complaint?: undefined}} Made
 */

/** @param {HTMLElement} root @param {App} app */
export function mountGrads(root, app) {
  const kind = one(root, "[data-new=kind]");
  kind.replaceChildren(...Object.entries(GRAD_EDGES).map(([value, text]) => el("option", { value }, text)));
  const showFields = () => {
    for (const part of all(root, "[data-new-for]")) {
      part.hidden = (part.dataset.newFor === "points") !== (kind.value === "points");
    }
  };
  kind.addEventListener("change", showFields);
  showFields();
  one(root, "[data-do=add-grad]").addEventListener("click", () => {
    const typed = (/** @type {string} */ name) => one(root, `[data-new=${name}]`).value.trim();
    const { piece, complaint } = kind.value === "points"
      ? measured(typed("points"))
      : marked(kind.value, typed("density"), typed("rampMm"));
    one(root, ".frame-add-error").textContent = complaint ?? add(app, piece);
  });
}

/** Puts a piece into the case when the core takes it; gives the complaint, or nothing. @param {App} app @param {import("../setup.js").Piece} piece */
function add(app, piece) {
  const made = { ...piece, id: freeId(app.setup.kit, piece.id) };
  const put = (/** @type {import("../setup.js").Setup} */ setup) => {
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

/** A filter by what is written on it. @param {string} kind @param {string} density @param {string} ramp @returns {Made} */
function marked(kind, density, ramp) {
  const read = ask("readText", { text: density, as: "density" });
  if (read.refusal) return { complaint: refusalSentence(read.refusal, { path: "density" }) };
  const rampRead = ramp === "" ? undefined : ask("readText", { text: ramp, as: "length" });
  if (rampRead?.refusal) return { complaint: refusalSentence(rampRead.refusal, { path: "rampMm" }) };
  const rampMm = rampRead?.reply.value ?? (kind === "hard" ? undefined : 30);
  const profile = { kind: /** @type {Profile["kind"]} */ (kind), ...(rampMm === undefined ? {} : { rampMm }) };
  return { piece: gradPiece(`${fixed(read.reply.value, 2)} ${kind}`, read.reply.value, profile) };
}

/** A filter as somebody measured it: a height and a density to a line. @param {string} text @returns {Made} */
function measured(text) {
  const points = [];
  for (const line of text.split("\n").filter((one_) => one_.trim())) {
    const [height = "", density = ""] = line.trim().split(/[\s;]+/);
    const heightRead = ask("readText", { text: height, as: "length" });
    if (heightRead.refusal) return { complaint: refusalSentence(heightRead.refusal, { path: "heightMm" }) };
    const densityRead = ask("readText", { text: density, as: "density" });
    if (densityRead.refusal) return { complaint: refusalSentence(densityRead.refusal, { path: "density" }) };
    points.push({ heightMm: heightRead.reply.value, density: densityRead.reply.value });
  }
  return { piece: gradPiece("measured", undefined, { kind: "points", points }) };
}

/** @param {HTMLElement} root @param {App} app */
export function showGrads(root, app) {
  one(root, ".frame-own").replaceChildren(...gradsOf(app.setup).map(({ id, profile }) =>
    el("li", {}, el("span", { text: `${id}: ${gradText(profile)}` }),
      el("button", {
        type: "button",
        "aria-label": `Remove ${id}`,
        onclick: () => app.change((setup) => {
          forgetPiece(setup, id);
          setup.kit = setup.kit.filter((piece) => piece.id !== id);
          setup.demo = false;
        }),
      }, "Remove"))));
}
