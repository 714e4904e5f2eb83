// @ts-check
/** Moments as this device counts them. */

/** An ISO moment in this device's own offset. @param {Date} date */
export function localIso(date) {
  const minutes = offsetMinutes(date);
  const local = new Date(date.getTime() + minutes * 60000).toISOString().slice(0, 19);
  return `${local}${offsetText(minutes)}`;
}

/** This device's offset from UTC at a moment. @param {Date} date */
export function offsetMinutes(date) {
  return -date.getTimezoneOffset();
}

/** @param {number} minutes */
export function offsetText(minutes) {
  const size = Math.abs(minutes);
  const two = (/** @type {number} */ n) => String(Math.floor(n)).padStart(2, "0");
  return `${minutes < 0 ? "-" : "+"}${two(size / 60)}:${two(size % 60)}`;
}
