// @ts-check
/** Light: sun, sky, reflections, polarizers, drift, flags. */
import { SUN, SUN_DAY, FLAG, GHOST, MEASURED, PAIR, SKY, REFLECTION } from "../../questions/light.js";
import { uncertaintyOf } from "../../questions/known.js";
import { answerTo } from "../../questions/question.js";
import { localIso, offsetMinutes, offsetText } from "../../document/moment.js";
import { DAY_KINDS, LIGHT_WORDS, bearing, clockTime } from "../../language/words/light.js";
import { say } from "../../language/say.js";
import { fixed } from "../../language/numbers.js";
import { askedBack } from "../../parts/asked-back.js";
import { askedWords } from "../../parts/asked-words.js";
import { all, el, one } from "../../parts/dom.js";
import { mountField } from "../../parts/field.js";
import { sunLines } from "../../parts/sun-lines.js";
import { SUN_IMAGE } from "../../questions/sun-image.js";
import { mountDrift } from "./drift.js";
import { showFlag, showGhost, showMeasured, showPair, showSurface } from "./glass.js";
import { showPlan } from "./plan.js";
import { showSky } from "./sky.js";
import { turnSun, work } from "./turned.js";
import { turnSunEvent } from "./turned-day.js";
import { mountViews } from "./views.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../engine/ask.js").Refusal} Refusal
 */

/** A sun for asking whether a field is possible at all. */
const ANY_SUN = { azimuthDeg: 0, elevationDeg: 30 };

/** What is asked of the core while a field is typed: the first whose fields it is one of. @type {[question: import("../../questions/question.js").Question<any, any[], any>, of: (setup: Setup) => any[]][]} */
const CHECKS = [
  [SUN, (setup) => [setup, "2026-01-01T12:00:00Z"]],
  [SKY, (setup) => [aimed(setup), ANY_SUN]],
  [REFLECTION, (setup) => [setup]],
  [PAIR, (setup) => [setup]],
  [MEASURED, (setup) => [setup]],
  [FLAG, (setup) => [setup, ANY_SUN]],
  [GHOST, (setup) => [setup]],
];

/** An aim that nobody has said is as good as any here. @param {Setup} setup @returns {Setup} */
const aimed = (setup) => ({ ...setup, light: { ...setup.light, aim: { azimuthDeg: 0, ...setup.light.aim } } });

/** @param {string} path @returns {import("../../parts/field.js").Check} */
function checkOf(path) {
  const [question, of] = CHECKS.find(([{ paths }]) => Object.values(paths).some((place) => path.startsWith(String(place)))) ?? [];
  return (setup) => (question && of ? answerTo(question, ...of(setup)).refusal : undefined);
}

/** @param {HTMLElement} root @param {App} app @returns {() => void} */
export function mountLight(root, app) {
  const fields = all(root, ".field[data-field]").map((field) =>
    mountField(field, app, checkOf(String(field.dataset.field))));
  const drift = mountDrift(root, app);
  mountWhen(root, app);
  mountChoices(root, app);
  mountCompass(root, app);
  const views = mountViews(root);

  const update = () => {
    fields.forEach((show) => show());
    const at = app.setup.light.at ?? localIso(new Date());
    const sun = showSun(root, app, at);
    showSunInLens(one(root, ".sun-lens"), app.setup);
    showPlan(root, app, sun, at);
    showSky(root, app, at, sun);
    drift();
    showSurface(root, app);
    showPair(root, app);
    showMeasured(root, app);
    showFlag(root, app, sun);
    showGhost(root, app);
    views.tell();
  };
  // Without a chosen time the sun moves on.
  setInterval(() => {
    if (app.setup.light.at === undefined && !root.hidden) update();
  }, 60000);
  return update;
}

