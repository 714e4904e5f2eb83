// @ts-check
/** The answer of Now as a question to play with. */
import { OPEN_UP } from "../questions/open-up.js";
import { answerTo } from "../questions/question.js";
import { say } from "../language/say.js";
import { el, one } from "../parts/dom.js";
import { mountField } from "../parts/field.js";
import { stackCard, stackLine } from "../parts/stack-card.js";
import { caution, needParts } from "./still.js";

/** @typedef {import("../start/start.js").App} App */
/** @typedef {import("../document/setup.js").Setup} Setup */

/** @param {string} path @param {string} label */
function stopField(path, label) {
  const id = path.replace(".", "-");
  const field = el("div", { class: "field field-big" },
    el("label", { for: id, text: label }),
    el("input", { id, autocomplete: "off", spellcheck: "false", enterkeyhint: "done" }));
  Object.assign(field.dataset, { field: path, kind: "aperture" });
  return field;
}

/** @param {HTMLElement} box @param {Setup} setup @param {(setup: Setup, answer: import("../api/glasscall.js").OpenUpReply | undefined) => void} changed */
export function mountLive(box, setup, changed) {
  let chosen = 0;
  const stops = [stopField("reading.aperture", say("You read")), stopField("shot.aperture", say("You want"))];
  box.replaceChildren(
    el("div", { class: "now-pair" }, ...stops),
    el("output", { class: "need", "aria-live": "polite" }),
    el("div", { class: "best", "aria-live": "polite" }),
    caution(),
  );
  const app = /** @type {App} */ (/** @type {unknown} */ ({
    setup,
    drafts: {},
    change(/** @type {(setup: Setup) => void} */ edit) {
      edit(app.setup);
      update();
      changed(app.setup, app.answer);
    },
    // A draft is not kept on a page that is a guest elsewhere.
    keep() {},
  }));
  const fields = stops.map((field) => mountField(field, app));
  const update = () => {
    app.answer = answerTo(OPEN_UP, app.setup).reply ?? app.answer;
    fields.forEach((show) => show());
    const stacks = app.answer?.stacks ?? [];
    if (chosen >= stacks.length) chosen = 0;
    if (app.answer) one(box, ".need").replaceChildren(...needParts(app.answer));
    one(box, ".best").replaceChildren(...stacks.map((stack, at) =>
      at === chosen
        ? stackCard(app, stack, at === 0 ? say("Best") : say("Or"), () => app.change((now) => {
            now.inPlace = stack.slots.map(({ slot, piece }) => ({ slot, piece }));
            chosen = 0;
          }))
        : stackLine(stack, () => {
            chosen = at;
            update();
          })));
  };
  update();
}
