// @ts-check
/** What the sun does behind a long lens, never without its caution. */
import { sunBehind } from "../questions/sun-image.js";
import { say } from "../language/say.js";
import { fixed } from "../language/numbers.js";

/** @param {import("../document/setup.js").Setup} setup @returns {[told: string, caution: string]} */
export function sunLines(setup) {
  const image = sunBehind(setup);
  return [
    image ? say("The sun’s image behind this lens is {size} mm wide and {times} times as strong as direct sun.", {
      size: fixed(image.diameterMm, 2), times: fixed(image.timesIrradiance, 0),
    }) : say("How long the lens is is not known."),
    say("No filter here is made for looking at the sun, and density that darkens the picture may pass the heat. Never look through lens or finder at it; sensor, shutter and finder can burn. Local rules and the maker decide."),
  ];
}
