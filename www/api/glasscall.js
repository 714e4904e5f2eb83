// @ts-check
/**
 * Glasscall's public interface: each function takes one plain object and gives
 * one plain object. Usable as soon as it is imported, in a browser, in a worker
 * and in Node. A refusal throws an Error with code, field, given, min and max.
 */
import start from "./engine.js";
import { wasmBytes } from "./bytes.js";

await start({ module_or_path: await wasmBytes() });

export * from "./engine.js";
export { version } from "./version.js";
