// What the core has against a question of the page names the page's own field.
import assert from "node:assert/strict";
import { readdir, readFile } from "node:fs/promises";
import { test } from "node:test";
import { ready } from "../../target/modules/engine/ask.js";
import { demoDocument } from "../../target/modules/document/demo.js";
import { timedReading } from "../../target/modules/document/timed-reading.js";
import { setAt } from "../../target/modules/document/path.js";
import { resolve } from "../../target/modules/document/resolve.js";
import * as lists from "../../target/modules/questions/case-lists.js";
import { ANY_BEHIND, CLOSE_FOCUS, DEPTH, INFRARED_LIMITS, RAMP, TEMPERATURES, WISH } from "../../target/modules/questions/depth-and-colour.js";
import { askFit } from "../../target/modules/questions/fit.js";
import { askBalance, askLine, askMap, askMotion } from "../../target/modules/questions/frame.js";
import { DRIFT, FLAG, GHOST, MEASURED, PAIR, REFLECTION, SKY, SUN } from "../../target/modules/questions/light.js";
import { OPEN_UP, shotSettings } from "../../target/modules/questions/open-up.js";
import { NEEDS } from "../../target/modules/questions/plan.js";
import { fieldName } from "../../target/modules/language/words/fields.js";
import { answerTo } from "../../target/modules/questions/question.js";
import { RINGS } from "../../target/modules/questions/rings.js";
import { WORKING_STOP } from "../../target/modules/questions/stack.js";
import { SUN_IMAGE } from "../../target/modules/questions/sun-image.js";

await ready;

const AT = "2026-06-21T13:00:00Z";
const SUN_AT = { azimuthDeg: 180, elevationDeg: 30 };
const asks = (question, of = () => []) => (setup) => answerTo(question, setup, ...of(setup));

/** The demo with all said that a question may hang on. */
function setUp() {
  const setup = structuredClone(resolve(demoDocument()));
  setup.light.place = { latitudeDeg: 51, longitudeDeg: 4 };
  setup.light.aim = { azimuthDeg: 90, elevationDeg: 5, rollDeg: 0 };
  setup.light.measured = { bareAperture: 8, brightestAperture: 5.6, darkestAperture: 4 };
  setup.frame.bright = { ...setup.frame.bright, aperture: 22 };
  Object.assign(setup.ramp, { by: "iris", frameRate: 48 });
  return setup;
}

/** Each field, a value that cannot be, and who is asked about it. */
const REFUSED = [
  ["reading.aperture", -1, asks(OPEN_UP)],
  ["shot.exposureIndex", 0, asks(OPEN_UP)],
  ["lens.widestAperture", 0, asks(OPEN_UP)],
  ["lens.extender", 99, asks(WORKING_STOP, () => [2.8, false])],
  ["lens.pupilRatio", -1, asks(WORKING_STOP, () => [2.8, true])],
  ["focus.onMm", 1, asks(DEPTH, () => [50, 2.8])],
  ["focus.circleMm", -1, asks(DEPTH, () => [50, 2.8])],
  ["wish.share", -1, (setup) => answerTo(WISH, { ...setup, wish: { ...setup.wish, kind: "share" } }, 50)],
  ["wish.nearMm", -1, (setup) => answerTo(WISH, { ...setup, wish: { ...setup.wish, kind: "places" } }, 50)],
  ["colour.lightKelvin", -1, asks(TEMPERATURES)],
  ["infrared.cutFromDensity", -1, asks(INFRARED_LIMITS)],
  ["lens.nearMm", -1, asks(CLOSE_FOCUS)],
  ["behind.frontMm", -1, asks(ANY_BEHIND)],
  ["behind.refractiveIndex", 99, asks(ANY_BEHIND)],
  ["ramp.frameRate", -1, asks(RAMP, (setup) => [shotSettings(setup)])],
  ["lens.squeeze", 99, askFit],
  ["lens.shiftXMm", 1e9, askFit],
  ["lens.closeFocalMm", -1, askFit],
  ["rig.slots[0].opening.widthMm", -1, askFit],
  ["frame.fromRimMm", -1e9, askLine],
  ["frame.bright.aperture", -1, askBalance],
  ["frame.allowedStops", -1, askBalance],
  ["frame.move.tiltToDeg", 200, askMotion],
  ["lens.fNumber", -1, (setup) => askMap(setup, { columns: 8, rows: 6 }, 0)],
  ["light.place", { latitudeDeg: 91, longitudeDeg: 0 }, asks(SUN, () => [AT])],
  ["light.maxPolarization", 2, asks(SKY, () => [SUN_AT])],
  ["light.aim.elevationDeg", 200, asks(SKY, () => [SUN_AT])],
  ["light.aim.azimuthDeg", 1e9, asks(SKY, () => [SUN_AT])],
  ["light.surface.refractiveIndex", -1, asks(REFLECTION)],
  ["light.pair.stops", 99, asks(PAIR)],
  ["light.pair.pullTo", -1, asks(PAIR)],
  ["light.measured.darkestAperture", -1, asks(MEASURED)],
  ["light.flag.flag.leanDeg", 999, asks(FLAG, () => [SUN_AT])],
  ["light.flag.glass.widthMm", -1, asks(FLAG, () => [SUN_AT])],
  ["light.ghost.reflectances[1]", 2, asks(GHOST)],
  ["light.ghost.tiltDeg", 99, asks(GHOST)],
  ["shot.aperture", -1, asks(SUN_IMAGE)],
  ["plan.filterMm", -1, asks(RINGS, (setup) => [setup.plan.filterMm])],
  ["plan.brightestAperture", -1, asks(NEEDS)],
  ["plan.darkestAperture", -1, asks(NEEDS)],
  ["plan.counterArmMm", -1, asks(lists.COUNTER_ARM)],
  ["plan.setUps[0].needStops", -999, asks(lists.SET_UPS)],
  ["plan.fromHour", 99, asks(lists.DAY)],
  ["stock.lenses[0].threadMm", -3, asks(lists.STOCK)],
  ["stock.rigs[0].massG", -1, asks(lists.RIGS)],
  ["rig.massG", -1, asks(lists.RIG_IN_USE)],
];

