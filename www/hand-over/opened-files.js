// @ts-check
/**
 * A file that the device opens with the installed page. It goes the way of a
 * chosen file, and nothing is taken before somebody says so. Shared texts are
 * not taken: they would stand in the address, which the host may be asked for.
 */
import { say } from "../language/say.js";

/** @param {import("../start/start.js").App} app */
export function watchArrivals(app) {
  // Not every platform opens files with a page.
  /** @type {any} */ (window).launchQueue?.setConsumer(async (/** @type {{files: FileSystemFileHandle[]}} */ { files }) => {
    const [opened] = files;
    if (opened) offer(app, await opened.getFile());
  });
}

/** @param {import("../start/start.js").App} app @param {File} file */
async function offer(app, file) {
  const isLog = /"format"\s*:\s*"glasscall-log"/.test(await file.slice(0, 200).text());
  const question = isLog
    ? say("A log was handed to this page. What is not in yours is added.")
    : say("A file was handed to this page. Read as a case it takes the place of yours; Undo brings yours back.");
  app.notify(question, say("Read it"), async () => {
    await app.open(isLog ? "#day" : "#case?file");
    app.readers[isLog ? "log" : "case"]?.(file);
  }, true);
}
