// @ts-check
/** Now: from a reading to the glass. */
import { readBare } from "../../document/edits.js";
import { say } from "../../language/say.js";
import { fixed, stopsText } from "../../language/numbers.js";
import { WORDS } from "../../language/words/shared.js";
import { withWhole } from "../../engine/ask.js";
import { all, el, one } from "../../parts/dom.js";
import { openDrawer } from "../../parts/drawer.js";
import { mountField } from "../../parts/field.js";
import { showChips } from "../../parts/chips.js";
import { mountPicks } from "../../parts/picks.js";
import { mountAnswer } from "./answer.js";
import { mountSettings } from "./settings.js";

/** @typedef {import("../../start/start.js").App} App */
/** @typedef {import("../../api/glasscall.js").OfferReply} Offer */

/** What stands below the answer, on its way. @type {Promise<void> | undefined} */
let below;

/** Fulfilled when what stands below the answer has shown itself, or could not come; at once where the answer was not shown. */
export const belowStands = async () => below;

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountNow(root, app) {
  const fields = all(root, ".field:not([data-other])").map((field) => mountField(field, app));
  const parts = [
    mountPicks(one(root, ".now-with"), app),
    mountSettings(root, app),
    mountThrough(root, app),
  ];
  for (const name of /** @type {const} */ (["said", "advice", "beside"])) {
    const button = one(root, `[data-do=${name}]`);
    button.addEventListener("click", async () => {
      if (name === "said") (await withWhole(import("./said.js"))).openSaid(button, app);
      else if (name === "beside") (await withWhole(import("./side-by-side.js"))).openSideBySide(button, app);
      else (await withWhole(import("./glass-advice.js"))).openAdvice(button, app);
    });
  }
  const answer = mountAnswer(root, app, mountBelowLater(root, app));
  return () => {
    fields.forEach((show) => show());
    parts.forEach((show) => show());
    showNeed(root, app);
    answer();
  };
}

/**
 * What stands below the answer comes once that stands, with the rest of the
 * module, and is drawn anew once the answer is painted, however many keys come
 * meanwhile: nobody waits for depth to read what to put in.
 * @param {HTMLElement} root @param {App} app @returns {(stack: Offer | undefined) => void}
 */
function mountBelowLater(root, app) {
  /** @type {Offer | undefined} */
  let shown;
  /** @type {((stack: Offer | undefined) => Promise<void>) | undefined} */
  let show;
  let waits = false;
  const mount = async () => {
    const { mountBelow } = await withWhole(import("./below.js"));
    show = mountBelow(root, app);
    await show(shown);
  };
  const drawSoon = () => {
    if (waits) return;
    waits = true;
    requestAnimationFrame(() => setTimeout(() => {
      waits = false;
      show?.(shown);
    }));
  };
  return (stack) => {
    shown = stack;
    if (show) return drawSoon();
    below ??= mount().catch((error) => {
      // What did not come is asked for again by the next edit.
      below = undefined;
      if (show) reportError(error);
      else console.warn(error);
    });
    return undefined;
  };
}

/** What the light was read through. @param {import("../../document/setup.js").Setup} setup */
const readThrough = ({ reading: { through, wheelDensity } }) => [...(wheelDensity === undefined ? [] : [WORDS.wheelAt(wheelDensity)]), ...through];

/** Bare, or through what is in; a second tap asks through what else. @param {HTMLElement} root @param {App} app */
function mountThrough(root, app) {
  const bare = one(root, "[data-read=bare]");
  const through = one(root, "[data-read=through]");
  through.dataset.opens = "through";
  bare.addEventListener("click", () => app.do(readBare, true));
  through.addEventListener("click", () => {
    const { inPlace, wheelNow } = app.setup;
    if (readThrough(app.setup).length === 0 && (inPlace.length > 0 || wheelNow > 0)) return app.do(readBare, false);
    return openDrawer(through, say("The light was read through"), () => {
      const chips = el("div", { class: "chips", "data-chips": "through" });
      const show = () => showChips(chips, throughChips(app), (id) => {
        app.change(({ reading, wheel }) => {
          const density = wheel.find((one_) => WORDS.wheelAt(one_) === id);
          if (density === undefined) reading.through = toggled(reading.through, id);
          else if (reading.wheelDensity === density) delete reading.wheelDensity;
          else reading.wheelDensity = density;
        });
        show();
      });
      show();
      return [chips];
    });
  });
  return () => {
    const glass = readThrough(app.setup);
    const { retaken } = app.setup.reading;
    bare.setAttribute("aria-pressed", String(glass.length === 0));
    through.setAttribute("aria-pressed", String(glass.length > 0));
    through.textContent = glass.length > 0 ? say("through {glass}", { glass: glass.join(" + ") }) : say("through");
    const line = one(root, ".now-through-line");
    line.hidden = !retaken;
    line.textContent = retaken ? WORDS.retaken(glass) : "";
  };
}

/** Nobody reads light through a graduated filter. @param {App} app */
function throughChips({ setup: { kit, reading, wheel, wheelNow } }) {
  const { wheelDensity } = reading;
  const turned = wheel.filter((density) => density > 0 && (density === wheelNow || density === wheelDensity))
    .map((density) => ({ id: WORDS.wheelAt(density), on: density === wheelDensity }));
  return [...kit.filter(({ kind }) => kind !== "grad").map(({ id }) => ({ id, on: reading.through.includes(id) })), ...turned];
}

/** @param {string[]} list @param {string} id */
const toggled = (list, id) => (list.includes(id) ? list.filter((other) => other !== id) : [...list, id]);

/** @param {HTMLElement} root @param {App} app */
function showNeed(root, app) {
  const need = one(root, ".need");
  const answer = app.complaint ? undefined : app.answer;
  // What nobody can tell from nothing is nothing.
  const stops = answer && !answer.needIsNothing ? answer.needStops : 0;
  need.classList.toggle("need-dark", stops < 0);
  one(need, ".need-stops").textContent = answer ? stopsText(Math.abs(stops)) : "—";
  one(need, ".need-more").textContent = stops < 0 ? say("missing") : stops === 0 ? "" : say("ND {density}", { density: fixed(answer?.needDensity ?? 0, 1) });
}
