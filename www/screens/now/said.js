// @ts-check
/** The light as somebody said it, instead of a reading: so much over, or so much less than before. */
import { readingFor } from "../../questions/turned.js";
import { say } from "../../language/say.js";
import { openDrawer } from "../../parts/drawer.js";
import { el } from "../../parts/dom.js";
import { mountField } from "../../parts/field.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";

/** @typedef {import("../../start/start.js").App} App */

/** What a cloud or a dimmer does, in thirds. */
const CHANGES = [-6, -5, -4, -3, -2, -1, 1, 2, 3, 4, 5, 6];

/** @param {HTMLElement} opener @param {App} app */
export function openSaid(opener, app) {
  openDrawer(opener, say("As it was said"), () => {
    const state = { need: app.answer?.needStops ?? 0 };
    const take = () => {
      const aperture = readingFor(app.setup, state.need);
      if (aperture === undefined) return;
      delete app.drafts["reading.aperture"];
      app.change(({ reading }) => {
        reading.aperture = aperture;
      }, true, visit, say("undo|the light as it was said"));
    };
    // One visit is one step back.
    const visit = {};
    const own = {
      setup: state,
      drafts: {},
      keep() {},
      change(/** @type {(state: {need: number}) => void} */ edit) {
        edit(state);
        take();
        show();
      },
    };
    const field = el("div", { class: "field turn-wanted", "data-field": "need", "data-kind": "signedThirds" },
      el("label", { for: "said-need" }, say("Over by, at the stop you want")),
      el("input", { id: "said-need", autocomplete: "off", spellcheck: "false" }),
      el("span", { class: "field-hint" }, say("stops; under is minus: “two thirds under” is −⅔")));
    const show = mountField(field, /** @type {any} */ (own), () => undefined);
    return [
      field,
      el("p", { class: "now-sub" }, say("Since the reading the light has changed by")),
      el("div", { class: "chips said-changes" }, ...CHANGES.map((thirds) => el("button", { type: "button", class: "chip", onclick: () => {
        state.need += thirds / 3;
        take();
        show();
      } }, thirds < 0 ? KINDS_OF_FIELD.signedThirds.show(thirds / 3) : `+${KINDS_OF_FIELD.signedThirds.show(thirds / 3)}`))),
    ];
  });
}
