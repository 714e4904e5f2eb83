// @ts-check
/** Rise, set and twilight asked back: the day or the place at which they come at an hour. */
import { ask } from "../../engine/ask.js";
import { localIso } from "../../document/moment.js";
import { uncertaintyOf } from "../../questions/known.js";
import { SUN_DAY } from "../../questions/light.js";
import { clocksJump, daysOf, heightAt, hourOfDay, placesOf } from "../../questions/sun-events.js";
import { workingOf } from "../../questions/workings.js";
import { locale, say } from "../../language/say.js";
import { clockTime } from "../../language/words/light.js";
import { KINDS_OF_FIELD, kindNamed } from "../../parts/kinds.js";
import { openTurned } from "../../parts/turned.js";
import { workingPart } from "../../parts/working.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../questions/sun-events.js").SunEvent} SunEvent
 */

const DAY = new Intl.DateTimeFormat(locale, { day: "numeric", month: "short", year: "numeric" });
const QUARTER = 15;

// Minutes after midnight, as a clock says them. Only here is an hour typed as a
// value, so that the kind comes with Light and no start waits for it.
KINDS_OF_FIELD.clock = {
  as: "clock",
  read(text) {
    const [, hours = NaN, minutes = NaN] = (/^\s*(\d{1,2})[:.h](\d{2})\s*$/.exec(text) ?? []).map(Number);
    if (!(hours < 24 && minutes < 60)) throw { code: "notUnderstood", field: "", given: text };
    return hours * 60 + minutes;
  },
  show: (minutes) => `${String(Math.floor(minutes / 60)).padStart(2, "0")}:${String(minutes % 60).padStart(2, "0")}`,
  steps: () => Array.from({ length: 96 }, (_, nth) => nth * QUARTER),
  wraps: true,
  stepNames: [say("earlier"), say("later")],
};

/**
 * @param {HTMLElement} opener @param {App} app @param {string} at
 * @param {SunEvent} event @param {string} name as the screen says it @param {string} time when it comes now
 */
export function turnSunEvent(opener, app, at, event, name, time) {
  const { place } = app.setup.light;
  const height = place && heightAt(place, time);
  // The figure that opens this is only there with a place.
  if (!place || height === undefined) return;
  const now = new Date(time);
  const put = (/** @type {(light: import("../../questions/light.js").LightPart) => void} */ edit) =>
    app.change(({ light }) => edit(light), true, undefined, say("undo|what was asked back"));
  const where = (/** @type {number} */ minutes, /** @type {"latitudeDeg" | "longitudeDeg"} */ path) => ({
    found: placesOf(place, at, event, minutes, height, path),
    show: (/** @type {number} */ value) => kindNamed("place").show({ ...place, [path]: value }),
    take: (/** @type {number} */ value) => {
      delete app.drafts["light.place"];
      put((light) => {
        light.place = { ...place, [path]: value };
      });
    },
  });
  /** When it comes on the day of that moment. @param {Date} then */
  const comes = (then) => clockTime(ask("sunDay", SUN_DAY.request(place, localIso(then))).reply?.[event]);
  openTurned(opener, {
    title: say("When and where is it at this hour"),
    wanted: { label: name, kind: "clock", is: now.getHours() * 60 + now.getMinutes() },
    turns: (minutes) => {
      const found = daysOf(place, at, event, minutes, height);
      return [{
        name: say("Day, in the year ahead"), found,
        show: (days) => {
          const then = hourOfDay(at, minutes, days);
          return say("{day}, at {time}", { day: DAY.format(then), time: comes(then) });
        },
        // No day comes to an hour that the clock leaps over.
        note: (days) => (found.met.length === 0 && clocksJump(at, days) ? say("The clock jumps there.") : ""),
        take: (days) => put((light) => {
          light.at = localIso(hourOfDay(at, minutes, days));
        }),
      },
      { name: say("Farther north or south"), ...where(minutes, "latitudeDeg") },
      { name: say("Farther east or west"), ...where(minutes, "longitudeDeg") }];
    },
    more: workingPart(workingOf("sunDay", { ...SUN_DAY.request(place, at), ...uncertaintyOf(app.setup) })),
  });
}
