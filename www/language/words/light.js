// @ts-check
/** Sentences of the Light screen. */
import { locale, say } from "../say.js";
import { fixed } from "../numbers.js";

const WINDS = say("N NNE NE ENE E ESE SE SSE S SSW SW WSW W WNW NW NNW").split(" ");
export const NORTH = String(WINDS[0]);

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
  return say("{hour} or {opposite}", { hour: hourText(minutes % 720), opposite: hourText((minutes + 360) % 720) });
}

const CLOCK = new Intl.DateTimeFormat(locale, { hour: "2-digit", minute: "2-digit" });

/** A UTC moment by this device's clock. @param {string | undefined} iso */
export const clockTime = (iso) => (iso === undefined ? "—" : CLOCK.format(new Date(iso)));

/** @type {Record<string, string>} */
export const DAY_KINDS = {
  neverRises: say("The sun does not rise on this day."),
  neverSets: say("The sun does not set on this day."),
};

/** @type {Record<string, string>} */
export const SKY_VERDICTS = {
  noSky: say("No sky in the picture: the aim is below the horizon."),
  littleEffect: say("A polarizer does little to this sky. Turn a quarter away from the sun, or leave it out."),
  even: say("It darkens evenly."),
  uneven: say("It darkens unevenly: look before you keep it in."),
  banded: say("A dark band will show. Use a longer lens, turn the ring off its darkest, or leave it out."),
};

/** What is said of the sky as a whole. @param {import("../../api/glasscall.js").SkyReply} sky @param {string} spread in stops */
export function skyText({ angleFromSunDeg, band, verdict }, spread) {
  const percent = (/** @type {number} */ share) => `${fixed(share * 100, 0)} %`;
  return [
    say("{angle}° from the sun; spread over the picture {stops}.", { angle: fixed(angleFromSunDeg, 0), stops: spread }),
    ...(band && (verdict === "uneven" || verdict === "banded")
      ? [say("The dark part runs from {from} to {to} of the width, from the left.", { from: percent(band.left), to: percent(band.right) })]
      : []),
    say("Against a plain foreground, the polarizer’s own loss apart. Clock: the passed axis, seen from behind."),
  ].join(" ");
}

/** What the light of the first plan falls on. */
export const FACING = {
  level: say("on level ground"),
  sun: say("on a face or card turned to the sun"),
  upright: say("on a face or wall on the sun’s side"),
  uprightAway: say("on a face or wall with its back to the sun"),
};

/** @type {Record<string, string>} */
export const SURFACE_VERDICTS = {
  strong: say("From here a polarizer takes it away."),
  partial: say("From here a polarizer weakens it; some stays."),
  move: say("From here a polarizer hardly helps: move, do not expect a clean pane."),
};

/** @type {Record<string, string>} */
export const PAIR_VERDICTS = {
  even: say("Even over this picture, as far as flat sheets go."),
  uneven: say("Uneven over this picture: darker in some corners."),
  cross: say("A dark cross will show in this picture: take less, or a longer lens."),
};

/** @type {Record<string, string>} */
export const FLAG_VERDICTS = {
  fits: say("A flag works."),
  impossible: say("No flag on this side both shades the glass and stays out of the picture."),
  sourceInPicture: say("The source is in the picture: no flag can help."),
  wrongSide: say("The light does not come from this side."),
  notNeeded: say("The light does not reach the front of the glass: no flag is needed."),
};

/** A place across a flag's end. @param {number} mm @param {string} length without its sign @param {boolean} upright whether the flag stands at the left or right */
export function acrossText(mm, length, upright) {
  if (upright) return mm < 0 ? say("{length} below the axis", { length }) : say("{length} above the axis", { length });
  return mm < 0 ? say("{length} left of the axis", { length }) : say("{length} right of the axis", { length });
}

export const LIGHT_WORDS = {
  sunNear: say("The sun is in or near the picture. Do not look for it through a finder or a long lens, whatever glass is in; cap the lens between takes."),
  hereFailed: say("This device does not tell where it is. Type or paste the place."),
  compassFailed: say("This device does not tell its heading. Type the direction."),
  dark: say("The sun is more than 18° down: no daylight to plan with."),
  noPlace: say("Where you are is not said yet: tap Sun, then Here, or type the place."),
  noAim: say("Where the lens points is not said yet."),
  skyDark: say("The sun is down and the sky with it: nothing for a polarizer to do."),
  sunDown: say("The sun is down."),
  unsaid: {
    lens: say("Tell on the Fit screen the focal length."),
    sensor: say("Tell on the Fit screen how large the sensor is."),
    pupil: say("Tell on the Fit screen where the lens’s pupil is."),
  },
  needTwo: say("Note a second reading some minutes later and the trend shows."),
  needOne: say("Note a reading and the trend shows."),
  belowFloor: say("Less than any polarizer takes from plain light: read again on the same patch."),
};
