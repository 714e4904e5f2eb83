// @ts-check
/** Pictures of the sky: the ring as a clock, the dial of aims, the day strip. */
import { say } from "../language/say.js";
import { NORTH, clockText, clockTime } from "../language/words/light.js";

const SVG = "http://www.w3.org/2000/svg";
/** Two stops fill a petal and a bar: what a clean sky has at most. */
const FULL = 2;

/** @param {string} tag @param {Record<string, string | number>} attributes @param {...(Node | string)} inside */
function svg(tag, attributes, ...inside) {
  const made = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
  made.append(...inside);
  return made;
}

/** A point at an angle clockwise from the top. @param {number} degrees @param {number} radius */
function pointAt(degrees, radius) {
  const angle = (degrees - 90) * Math.PI / 180;
  return { x: 60 + radius * Math.cos(angle), y: 60 + radius * Math.sin(angle) };
}

/** The same for a path. @param {number} degrees @param {number} radius */
function at(degrees, radius) {
  const { x, y } = pointAt(degrees, radius);
  return `${x.toFixed(2)} ${y.toFixed(2)}`;
}

/** @param {number} degrees the passed axis */
export function ringClock(degrees) {
  const ticks = Array.from({ length: 12 }, (_, hour) =>
    svg("path", { class: "ring-tick", d: `M${at(hour * 30, 44)}L${at(hour * 30, 50)}` }));
  return svg("svg", { class: "sky-picture", viewBox: "0 0 120 120", role: "img", "aria-label": say("Passed axis at {clock} on the clock", { clock: clockText(degrees) }) },
    svg("circle", { class: "ring-edge", cx: 60, cy: 60, r: 51 }),
    ...ticks,
    svg("text", { class: "sky-label", x: 60, y: 29 }, "12"),
    svg("path", { class: "ring-axis", d: `M${at(degrees, 50)}L${at(degrees + 180, 50)}` }));
}

/**
 * @param {import("../api/glasscall.js").AimReply[]} aims
 * @param {number} sun
 * @param {number | undefined} aim
 */
export function skyDial(aims, sun, aim) {
  const petals = aims.map(({ azimuthDeg, darkeningStops }) => {
    const radius = 10 + 34 * Math.min(1, darkeningStops / FULL);
    return svg("path", { class: "dial-petal", d: `M${at(azimuthDeg - 4.5, 10)}L${at(azimuthDeg - 4.5, radius)}L${at(azimuthDeg + 4.5, radius)}L${at(azimuthDeg + 4.5, 10)}Z` });
  });
  const { x, y } = pointAt(sun, 51);
  const north = pointAt(0, 55);
  return svg("svg", { class: "sky-picture", viewBox: "0 0 120 120", role: "img", "aria-label": say("How dark the sky gets towards each direction; north is up") },
    svg("circle", { class: "ring-edge", cx: 60, cy: 60, r: 44 }),
    ...petals,
    ...(aim === undefined ? [] : [svg("path", { class: "ring-axis", d: `M60 60L${at(aim, 46)}` })]),
    svg("circle", { class: "dial-sun", cx: x.toFixed(2), cy: y.toFixed(2), r: 5 }),
    svg("text", { class: "sky-label", x: north.x, y: north.y + 4 }, NORTH));
}

