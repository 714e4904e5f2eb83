// @ts-check
/** What the frame says. */
import { SOFT_RAMP_MM } from "../../document/frame.js";
import { say, sayCount } from "../say.js";
import { fixed, lengthText, signed, signedLength, stopLabel, stopsText } from "../numbers.js";

/**
 * @typedef {import("../../api/glasscall.js").LineReply} LineReply
 * @typedef {import("../../api/glasscall.js").SkyAndGroundReply} SkyAndGroundReply
 * @typedef {import("../../api/glasscall.js").LineMotionReply} LineMotionReply
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

/** A height in the picture. @param {number} share */
export const heightText = (share) => say("{share} up", { share: percent(share) });

/** Where the line goes on the filter. @param {LineReply | undefined} line @param {boolean} inverted */
export function lineUpText(line, inverted) {
  const mm = line?.lineHeightMm ?? 0;
  const length = lengthText(Math.abs(mm), 1);
  const where = !line ? "" : Math.abs(mm) < 0.05 ? say("on the axis") : mm < 0 ? say("{length} down", { length }) : say("{length} up", { length });
  return [where, inverted ? say("upside down") : ""].filter(Boolean).join(", ");
}

/** What stays between the two readings. @param {number} apart @param {number} left */
export const leftText = (apart, left) => say("{left} of {apart} stay", { left: fixed(left, 2), apart: stopsText(apart) });

/** From a tenth to nine tenths of its stops; of an edge that also falls, the whole of it. @param {LineReply} line */
export const blendText = ({ blendStopsOfFrame, blendOfFrame }) => say("blend {share}", { share: percent(blendStopsOfFrame ?? blendOfFrame) });

/** What one grad of the case would leave. @param {SkyAndGroundReply["grads"][number]} grad */
export const gradNote = ({ leftStops, meets, steals, stolenStops }) =>
  (meets && steals ? say("{left} stay, subject {stolen}", { left: fixed(leftStops, 2), stolen: signed(-(stolenStops ?? 0)) })
    : meets ? say("grad|{left} stay", { left: fixed(leftStops, 2) }) : leftStops > 0 ? say("too weak, {left} stay", { left: fixed(leftStops, 2) }) : say("too strong, {left} stay", { left: fixed(leftStops, 2) }));

/** Of one that is in beside the one in hand. @param {string} slot @param {import("../../document/frame.js").HeldLine} [said] */
export const besideNote = (slot, said) => (said
  ? say("in {slot}, line {share} up", { slot, share: percent(said.line) })
  : say("in {slot}, line not said", { slot }));

/** What is lost at a place. @param {number | undefined} stops @param {{across: number, up: number}} at */
export function readoutText(stops, { across, up }) {
  const where = { across: percent(across), up: percent(up) };
  if (stops === undefined || Number.isNaN(stops)) return say("Clipped at {across} across, {up} up", where);
  return say("{stops} lost at {across} across, {up} up", { stops: stopsText(stops), ...where });
}

/** @param {number | undefined} stops */
export const cellText = (stops) => (stops === undefined || Number.isNaN(stops) ? say("clipped") : fixed(stops, 2));

export const EDGE_WORD = { hard: say("A hard edge suits"), soft: say("A soft edge suits"), neither: say("Neither hard nor soft") };

/** Why an edge suits, with the figures that decided. @param {NonNullable<LineReply["edge"]>} edge @param {number} skyline @param {{focal: string, stop: string}} lens */
export function edgeText(edge, skyline, lens) {
  const values = {
    ...lens,
    blend: percent(edge.hard.blendOfFrame),
    skyline: percent(skyline),
    ramp: lengthText(SOFT_RAMP_MM, 0),
    softBlend: percent(edge.soft.blendOfFrame),
    reach: percent(Math.min(1, edge.soft.reach)),
    fitting: lengthText(edge.fittingRampMm, 0),
  };
  switch (edge.why) {
    case "pupilBlendsEnough":
      return say("At {focal} mm and {stop} the pupil spreads a hard edge over {blend} of the frame’s height; the skyline strays by {skyline}. That is blend enough: a soft edge of {ramp} spreads over {softBlend} and leaves {reach} of its stops in the frame.", values);
    case "hardWouldShow":
      return say("At {focal} mm and {stop} the pupil spreads a hard edge over {blend} of the frame’s height, but the skyline strays by {skyline}: it would show as a line on what rises through it. Here a soft edge of {ramp} spreads over {softBlend} and leaves {reach} of its stops in the frame.", values);
    default:
      return say("At {focal} mm and {stop} the pupil spreads a hard edge over {blend} of the frame’s height, and the skyline strays by {skyline}, so it would show; a soft edge of {ramp} spreads over {softBlend} and leaves {reach} of its stops in the frame. A ramp of about {fitting} would fit.", values);
  }
}

