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