test("a set-up that says all is refused by none", () => {
  for (const [field, , ask] of REFUSED) assert.equal(ask(setUp()).refusal, undefined, field);
});

for (const [field, value, ask] of REFUSED) {
  test(`${field} is refused by its name on the page`, () => {
    const setup = setUp();
    setAt(setup, field, value);
    const { refusal } = ask(setup);
    assert.ok(refusal, "refused");
    assert.ok(refusal.field === field || refusal.field.startsWith(`${field}.`), `${refusal.field} for ${field}`);
  });
}

test("readings over time are the page's", () => {
  const setup = setUp();
  const first = timedReading(setup, 16, true, new Date(0));
  setup.light.timed = [first, { ...first, aperture: -1 }];
  const { refusal } = answerTo(DRIFT, setup, OPEN_UP.request(setup));
  assert.equal(refusal?.field, "light.timed[1].aperture");
});

test("each field of Light has one question that knows it", async () => {
  const html = await readFile(new URL("../../www/screens/light/light.html", import.meta.url), "utf8");
  const fields = [...html.matchAll(/data-field="([^"]+)"/g)].map(([, field]) => field);
  assert.ok(fields.length > 20, `${fields.length} fields`);
  for (const field of fields) {
    const known = [SUN, SKY, REFLECTION, PAIR, MEASURED, FLAG, GHOST].some(({ paths }) => Object.values(paths).some((place) => field.startsWith(place)));
    assert.ok(known, field);
  }
});

test("what has no label is called by its path, by its end, or by what it stands in", () => {
  for (const [path, name] of [
    ["reading.aperture", "The stop you read"],
    ["kit[3].measuredDensity", "The measured density"],
    ["rig.slots[0].opening.widthMm", "The width"],
    ["lens.pupil.nearMm", "The distance ahead of the rim"],
    ["uncertainty.cardsMm", "The uncertainty"],
    ["behind.refractiveIndex", "The refractive index"],
    ["wheels[2].id", "The name"],
    ["wheel[2]", "The wheel"],
    ["nobody.knows", "nobody.knows"],
  ]) assert.equal(fieldName(path), name, path);
});

test("every field that is typed has a label, which is its name", async () => {
  const screens = new URL("../../www/screens/", import.meta.url);
  const pages = (await readdir(screens, { recursive: true })).filter((name) => name.endsWith(".html"));
  const html = (await Promise.all(pages.map((name) => readFile(new URL(name, screens), "utf8")))).join("");
  const fields = html.split(/(?=<[a-z]+ [^>]*data-field=")/).slice(1);
  assert.ok(fields.length > 100, `${fields.length} fields`);
  const nameless = fields.filter((field) => !/^<[^>]+>\s*<label for="[^"]+">[^<]+<\/label>/.test(field));
  assert.deepEqual(nameless.map((field) => field.slice(0, 80)), []);
});