/** @param {import("../api/glasscall.js").HourReply[]} hours @param {string} now */
export function dayStrip(hours, now) {
  const { time: from = "" } = hours.at(0) ?? {};
  const { time: to = "" } = hours.at(-1) ?? {};
  const first = Date.parse(from);
  const span = Math.max(1, Date.parse(to) - first);
  const x = (/** @type {string} */ time) => 4 + 312 * (Date.parse(time) - first) / span;
  const width = Math.max(1, 312 / hours.length);
  const here = x(now);
  const labels = hours.filter(({ time }) => new Date(time).getHours() % 3 === 0 && new Date(time).getMinutes() === 0);
  return svg("svg", { class: "day-strip", viewBox: "0 0 320 64", role: "img", "aria-label": say("How dark the sky this way gets, {from} to {to}", { from: clockTime(from), to: clockTime(to) }) },
    ...hours.map(({ time, darkeningStops }) => {
      const height = 44 * Math.min(1, darkeningStops / FULL);
      return svg("rect", { class: "strip-bar", x: x(time) - width / 2, y: 46 - height, width: width * 0.9, height });
    }),
    svg("path", { class: "bar-tick", d: "M2 46H318" }),
    ...(here >= 2 && here <= 318 ? [svg("path", { class: "strip-now", d: `M${here} 0V50` })] : []),
    ...labels.map(({ time }) => svg("text", { class: "sky-label", x: x(time), y: 60 }, String(new Date(time).getHours()))));
}

/** Where the sun stands at a moment. @typedef {{time: string, azimuthDeg: number, elevationDeg: number}} SunAt */

/**
 * The sun's way over a day: bearings from north by east to north, heights above
 * the horizon, and where the lens points.
 * @param {SunAt[]} way in turn @param {SunAt} now @param {{azimuthDeg?: number, elevationDeg?: number}} aim
 */
export function sunPath(way, now, aim) {
  const x = (/** @type {number} */ azimuth) => 10 + azimuth / 360 * 300;
  const y = (/** @type {number} */ height) => 92 - Math.max(0, height) / 90 * 84;
  const up = way.filter(({ elevationDeg }) => elevationDeg > 0);
  const line = up.map(({ time, azimuthDeg, elevationDeg }, nth) => {
    const before = up[nth - 1];
    // Over north, and over a night, a new stretch begins.
    const joined = before && Math.abs(azimuthDeg - before.azimuthDeg) < 90 && Date.parse(time) - Date.parse(before.time) < 7_200_000;
    return `${joined ? "L" : "M"}${x(azimuthDeg).toFixed(1)} ${y(elevationDeg).toFixed(1)}`;
  }).join("");
  const hours = up.filter(({ time }) => new Date(time).getMinutes() === 0);
  const label = (/** @type {number} */ left, /** @type {number} */ top, /** @type {string} */ text) => svg("text", { class: "sky-label", x: left.toFixed(1), y: top.toFixed(1) }, text);
  const { azimuthDeg: towards, elevationDeg: tilt = 0 } = aim;
  return svg("svg", { class: "sun-path", viewBox: "-4 0 328 108", role: "img", "aria-label": say("The sun’s way over the day, by bearing and height: a circle where it stands now, a cross where the lens points") },
    ...[30, 60].map((height) => svg("path", { class: "bar-tick", "stroke-dasharray": "1 4", d: `M10 ${y(height)}H310` })),
    svg("path", { class: "bar-tick", d: "M10 92H310" }),
    ...[0, 90, 180, 270, 360].map((azimuth) => label(x(azimuth), 104, `${azimuth}°`)),
    ...(line ? [svg("path", { class: "ring-axis", d: line })] : []),
    ...hours.map(({ azimuthDeg, elevationDeg }) => svg("circle", { class: "ring-edge", cx: x(azimuthDeg).toFixed(1), cy: y(elevationDeg).toFixed(1), r: 1.2 })),
    ...hours.filter(({ time }) => new Date(time).getHours() % 3 === 0).map(({ time, azimuthDeg, elevationDeg }) =>
      label(x(azimuthDeg), y(elevationDeg) - 4, String(new Date(time).getHours()))),
    ...(now.elevationDeg > 0 ? [svg("circle", { class: "dial-sun", cx: x(now.azimuthDeg).toFixed(1), cy: y(now.elevationDeg).toFixed(1), r: 4 })] : []),
    ...(towards === undefined ? [] : [svg("path", { class: "strip-now", d: `M${x(towards)} ${y(tilt) - 6}V${y(tilt) + 6}M${x(towards) - 6} ${y(tilt)}H${x(towards) + 6}` })]));
}
