// @ts-check
/** The page's head: look, language and units, steps back and forward, the converter. */
import { withWhole } from "../engine/ask.js";
import { language, say } from "../language/say.js";
import { useUnits } from "../language/numbers.js";
import { all, one } from "../parts/dom.js";

/** @param {import("./start.js").App} app @param {ReturnType<typeof import("./state.js").createState>} state @param {() => void} update shows everything anew */
export function mountHead(app, state, update) {
  for (const select of all(document, "[data-shows]")) {
    select.addEventListener("change", () => {
      const { dataset, value } = /** @type {HTMLSelectElement} */ (select);
      app.shows = { ...app.shows, [String(dataset.shows)]: value };
      app.keep();
      // Words are said in many places; a page in another language starts anew.
      if (dataset.shows === "language") return location.reload();
      showLook();
      return update();
    });
  }

  function showLook() {
    useUnits(app.shows);
    for (const select of all(document, "[data-shows]")) {
      /** @type {HTMLSelectElement} */ (select).value = app.shows[/** @type {keyof typeof app.shows} */ (select.dataset.shows)];
    }
    one(document, ".shows-now").textContent = `${language.toUpperCase()} ${app.shows.lengths} ${app.shows.distances}`;
    const root = document.documentElement;
    root.dataset.look = app.look;
    // The bar of the device above an installed page; at night it must not shine. Asked once styles are there anyway.
    requestAnimationFrame(() => {
      one(document, "meta[name=theme-color]", HTMLMetaElement).content = getComputedStyle(root).getPropertyValue("--deep");
    });
    one(document, "[data-do=look]", HTMLSelectElement).value = app.look;
  }

  one(document, "[data-do=convert]").addEventListener("click", async () => {
    const { openConverter } = await withWhole(import("../parts/converter.js"));
    openConverter(one(document, "[data-do=convert]"), app);
  });
  one(document, "[data-do=undo]").addEventListener("click", () => state.undo());
  one(document, "[data-do=redo]").addEventListener("click", () => state.redo());
  one(document, "[data-do=look]").addEventListener("change", (/** @type {Event} */ event) => {
    app.look = /** @type {HTMLSelectElement} */ (event.target).value;
    showLook();
    app.keep();
  });

  /** What a step back would undo is said before it is done. */
  function showSteps() {
    const show = (/** @type {HTMLElement} */ button, /** @type {string} */ name, /** @type {string | undefined} */ what) => {
      /** @type {HTMLButtonElement} */ (button).disabled = what === undefined;
      button.title = what ? `${name}: ${what}` : name;
      one(button, ".unseen").textContent = what ? `: ${what}` : "";
    };
    show(one(document, "[data-do=undo]"), say("Undo"), state.undoes());
    const redo = one(document, "[data-do=redo]");
    // Room on a phone is dear: it stands there once there is something to do again.
    redo.hidden = state.redoes() === undefined;
    show(redo, say("Redo"), state.redoes());
  }

  return { showLook, showSteps };
}
