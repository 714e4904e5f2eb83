// @ts-check
/**
 * The answer as it stands, kept for the next start: before-paint.js shows it
 * until that has an answer of its own, marked, and only where the state and the
 * build are the same.
 */
import { say } from "../language/say.js";
import { one } from "../parts/dom.js";
import { KINDS_OF_FIELD } from "../parts/kinds.js";
import { dropText, putText } from "../storage/texts.js";

const KEY = "glasscall-answer";
/** After the last key of a word; a tab that is gone before has none. */
const PAUSE_MS = 300;
const TEXTS = [
  ".now-camera-line", "#now .need-stops", "#now .need-more", ".plate [data-answer=pieces]", ".plate [data-answer=stop]",
  ".plate [data-answer=fit]", ".plate [data-answer=left]", ".plate-warn",
];

let waiting = 0;

/** @param {() => {edit: number, by: string, demo: boolean, setup: import("../document/setup.js").Setup} | undefined} stands the state that Now shows; nothing where it shows no answer */
export function keepAnswer(stands) {
  clearTimeout(waiting);
  waiting = window.setTimeout(() => {
    const shown = stands();
    if (!shown) return dropText(KEY);
    const { edit, by, demo, setup } = shown;
    const { show } = KINDS_OF_FIELD.aperture;
    const texts = {
      "#read-stop": show(setup.reading.aperture),
      "#shot-stop": show(setup.shot.aperture),
      ...Object.fromEntries(TEXTS.map((place) => [place, textOf(one(document, place))])),
      ".plate-kept": demo ? say("The demo; being worked out.") : say("As it stood here last; being worked out anew."),
    };
    const { build } = one(document, "main").dataset;
    putText(KEY, JSON.stringify({ edit, by, build, language: document.documentElement.lang, texts }));
    return undefined;
  }, PAUSE_MS);
}

/** What parts of one line stand in, a sign between. @param {HTMLElement} element */
function textOf(element) {
  if (element.hidden) return "";
  const spans = [...element.children];
  return spans.length > 1 && element.dataset.answer === "left" ? spans.map(({ textContent }) => textContent).join(" · ") : element.textContent;
}
