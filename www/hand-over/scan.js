// @ts-check
/** Square codes read by the camera or from a picture. */
import { DAY_WORDS } from "../language/words/day.js";
import { takeCodes } from "./brought.js";
import { camera } from "./camera.js";
import { textsInFile } from "./codes-in.js";
import { one } from "../parts/dom.js";

/** @typedef {import("../start/start.js").App} App */

/** @param {HTMLElement} root @param {App} app */
export function mountScan(root, app) {
  const message = one(root, ".scan-message");
  const tell = (/** @type {string} */ text) => {
    if (message.textContent !== text) message.textContent = text;
  };
  const take = takeCodes(app, tell);
  const seen = camera(one(root, ".scan-box"), take);

  one(root, "[data-do=scan]").addEventListener("click", async () => {
    tell("");
    const opened = await seen.open();
    tell(opened ? DAY_WORDS.lookForCode : DAY_WORDS.noCamera);
    if (opened) seen.look();
  });
  one(root, "[data-do=scan-stop]").addEventListener("click", seen.stop);
  window.addEventListener("hashchange", seen.stop);
  one(root, "[data-do=scan-picture]").addEventListener("change", async (/** @type {Event} */ event) => {
    const input = /** @type {HTMLInputElement} */ (event.target);
    const files = [...(input.files ?? [])];
    input.value = "";
    tell("");
    for (const file of files) {
      const texts = await textsInFile(file);
      if (texts.length === 0) tell(DAY_WORDS.noCode(file.name));
      else await take(texts);
    }
  });
  return { update: () => undefined };
}
