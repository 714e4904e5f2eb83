// @ts-check
/** What lamps on the mains make of a shutter, and the angles they leave alone. */
import { LAMPS } from "../questions/depth-and-colour.js";
import { answerTo } from "../questions/question.js";
import { say } from "../language/say.js";
import { fixed } from "../language/numbers.js";
import { el } from "./dom.js";

/**
 * @typedef {import("../api/glasscall.js").MainsReply} Mains
 * @typedef {import("../questions/depth-and-colour.js").Shutter} Shutter
 */

/** @param {number} frameRate @param {Shutter} shutter @returns {Mains[]} */
const mains = (frameRate, shutter) => answerTo(LAMPS, frameRate, shutter).reply?.mains ?? [];

/** One shutter under both mains, in a few words. @param {number} frameRate @param {Shutter} shutter */
export function flickerText(frameRate, shutter) {
  return mains(frameRate, shutter).map(({ mainsHz, given }) => {
    const hertz = `${fixed(mainsHz, 0)} Hz`;
    if (!given) return "";
    if (given.safe) return say("safe at {hertz}", { hertz });
    return given.nearestSafeDeg === undefined
      ? say("no safe angle at {hertz}", { hertz })
      : say("at {hertz} {angle}° is safe", { hertz, angle: fixed(given.nearestSafeDeg, 1) });
  }).filter(Boolean).join("; ");
}

/**
 * Both mains with their safe angles to tap.
 * @param {number} frameRate
 * @param {Shutter} shutter
 * @param {(degrees: number) => void} take
 * @param {(text: string, nth: number) => Node} told what is said of each mains
 */
export function flickerRows(frameRate, shutter, take, told) {
  return mains(frameRate, shutter).map(({ mainsHz, safeAnglesDeg, beatHz, bands, given }, nth) => {
    const steady = given !== undefined && !given.safe && beatHz < 0.005;
    const verdict = !given || given.safe ? say("lamps|safe") : steady
      ? say("every frame alike, though not whole pulses")
      : say("pulses {times} times a second, {percent} % either way at worst", { times: fixed(beatHz, 2), percent: fixed(given.ripple * 100, 0) });
    const nearest = given?.nearestSafeDeg ?? 180;
    // A sensor that reads line by line shows pulses down the picture, even where every frame is alike.
    const count = fixed(bands, 1);
    const lines = !given || given.safe ? "" : beatHz < 0.005 ? say("; read line by line, up to {count} bands that stand", { count }) : say("; read line by line, up to {count} bands that wander", { count });
    // The few next to the shutter in use; far angles are no trim.
    const near = [...safeAnglesDeg].sort((a, b) => Math.abs(a - nearest) - Math.abs(b - nearest)).slice(0, 4).sort((a, b) => a - b);
    return el("div", { class: "flicker-row" },
      el("span", { class: "flicker-mains", text: `${fixed(mainsHz, 0)} Hz` }),
      el("span", { class: given?.safe || steady ? "flicker-verdict" : "flicker-verdict flicker-bad" }, lines ? told(verdict + lines, nth) : verdict),
      el("span", { class: "flicker-angles" }, ...(near.length === 0
        ? [say("no whole pulse fits the frame")]
        : near.map((degrees) => el("button", {
            type: "button", class: "flicker-angle", onclick: () => take(degrees),
            "aria-label": say("Shutter to {angle}°, safe at {hertz}", { angle: fixed(degrees, 1), hertz: `${fixed(mainsHz, 0)} Hz` }),
          }, `${fixed(degrees, 1)}°`)))));
  });
}
