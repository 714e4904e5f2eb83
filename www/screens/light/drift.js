// @ts-check
/** Drift: timed readings and the swaps they lead to. */
import { whatIsIn } from "../../document/keep-whole.js";
import { DRIFT } from "../../questions/light.js";
import { timedReading } from "../../document/timed-reading.js";
import { OPEN_UP } from "../../questions/open-up.js";
import { answerTo } from "../../questions/question.js";
import { say } from "../../language/say.js";
import { fixed, signed, stopsText } from "../../language/numbers.js";
import { stopsKnownText } from "../../language/words/known.js";
import { LIGHT_WORDS, clockTime } from "../../language/words/light.js";
import { refusalSentence, WORDS } from "../../language/words/shared.js";
import { askedBack } from "../../parts/asked-back.js";
import { askedWords } from "../../parts/asked-words.js";
import { el, one } from "../../parts/dom.js";
import { KINDS_OF_FIELD } from "../../parts/kinds.js";
import { mountStopPad } from "../../parts/stop-pad.js";
import { tellRemoved } from "../../parts/undoing.js";
import { turnDrift } from "./turned.js";

/** @typedef {import("../../start/start.js").App} App */

const aperture = /** @type {import("../../parts/kinds.js").Kind} */ (KINDS_OF_FIELD.aperture);

/** Thirds without a keyboard: from what is typed, or from the newest reading. @param {HTMLElement} box @param {HTMLInputElement} input @param {App} app */
function mountPad(box, input, app) {
  const typed = () => {
    try {
      return aperture.read(input.value.trim());
    } catch {
      return app.setup.light.timed.at(-1)?.aperture ?? app.setup.reading.aperture;
    }
  };
  if (!aperture.pad) return;
  mountStopPad(box, input, aperture.pad, { now: typed, take: (stop) => {
    input.value = aperture.show(stop);
  } });
}

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountDrift(root, app) {
  const box = one(root, "[data-draft=timed]");
  const input = /** @type {HTMLInputElement} */ (one(box, "input"));
  const error = el("p", { class: "field-error", id: "timed-error" });
  box.append(error);
  input.setAttribute("aria-describedby", error.id);
  mountPad(box, input, app);
  const throughIn = /** @type {HTMLInputElement} */ (one(root, "[data-do=through-in]"));
  const clock = /** @type {HTMLInputElement} */ (one(root, "[data-do=timed-at]"));
  const note = () => {
    try {
      const stop = aperture.read(input.value.trim());
      error.replaceChildren();
      const when = lastTime(clock.value, new Date());
      input.value = "";
      clock.value = "";
      app.change((setup) => {
        const { timed } = setup.light;
        timed.push(timedReading(setup, stop, throughIn.checked, when));
        timed.sort((one, other) => Date.parse(one.time) - Date.parse(other.time));
      });
    } catch (refusal) {
      error.replaceChildren(refusalSentence(/** @type {any} */ (refusal), { as: "aperture", path: "reading.aperture" }));
    }
  };
  one(root, "[data-do=note]").addEventListener("click", note);
  // Enter goes on to the time, and notes once there is one: nothing is noted of
  // this moment that was read at another.
  input.addEventListener("keydown", (event) => {
    if (event.key !== "Enter") return;
    if (clock.value === "") clock.value = hourAndMinute(new Date());
    clock.focus();
  });
  clock.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && clock.value !== "") note();
  });
  const follow = /** @type {HTMLInputElement} */ (one(root, "[data-do=follow]"));
  follow.addEventListener("change", () =>
    app.change(({ light }) => {
      light.followSky = follow.checked;
    }));
  return () => {
    const { timed, followSky } = app.setup.light;
    follow.checked = followSky;
    one(root, ".timed").replaceChildren(...timed.map((reading, at) =>
      el("li", {},
        el("span", { text: `${readingText(reading)} ` }),
        el("button", { type: "button", "aria-label": say("Forget the reading of {time}", { time: clockTime(reading.time) }), onclick: () => {
          app.change(({ light }) => {
            light.timed.splice(at, 1);
          });
          tellRemoved(app, readingText(reading));
        } }, say("Forget")))));
    const { plate, more } = driftLines(app);
    one(root, ".drift").replaceChildren(...plate, ...newestToNow(app));
    one(root, ".drift-more").replaceChildren(...more);
  };
}

const hourAndMinute = (/** @type {Date} */ date) => [date.getHours(), date.getMinutes()].map((part) => String(part).padStart(2, "0")).join(":");

/** The newest reading is what Now is asked with, at a tap. @param {App} app */
function newestToNow(app) {
  const newest = app.setup.light.timed.at(-1);
  if (!newest) return [];
  return [el("button", { type: "button", class: "plate-act", "data-do": "newest-to-now", onclick: () => {
    const { time: _, ...read } = newest;
    const inThen = whatIsIn(app.document).name;
    for (const draft of Object.keys(app.drafts)) if (draft.startsWith("reading.")) delete app.drafts[draft];
    app.change((setup) => {
      // What a note does not say is as it was.
      const { exposureIndex, frameRate } = setup.reading;
      setup.reading = { exposureIndex, frameRate, ...read, inThen };
    }, true, undefined, say("undo|the reading"));
    location.hash = "now";
  } }, say("{reading} to Now", { reading: readingText(newest) }))];
}

