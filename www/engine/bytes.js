// @ts-check
/**
 * The WebAssembly bytes of one half of the module, from beside this file; a
 * response is compiled while it arrives.
 * @param {"first.wasm" | "rest.wasm"} half
 * @returns {Promise<BufferSource | Response>}
 */
export async function wasmBytes(half) {
  const url = new URL(half, import.meta.url);
  if (url.protocol === "file:") {
    // Only Node gets here, in tests: browsers load no modules from disk. There
    // the whole module stands for each half, as for whoever imports `api/`.
    const files = globalThis.process?.getBuiltinModule?.("node:fs");
    if (files) return files.readFileSync(new URL("../api/glasscall.wasm", import.meta.url));
  }
  const response = await fetch(url);
  if (!response.ok) throw new Error(`${url.pathname}: ${response.status}`);
  return response;
}
