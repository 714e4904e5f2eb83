// @ts-check
/** Answers long questions beside the page, so that it never stops. */

// The module takes a moment to start; a question asked meanwhile must not fall
// on deaf ears, so listening comes first.
const engine = import("./ask.js");

addEventListener("message", async ({ data }) => {
  const { number, name, request } = data;
  // The engine's own bytes come this way too where no file holds them.
  if (name === undefined) return;
  const { ask } = await engine;
  const { reply, refusal } = ask(name, request);
  // An Error loses its fields on the way; a plain copy keeps them.
  const told = { number, reply, ...(refusal ? { refusal: { ...refusal } } : {}) };
  /** @type {(message: unknown) => void} */ (/** @type {any} */ (globalThis).postMessage)(told);
});