/** How the density of a filter runs across its line, as lists name it. */
export const GRAD_EDGES = {
  hard: say("edge|hard"),
  soft: say("edge|soft"),
  smooth: say("edge|soft, smooth ends"),
  reverse: say("edge|reverse"),
  stripe: say("edge|stripe"),
  points: say("edge|as measured"),
};

/** What a new filter with such an edge is called. @type {Record<string, string> & typeof GRAD_EDGES} */
export const GRAD_NAMES = { ...GRAD_EDGES, smooth: say("edge|smooth"), points: say("piece|measured") };

/** A graduated filter in a list. @param {import("../../api/glasscall.js").ProfileRequest} profile */
export function gradText({ kind, density, rampMm, points }) {
  if (kind === "points") return sayCount(points?.length ?? 0, "as measured at {count} height", "as measured at {count} heights");
  const values = { edge: GRAD_EDGES[kind], density: fixed(density ?? 0, 2) };
  return rampMm
    ? say("{edge}, density {density}, ramp {ramp}", { ...values, ramp: lengthText(rampMm, 0) })
    : say("{edge}, density {density}", values);
}

/** Where the filter stands. @param {{mm: number, slot?: string}} place */
export function fromRimText({ mm, slot }) {
  const length = lengthText(mm, 1);
  return slot
    ? say("The filter stands {length} ahead of the rim, in {slot}.", { length, slot })
    : say("The filter stands {length} ahead of the rim.", { length });
}

/** @param {number} mm above the axis */
function lineText(mm) {
  const length = lengthText(Math.abs(mm), 1);
  if (Math.abs(mm) < 0.05) return say("Set the line on the lens axis, measured on the filter.");
  return mm < 0
    ? say("Set the line {length} below the lens axis, measured on the filter.", { length })
    : say("Set the line {length} above the lens axis, measured on the filter.", { length });
}

/** Where to put the line and what tilting does. @param {LineReply} line */
export function setLineText(line) {
  return [
    lineText(line.lineHeightMm),
    say("For each degree the camera tilts down, slide it up {length}; unslid, a degree changes the picture at the line by {stops}.", {
      length: lengthText(line.slidePerDegreeMm, 2), stops: stopsText(line.unslidDegreeStops),
    }),
  ];
}

/** How far apart sky and ground are, and whether a filter brings them together. @param {SkyAndGroundReply} told */
export function balanceVerdict({ apartStops, verdict, grads }) {
  const verdicts = {
    notNeeded: say("No grad needed."),
    meets: say("This one does it: {name}.", { name: grads[0]?.id ?? "" }),
    fallsShort: say("None in the case does it."),
    tooStrong: say("All too strong."),
    nothingInCase: say("No grad in the case."),
  };
  return `${say("{stops} apart.", { stops: stopsText(apartStops) })} ${verdicts[verdict]}`;
}

/** One filter's deal. @param {SkyAndGroundReply["grads"][number]} grad */
export function balanceText(grad) {
  const values = { marked: fixed(grad.markedStops, 2), delivered: fixed(grad.deliveredStops, 2), left: signed(grad.leftStops) };
  const told = [
    say("marked {marked}, delivers {delivered}: {left} left between them", values),
    ...(grad.stolenStops === undefined ? [] : [say("takes {stops} from the subject", { stops: fixed(grad.stolenStops, 2) })]),
    ...(grad.meets ? [] : [say("misses the aim")]),
  ];
  return `${told.join("; ")}.`;
}

/** What takes nothing of the subject that is seen. @param {NonNullable<SkyAndGroundReply["remedies"]["sparing"]>} sparing */
const sparingText = ({ id, lineAtFrameHeight }) => say("{piece} with its line at {share} takes none.", { piece: id, share: percent(lineAtFrameHeight) });

/** What else would do. @param {SkyAndGroundReply["remedies"]} remedies */
export function remedyTexts({ density, apertureLabel, lineAtFrameHeight, upsideDown, sparing }) {
  return [
    ...(sparing === undefined ? [] : [sparingText(sparing)]),
    ...(upsideDown === undefined ? [] : [say("{piece} would do it upside down.", { piece: upsideDown })]),
    ...(density === undefined ? [] : [say("A density of {density} with this edge would just do.", { density: fixed(density, 2) })]),
    ...(apertureLabel === undefined ? [] : [say("Stopping down to {stop} would do.", { stop: stopLabel(apertureLabel) })]),
    ...(lineAtFrameHeight === undefined ? [] : [say("The line at {share} of the frame would do.", { share: percent(lineAtFrameHeight) })]),
  ];
}

/** What a move allows. @param {LineMotionReply} motion */
export function motionWord({ verdict, others }) {
  const several = others.length > 0;
  if (verdict === "free") return several ? say("The filters can stay") : say("The filter can stay");
  if (verdict === "slide") return several ? say("Only if someone slides each") : say("Only if someone slides it");
  return say("Static only");
}

/** A change of the subject in words. @param {number} stops positive is darker */
function changeText(stops) {
  const size = stopsText(Math.abs(stops));
  return stops > 0 ? say("{stops} darker", { stops: size }) : say("{stops} brighter", { stops: size });
}

