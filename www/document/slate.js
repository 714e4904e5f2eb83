// @ts-check
/** What the owner says of a shot besides its numbers. */

/**
 * Every text may be empty.
 * @typedef {object} Slate
 * @property {string} scene
 * @property {string} take set-up or slate number
 * @property {string} camera
 * @property {string} sensorMode
 * @property {string} lens
 * @property {string} focus
 * @property {string} readWhere where the light was read
 * @property {string} turn orientation of what rotates, on the clock
 * @property {string} line height of a graduated line
 * @property {string} flags
 * @property {string} verdict what was seen through the lens
 * @property {string} note
 */

/** Parts of a slate in the order they are said and written. @type {[keyof Slate, string][]} */
export const SLATE = [
  ["scene", "Scene"],
  ["take", "Set-up, slate"],
  ["camera", "Camera"],
  ["sensorMode", "Sensor mode"],
  ["lens", "Lens"],
  ["focus", "Focus"],
  ["readWhere", "Read at"],
  ["turn", "Turn (clock)"],
  ["line", "Line height"],
  ["flags", "Flags"],
  ["verdict", "Seen in the lens"],
  ["note", "Note"],
];

/** @returns {Slate} */
export function emptySlate() {
  return {
    scene: "", take: "", camera: "A", sensorMode: "", lens: "", focus: "", readWhere: "",
    turn: "", line: "", flags: "", verdict: "", note: "",
  };
}

/** The slate after this one: its last figure counts up, or the letter behind it. @param {string} take */
export function nextSlate(take) {
  const [, before, figure, letter] = take.match(/^(.*?)(\d+)([A-Ya-y]?)$/) ?? [];
  if (figure === undefined) return take;
  if (letter) return `${before}${figure}${String.fromCharCode(letter.charCodeAt(0) + 1)}`;
  return `${before}${String(Number(figure) + 1).padStart(figure.length, "0")}`;
}
