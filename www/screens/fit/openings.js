// @ts-check
/** The openings of the Fit screen: each with its picture, verdict and sizes. */
import { ask } from "../../engine/ask.js";
import { openingsOf, setSeen } from "../../questions/fit.js";
import { say } from "../../language/say.js";
import { fixed, lengthText } from "../../language/numbers.js";
import { FIT_WORDS, VERDICTS, arcsText, reachText, roomRangeText } from "../../language/words/fit.js";
import { lossText, roomText, verdictWord } from "../../language/words/stack-fit.js";
import { panelName, sourceText } from "../../language/words/sizes.js";
import { valueAt } from "../../document/path.js";
import { el, one } from "../../parts/dom.js";
import { mountField } from "../../parts/field.js";
import { frontView } from "../../parts/front-view.js";
import { mountSlider } from "../../parts/slider.js";
import { tellRemoved } from "../../parts/undoing.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../parts/field.js").Check} Check
 * @typedef {import("../../api/glasscall.js").FitReply} FitReply
 * @typedef {import("../../api/glasscall.js").OpeningRequest} Opening
 */

/** How far out a slider goes, in millimetres. */
const FARTHEST = 200;
const DISTANCES = Array.from({ length: FARTHEST + 1 }, (_, mm) => mm);
const TURNS = Array.from({ length: 181 }, (_, at) => at - 90);
/** Where a new opening is put: ahead of all others. */
const GAP = 10;

/**
 * @param {HTMLElement} root
 * @param {App} app
 * @param {(field: HTMLElement) => Check} check
 * @param {(trial: Setup | undefined) => void} preview
 */
