// @ts-check
/** Rise, set and twilight turned round: on which day, and where, they come at an hour. */
import { ask } from "../engine/ask.js";
import { localIso, offsetMinutes, offsetText } from "../document/moment.js";
import { SUN_DAY } from "./light.js";

/**
 * @typedef {{latitudeDeg: number, longitudeDeg: number}} Place
 * @typedef {import("../api/glasscall.js").SolveReply} SolveReply
 * @typedef {"civilDawn" | "rise" | "set" | "civilDusk"} SunEvent
 */

/** What the other end of the day is called: there the sun is as high. @type {Record<SunEvent, SunEvent>} */
const OTHER = { civilDawn: "civilDusk", rise: "set", set: "rise", civilDusk: "civilDawn" };
const DAYS = 365;
/** Farther from the hour than the sun moves from day to day: a clock was put on or back over it, minutes. */
const NEAR = 30;
/** Nearer the poles a day may hold no rise; readers of latitudes live between these. */
const POLAR = 66;

/** @param {string} at @param {number} days later, by the calendar */
const noonOf = (at, days) => {
  const [year = 0, month = 1, day = 1] = at.slice(0, 10).split("-").map(Number);
  return new Date(year, month - 1, day + days, 12);
};

/** That hour of the day of `at`, by a clock so far from UTC. @param {string} at @param {number} minutes @param {number} offset */
const hourText = (at, minutes, offset) => {
  const two = (/** @type {number} */ n) => String(Math.floor(n)).padStart(2, "0");
  return `${at.slice(0, 10)}T${two(minutes / 60)}:${two(minutes % 60)}:00${offsetText(offset)}`;
};

/** The year ahead in stretches in which clocks are not put on or back. @param {string} at @returns {{from: number, to: number, offset: number}[]} */
function clocks(at) {
  /** @type {{from: number, to: number, offset: number}[]} */
  const found = [];
  for (let day = 0; day <= DAYS; day++) {
    const offset = offsetMinutes(noonOf(at, day));
    const last = found.at(-1);
    if (last?.offset === offset) last.to = day;
    else found.push({ from: day, to: day, offset });
  }
  return found.filter(({ from, to }) => from < to);
}

/** Whether that moment is nearer this event than to its like at the day's other end. @param {Place} place @param {string} time @param {SunEvent} event */
function isIt(place, time, event) {
  const day = ask("sunDay", SUN_DAY.request(place, time)).reply;
  const away = (/** @type {SunEvent} */ name) => Math.abs(Date.parse(day?.[name] ?? "") - Date.parse(time));
  return Number.isFinite(away(event)) && !(away(OTHER[event]) < away(event));
}

/** The moment of that hour so many days later. @param {string} at @param {number} minutes @param {number} days */
export function hourOfDay(at, minutes, days) {
  const then = noonOf(at, days);
  then.setHours(0, minutes);
  return then;
}

/**
 * The days of the year ahead on which an event comes nearest to an hour.
 * @param {Place} place @param {string} at @param {SunEvent} event @param {number} minutes after midnight @param {number} height the sun's at the event
 * @returns {SolveReply}
 */
export function daysOf(place, at, event, minutes, height) {
  const all = clocks(at).map(({ from, to, offset }) => {
    const request = { ...place, time: hourText(at, minutes, offset) };
    const reply = ask("solve", { question: "sun", request, unknown: { path: "daysLater", from, to }, wanted: { path: "elevationDeg", is: height } }).reply;
    const miss = (/** @type {number} */ daysLater) => Math.abs((ask("sun", { ...request, daysLater }).reply?.elevationDeg ?? Infinity) - height);
    // Days are whole: it is passed between two, of which one is nearer.
    const nearer = (/** @type {number} */ day) => (miss(Math.floor(day)) <= miss(Math.ceil(day)) ? Math.floor(day) : Math.ceil(day));
    return (reply?.met ?? []).map((one) => ({ ...one, from: nearer(one.from), to: nearer(one.from) }));
  });
  const met = all.flat().filter(({ from }) => isIt(place, hourOfDay(at, minutes, from).toISOString(), event) && (away(place, at, event, minutes, from) ?? NEAR) < NEAR);
  return { met, atLeast: [], ...(met.length === 0 ? { nearest: nearestDay(place, at, event, minutes) } : {}), from: 0, to: DAYS, complete: true };
}

/** How far from the hour the event comes on that day, by the clock of that day; nothing where it does not come. @param {Place} place @param {string} at @param {SunEvent} event @param {number} minutes @param {number} days */
function away(place, at, event, minutes, days) {
  const time = ask("sunDay", SUN_DAY.request(place, localIso(noonOf(at, days)))).reply?.[event];
  if (time === undefined) return undefined;
  const then = new Date(time);
  const off = Math.abs(then.getHours() * 60 + then.getMinutes() + then.getSeconds() / 60 - minutes);
  return Math.min(off, 1440 - off);
}

/** The day whose event comes nearest to the hour. @param {Place} place @param {string} at @param {SunEvent} event @param {number} minutes */
function nearestDay(place, at, event, minutes) {
  const days = Array.from({ length: DAYS + 1 }, (_, day) => ({ at: day, gives: away(place, at, event, minutes, day) ?? Infinity }));
  const nearest = days.reduce((best, one) => (one.gives < best.gives ? one : best));
  return Number.isFinite(nearest.gives) ? nearest : undefined;
}

/** Whether clocks are put on or back the night before or after that day. @param {string} at @param {number} days */
export const clocksJump = (at, days) =>
  new Set([days - 1, days, days + 1].map((day) => offsetMinutes(noonOf(at, day)))).size > 1;

/**
 * The latitudes or longitudes at which an event comes at an hour of that day.
 * @param {Place} place @param {string} at @param {SunEvent} event @param {number} minutes @param {number} height
 * @param {"latitudeDeg" | "longitudeDeg"} path
 * @returns {SolveReply | undefined}
 */
export function placesOf(place, at, event, minutes, height, path) {
  const time = hourText(at, minutes, offsetMinutes(noonOf(at, 0)));
  const most = path === "latitudeDeg" ? POLAR : 180;
  const reply = ask("solve", { question: "sun", request: { ...place, time }, unknown: { path, from: -most, to: most }, wanted: { path: "elevationDeg", is: height } }).reply;
  return reply && { ...reply, nearest: undefined, met: reply.met.filter(({ from }) => isIt({ ...place, [path]: from }, time, event)) };
}

/** How high the sun is at an event, air apart, as the day was worked out. @param {Place} place @param {string} time */
export const heightAt = (place, time) => ask("sun", { ...place, time }).reply?.elevationDeg;
