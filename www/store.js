// @ts-check
/** What is kept on this device: the set-up, drafts and the look, at every change. */
import { complete } from "./setup.js";

const KEY = "glasscall";
/** A record that could not be read is put aside here, never thrown away. */
const ASIDE = "glasscall-aside";
const VERSION = 1;

/**
 * @typedef {object} Saved
 * @property {import("./setup.js").Setup} setup
 * @property {Record<string, string>} drafts
 * @property {string} look
 */

/** Whether this window may keep anything; a sandboxed one may not. */
export function place() {
  try {
    return window.localStorage;
  } catch {
    return undefined;
  }
}

/**
 * What was kept, if it is sound.
 * @param {(setup: unknown) => boolean} isSound asks the core
 * @returns {{saved?: Saved, damaged: boolean}}
 */
export function load(isSound) {
  const text = place()?.getItem(KEY);
  if (!text) return { damaged: false };
  try {
    const kept = JSON.parse(text);
    const setup = complete(kept.setup);
    if (kept.version === VERSION && isSound(setup)) {
      return { saved: { setup, drafts: kept.drafts ?? {}, look: kept.look ?? "system" }, damaged: false };
    }
  } catch {
    // Falls through: what cannot be read is put aside.
  }
  place()?.setItem(ASIDE, text);
  return { damaged: true };
}

/** Keeps it all. @param {Saved} saved @returns {boolean} whether it was kept */
export function save(saved) {
  try {
    const kept = place();
    kept?.setItem(KEY, JSON.stringify({ version: VERSION, ...saved }));
    return kept !== undefined;
  } catch {
    // Full, or blocked: the page goes on and says so.
    return false;
  }
}