/** @param {import("../../questions/light.js").TimedReading} reading */
function readingText({ time, aperture: stop, through: pieces, wheelDensity }) {
  const through = [...pieces, ...(wheelDensity === undefined ? [] : [WORDS.wheelAt(wheelDensity)])];
  const read = `${clockTime(time)} ${aperture.show(stop)}`;
  return through.length === 0 ? read : say("{reading} through {pieces}", { reading: read, pieces: through.join(" + ") });
}

/**
 * The last time a clock showed this: a reading is never of the future.
 * @param {string} clock as "19:05", or empty for now
 * @param {Date} now
 */
function lastTime(clock, now) {
  if (clock === "") return now;
  const [hours = 0, minutes = 0] = clock.split(":").map(Number);
  const when = new Date(now);
  when.setHours(hours, minutes, 0, 0);
  // The minute that runs is this moment, seconds and all.
  if (clock === hourAndMinute(now)) return now;
  if (when > now) when.setDate(when.getDate() - 1);
  return when;
}

/** @param {App} app */
function driftLines(app) {
  const { timed, followSky } = app.setup.light;
  const only = (/** @type {string} */ text) => ({ plate: [el("p", { class: "plate-why", text })], more: [] });
  if (timed.length === 0) return only(LIGHT_WORDS.needOne);
  if (timed.length < 2 && !followSky) return only(LIGHT_WORDS.needTwo);
  const { reply, refusal } = answerTo(DRIFT, app.setup, OPEN_UP.request(app.setup));
  if (!reply) {
    return only(refusal.code === "duplicate" ? LIGHT_WORDS.needTwo : refusalSentence(refusal));
  }
  const rate = {
    stops: stopsText(Math.abs(reply.stopsPerHour)),
    give: reply.stopsPerHourInterval === undefined ? "" : ` (± ${fixed(reply.stopsPerHourInterval, 2)})`,
    interval: fixed(reply.intervalStops, 2),
  };
  const pieces = (/** @type {import("../../api/glasscall.js").PlacedReply[]} */ slots, /** @type {number | undefined} */ wheel) =>
    [...(wheel ? [say("wheel {density}", { density: fixed(wheel, 2) })] : []), ...slots.map((placed) => placed.piece)].join(" + ") || say("swap|clear");
  // With a place the core has looked whether dusk comes.
  const holds = app.setup.light.place ? undefined : reply.lineHoldsUntil;
  const isPast = (/** @type {string} */ time) => holds !== undefined && Date.parse(time) > Date.parse(holds);
  const [next] = reply.swaps;
  const first = next?.time ?? reply.endsAt;
  const isOpen = reply.readingsNeeded > 0 || (first !== undefined && isPast(first));
  const give = (/** @type {number | undefined} */ minutes) => (minutes === undefined ? "" : ` ± ${fixed(minutes, 0)} min`);
  const swap = (/** @type {import("../../api/glasscall.js").SwapReply} */ one) => {
    return el("li", { text: say("{time}: {out} out, {in} in, {stops} left", {
      time: `${clockTime(one.time)}${isPast(one.time) ? "?" : give(one.giveOrTakeMinutes)}`, out: pieces(one.from, one.fromWheel), in: pieces(one.to, one.toWheel), stops: signed(one.leftOverStops),
    }) });
  };
  const turn = (/** @type {HTMLElement} */ opener) => turnDrift(opener, app, reply);
  const plate = [
    el("p", { class: "plan-line" },
      askedBack(isOpen ? "?" : first === undefined ? "—" : clockTime(first), "work-drift", turn),
      el("span", { text: reply.readingsNeeded > 0 ? say("Not known yet: two more readings.") : isOpen ? say("Not known without a place, or a later reading.") : next ? say("next swap") : reply.endsAt ? say("wide open, no glass left") : say("no swap before {time}", { time: clockTime(reply.until) }) })),
    el("p", { class: "plate-soft" }, askedWords([
      reply.stopsPerHour < 0
        ? say("The light fades by {stops} an hour{give}, known to ± {interval} stop.", rate)
        : say("The light grows by {stops} an hour{give}, known to ± {interval} stop.", rate),
      reply.start
        ? say("In from the last reading: {pieces}, {known}.", { pieces: pieces(reply.start.slots, reply.start.wheel), known: stopsKnownText(reply.start.uncertainty) })
        : say("In from the last reading: nothing fits the rig."),
    ].join(" "), "turn-drift", turn)),
  ];
  const more = [
    ...(holds === undefined ? [] : [el("p", { class: "hint", text: say("Without a place this is a straight line, which knows nothing of dusk: should it be dusk it holds until {time}. Say the place, or read again.", { time: clockTime(holds) }) })]),
    el("ol", { class: "swaps" }, ...reply.swaps.map(swap)),
    ...(reply.endsAt ? [el("p", { text: say("Light gone at about {time}: wide open, least glass, still too dark.", { time: `${clockTime(reply.endsAt)}${isPast(reply.endsAt) ? "?" : give(reply.endsGiveOrTakeMinutes)}` }) })] : []),
  ];
  return { plate, more };
}
