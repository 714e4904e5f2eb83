// @ts-check
/**
 * A set-up on any page: `<glasscall-setup setup="1.…" mode="live" look="day">`.
 * It stands in a tree of its own, so that neither page touches the other; what
 * is between the tags is shown where no script runs. It speaks the language of
 * the page it stands in.
 */
import { ask, ready } from "../engine/ask.js";
import { documentFrom } from "../hand-over/offered-set-up.js";
import { BadLink } from "../hand-over/link.js";
import { recordOf } from "../day/record.js";
import { needSentence, sentence } from "../day/sentence.js";
import { demoDocument } from "../document/demo.js";
import { answerOf } from "../questions/check.js";
import { openUpRequest } from "../questions/open-up.js";
import { say } from "../language/say.js";
import { fixed, stopsText } from "../language/numbers.js";
import { badLinkText } from "../language/words/day.js";
import { refusalSentence, WORDS } from "../language/words/shared.js";
import { all, el, one } from "../parts/dom.js";
import { mountField } from "../parts/field.js";
import { stackCard, stackLine } from "../parts/stack.js";
import { lookOf, watchLook } from "./look.js";
import { STYLES } from "./styles.js";

/** @typedef {import("../start/start.js").App} App */

const LOOKS = ["day", "sun", "night", "dark"];

/** Read-only unless its mode is `live`; nothing it does is kept. */
export class GlasscallSetup extends HTMLElement {
  static observedAttributes = ["setup", "mode", "look"];

  /** Raised when an older answer must no longer be shown. */
  #asked = 0;
  #stopWatching = () => {};

  connectedCallback() {
    const root = this.shadowRoot ?? this.attachShadow({ mode: "open" });
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(STYLES);
    root.adoptedStyleSheets = [sheet];
    this.#stopWatching = watchLook(() => this.#showLook());
    this.#fill();
  }

  disconnectedCallback() {
    this.#stopWatching();
  }

  /** @param {string} name */
  attributeChangedCallback(name) {
    if (!this.shadowRoot) return;
    if (name === "look") this.#showLook();
    else this.#fill();
  }

  async #fill() {
    const mine = (this.#asked += 1);
    const box = el("div", { class: "glass" });
    try {
      const text = this.getAttribute("setup");
      const { setup } = answerOf(text ? await documentFrom(text) : demoDocument());
      if (this.getAttribute("mode") === "live") mountLive(box, setup);
      else showStill(box, setup);
    } catch (error) {
      if (!(error instanceof BadLink)) throw error;
      box.replaceChildren(el("p", { class: "complaint", role: "alert", text: badLinkText(error) }));
    }
    // A newer question was asked while this one was read.
    if (mine !== this.#asked) return;
    this.shadowRoot?.replaceChildren(box);
    this.#showLook();
  }

  #showLook() {
    const box = /** @type {HTMLElement | null | undefined} */ (this.shadowRoot?.querySelector(".glass"));
    const wanted = this.getAttribute("look") ?? "";
    if (box) box.dataset.look = LOOKS.includes(wanted) ? wanted : lookOf(this);
  }
}

/** @returns {HTMLElement} */
function caution() {
  return el("p", { class: "caution" }, el("strong", { text: WORDS.notEyeProtection }), ` ${WORDS.cautions}`);
}

/** @param {import("../api/glasscall.js").OpenUpReply} answer */
function needParts({ needStops }) {
  const { reply } = ask("convertDensity", { stops: Math.max(0, needStops) });
  return [
    el("span", { class: "need-stops", text: stopsText(Math.abs(needStops)) }),
    el("span", { class: "need-more", text: needStops < -0.005 ? say("of light missing") : say("to take away: density {density}", { density: fixed(reply?.density ?? 0, 2) }) }),
  ];
}

/** The answer as a picture of the moment. @param {HTMLElement} box @param {import("../document/setup.js").Setup} setup */
function showStill(box, setup) {
  const { reply, refusal } = ask("openUp", openUpRequest(setup));
  const record = recordOf(setup, { id: "", time: "", zone: "" });
  const somethingIn = setup.inPlace.length > 0 || setup.wheelNow > 0;
  const app = /** @type {App} */ (/** @type {unknown} */ ({ setup, answer: reply }));
  const best = reply?.stacks[0];
  const card = best ? [stackCard(app, best, say("Best"), () => {})] : [];
  for (const button of card.flatMap((one) => all(one, "button"))) button.remove();
  box.replaceChildren(
    el("p", { class: "say", text: record && somethingIn ? sentence(record) : needSentence(setup, reply) }),
    ...(reply ? [el("div", { class: "need" }, ...needParts(reply))] : []),
    ...(refusal ? [el("p", { class: "complaint", text: refusalSentence(refusal) })] : []),
    ...card,
    caution(),
  );
}

/** @param {string} path @param {string} label */
function stopField(path, label) {
  const id = path.replace(".", "-");
  const field = el("div", { class: "field field-big" },
    el("label", { for: id, text: label }),
    el("input", { id, autocomplete: "off", spellcheck: "false", enterkeyhint: "done" }));
  Object.assign(field.dataset, { field: path, kind: "aperture" });
  return field;
}

/** The same as a question to play with. @param {HTMLElement} box @param {import("../document/setup.js").Setup} setup */
function mountLive(box, setup) {
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
    change(/** @type {(setup: import("../document/setup.js").Setup) => void} */ edit) {
      edit(app.setup);
      update();
    },
    // Nothing is kept on a page that is a guest elsewhere.
    keep() {},
  }));
  const fields = stops.map((field) => mountField(field, app));
  const update = () => {
    app.answer = ask("openUp", openUpRequest(app.setup)).reply ?? app.answer;
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

await ready;
if (!customElements.get("glasscall-setup")) customElements.define("glasscall-setup", GlasscallSetup);