/** Less than this nobody sees. */
const NO_CHANGE = 0.005;

/** @param {LineMotionReply} motion @param {string[]} beside names of its others */
export function motionText(motion, beside) {
  if (Math.abs(motion.worstStops) < NO_CHANGE) return say("The subject keeps its light through the whole move.");
  const endsOf = (/** @type {{slideDownMm: number, slideUpMm: number}} */ { slideDownMm, slideUpMm }) => ({ down: signedLength(slideDownMm), up: signedLength(slideUpMm) });
  const ends = endsOf(motion);
  const slid = Math.abs(motion.worstSlidingStops) < NO_CHANGE
    ? say("Slid along, from {down} to {up}, it keeps its light.", ends)
    : say("Slid along, from {down} to {up}, it gets {change}.", { ...ends, change: changeText(motion.worstSlidingStops) });
  return [
    say("The subject gets {change} at worst, {share} into the move.", { change: changeText(motion.worstStops), share: percent(motion.worstAt) }),
    ...(motion.verdict === "free" ? [] : [slid, ...motion.others.map((other, at) => say("With it {piece}, from {down} to {up}.", { ...endsOf(other), piece: beside[at] ?? "" }))]),
    ...(motion.leavesFrame ? [say("It leaves the frame on the way; there nothing is counted.")] : []),
  ].join(" ");
}

/** Where sun and camera are turned. @param {{azimuthDeg: number, elevationDeg: number} | undefined} sun @param {number | undefined} aim */
export function sunText(sun, aim) {
  if (!sun || aim === undefined) return say("Say under Light where you are and where the lens points: the sky follows.");
  const values = { azimuth: fixed(sun.azimuthDeg, 0), elevation: fixed(Math.abs(sun.elevationDeg), 0), aim: fixed(aim, 0) };
  const turned = sun.elevationDeg < 0
    ? say("Sun at {azimuth}°, {elevation}° below the horizon; camera looks to {aim}°.", values)
    : say("Sun at {azimuth}°, {elevation}° up; camera looks to {aim}°.", values);
  return `${turned} ${say("Place, time and aim are set under Light; the tilt is the horizon here.")}`;
}

export const practiceText = () => say("A skyline that strays by a tenth of the frame, a soft edge of {ramp} and four fifths of the stops in the frame as enough are common practice, not measured. A reverse filter keeps a third of its density at the top.", {
  ramp: lengthText(SOFT_RAMP_MM, 0),
});

export const FRAME_WORDS = {
  skyUnread: say("The sky is not read yet: type its stop above."),
  unsaid: {
    lens: say("Without the focal length there is no line and no picture."),
    sensor: say("Without the size of the sensor there is no line and no picture."),
    pupil: say("Without the lens’s pupil there is no line and no picture."),
  },
  darkest: say("the darkest"),
  none: say("grad|out"),
  isIn: (/** @type {string} */ piece, /** @type {string} */ slot) => say("{piece} is in: {slot}.", { piece, slot }),
  held: (/** @type {string} */ piece) => say("{piece}: held in front", { piece }),
  notInYet: (/** @type {string} */ piece) => say("Drawn with {piece}, which is not in yet.", { piece }),
  heldUp: (/** @type {string} */ piece) => say("Drawn with {piece} held in front: no slot takes it.", { piece }),
  drawnBare: say("Drawn without a grad."),
  noSlot: say("No slot of the rig takes it: hold it, or change the rig."),
  lineNotSaid: (/** @type {string} */ names) => say("Also in: {names}. Its line is not said, so nothing here counts it: tap it to say.", { names }),
  takeInHand: (/** @type {string} */ piece) => say("Take {piece} in hand", { piece }),
  more: (/** @type {string} */ note) => say("beside, {note}", { note }),
  takes: (/** @type {string} */ piece, /** @type {number} */ stops) => say("takes|{piece} {stops}", { piece, stops: fixed(stops, 2) }),
  /** Two are told each; of more each alone, and what the one in hand adds. */
  together: (/** @type {string[]} */ beside, /** @type {string} */ own, /** @type {string} */ left) =>
    say("Between sky and land: {beside}; with that in, {own} more. {left}.", { beside: beside.join(", "), own, left }),
  notNeeded: (/** @type {number} */ apart) => say("{stops} apart: no grad needed.", { stops: stopsText(apart) }),
  noGrads: (/** @type {number} */ apart) => say("{stops} apart, and no grad in the case.", { stops: stopsText(apart) }),
  steals: (/** @type {number} */ stops, /** @type {SkyAndGroundReply["remedies"]["sparing"]} */ sparing) => [
    say("Takes {stops} from the subject.", { stops: stopsText(stops) }),
    sparing ? sparingText(sparing) : "",
  ].filter(Boolean).join(" "),
  flattens: (/** @type {number} */ left, /** @type {number} */ keep) => say("Too strong: {left} stay instead of {keep}.", { left: fixed(left, 2), keep: stopsText(keep) }),
};