export function mountOpenings(root, app, check, preview) {
  const list = one(root, ".fit-rows");
  const { threads = [], panels = [] } = ask("sizes", {}).reply ?? {};
  const sizes = [
    ...panels.map((panel) => ({
      name: say("{size}, clear {clear}", {
        size: panelName(panel.name),
        clear: `${fixed(panel.clearWidthMm, 1)}${panel.round ? "" : ` × ${fixed(panel.clearHeightMm, 1)}`}`,
      }),
      source: sourceText(panel.source),
      shape: panel.round
        ? { shape: "circle", diameterMm: panel.clearWidthMm }
        : { shape: "rectangle", widthMm: panel.clearWidthMm, heightMm: panel.clearHeightMm },
    })),
    ...threads.map((thread) => ({
      name: say("{size}, clear {clear}", {
        size: say("thread {diameter}", { diameter: fixed(thread.threadMm, 1) }),
        clear: fixed(thread.clearDiameterMm, 1),
      }),
      source: sourceText(thread.source),
      shape: { shape: "circle", diameterMm: thread.clearDiameterMm },
    })),
  ];
  /** @type {{path: string, made: HTMLElement, update: () => void}[]} */
  let rows = [];
  let built = "";

  one(root, "[data-do=add-always]").addEventListener("click", () => app.change((setup) => {
    setup.rig.always.push({ name: say("ring {number}", { number: setup.rig.always.length + 1 }), distanceFromRimMm: free(setup), shape: "circle", diameterMm: 78 });
  }));

  return { update, show };

  /** Rebuilds only when another opening or another shape is there. */
  function update() {
    const { rig } = app.setup;
    const paths = [
      // Rings of the lens are told in a line of their own and changed in the case.
      ...openingsOf(app.setup).filter(({ path }) => !path.startsWith("rings")).map(({ path, opening }) => [path, opening.shape, opening.turns, ""].join()),
      ...rig.slots.flatMap((slot, at) => (slot.opening ? [] : [[`rig.slots[${at}].opening`, "", "", slot.id].join()])),
    ];
    if (paths.join(";") !== built) {
      built = paths.join(";");
      const open = new Set(rows.filter(({ made }) => made.querySelector("details")?.open).map(({ path }) => path));
      rows = paths.map((key) => {
        const [path = ""] = key.split(",");
        return row(path, open.has(path));
      });
      list.replaceChildren(...rows.map(({ made }) => made));
    }
    rows.forEach((one_) => one_.update());
  }

  /** @param {Setup} setup @param {FitReply | undefined} reply */
  function show(setup, reply) {
    openingsOf(setup).forEach(({ path, opening, piece }, at) => {
      const made = rows.find((one_) => one_.path === path)?.made;
      const told = reply?.openings[at];
      if (!made) return;
      one(made, ".fit-name").textContent = [opening.name || say("ring"), piece].filter(Boolean).join(" · ");
      one(made, ".fit-row-word").textContent = told ? verdictWord(told) : say("verdict|Not known");
      one(made, ".fit-row-room").textContent = told?.spareMm === undefined || told.seen ? "" : roomText(told.spareMm);
      // What was seen at another stop may not hold at this one.
      one(made, "[data-do=seen]", HTMLSelectElement).value = told && !told.seen ? "" : opening.seen ?? "";
      if (!told || !reply) return;
      made.dataset.verdict = told.trust;
      const word = verdictWord(told);
      const loss = told.verdict === "clear" || told.seen ? [] : [sentence(lossText(told.cornerLossStops))];
      const look = told.trust === "look" ? [say("Look through the lens.")] : [];
      const seen = told.seen ? [say("As seen through the lens; by figures {room}.", { room: roomText(told.spareMm ?? 0) })] : [];
      const range = told.trust === "look" && !told.seen ? [roomRangeText(told)] : [];
      const turns = opening.turns && opening.shape === "rectangle" ? [arcsText(told)] : [];
      one(made, ".fit-row-more").textContent = [...seen, ...look, ...range, ...loss, reachText(told), ...turns].join(" ");
      one(made, ".fit-view").replaceChildren(frontView(opening, told, reply.pupil, `${opening.name || say("ring")}: ${word}`));
    });
  }

  /** @param {string} path @param {boolean} open */
  function row(path, open) {
    const opening = /** @type {Opening | undefined} */ (valueAt(app.setup, path));
    const slot = path.startsWith("rig.slots") ? valueAt(app.setup, path.replace(/\.opening$/, "")) : undefined;
    if (!opening) {
      const made = el("li", { class: "fit-row" },
        el("p", { class: "fit-line" },
          el("span", { class: "fit-name", text: slot.id }),
          el("span", { class: "fit-row-word", text: FIT_WORDS.noSize })),
        sizeSelect(path, say("Size of {slot}", { slot: slot.id })));
      return { path, made, update: () => {} };
    }
    const fields = [
      ...(opening.shape === "circle"
        ? [field(say("Clear diameter"), `${path}.diameterMm`, "length")]
        : [field(say("Clear width"), `${path}.widthMm`, "length"), field(say("Clear height"), `${path}.heightMm`, "length")]),
      field(say("Right of the axis"), `${path}.offsetXMm`, "length", say("centred")),
      field(say("Above the axis"), `${path}.offsetYMm`, "length", say("centred")),
      field(say("Depth"), `${path}.depthMm`, "length", say("a thin edge")),
    ];
    const rotation = opening.shape === "circle" ? [] : [field(say("Turned"), `${path}.rotationDeg`, "angle", say("level"))];
    const distance = field(say("Ahead of the rim"), `${path}.distanceFromRimMm`, "length");
    const slide = el("div", { class: "slide" });
    const turn = el("div", { class: "slide" });
    const turns = slot?.rotates && opening.shape === "rectangle";
    const seen = seenSelect(path);
    const remove = el("button", { type: "button", onclick: () => drop(path) }, slot ? say("Forget this opening") : say("Remove"));
    const name = slot ? [] : [field(say("Name"), `${path}.name`, "text")];
    const details = el("details", {},
      el("summary", {}, el("span", { class: "fit-line" },
        el("span", { class: "fit-name" }),
        el("span", { class: "fit-row-word" }),
        el("span", { class: "fit-row-room" }))),
      el("div", { class: "fit-head" },
        el("div", { class: "fit-view" }),
        el("p", { class: "fit-row-more hint" })),
      el("p", { class: "hint", text: say("Seen from behind the camera. The ovals are the light of the middle and of the four corners; hatched is what holds it back.") }),
      distance, slide,
      ...(turns ? [...rotation, turn] : []),
      sizeSelect(path, say("Usual sizes")),
      el("div", { class: "fit-pair" }, ...name, ...fields, ...(turns ? [] : rotation)),
      el("p", { class: "fit-how" }, el("label", { for: seen.id }, say("Seen through the lens")), seen),
      el("p", {}, remove));
    details.open = open;
    const made = el("li", { class: "fit-row" }, details);
    const mounted = [distance, ...name, ...fields, ...rotation].map((one_) => mountField(one_, app, check(one_)));
    const sliders = [mountSlider(slide, app, {
      path: `${path}.distanceFromRimMm`, label: say("Ahead of the rim"), values: DISTANCES, show: (mm) => lengthText(mm, 0), preview,
    })];
    if (turns) {
      sliders.push(mountSlider(turn, app, {
        path: `${path}.rotationDeg`, label: say("Turned"), values: TURNS, show: (deg) => `${deg}°`, preview,
      }));
    }
    return {
      path,
      made,
      update: () => {
        mounted.forEach((update_) => update_());
        sliders.forEach((update_) => update_());
      },
    };
  }

  /** @param {string} path @param {string} label */
  function sizeSelect(path, label) {
    const id = nextId();
    const select = el("select", { id }, el("option", { value: "" }, say("choose…")),
      ...sizes.map(({ name, source }, at) => el("option", { value: String(at), title: source }, name)));
    select.addEventListener("change", () => {
      const size = sizes[Number(select.value)];
      if (select.value && size) take(path, /** @type {any} */ (size.shape));
      select.value = "";
    });
    return el("p", { class: "fit-how" }, el("label", { for: id }, label), select);
  }

  /** Another size in the same place. @param {string} path @param {Partial<Opening>} shape */
  function take(path, shape) {
    for (const size of ["widthMm", "heightMm", "diameterMm"]) delete app.drafts[`${path}.${size}`];
    app.change((setup) => {
      const was = valueAt(setup, path);
      const { widthMm: _w, heightMm: _h, diameterMm: _d, ...kept } = was ?? { distanceFromRimMm: free(setup) };
      write(setup, path, { ...kept, ...shape });
    });
  }

  /** @param {string} path */
  function seenSelect(path) {
    const select = el("select", { id: nextId(), "data-do": "seen" },
      ...Object.entries({ "": say("not checked"), ...VERDICTS }).map(([value, text]) => el("option", { value }, text)));
    select.addEventListener("change", () => app.change((setup) => {
      const found = openingsOf(setup).find((one_) => one_.path === path);
      if (found) setSeen(setup, found.opening, found.opening.name ?? "", /** @type {any} */ (select.value));
    }));
    return select;
  }

  /** @param {string} path */
  function drop(path) {
    const always = path.match(/^rig\.always\[(\d+)\]/);
    const name = openingsOf(app.setup).find((one_) => one_.path === path)?.opening.name || say("ring");
    app.change((setup) => {
      if (always) setup.rig.always.splice(Number(always[1]), 1);
      else write(setup, path, undefined);
    });
    preview(undefined);
    tellRemoved(app, name);
  }
}

