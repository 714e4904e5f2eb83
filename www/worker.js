// @ts-check
/** Answers long questions beside the page, so that it never stops. */
import { ask } from "./engine.js";

addEventListener("message", ({ data }) => {
  const { number, name, request } = data;
  const { reply, refusal } = ask(name, request);
  // An Error loses its fields on the way; a plain copy keeps them.
  const told = { number, reply, ...(refusal ? { refusal: { ...refusal } } : {}) };
  /** @type {(message: unknown) => void} */ (/** @type {any} */ (globalThis).postMessage)(told);
});
