// @ts-check
/** What the frame says. */
import { fixed, signed, stopsText } from "../show.js";

/**
 * @typedef {import("../api/glasscall.js").LineReply} LineReply
 * @typedef {import("../api/glasscall.js").SkyAndGroundReply} SkyAndGroundReply
 * @typedef {import("../api/glasscall.js").LineMotionReply} LineMotionReply
 */

/** @param {number} share */
export const percent = (share) => `${fixed(share * 100, 0)} %`;

const THIRDS = ["", "⅓", "⅔"];

/** A third of a stop as a label on a line. @param {number} thirds */
export function thirdsLabel(thirds) {
  const whole = Math.floor(thirds / 3);
  const rest = THIRDS[thirds - 3 * whole];
  return whole === 0 && rest ? rest : `${whole}${rest}`;
}

/** What is lost at a place. @param {number | undefined} stops @param {{across: number, up: number}} at */
export function readoutText(stops, { across, up }) {
  const where = `${percent(across)} across, ${percent(up)} up`;
  if (stops === undefined || Number.isNaN(stops)) return `Clipped at ${where}`;
  return `${stopsText(stops)} lost at ${where}`;
}

/** @param {number | undefined} stops */
export const cellText = (stops) => (stops === undefined || Number.isNaN(stops) ? "clipped" : fixed(stops, 2));

export const EDGE_WORD = { hard: "A hard edge suits", soft: "A soft edge suits", neither: "Neither hard nor soft" };

/** Why an edge suits, with the figures that decided. @param {NonNullable<LineReply["edge"]>} edge @param {number} skyline @param {string} lens */
export function edgeText(edge, skyline, lens) {
  const hard = `At ${lens} the pupil spreads a hard edge over ${percent(edge.hard.blendOfFrame)} of the frame’s height`;
  const uneven = `the skyline strays by ${percent(skyline)}`;
  const soft = `a soft edge of 30 mm spreads over ${percent(edge.soft.blendOfFrame)} and leaves ${percent(Math.min(1, edge.soft.reach))} of its stops in the frame`;
  switch (edge.why) {
    case "pupilBlendsEnough":
      return `${hard}; ${uneven}. That is blend enough: ${soft}.`;
    case "hardWouldShow":
      return `${hard}, but ${uneven}: it would show as a line on what rises through it. Here ${soft}.`;
    default:
      return `${hard}, and ${uneven}, so it would show; ${soft}. A ramp of about ${fixed(edge.fittingRampMm, 0)} mm would fit.`;
  }
}

/** How the density of a filter runs across its line, as lists name it. */
export const GRAD_EDGES = { hard: "hard", soft: "soft", smooth: "soft, smooth ends", reverse: "reverse", stripe: "stripe", points: "as measured" };

/** A graduated filter in a list. @param {import("../api/glasscall.js").ProfileRequest} profile */
export function gradText({ kind, density, rampMm, points }) {
  if (kind === "points") return `as measured at ${points?.length ?? 0} heights`;
  return `${GRAD_EDGES[kind]}, density ${fixed(density ?? 0, 2)}${rampMm ? `, ramp ${fixed(rampMm, 0)} mm` : ""}`;
}

/** Where the filter stands. @param {{mm: number, slot?: string}} place */
export const fromRimText = ({ mm, slot }) => `The filter stands ${fixed(mm, 1)} mm ahead of the rim${slot ? `, in ${slot}` : ""}.`;

/** Where to put the line and what tilting does. @param {LineReply} line */
export function setLineText(line) {
  const height = line.lineHeightMm;
  const side = height < 0 ? "below" : "above";
  const place = Math.abs(height) < 0.05 ? "on the lens axis" : `${fixed(Math.abs(height), 1)} mm ${side} the lens axis`;
  return [
    `Set the line ${place}, measured on the filter.`,
    `For each degree the camera tilts down, slide it up ${fixed(line.slidePerDegreeMm, 2)} mm; unslid, a degree changes the picture at the line by ${fixed(line.unslidDegreeStops, 2)} stop.`,
    `From all clear to all dense takes ${percent(line.blendOfFrame)} of the frame’s height.`,
  ];
}

/** @type {Record<SkyAndGroundReply["verdict"], string>} */
export const BALANCE_WORD = {
  notNeeded: "No graduated filter needed",
  meets: "This one does it",
  fallsShort: "None in the case does it",
  tooStrong: "All too strong",
  nothingInCase: "No graduated filter in the case",
};

/** One filter's deal. @param {SkyAndGroundReply["grads"][number]} grad */
export function balanceText(grad) {
  const stolen = grad.stolenStops === undefined ? "" : `; takes ${fixed(grad.stolenStops, 2)} from the subject`;
  const left = `${signed(grad.leftStops)} left between them`;
  return `marked ${fixed(grad.markedStops, 2)}, delivers ${fixed(grad.deliveredStops, 2)}: ${left}${stolen}`;
}

/** What else would do. @param {SkyAndGroundReply["remedies"]} remedies */
export function remedyTexts(remedies) {
  const texts = [];
  if (remedies.density !== undefined) texts.push(`A density of ${fixed(remedies.density, 2)} with this edge would just do.`);
  if (remedies.apertureLabel !== undefined) texts.push(`Stopping down to ${remedies.apertureLabel} would do.`);
  if (remedies.lineAtFrameHeight !== undefined) texts.push(`The line at ${percent(remedies.lineAtFrameHeight)} of the frame would do.`);
  return texts;
}

/** @type {Record<LineMotionReply["verdict"], string>} */
export const MOTION_WORD = { free: "The filter can stay", slide: "Only if someone slides it", staticOnly: "Static only" };

/** A change of the subject in words. @param {number} stops positive is darker */
function changeText(stops) {
  const size = stopsText(Math.abs(stops));
  if (Math.abs(stops) < 0.005) return "not at all";
  return stops > 0 ? `${size} darker` : `${size} brighter`;
}

/** @param {LineMotionReply} motion */
export function motionText(motion) {
  if (Math.abs(motion.worstStops) < 0.005) return "The subject keeps its light through the whole move.";
  const worst = `The subject gets ${changeText(motion.worstStops)} at worst, ${percent(motion.worstAt)} into the move.`;
  const slid = `Slid along, ${signed(motion.slideDownMm)} to ${signed(motion.slideUpMm)} mm, it gets ${changeText(motion.worstSlidingStops)}.`;
  const away = motion.leavesFrame ? " It leaves the frame on the way; there nothing is counted." : "";
  return `${worst}${motion.verdict === "free" ? "" : ` ${slid}`}${away}`;
}

/** Where sun and camera are turned. @param {{azimuthDeg: number, elevationDeg: number} | undefined} sun @param {number} aim */
export function sunText(sun, aim) {
  if (!sun) return "";
  const up = sun.elevationDeg < 0 ? "below the horizon" : "up";
  return `Sun at ${fixed(sun.azimuthDeg, 0)}°, ${fixed(Math.abs(sun.elevationDeg), 0)}° ${up}; camera looks to ${fixed(aim, 0)}°. Place, time and aim are set under Light; the tilt is the horizon here.`;
}

export const FRAME_WORDS = {
  noPupil: "Where the entrance pupil lies is not known: say it under Fit, and the picture follows.",
  darkest: "the darkest",
  none: "none",
};
