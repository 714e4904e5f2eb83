// @ts-check
/**
 * What the device hands to the installed page: a text shared to it, a file
 * opened with it. It goes the way of a link or of a chosen file, and nothing is
 * taken before somebody says so.
 */
import { say } from "./say.js";
import { one } from "./parts/dom.js";

/** @param {import("./app.js").App} app */
export function watchArrivals(app) {
  const shared = ["title", "text", "url"].map((name) => new URLSearchParams(location.search).get(name)).filter(Boolean).join("\n");
  // Taken out of the address, so that a reload does not ask again.
  if (location.search) history.replaceState(null, "", location.pathname + location.hash);
  if (shared) takeText(app, shared);
  // Not every platform opens files with a page.
  /** @type {any} */ (window).launchQueue?.setConsumer(async (/** @type {{files: FileSystemFileHandle[]}} */ { files }) => {
    if (files.length > 0) offer(app, await files[0].getFile());
  });
}

/** @param {import("./app.js").App} app @param {string} text */
function takeText(app, text) {
  const link = text.match(/#\w*\?s=[\w.-]+/);
  // The page reads a link whenever its fragment changes.
  if (link) location.hash = link[0];
  else offer(app, new File([text], "shared"));
}

/** @param {import("./app.js").App} app @param {File} file */
async function offer(app, file) {
  const isLog = /"format"\s*:\s*"glasscall-log"/.test(await file.slice(0, 200).text());
  const [place, input] = isLog ? ["#day", "[data-do=add-log]"] : ["#case?file", "#case-file"];
  const question = isLog
    ? say("A log was handed to this page. What is not in yours is added.")
    : say("A text or file was handed to this page. Read as a case it takes the place of yours; Undo brings yours back.");
  app.notify(question, say("Read it"), () => {
    location.hash = place;
    const carrier = new DataTransfer();
    carrier.items.add(file);
    const chosen = /** @type {HTMLInputElement} */ (one(document, input));
    chosen.files = carrier.files;
    chosen.dispatchEvent(new Event("change"));
    one(document, "#notice").hidden = true;
  });
}