/** @param {string} text */
const sentence = (text) => `${text.slice(0, 1).toUpperCase()}${text.slice(1)}.`;

/** Room for one more opening, ahead of all that are there. @param {Setup} setup */
function free(setup) {
  const ends = openingsOf(setup).map(({ opening }) => opening.distanceFromRimMm + (opening.depthMm ?? 0));
  return ends.length === 0 ? GAP / 2 : Math.ceil(Math.max(...ends)) + GAP;
}

/** @param {Setup} setup @param {string} path @param {Opening | undefined} opening */
function write(setup, path, opening) {
  const at = Number(path.match(/\[(\d+)\]/)?.[1]);
  const slot = setup.rig.slots[at];
  if (path.startsWith("rig.always")) setup.rig.always[at] = /** @type {Opening} */ (opening);
  else if (opening === undefined) delete slot?.opening;
  else if (slot) slot.opening = opening;
}

let made = 0;
function nextId() {
  made += 1;
  return `fit-made-${made}`;
}

/** @param {string} label @param {string} path @param {string} kind @param {string} [optional] */
function field(label, path, kind, optional) {
  const id = nextId();
  const box = el("div", { class: "field" },
    el("label", { for: id }, label),
    el("input", { id, autocomplete: "off", spellcheck: "false" }));
  box.dataset.field = path;
  box.dataset.kind = kind;
  if (optional !== undefined) box.dataset.optional = optional;
  return box;
}
