/**
 * The moment, zone and tongue that a page of a test is given, so that no test
 * reads those of its machine. A test that is about time gives others.
 */

/** The longest day, past noon at the example's place: the sun is up and far from the lens. */
export const MOMENT = "2026-06-21T13:00:00Z";
export const ZONE = "Europe/Brussels";
export const LOCALE = "en-GB";

/**
 * Runs inside the page: time stands at `iso` for whoever asks what time it is.
 * Timers keep running. Asked again, it stands at the new moment.
 * @param {string} iso
 */
export function standAt(iso) {
  const all = /** @type {any} */ (globalThis);
  /** @type {DateConstructor} */
  const Real = (all.realDate ??= Date);
  const moment = Real.parse(iso);
  all.Date = new Proxy(Real, {
    apply: () => new Real(moment).toString(),
    construct: (_, given, as) => Reflect.construct(Real, given.length === 0 ? [moment] : given, as),
    get: (_, name) => (name === "now" ? () => moment : Reflect.get(Real, name)),
  });
}