/** @param {HTMLElement} root @param {App} app */
function mountWhen(root, app) {
  const day = /** @type {HTMLInputElement} */ (one(root, "[data-do=date]"));
  const minute = /** @type {HTMLInputElement} */ (one(root, "[data-do=minute]"));
  const take = () => {
    const [year, month, date] = day.value.split("-").map(Number);
    if (!year || !month || !date) return;
    const at = new Date(year, month - 1, date, 0, Number(minute.value));
    app.change(({ light }) => {
      light.at = localIso(at);
    });
  };
  day.addEventListener("change", take);
  minute.addEventListener("input", take);
  one(root, "[data-do=now]").addEventListener("click", () =>
    app.change(({ light }) => {
      delete light.at;
    }));
  one(root, "[data-do=here]").addEventListener("click", () => {
    const failed = () => {
      one(root, ".light-zone").textContent = LIGHT_WORDS.hereFailed;
    };
    if (!navigator.geolocation) return failed();
    return navigator.geolocation.getCurrentPosition(({ coords }) => {
      delete app.drafts["light.place"];
      app.change(({ light }) => {
        light.place = { latitudeDeg: coords.latitude, longitudeDeg: coords.longitude };
      });
    }, failed);
  });
}

/** @param {HTMLElement} root @param {App} app */
function mountChoices(root, app) {
  const choose = (/** @type {string} */ name, /** @type {(setup: Setup, value: string) => void} */ edit) =>
    one(root, `[data-do=${name}]`).addEventListener("change", (/** @type {Event} */ event) =>
      app.change((setup) => edit(setup, /** @type {HTMLSelectElement} */ (event.target).value)));
  choose("facing", ({ light }, value) => {
    light.facing = /** @type {any} */ (value);
  });
  choose("surface", ({ light }, value) => {
    const [index, surface] = value.split(" ");
    if (value === "other") return;
    Object.assign(light.surface, { refractiveIndex: Number(index), surface });
  });
  choose("side", ({ light }, value) => {
    light.flag.flag.side = /** @type {any} */ (value);
  });
  choose("against", ({ light }, value) => {
    light.flag.against = /** @type {any} */ (value);
    light.flag.lamp ??= { rightMm: 0, upMm: 2000, aheadMm: 1500 };
  });
  choose("between", ({ light }, value) => {
    light.ghost.between = /** @type {any} */ (value);
  });
}

/** A heading, where the device tells one against north. @param {HTMLElement} root @param {App} app */
function mountCompass(root, app) {
  const kind = "ondeviceorientationabsolute" in window ? "deviceorientationabsolute" : "deviceorientation";
  one(root, "[data-if=compass]").hidden = !("DeviceOrientationEvent" in window);
  one(root, "[data-do=compass]").addEventListener("click", async () => {
    // Asking is only allowed, and only needed, on some devices.
    const ask_ = /** @type {any} */ (DeviceOrientationEvent).requestPermission;
    if (ask_ && (await ask_.call(DeviceOrientationEvent)) !== "granted") return;
    const failed = setTimeout(() => {
      one(root, ".light-zone").textContent = LIGHT_WORDS.compassFailed;
    }, 3000);
    window.addEventListener(kind, (event) => {
      const { alpha, absolute, webkitCompassHeading } = /** @type {any} */ (event);
      const heading = webkitCompassHeading ?? (absolute && alpha !== null ? 360 - alpha : undefined);
      if (heading === undefined) return;
      clearTimeout(failed);
      delete app.drafts["light.aim.azimuthDeg"];
      app.change(({ light }) => {
        light.aim.azimuthDeg = Math.round(heading) % 360;
      });
    }, { once: true });
  });
}

/** Sun, time and where they are said, beside what they are needed for. @param {import("../../api/glasscall.js").SunReply | undefined} sun @param {string} at */
function sunLine(sun, at) {
  if (!sun) return say("Sun: the place is not said yet.");
  const up = fixed(Math.abs(sun.apparentElevationDeg), 0);
  const values = { up, bearing: bearing(sun.azimuthDeg), time: clockTime(at) };
  return sun.apparentElevationDeg >= 0
    ? say("Sun {up}° up at {bearing}, {time}: change", values)
    : say("Sun {up}° down at {bearing}, {time}: change", values);
}

/**
 * @param {HTMLElement} root
 * @param {App} app
 * @param {string} at
 * @returns {import("../../api/glasscall.js").SunReply | undefined}
 */
