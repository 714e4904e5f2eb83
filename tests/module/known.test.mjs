// How well inputs are known: what the page sends of it, and what that does to each answer.
import assert from "node:assert/strict";
import { test } from "node:test";
import { demoDocument } from "../../target/modules/document/demo.js";
import { putOnLens } from "../../target/modules/document/edits.js";
import { migrate } from "../../target/modules/document/migrate.js";
import { resolve } from "../../target/modules/document/resolve.js";
import { actOf } from "../../target/modules/start/state.js";
import { damageOf } from "../../target/modules/questions/check.js";
import { askFit, pupilOf } from "../../target/modules/questions/fit.js";
import { subjectKnown } from "../../target/modules/questions/frame.js";
import { uncertaintyOf } from "../../target/modules/questions/known.js";
import { DRIFT } from "../../target/modules/questions/light.js";
import { openStopsOf, OPEN_UP } from "../../target/modules/questions/open-up.js";
import { ORDER } from "../../target/modules/questions/plan.js";
import { daylight, drift, openUp, orderDay } from "../../target/modules/api/glasscall.js";

const change = (document, edit) => actOf(edit)(document);
/** The demo with this known so well, and what else is edited. */
const known = (uncertainty, edit = () => {}) => resolve(change(demoDocument(), (setup) => {
  edit(setup);
  setup.uncertainty = uncertainty;
}));

test("each input said to be known worse makes the answer that hangs on it less sure", () => {
  const open = (setup) => openUp(OPEN_UP.request(setup)).stacks[0].uncertainty.stops;
  const only = (id, more = {}) => (setup) => {
    setup.kit = setup.kit.filter((piece) => piece.id === id).map((piece) => ({ ...piece, ...more }));
    setup.keep = [id];
  };
  const plan = (setup) => daylight({ sunElevationDeg: 12, ...uncertaintyOf(setup) }).uncertainty.stops;
  const evening = (setup) => {
    const request = DRIFT.request(setup, OPEN_UP.request(setup));
    return drift(request).start.uncertainty.stops;
  };
  const timed = (setup) => {
    Object.assign(setup.light, { followSky: true, timed: [{ time: "2026-06-21T17:00:00Z", aperture: 11, exposureIndex: 800, frameRate: 24, shutterAngleDeg: 180, through: [] }] });
  };
  const cards = (setup) => {
    setup.lens.pupil = { by: "cards", nearMm: 20, nearHeightMm: 14.5, farMm: 140, farHeightMm: 44.5 };
  };
  const room = (setup) => askFit(setup).reply.spareKnown.mm;
  const grad = (setup) => {
    setup.frame.grad = "0.9 soft";
  };
  const clear = (setup) => {
    setup.kit.push({ id: "clear", kind: "clear", size: "4x5.65", count: 1 });
    setup.keep = ["clear"];
  };
  for (const [name, worse, told, edit] of [
    ["readingStops", 1, open],
    ["markedShare", 0.5, open, only("0.9", { measuredDensity: undefined })],
    ["measuredDensity", 0.3, open, only("1.2 IR")],
    ["statedStops", 1, open, only("pola", { lossStops: 1.5 })],
    ["polarizerStops", 1, open, only("pola")],
    ["clearGlassStops", 1, open, clear],
    ["edgeMm", 10, (setup) => subjectKnown(setup).stops, grad],
    ["openingMm", 10, room],
    ["cardsMm", 3, room, cards],
    ["clockSeconds", 3600, plan],
    ["placeDeg", 10, plan],
    ["skyShare", 3, plan],
    ["readingStops", 1, evening, timed],
  ]) {
    const [usual, said] = [{}, { [name]: worse }].map((uncertainty) => told(known(uncertainty, edit)));
    assert.ok(said > usual * 1.2, `${name}: ${said} for ${usual}`);
  }
});

test("the largest cause is named", () => {
  const { mostly } = openUp(OPEN_UP.request(known({ readingStops: 2 }))).stacks[0].uncertainty;
  assert.equal(mostly.what, "reading");
  const { reply } = askFit(known({ openingMm: 50 }));
  assert.equal(reply.spareKnown.mostly.what, "openingPlace");
  // What heights of cards are misread by counts in the pupil's own spread as well.
  const cards = (uncertainty) => pupilOf(known(uncertainty, ({ lens }) => {
    lens.pupil = { by: "cards", nearMm: 20, nearHeightMm: 14.5, farMm: 140, farHeightMm: 44.5 };
  })).spreadMm;
  assert.equal(cards({ cardsMm: 1 }).toFixed(9), (2 * cards({})).toFixed(9));
});

test("a document from before opens with all as usual, and an odd one is damage", () => {
  const { uncertainty: _, ...before } = demoDocument();
  assert.deepEqual(migrate(before).uncertainty, {});
  assert.equal(damageOf({ ...demoDocument(), uncertainty: [] })?.field, "uncertainty");
  assert.deepEqual(uncertaintyOf(resolve(migrate(before))), {});
});

test("what the lens cannot open for serves no set-up of the day", () => {
  // A lens of T1.5 at the stop it is widest at, and a need that the 0.9 misses by less than a tenth.
  const day = change(putOnLens(demoDocument(), "24"), (setup) => {
    setup.shot.aperture = 1.5;
    setup.kit = setup.kit.filter(({ id }) => id === "0.9");
    setup.plan.setUps = [{ id: "quay", needStops: 2.9 }];
  });
  const setup = resolve(day);
  assert.equal(Math.abs(openStopsOf(setup)) < 1e-9, true);
  const request = ORDER.request(setup);
  assert.equal(request.setUps[0].openStops, openStopsOf(setup));
  assert.deepEqual(orderDay(request).cannot, ["quay"]);
  assert.ok(orderDay({ ...request, setUps: setup.plan.setUps }).stages[0].leftOverStops < 0);
  // Two stops wider than wanted there is room to open.
  const wide = resolve(change(day, ({ shot }) => {
    shot.aperture = 3;
  }));
  assert.equal(openStopsOf(wide).toFixed(9), "2.000000000");
  assert.deepEqual(orderDay(ORDER.request(wide)).cannot, []);
  // How wide it opens is not known: nothing is said of it.
  const unknown = resolve(putOnLens(demoDocument(), "50"));
  assert.equal(openStopsOf(unknown), undefined);
  assert.equal("openStops" in ORDER.request(unknown).setUps[0], false);
});
