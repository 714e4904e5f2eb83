// @ts-check
/** The set-up a record was logged with, whatever form it was kept in. */
import { migrate } from "../document/migrate.js";
import { resolve } from "../document/resolve.js";

/** @typedef {import("./record.js").ShotRecord} ShotRecord */

/** Records never change, so what they hold is made out once. @type {WeakMap<object, import("../document/setup.js").Setup>} */
const made = new WeakMap();

/** @param {ShotRecord} record */
export function setupIn({ setup: kept }) {
  const known = made.get(kept);
  if (known) return known;
  const setup = resolve(migrate(kept));
  made.set(kept, setup);
  return setup;
}
