// @ts-check
/** The sun's image behind a lens: how wide, and how strong. */
import { ask } from "../engine/ask.js";

/** @typedef {import("../document/setup.js").Setup} Setup */

/** The sun behind this lens at the stop of the shot; nothing of a lens whose length nobody told. @param {Setup} setup */
export const sunRequest = ({ lens: { focalLengthMm }, shot: { aperture } }) => (focalLengthMm === undefined ? undefined : { focalLengthMm, aperture });

/** @param {Setup} setup */
export function sunBehind(setup) {
  const request = sunRequest(setup);
  return request && ask("sunImage", request).reply;
}
