// Runs in a page, before its own scripts.

/** Puts a counter between the page and every function of its module. */
export function countQuestions() {
  /** @type {string[]} */
  const asked = [];
  Object.assign(globalThis, { asked });
  const counted = (/** @type {WebAssembly.Instance} */ { exports }) => ({
    exports: Object.fromEntries(Object.entries(exports).map(([name, call]) => {
      if (typeof call !== "function" || name.startsWith("__")) return [name, call];
      return [name, (/** @type {unknown[]} */ ...given) => {
        asked.push(name);
        return call(...given);
      }];
    })),
  });
  const all = /** @type {any} */ (WebAssembly);
  for (const way of ["instantiate", "instantiateStreaming"]) {
    const real = all[way].bind(WebAssembly);
    all[way] = async (/** @type {unknown[]} */ ...given) => {
      const made = await real(...given);
      return made.instance ? { ...made, instance: counted(made.instance) } : counted(made);
    };
  }
}
