// @ts-check
/** A set-up in one sentence, always in the same order, to be read out or sent. */
import { say } from "../language/say.js";
import { stopsText } from "../language/numbers.js";
import { SAID, WRITTEN } from "./notation.js";

/** @typedef {import("./record.js").ShotRecord} ShotRecord */
/** @typedef {import("../document/slate.js").Slate} Slate */

/** With a capital, as a sentence starts. @param {string} text */
const started = (text) => `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;

/** @param {ShotRecord} record */
function glassText({ pieces, wheelDensity, stops }) {
  const glass = pieces.map((piece) => `${piece.slot} ${piece.id}`);
  if (wheelDensity !== undefined) glass.push(say("wheel {density}", { density: SAID.number(wheelDensity, 2) }));
  return glass.length === 0 ? say("nothing in") : say("in {pieces}, {stops}", { pieces: glass.join(", "), stops: stopsText(stops) });
}

/** @param {Pick<ShotRecord, "stopRead" | "through">} read @param {Partial<Slate>} [slate] */
function readingText({ stopRead, through }, { readWhere } = {}) {
  const stop = SAID.label(stopRead);
  const reading = through.length === 0 ? say("read {stop} bare", { stop }) : say("read {stop} through {pieces}", { stop, pieces: through.join(", ") });
  return readWhere ? say("{reading} at {where}", { reading, where: readWhere }) : reading;
}

/** Signs are not heard over a radio. @param {ShotRecord} record */
function wishText({ stopWanted, leftOverStops }) {
  const values = { stop: SAID.label(stopWanted), stops: SAID.number(Math.abs(leftOverStops), 2) };
  return leftOverStops < -0.004 ? say("wanted {stop}, left over minus {stops}", values) : say("wanted {stop}, left over plus {stops}", values);
}

/** The lens that was on, and where it was set. @param {ShotRecord} record */
function lensText({ lens: { id, focalLengthMm, extender } = {} }) {
  const focal = focalLengthMm === undefined ? "" : `${SAID.number(focalLengthMm, 1)} mm${extender === undefined ? "" : ` × ${SAID.number(extender, 2)}`}`;
  // Most lenses are called by their focal length, and once is enough.
  if (id === undefined || id === String(focalLengthMm)) return focal && say("lens {name}", { name: focal });
  return say("lens {name}", { name: focal ? `${id}, ${focal}` : id });
}

/**
 * Camera, lens, stop, glass, settings, reading, left over: in that order.
 * @param {ShotRecord} record
 * @param {Slate} [slate] as amended
 */
export function sentence(record, slate = record.slate) {
  const { shot } = record;
  const text = [
    slate.camera && say("camera {name}", { name: slate.camera }),
    slate.lens ? say("lens {name}", { name: slate.lens }) : lensText(record),
    say("set {stop}", { stop: SAID.label(record.stopToSet) }),
    glassText(record),
    slate.turn && say("turn {turn}", { turn: slate.turn }),
    slate.line && say("line {line}", { line: slate.line }),
    say("EI {index}, {rate} frames, {shutter}", { index: SAID.number(shot.exposureIndex, 0), rate: SAID.number(shot.frameRate, 3), shutter: SAID.shutter(shot) }),
    readingText(record, slate),
    wishText(record),
  ].filter(Boolean).join("; ");
  return started(`${text}.`);
}

/**
 * What was read, what is wanted and what lies between, before any glass is in.
 * @param {import("../document/setup.js").Setup} setup
 * @param {import("../api/glasscall.js").OpenUpReply} [answer] none: there was never a good one
 */
export function needSentence({ reading, shot }, answer) {
  const { aperture, through } = reading;
  return started(say("{reading}; wanted {stop}; {stops} to take.", {
    reading: aperture === undefined ? say("nothing read yet") : readingText({ stopRead: WRITTEN.aperture(aperture), through }),
    stop: SAID.aperture(shot.aperture),
    stops: answer ? stopsText(answer.needStops) : "—",
  }));
}