function showSun(root, app, at) {
  const { light } = app.setup;
  const moment = new Date(at);
  const minutes = moment.getHours() * 60 + moment.getMinutes();
  one(root, "[data-do=date]", HTMLInputElement).value = at.slice(0, 10);
  const slider = one(root, "[data-do=minute]", HTMLInputElement);
  if (document.activeElement !== slider) slider.value = String(minutes);
  slider.setAttribute("aria-valuetext", clockTime(at));
  one(root, ".light-time").textContent = clockTime(at);
  one(root, "[data-do=now]").setAttribute("aria-pressed", String(light.at === undefined));
  const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
  const { widthMm, heightMm } = app.setup.sensor;
  one(root, ".light-sensor").textContent = say("sensor {size}", { size: `${fixed(widthMm, 1)} × ${fixed(heightMm, 1)} mm` });
  one(root, ".light-zone").textContent = say("Times are this device’s: {zone}. Level horizon, sea level.", {
    zone: [`UTC${offsetText(offsetMinutes(moment))}`, zone].filter(Boolean).join(", "),
  });
  const sun = answerTo(SUN, app.setup, at).reply;
  one(root, ".light-at").textContent = sunLine(sun, at);
  const { place } = light;
  const day = place && answerTo(SUN_DAY, place, at).reply;
  if (!sun || !day) {
    one(root, ".sun-now").replaceChildren(el("p", { class: "plate-why", text: light.place ? "" : LIGHT_WORDS.noPlace }));
    one(root, ".sun-day").replaceChildren();
    return undefined;
  }
  const up = sun.apparentElevationDeg;
  one(root, ".sun-now").replaceChildren(el("p", { class: "plan-line" },
    askedBack(`${fixed(up, 1)}°`, "turn-sun", (opener) => turnSun(opener, app, at, sun)),
    el("span", {}, askedWords(up >= 0
      ? say("up, at {bearing}", { bearing: bearing(sun.azimuthDeg) })
      : say("below the horizon, at {bearing}", { bearing: bearing(sun.azimuthDeg) }), "turn-bearing", (opener) => turnSun(opener, app, at, sun, "azimuthDeg")))));
  // Where it stands then is asked back as what it is now.
  const then = (/** @type {string} */ words, /** @type {string | undefined} */ time, /** @type {string} */ figure) =>
    askedWords(words, "turn-then", (opener) => {
      const sunThen = time && answerTo(SUN, app.setup, time).reply;
      if (sunThen) turnSun(opener, app, time, sunThen, figure);
    });
  const towards = (/** @type {number | undefined} */ azimuth, /** @type {string | undefined} */ time) => (azimuth === undefined ? "" : then(bearing(azimuth), time, "azimuthDeg"));
  const event = (/** @type {import("../../questions/sun-events.js").SunEvent} */ name, /** @type {string} */ label) => {
    const time = day[name];
    return time === undefined ? clockTime(time)
      : askedBack(clockTime(time), "turn-sun-event", (opener) => turnSunEvent(opener, app, at, name, label, time));
  };
  const noon = askedBack(clockTime(day.noon), "work-day", (opener) => work(opener, "sunDay", { ...SUN_DAY.request(place, at), ...uncertaintyOf(app.setup) }));
  const rows = [
    { name: say("First light"), time: event("civilDawn", say("First light")), where: "" },
    { name: say("sun|Rise"), time: event("rise", say("sun|Rise")), where: towards(day.riseAzimuthDeg, day.rise) },
    { name: say("Noon"), time: noon, where: then(say("{angle}° up", { angle: fixed(day.noonElevationDeg, 0) }), day.noon, "apparentElevationDeg") },
    { name: say("sun|Set"), time: event("set", say("sun|Set")), where: towards(day.setAzimuthDeg, day.set) },
    { name: say("Last light"), time: event("civilDusk", say("Last light")), where: "" },
  ];
  const kind = DAY_KINDS[day.kind];
  one(root, ".sun-day").replaceChildren(
    ...(kind ? [el("div", { class: "sun-kind" }, el("dt", { text: say("All day") }), el("dd", { text: kind }))] : []),
    ...rows.map(({ name, time, where }) =>
      el("div", {}, el("dt", { text: name }), el("dd", {}, time), el("dd", { class: "sun-at" }, where))));
  return sun;
}

/** What it does behind the lens that is on: where one looks for the sun. @param {HTMLElement} root @param {Setup} setup */
function showSunInLens(root, setup) {
  const [told, caution] = sunLines(setup);
  const request = SUN_IMAGE.request(setup);
  root.replaceChildren(
    el("p", {}, request ? askedBack(told, "work-sun-lens", (opener) => work(opener, "sunImage", request)) : told),
    el("p", { class: "hint", text: caution }));
}
