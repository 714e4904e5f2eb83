// @ts-check
/**
 * The WebAssembly bytes, from beside this file; a response is compiled while it
 * arrives.
 * @returns {Promise<BufferSource | Response>}
 */
export async function wasmBytes() {
  const url = new URL("glasscall.wasm", import.meta.url);
  if (url.protocol === "file:") {
    // Only Node gets here: browsers load no modules from disk. No `import` of
    // Node's own, which a bundler for browsers would try to follow.
    const files = globalThis.process?.getBuiltinModule?.("node:fs");
    if (files) return files.readFileSync(url);
  }
  const response = await fetch(url);
  if (!response.ok) throw new Error(`${url.pathname}: ${response.status}`);
  return response;
}
