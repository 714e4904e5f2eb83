// @ts-check
/** Sentences of the Light screen. */
import { fixed } from "../show.js";

/** What the Light screen's fields are called in a sentence. @type {[RegExp, string][]} */
export const LIGHT_FIELDS = [
  [/^light\.place|latitudeDeg$|longitudeDeg$/, "The place"],
  [/azimuthDeg$/i, "The direction"],
  [/elevationDeg$/i, "The tilt up"],
  [/rollDeg$/, "The roll"],
  [/maxPolarization$/, "The clearness of the sky"],
  [/refractiveIndex$/, "The refractive index"],
  [/lensHeightMm$/, "The lens height"],
  [/surface\.angleDeg$/, "The angle from square on"],
  [/pair\.stops$/, "What the pair takes"],
  [/extinctionRatio$/, "The extinction ratio"],
  [/Aperture$|pullTo$/, "The stop"],
  [/focalLengthMm$/, "The focal length"],
  [/hingeFromAxisMm$/, "The hinge from the axis"],
  [/hingeFromRimMm$/, "The hinge from the rim"],
  [/leanDeg$/, "The lean"],
  [/distanceFromRimMm$/, "The distance from the rim"],
  [/pupilBehindRimMm$/, "The pupil behind the rim"],
  [/widthMm$/, "The width"],
  [/heightMm$/, "The height"],
  [/tiltDeg$/, "The tilt"],
  [/lampMm$/, "The lamp's place"],
  [/reflectances/, "The reflected share"],
];

const WINDS = ["N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"];

/** A direction as a number and a wind: `187° S`. @param {number} degrees */
export function bearing(degrees) {
  const whole = Math.round(degrees) % 360;
  return `${fixed(whole, 0)}° ${WINDS[Math.round(degrees / 22.5) % 16]}`;
}

/** Minutes as an hour on a clock face. @param {number} minutes */
const hourText = (minutes) => `${Math.floor(minutes / 60) || 12}:${String(minutes % 60).padStart(2, "0")}`;

/** The two places of a mark on the ring: an axis has two ends. @param {number} degrees clockwise from the top */
export function clockText(degrees) {
  const minutes = Math.round(degrees * 2 / 5) * 5;
  return `${hourText(minutes % 720)} or ${hourText((minutes + 360) % 720)}`;
}

/** A UTC moment by this device's clock. @param {string | undefined} iso */
export function clockTime(iso) {
  return iso === undefined
    ? "—"
    : new Intl.DateTimeFormat(undefined, { hour: "2-digit", minute: "2-digit" }).format(new Date(iso));
}

/** @type {Record<string, string>} */
export const DAY_KINDS = {
  neverRises: "The sun does not rise on this day.",
  neverSets: "The sun does not set on this day.",
};

/** @type {Record<string, string>} */
export const SKY_VERDICTS = {
  noSky: "No sky in the picture: the aim is below the horizon.",
  littleEffect: "A polarizer does little to this sky. Turn a quarter away from the sun, or leave it out.",
  even: "It darkens evenly.",
  uneven: "It darkens unevenly: look before you keep it in.",
  banded: "A dark band will show. Use a longer lens, turn the ring off its darkest, or leave it out.",
};

/** @type {Record<string, string>} */
export const SURFACE_VERDICTS = {
  strong: "From here a polarizer takes it away.",
  partial: "From here a polarizer weakens it; some stays.",
  move: "From here a polarizer hardly helps: move, do not expect a clean pane.",
};

/** @type {Record<string, string>} */
export const PAIR_VERDICTS = {
  even: "Even over this picture, as far as flat sheets go.",
  uneven: "Uneven over this picture: darker in some corners.",
  cross: "A dark cross will show in this picture: take less, or a longer lens.",
};

/** @type {Record<string, string>} */
export const FLAG_VERDICTS = {
  fits: "A flag works.",
  impossible: "No flag on this side both shades the glass and stays out of the picture.",
  sourceInPicture: "The source is in the picture: no flag can help.",
  wrongSide: "The light does not come from this side.",
  notNeeded: "The light does not reach the front of the glass: no flag is needed.",
};

export const LIGHT_WORDS = {
  sunNear: "The sun is in or near the picture. Do not look for it through a finder or a long lens, whatever glass is in; cap the lens between takes.",
  hereFailed: "This device does not tell where it is. Type or paste the place.",
  compassFailed: "This device does not tell its heading. Type the direction.",
  dark: "The sun is more than 18° down: no daylight to plan with.",
  skyDark: "The sun is down and the sky with it: nothing for a polarizer to do.",
  noPupil: "Tell on the Fit screen where the lens’s pupil is.",
  needTwo: "Note a second reading some minutes later and the trend shows.",
  needOne: "Note a reading and the trend shows.",
  belowFloor: "Less than any polarizer takes from plain light: read again on the same patch.",
};
