// @ts-check
/** Numbers for the eye, in the reader's own notation. */

/** @param {number} value @param {number} most decimals at most */
export function fixed(value, most) {
  return new Intl.NumberFormat(undefined, { maximumFractionDigits: most, useGrouping: false }).format(value);
}

/** A left-over with its sign, always two decimals. @param {number} stops */
export function signed(stops) {
  return new Intl.NumberFormat(undefined, {
    minimumFractionDigits: 2,
    maximumFractionDigits: 2,
    signDisplay: "exceptZero",
  }).format(stops);
}

/** @param {number} stops */
export function stopsText(stops) {
  const text = fixed(stops, 2);
  return `${text} ${text === "1" ? "stop" : "stops"}`;
}

/** A distance for the eye: metres from one metre on. @param {import("./api/glasscall.js").Place} place @param {number} [most] decimals of a metre */
export function distanceText(place, most = 2) {
  if (place === "infinity") return "infinity";
  const millimetres = Number(place);
  if (millimetres >= 1000) return `${fixed(millimetres / 1000, most > 2 || millimetres < 10_000 ? most : 1)} m`;
  return `${fixed(millimetres, most > 2 ? 3 : millimetres < 100 ? 1 : 0)} mm`;
}

/** A shift of colour temperature with its sign. @param {number} mired */
export function shiftText(mired) {
  const text = new Intl.NumberFormat(undefined, { maximumFractionDigits: 0, signDisplay: "exceptZero" }).format(mired);
  return `${text} mired`;
}

/** Always so many decimals, for columns that are compared. @param {number} value @param {number} decimals */
export function even(value, decimals) {
  return new Intl.NumberFormat(undefined, { minimumFractionDigits: decimals, maximumFractionDigits: decimals, useGrouping: false }).format(value);
}

/**
 * A limit of a zone, fine enough that near and far of it read apart.
 * @param {import("./api/glasscall.js").Place} place
 * @param {import("./api/glasscall.js").Place} depth
 */
export function limitText(place, depth) {
  if (place === "infinity" || depth === "infinity") return distanceText(place);
  const millimetres = Number(place);
  const metres = millimetres >= 1000;
  // A twentieth of the zone shows, thousandths of a millimetre never.
  const step = Number(depth) / 20 / (metres ? 1000 : 1);
  const decimals = Math.min(metres ? 4 : 2, Math.max(metres ? 1 : 0, Math.ceil(-Math.log10(step))));
  return `${even(metres ? millimetres / 1000 : millimetres, decimals)} ${metres ? "m" : "mm"}`;
}
