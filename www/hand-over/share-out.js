// @ts-check
/** What leaves by the device's own sheet, where there is one. */
import { say } from "../language/say.js";
import { DAY_WORDS } from "../language/words/day.js";
import { el } from "../parts/dom.js";

/** @typedef {{text: string, type: string, end: string}} Written */

/**
 * @param {HTMLElement} message says how it went
 * @param {() => Promise<Written & {name: string}>} written
 * @param {(text: string) => Promise<void>} copy what else can be done with it
 * @param {(act: () => Promise<void>) => Promise<void>} orSayWhy
 * @returns {HTMLElement[]} no button on a device without a sheet
 */
export function shareOut(message, written, copy, orSayWhy) {
  if (typeof navigator.share !== "function") return [];
  const act = async () => {
    const { name, ...out } = await written();
    message.textContent = "";
    if (await share(out, name)) return;
    await copy(out.text);
    message.textContent = `${DAY_WORDS.notShared} ${message.textContent}`;
  };
  return [el("button", { type: "button", "data-do": "share-out", onclick: () => orSayWhy(act) }, say("Share"))];
}

/**
 * As a file where it takes such files, else as a text.
 * @param {Written} written @param {string} name
 * @returns {Promise<boolean>} whether the sheet had it, whatever was chosen there
 */
async function share({ text, type, end }, name) {
  const file = new File([text], `${name}.${end}`, { type: type.split(";")[0] });
  try {
    await navigator.share(navigator.canShare?.({ files: [file] }) ? { files: [file], title: name } : { text, title: name });
    return true;
  } catch (error) {
    // Closed again without a choice is no failure; any other end is the device or the page around this one.
    return error instanceof DOMException && error.name === "AbortError";
  }
}
