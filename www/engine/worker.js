// @ts-check
/** Answers long questions beside the page, so that it never stops. */

/** @param {unknown} message */
const tell = (message) => /** @type {any} */ (globalThis).postMessage(message);

// The module takes a moment to start; a question asked meanwhile must not fall
// on deaf ears, so listening comes first.
const engine = import("./ask.js").then(async (module) => {
  await module.whole();
  return module;
});
// A promise that fails in a worker is no error that the page would hear.
engine.then(() => tell({ started: true }), () => tell({ failed: true }));

addEventListener("message", async ({ data }) => {
  const { number, name, request } = data;
  // The engine's own bytes come this way too where no file holds them.
  if (name === undefined) return;
  try {
    const { ask } = await engine;
    const { reply, refusal } = ask(name, request);
    // An Error loses its fields on the way; a plain copy keeps them.
    tell({ number, reply, ...(refusal ? { refusal: { ...refusal } } : {}) });
  } catch {
    // The calculation broke off, and cannot be asked again in this worker.
    tell({ failed: true });
  }
});
