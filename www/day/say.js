// @ts-check
/** A set-up in one sentence, always in the same order, to be read out or sent. */
import { KINDS_OF_FIELD } from "../parts/kinds.js";

/** @param {number} value @param {number} most decimals at most; always a point, whatever the language */
export function plain(value, most) {
  const text = String(Number(value.toFixed(most)));
  return text === "-0" ? "0" : text;
}

/** @param {number} stops */
const withSign = (stops) => (stops < -0.004 ? `minus ${plain(-stops, 2)}` : `plus ${plain(Math.abs(stops), 2)}`);

/**
 * Camera, lens, stop, glass, settings, reading, left over: in that order.
 * @param {import("./record.js").ShotRecord} record
 * @param {import("./slate.js").Slate} [slate] as amended
 */
export function sentence(record, slate = record.slate) {
  const { shot, pieces } = record;
  const glass = pieces.map((piece) => `${piece.slot} ${piece.id}`);
  if (record.wheelDensity !== undefined) glass.push(`wheel ${plain(record.wheelDensity, 2)}`);
  const parts = [
    slate.camera && `camera ${slate.camera}`,
    slate.lens && `lens ${slate.lens}`,
    `set ${record.stopToSet}`,
    glass.length === 0 ? "nothing in" : `in ${glass.join(", ")}, ${plain(record.stops, 2)} stops`,
    slate.turn && `turn ${slate.turn}`,
    slate.line && `line ${slate.line}`,
    `EI ${plain(shot.exposureIndex, 0)}, ${plain(shot.frameRate, 3)} frames, ${KINDS_OF_FIELD.shutter.show(shot)}`,
    `read ${record.stopRead} ${record.through.length === 0 ? "bare" : `through ${record.through.join(", ")}`}${slate.readWhere ? ` at ${slate.readWhere}` : ""}`,
    `wanted ${record.stopWanted}, left over ${withSign(record.leftOverStops)}`,
  ].filter(Boolean);
  const text = parts.join("; ");
  return `${text[0].toUpperCase()}${text.slice(1)}.`;
}
