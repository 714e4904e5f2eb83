// @ts-check
/** One opening of the Fit screen: where it stands, its size, what was seen of it. */
import { openingsOf, setSeen } from "../../questions/fit.js";
import { say } from "../../language/say.js";
import { lengthText } from "../../language/numbers.js";
import { FIT_WORDS, VERDICTS } from "../../language/words/fit.js";
import { valueAt } from "../../document/path.js";
import { el } from "../../parts/dom.js";
import { mountField } from "../../parts/field.js";
import { mountSlider } from "../../parts/slider.js";
import { tellRemoved } from "../../parts/undoing.js";
import { forget, resize } from "./opening-edits.js";
import { choice, field } from "./made.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../parts/field.js").Check} Check
 * @typedef {import("../../api/glasscall.js").OpeningRequest} Opening
 * @typedef {{path: string, made: HTMLElement, update: () => void}} Row
 */

/**
 * What each row is made with.
 * @typedef {object} With
 * @property {App} app
 * @property {(field: HTMLElement) => Check} check
 * @property {(trial: Setup | undefined) => void} preview
 * @property {import("./usual-sizes.js").Size[]} sizes
 */

/** How far out a slider goes, in millimetres. */
const FARTHEST = 200;
const DISTANCES = Array.from({ length: FARTHEST + 1 }, (_, mm) => mm);
const TURNS = Array.from({ length: 181 }, (_, at) => at - 90);

/** @param {string} path @param {boolean} open @param {With} given @returns {Row} */
export function openingRow(path, open, given) {
  const opening = /** @type {Opening | undefined} */ (valueAt(given.app.setup, path));
  const slot = path.startsWith("rig.slots") ? valueAt(given.app.setup, path.replace(/\.opening$/, "")) : undefined;
  return opening ? sizedRow(path, opening, slot, open, given) : bareRow(path, slot.id, given);
}

/** A slot whose size nobody has said. @param {string} path @param {string} slot @param {With} given @returns {Row} */
function bareRow(path, slot, given) {
  const made = el("li", { class: "fit-row" },
    el("p", { class: "fit-line" },
      el("span", { class: "fit-name", text: slot }),
      el("span", { class: "fit-row-word", text: FIT_WORDS.noSize })),
    sizeChoice(path, say("Size of {slot}", { slot }), given));
  return { path, made, update: () => {} };
}

/** @param {string} path @param {Opening} opening @param {any} slot @param {boolean} open @param {With} given @returns {Row} */
function sizedRow(path, opening, slot, open, given) {
  const { app, check, preview } = given;
  const turns = slot?.rotates && opening.shape === "rectangle";
  const { name, distance, sizes, rotation } = fieldsOf(path, opening, !slot);
  const slide = el("div", { class: "slide" });
  const turn = el("div", { class: "slide" });
  const details = el("details", {},
    ...picture(),
    distance, slide,
    ...(turns ? [...rotation, turn] : []),
    sizeChoice(path, say("Usual sizes"), given),
    el("div", { class: "fit-pair" }, ...name, ...sizes, ...(turns ? [] : rotation)),
    seenChoice(path, app),
    el("p", {}, el("button", { type: "button", onclick: () => drop(path, given) }, slot ? say("Forget this opening") : say("Remove"))));
  details.open = open;
  const updates = [distance, ...name, ...sizes, ...rotation].map((one_) => mountField(one_, app, check(one_)));
  updates.push(mountSlider(slide, app, {
    path: `${path}.distanceFromRimMm`, label: say("Ahead of the rim"), values: DISTANCES, show: (mm) => lengthText(mm, 0), preview,
  }));
  if (turns) {
    updates.push(mountSlider(turn, app, {
      path: `${path}.rotationDeg`, label: say("Turned"), values: TURNS, show: (deg) => `${deg}°`, preview,
    }));
  }
  return { path, made: el("li", { class: "fit-row" }, details), update: () => updates.forEach((update) => update()) };
}

/** Its line and its picture, filled by each answer. */
const picture = () => [
  el("summary", {}, el("span", { class: "fit-line" },
    el("span", { class: "fit-name" }),
    el("span", { class: "fit-row-word" }),
    el("span", { class: "fit-row-room" }))),
  el("div", { class: "fit-head" },
    el("div", { class: "fit-view" }),
    el("p", { class: "fit-row-more hint" })),
  el("p", { class: "hint", text: say("Seen from behind the camera. The ovals are the light of the middle and of the four corners; hatched is what holds it back.") }),
];

/** @param {string} path @param {Opening} opening @param {boolean} named whether it has a name of its own */
function fieldsOf(path, { shape }, named) {
  const round = shape === "circle";
  return {
    name: named ? [field(say("Name"), `${path}.name`, "text")] : [],
    distance: field(say("Ahead of the rim"), `${path}.distanceFromRimMm`, "length"),
    sizes: [
      ...(round
        ? [field(say("Clear diameter"), `${path}.diameterMm`, "length")]
        : [field(say("Clear width"), `${path}.widthMm`, "length"), field(say("Clear height"), `${path}.heightMm`, "length")]),
      field(say("Right of the axis"), `${path}.offsetXMm`, "length", say("centred")),
      field(say("Above the axis"), `${path}.offsetYMm`, "length", say("centred")),
      field(say("Depth"), `${path}.depthMm`, "length", say("a thin edge")),
    ],
    rotation: round ? [] : [field(say("Turned"), `${path}.rotationDeg`, "angle", say("level"))],
  };
}

/** @param {string} path @param {string} label @param {With} given */
function sizeChoice(path, label, { app, sizes }) {
  /** @type {[string, string, string?][]} */
  const ways = sizes.map(({ name, source }, at) => [String(at), name, source]);
  return choice(label, [["", say("choose…")], ...ways], (value, select) => {
    const size = sizes[Number(value)];
    if (value && size) {
      for (const side of ["widthMm", "heightMm", "diameterMm"]) delete app.drafts[`${path}.${side}`];
      app.change((setup) => resize(setup, path, size.shape));
    }
    select.value = "";
  });
}

/** @param {string} path @param {App} app */
function seenChoice(path, app) {
  const made = choice(say("Seen through the lens"), Object.entries({ "": say("not checked"), ...VERDICTS }), (value) => app.change((setup) => {
    const found = openingsOf(setup).find((one_) => one_.path === path);
    if (found) setSeen(setup, found.opening, found.opening.name ?? "", /** @type {any} */ (value));
  }));
  /** @type {HTMLElement} */ (made.lastElementChild).dataset.do = "seen";
  return made;
}

/** @param {string} path @param {With} given */
function drop(path, { app, preview }) {
  const name = openingsOf(app.setup).find((one_) => one_.path === path)?.opening.name || say("ring");
  app.change((setup) => forget(setup, path));
  preview(undefined);
  tellRemoved(app, name);
}
