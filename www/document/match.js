// @ts-check
/** The part of the set-up that says what a record is matched with. */

/**
 * Absent is as logged.
 * @typedef {object} Match
 * @property {string} record id of the record; empty for the latest
 * @property {number} [exposureIndex] of today's body
 * @property {number} [focalLengthMm] of today's lens
 * @property {number} [widestAperture]
 * @property {{aperture?: number, exposureIndex?: number, frameRate?: number, shutterAngleDeg?: number, shutterSeconds?: number}} other the body beside; absent is as the first
 */

/** @returns {Match} */
export function emptyMatch() {
  return { record: "", other: {} };
}
