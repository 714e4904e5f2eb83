// @ts-check
/** The sun's image behind a lens: how wide, and how strong. */
import { answerTo, question } from "./question.js";

/** @typedef {import("../document/setup.js").Setup} Setup */

/** The sun behind this lens at the stop of the shot; nothing of a lens whose length nobody told. */
export const SUN_IMAGE = question("sunImage", sunRequest, { focalLengthMm: "lens.focalLengthMm", aperture: "shot.aperture" });

/** @param {Setup} setup */
function sunRequest({ lens: { focalLengthMm }, shot: { aperture } }) {
  return focalLengthMm === undefined ? undefined : { focalLengthMm, aperture };
}

/** @param {Setup} setup */
export const sunBehind = (setup) => answerTo(SUN_IMAGE, setup).reply;
