// @ts-check
import { localIso } from "./moment.js";

/**
 * A reading taken now, for the settings the light is read for.
 * @param {import("./setup.js").Setup} setup
 * @param {number} aperture
 * @param {boolean} throughIn whether it is taken through what is in the rig
 * @param {Date} when it was taken
 * @returns {import("../questions/light.js").TimedReading}
 */
export function timedReading({ reading, inPlace, wheelNow }, aperture, throughIn, when) {
  const { exposureIndex, frameRate, shutterAngleDeg, shutterSeconds } = reading;
  return {
    time: localIso(when),
    aperture,
    exposureIndex,
    frameRate,
    ...(shutterSeconds === undefined ? { shutterAngleDeg } : { shutterSeconds }),
    through: throughIn ? inPlace.map((placed) => placed.piece) : [],
    ...(throughIn && wheelNow > 0 ? { wheelDensity: wheelNow } : {}),
  };
}
