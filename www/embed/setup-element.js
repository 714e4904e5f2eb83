// @ts-check
/**
 * A set-up on any page: `<glasscall-setup reading="T16" want="T2.8"
 * kit="0.3 0.6 0.9 pola" mode="live">`, or `setup` with the text of a link. It
 * stands in a tree of its own, so that neither page touches the other; what is
 * between the tags is shown where no script runs. It speaks the language of the
 * page it stands in.
 */
import { BadLink, writeLink } from "../hand-over/link.js";
import { partsToSend } from "../hand-over/offered-set-up.js";
import { written } from "../document/resolve.js";
import { NotThere } from "../engine/ask.js";
import { answerOf } from "../questions/check.js";
import { say } from "../language/say.js";
import { badLinkText } from "../language/words/day.js";
import { el } from "../parts/dom.js";
import { mountLive } from "./live.js";
import { lookOf, watchLook } from "./look.js";
import { NotRead, PRESETS, presetDocument } from "./presets.js";
import { keepFor, keptFor } from "./session.js";
import { showNow } from "./still.js";
import { STYLES } from "./styles.js";

/** @typedef {import("./still.js").Still} Still */

const LOOKS = ["day", "sun", "night", "dark"];

/** Screens by name, and the styles they need. */
export const SCREENS = {
  /** @type {Record<string, Still>} */
  stills: { now: showNow },
  styles: STYLES,
};

/** Read-only unless its mode is `live`. */
export class GlasscallSetup extends HTMLElement {
  static observedAttributes = [...PRESETS, "mode", "look", "screen"];

  /** Raised when an older answer must no longer be shown. */
  #asked = 0;
  #stopWatching = () => {};
  #draw = () => {};

  connectedCallback() {
    const root = this.shadowRoot ?? this.attachShadow({ mode: "open" });
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(SCREENS.styles);
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
    let draw = () => {};
    try {
      const screen = this.getAttribute("screen") ?? "now";
      const still = Object.hasOwn(SCREENS.stills, screen) ? SCREENS.stills[screen] : undefined;
      if (!still) throw new NotRead(say("This page has no screen called {name}, or not with this script.", { name: screen }));
      const live = this.getAttribute("mode") === "live" && screen === "now";
      const kept = live ? keptFor(this) : null;
      const document = kept === null
        ? await presetDocument((name) => this.getAttribute(name))
        : await presetDocument((name) => (name === "setup" ? kept : null));
      const { setup } = answerOf(document);
      const before = structuredClone(setup);
      if (live) mountLive(box, setup, (changed, answer) => this.#tell(written(document, before, changed), answer));
      else draw = still(box, setup) ?? draw;
    } catch (/** @type {any} */ error) {
      if (![BadLink, NotRead, NotThere].some((kind) => error instanceof kind)) throw error;
      const text = error instanceof BadLink ? badLinkText(error) : error instanceof NotThere ? say("This set-up needs the larger script, embed-more.js.") : error.message;
      box.replaceChildren(el("p", { class: "complaint", role: "alert", text }));
    }
    // A newer question was asked while this one was read.
    if (mine !== this.#asked) return;
    this.shadowRoot?.replaceChildren(box);
    this.#draw = draw;
    this.#showLook();
  }

  /** What was typed, to the host; in order, though a link takes its time to write. @param {import("../document/document.js").Document} document @param {import("../api/glasscall.js").OpenUpReply | undefined} answer */
  async #tell(document, answer) {
    const mine = (this.#asked += 1);
    const setup = await writeLink(partsToSend(document));
    if (mine !== this.#asked) return;
    keepFor(this, setup);
    const detail = {
      setup,
      reading: document.reading.aperture,
      want: document.shot.aperture,
      needStops: answer?.needStops,
      pieces: answer?.stacks[0]?.slots.map(({ piece }) => piece),
    };
    this.dispatchEvent(new CustomEvent("glasscall-change", { bubbles: true, composed: true, detail }));
  }

  #showLook() {
    const box = /** @type {HTMLElement | null | undefined} */ (this.shadowRoot?.querySelector(".glass"));
    const wanted = this.getAttribute("look") ?? "";
    if (!box) return;
    box.dataset.look = LOOKS.includes(wanted) ? wanted : lookOf(this);
    this.#draw();
  }
}

export function define() {
  try {
    CSS.registerProperty({ name: "--glass-rem", syntax: "<length>", inherits: true, initialValue: "16px" });
  } catch {
    // Another copy of this script stands in the same page.
  }
  if (!customElements.get("glasscall-setup")) customElements.define("glasscall-setup", GlasscallSetup);
}
