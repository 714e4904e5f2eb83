// One document, one truth: what is in use is ids, and what differs is remembered for its record.
import assert from "node:assert/strict";
import { readFile, readdir } from "node:fs/promises";
import { test } from "node:test";
import { demoDocument, ownDocument } from "../../target/modules/document/demo.js";
import {
  addPiece, copyRig, pull, putIn, putOnBody, putOnLens, putOnMode, putOnRig, readBare, removePiece, removeRecord, renameRecord, setReading, startRig, turnWheel,
} from "../../target/modules/document/edits.js";
import { caseContent, caseToSend, takeCase, takeShared } from "../../target/modules/document/case-content.js";
import { renamePiece } from "../../target/modules/document/name-edits.js";
import { migrate } from "../../target/modules/document/migrate.js";
import { resolve } from "../../target/modules/document/resolve.js";
import { actOf, createState } from "../../target/modules/start/state.js";
import { answerTo } from "../../target/modules/questions/question.js";
import { answerOf, refusalOf } from "../../target/modules/questions/check.js";
import { askFit, openingsOf, pupilOf } from "../../target/modules/questions/fit.js";
import { OPEN_UP, PLACING } from "../../target/modules/questions/open-up.js";
import { askBalance, profileIn } from "../../target/modules/questions/frame.js";
import { DRIFT } from "../../target/modules/questions/light.js";
import { timedReading } from "../../target/modules/document/timed-reading.js";
import { recordOf } from "../../target/modules/day/record.js";
import { setupIn } from "../../target/modules/day/logged.js";
import { sidesOf } from "../../target/modules/questions/side-by-side.js";
import { answerTable } from "../../target/modules/day/columns.js";
import { needSentence, sentence } from "../../target/modules/day/sentence.js";
import { drift, openUp, readCase, writeCase } from "../../target/modules/api/glasscall.js";

/** A document, frozen: an edit that changed what it was given would throw. */
const frozen = (value) => {
  if (value && typeof value === "object") {
    Object.values(value).forEach(frozen);
    Object.freeze(value);
  }
  return value;
};
const change = (document, edit) => frozen(actOf(edit)(document));
const demo = () => frozen(demoDocument());
const fitSaid = (document) => askFit(resolve(document)).reply?.verdict;

test("a lens without a pupil keeps nothing of the one before it", () => {
  const on = putOnLens(demo(), "24");
  assert.equal(resolve(on).lens.pupil.mm, 30);
  const zoom = putOnLens(on, "zoom 50–140");
  const { lens } = resolve(zoom);
  assert.equal(lens.pupil.mm, undefined);
  assert.deepEqual([lens.focalLengthMm, lens.zoomFocalLengthMm, lens.widestAperture, lens.id], [50, 140, 2.8, "zoom 50–140"]);
  // Its front is known, so the pupil goes by it, and says so.
  assert.equal(lens.pupil.by, "front");
  assert.equal(typeof pupilOf(resolve(zoom)).place.farthestMm, "number");
  const bare = change(zoom, ({ stock }) => {
    delete stock.lenses.find(({ id }) => id === "zoom 50–140").outerMm;
  });
  assert.equal(pupilOf(resolve(bare)).place, undefined);
  assert.equal(fitSaid(bare), undefined);
});

test("loss, squeeze, f-number, shift and close focus change with the lens, and come back with it", () => {
  const said = change(putOnLens(demo(), "35"), ({ lens, focus }) => {
    Object.assign(lens, { lossStops: 0.4, squeeze: 2, fNumber: 4, shiftXMm: 3, nearMm: 300, pupilRatio: 1.2, movesOut: true, extender: 1.4 });
    focus.onMm = 1800;
  });
  const other = resolve(putOnLens(said, "24"));
  for (const name of ["lossStops", "squeeze", "fNumber", "shiftXMm", "nearMm", "pupilRatio", "movesOut", "extender"]) assert.equal(other.lens[name], undefined, name);
  assert.equal(other.focus.onMm, undefined);
  const back = resolve(putOnLens(putOnLens(said, "24"), "35"));
  assert.deepEqual(back.lens, resolve(said).lens);
  assert.equal(back.focus.onMm, 1800);
});

test("where a zoom is set is remembered for that zoom, and its record keeps its ends", () => {
  const set = change(putOnLens(demo(), "zoom 50–140"), ({ lens }) => {
    lens.focalLengthMm = 85;
  });
  assert.deepEqual(set.lenses.find(({ id }) => id === "zoom 50–140").focalMm, 50);
  const back = resolve(putOnLens(putOnLens(set, "24"), "zoom 50–140"));
  assert.deepEqual([back.lens.focalLengthMm, back.lens.zoomFocalLengthMm], [85, 140]);
});

test("the other end of a zoom may be the shorter one", () => {
  const zoom = change(demo(), ({ lens }) => {
    lens.zoomFocalLengthMm = 16;
  });
  assert.equal(refusalOf(zoom), undefined);
  const record = zoom.lenses.find(({ id }) => id === "50");
  assert.deepEqual([record.focalMm, record.focalToMm, record.longPupilMm, record.pupilBehindRimMm], [16, 50, 38, undefined]);
  const { lens } = resolve(change(zoom, (setup) => {
    setup.lens.zoomPupilMm = 60;
  }));
  assert.deepEqual([lens.focalLengthMm, lens.zoomFocalLengthMm, lens.pupil.mm, lens.zoomPupilMm], [50, 16, 38, 60]);
});

test("a pupil measured on Fit belongs to the lens", () => {
  const cards = { by: "cards", nearMm: 100, nearHeightMm: 40, farMm: 500, farHeightMm: 140 };
  const measured = change(putOnLens(demo(), "85"), ({ lens }) => Object.assign(lens.pupil, cards));
  const back = resolve(putOnLens(putOnLens(measured, "24"), "85"));
  assert.deepEqual({ ...back.lens.pupil, frontDiameterMm: undefined, mm: undefined }, { ...cards, frontDiameterMm: undefined, mm: undefined });
});

test("another rig and back: openings and distances measured in between are there", () => {
  const measured = change(demo(), ({ rig }) => {
    rig.slots[1].opening.distanceFromRimMm = 27.5;
    rig.always.push({ name: "hood", distanceFromRimMm: 60, shape: "circle", diameterMm: 130 });
  });
  const back = putOnRig(putOnRig(measured, "screw-in"), "matte box");
  assert.equal(resolve(back).rig.slots[1].opening.distanceFromRimMm, 27.5);
  assert.equal(resolve(back).rig.always[0].name, "hood");
  assert.deepEqual(openingsOf(resolve(back)), openingsOf(resolve(measured)));
  // A rig of a usual kind takes nothing's place.
  const fresh = startRig(measured, "snap");
  assert.deepEqual(fresh.rigs.map(({ id }) => id), ["matte box", "screw-in", "snap-on", "snap-on (2)"]);
  assert.equal(fresh.inUse.rig, "snap-on (2)");
});

test("glass stays in the rig it was put in", () => {
  const filled = putIn(demo(), [{ slot: "tray 1", piece: "0.9" }]);
  const other = putOnRig(filled, "screw-in");
  assert.deepEqual(resolve(other).inPlace, []);
  assert.deepEqual(resolve(putOnRig(other, "matte box")).inPlace, [{ slot: "tray 1", piece: "0.9" }]);
});

test("a body is put on whole, and what a body does not say is not the last one's", () => {
  const two = change(demo(), ({ stock }) => {
    stock.bodies.push({ id: "B", exposureIndex: 1600, glassMm: 2 });
    stock.modes.push({ body: "B", id: "crop", widthMm: 16, heightMm: 9 }, { body: "B", id: "open", widthMm: 36, heightMm: 24 });
    stock.wheels.push({ body: "B", id: "1", density: 0 }, { body: "B", id: "2", density: 0.6 });
  });
  const index = change(two, ({ reading }) => {
    reading.exposureIndex = 500;
  });
  assert.equal(index.bodies[0].exposureIndex, 800, "what differs today is not the record's");
  const onB = turnWheel(putOnMode(index, "B", "open"), 0.6);
  const b = resolve(onB);
  assert.deepEqual([b.reading.exposureIndex, b.wheel, b.wheelNow, b.behind.nowMm, b.sensor], [1600, [0, 0.6], 0.6, 2, { widthMm: 36, heightMm: 24 }]);
  const a = resolve(putOnBody(onB, "A"));
  assert.deepEqual([a.reading.exposureIndex, a.wheel, a.wheelNow, a.behind.nowMm], [500, [], 0, undefined]);
  const again = resolve(putOnBody(putOnBody(onB, "A"), "B"));
  assert.deepEqual([again.wheelNow, again.sensor], [0.6, { widthMm: 36, heightMm: 24 }]);
  const sizeless = resolve(putOnBody(change(onB, ({ stock }) => stock.bodies.push({ id: "C" })), "C"));
  assert.equal(sizeless.sensorSaid, false);
});

test("a body called “in use” stays in the case and its file", () => {
  const named = change(demo(), ({ stock }) => stock.bodies.push({ id: "in use", exposureIndex: 1600 }));
  const { bodies } = caseContent(named);
  assert.deepEqual(bodies.map(({ id }) => id), ["A", "in use"]);
  assert.equal(refusalOf(named), undefined);
  // Its own file gives it back under its name, put on or not.
  const back = (document) => takeCase(demo(), readCase({ text: writeCase({ case: caseContent(document), as: "json" }).text }).case).bodies.map(({ id }) => id);
  assert.deepEqual([back(named), back(putOnBody(named, "in use"))], [["A", "in use"], ["in use", "A"]]);
  // A file of the first form called the rig and the body so, and nobody had.
  const first = takeCase(demo(), readCase({ text: JSON.stringify({ format: "glasscall-case", version: 1, rigs: [{ id: "in use", mount: "matteBox" }], bodies: [{ id: "in use", exposureIndex: 500 }] }) }).case);
  assert.deepEqual([first.rigs[0].id, first.bodies[0].id], ["rig", "body"]);
});

test("the filter on Frame is the one in the rig, and forgetting it clears both", () => {
  const tried = change(demo(), ({ frame }) => {
    frame.grad = "0.6 soft";
  });
  assert.equal(resolve(tried).frame.grad, "0.6 soft");
  const isIn = putIn(tried, [{ slot: "tray 1", piece: "0.9 hard" }, { slot: "rotating", piece: "pola" }]);
  assert.equal(resolve(isIn).frame.grad, "0.9 hard");
  assert.equal(profileIn(resolve(isIn)).kind, "hard");
  const other = change(isIn, ({ frame }) => {
    frame.grad = "0.9 soft";
  });
  assert.deepEqual(resolve(other).inPlace.map(({ slot, piece }) => `${slot}: ${piece}`).sort(), ["rotating: pola", "tray 1: 0.9 soft"]);
  assert.equal(resolve(pull(other, "0.9 soft")).frame.grad, "");
  const gone = resolve(removePiece(other, "0.9 soft"));
  assert.deepEqual([gone.frame.grad, gone.inPlace.length], ["", 1]);
  // A file without it clears it too.
  const { pieces, ...lists } = caseContent(other);
  const read = takeCase(other, { ...lists, pieces: pieces.filter(({ kind }) => kind !== "grad") });
  assert.equal(resolve(read).frame.grad, "");
});

test("a reading typed after a swap is counted through what is in now, and says so", () => {
  const read = readBare(putIn(demo(), [{ slot: "tray 1", piece: "0.9" }]), false);
  assert.deepEqual(resolve(read).reading.through, ["0.9"]);
  const swapped = putIn(read, [{ slot: "tray 1", piece: "0.6" }]);
  // The reading that stands was taken through the old glass.
  assert.deepEqual(resolve(swapped).reading.through, ["0.9"]);
  const type = (document) => change(document, ({ reading }) => {
    reading.aperture = 5.656854249492381;
  });
  const typed = resolve(type(swapped)).reading;
  assert.deepEqual([typed.through, typed.retaken], [["0.6"], true]);
  assert.deepEqual(resolve(setReading(swapped, { aperture: 5.656854249492381 })).reading, typed);
  // T5.6 through a 0.6 to T8: 3.99 stops taken, need 2·log2 of nothing more.
  const { needStops } = openUp({ ...OPEN_UP.request(resolve(type(swapped))) });
  assert.ok(Math.abs(needStops - (0.6 / Math.log10(2) + 2 * Math.log2(5.656854249492381 / resolve(swapped).shot.aperture))) < 1e-9);
  // Chosen by hand, without a swap, it stays as chosen.
  const chosen = change(demo(), ({ reading }) => {
    reading.through = ["pola"];
  });
  assert.deepEqual(resolve(type(chosen)).reading.through, ["pola"]);
});

test("a reading through the wheel stays with its position when the wheel turns", () => {
  const wheel = change(demo(), (setup) => {
    setup.wheel = [0, 0.6, 1.2];
  });
  const read = readBare(turnWheel(wheel, 0.6), false);
  const through = (document) => OPEN_UP.request(resolve(document)).kit.filter(({ id }) => id === "(wheel)").map(({ density }) => density);
  assert.deepEqual([through(read), through(turnWheel(read, 1.2))], [[0.6], [0.6]]);
});

test("timed readings through what is in count the wheel", () => {
  const wheel = turnWheel(change(putIn(demo(), [{ slot: "tray 1", piece: "0.3" }]), (setup) => {
    setup.wheel = [0, 0.6];
  }), 0.6);
  const setup = resolve(wheel);
  const timed = [timedReading(setup, 8, true, new Date("2026-05-01T10:00:00Z")), timedReading(setup, 8, true, new Date("2026-05-01T11:00:00Z"))];
  const through = change(wheel, ({ light }) => {
    light.timed = timed;
  });
  const ask = (document) => {
    const { setup: _, ...request } = { ...DRIFT.request(resolve(document), OPEN_UP.request(resolve(document))), setup: 0 };
    return request;
  };
  const request = ask(through);
  assert.deepEqual(request.readings[0].through, ["0.3", "(wheel 0.6)"]);
  assert.equal(request.kit.find(({ id }) => id === "(wheel 0.6)").density, 0.6);
  assert.equal(drift(request).stopsPerHour.toFixed(6), "0.000000");
});

test("nothing is written that nobody said, and what is known is written", () => {
  const stamp = { id: "one", time: "2026-05-01T10:00:00+02:00", zone: "" };
  const record = recordOf(resolve(demo()), stamp, demo());
  assert.equal(record.focusMm, undefined);
  const on = change(putOnLens(demo(), "zoom 50–140"), ({ lens }) => Object.assign(lens, { focalLengthMm: 85, extender: 1.4 }));
  const told = recordOf(resolve(on), stamp, on);
  assert.match(sentence(told), /lens zoom 50–140, 85 mm × 1\.4/);
  assert.deepEqual(setupIn(told).lens.focalLengthMm, 85);
  // Of one's own case the settings stand on Now, where it is logged; a camera's name does not.
  const own = change(putIn(addPiece(ownDocument(demo()), { id: "0.9", kind: "nd", density: 0.9 }), []), ({ reading }) => {
    reading.aperture = 11;
  });
  assert.match(sentence(recordOf(resolve(own), stamp, own)), /^Set T11; .*EI 800, 24 frames, 180°; read T11 bare; wanted T2\.8/);
  const unknown = change(putOnLens(demo(), "zoom 50–140"), ({ stock }) => {
    delete stock.lenses.find(({ id }) => id === "zoom 50–140").outerMm;
  });
  assert.equal(recordOf(resolve(unknown), stamp, unknown).fit.verdict, "unknown");
});

test("a case of one's own starts without lens, body or place, and tells no fit", () => {
  const own = frozen(ownDocument(demo()));
  const setup = resolve(own);
  assert.deepEqual([setup.kit, setup.lens.id, setup.lens.pupil.mm, setup.light.place, setup.sensorSaid], [[], undefined, undefined, undefined, false]);
  assert.equal(fitSaid(own), undefined);
  assert.equal(refusalOf(own), undefined);
  // Facts of a lens make it a record of the case: no lens stands in no list.
  const typed = change(own, ({ lens }) => {
    lens.focalLengthMm = 35;
  });
  assert.deepEqual(typed.lenses, [{ id: "lens", focalMm: 35 }]);
  assert.equal(typed.inUse.lens, "lens");
});

test("a case of one's own is asked what was read: nothing is computed, drawn or logged of a reading that nobody took", () => {
  const own = frozen(ownDocument(addPiece(demo(), { id: "mine", kind: "nd", density: 0.9 })));
  assert.equal("aperture" in own.reading, false, "what the invented crew read of the land");
  assert.equal("aperture" in own.frame.bright, false, "and of the sky");
  assert.equal(refusalOf(own), undefined, "it is kept, and a start opens it");
  const reopened = migrate(JSON.parse(JSON.stringify(own)));
  assert.deepEqual([reopened.reading.aperture, reopened.frame.bright.aperture], [undefined, undefined]);
  const glass = frozen(putIn(addPiece(own, { id: "0.9", kind: "nd", density: 0.9 }), [{ slot: "1", piece: "0.9" }]));
  const setup = resolve(glass);
  const { refusal } = answerOf(glass);
  assert.deepEqual([refusal?.code, refusal?.field], ["missing", "reading.aperture"]);
  assert.equal(recordOf(setup, { id: "a", time: "2026-06-21T13:00:00Z", zone: "" }, glass), undefined);
  assert.match(needSentence(setup), /^Nothing read yet; wanted T2\.8/);
  assert.match(answerTable(setup).caption, /^Nothing read, wanted/);
  assert.deepEqual(sidesOf(glass), []);
  assert.equal(answerTo(PLACING, setup, "0.9").refusal?.field, undefined, "where glass goes hangs on no reading");
  // Whatever else is wrong is refused as before.
  assert.equal(refusalOf({ ...glass, shot: { aperture: 0 } })?.field, "shot.aperture");
  assert.equal(refusalOf({ ...glass, kit: [{ id: "0.9", kind: "nd", density: -1, count: 1, size: "" }] })?.field, "kit[0].density");
  const read = change(glass, ({ reading }) => {
    reading.aperture = 16;
  });
  assert.ok(answerOf(read).reply);
  assert.equal(askBalance(resolve(putOnLens(demo(), "50"))).refusal, undefined);
  assert.equal(askBalance({ ...resolve(putOnLens(demo(), "50")), frame: { ...demo().frame, bright: { at: 0.9 } } }).refusal?.field, "frame.bright.aperture");
  // What somebody typed before stays.
  const typed = ownDocument({ ...demo(), reading: { ...demo().reading, aperture: 11 }, frame: { ...demo().frame, bright: { aperture: 22, at: 0.9 } } });
  assert.deepEqual([typed.reading.aperture, typed.frame.bright.aperture], [11, 22]);
});

test("names follow everywhere", () => {
  const filled = readBare(putIn(putOnLens(demo(), "24"), [{ slot: "tray 1", piece: "0.9" }]), false);
  const piece = renamePiece(filled, "0.9", "nine");
  assert.deepEqual([resolve(piece).inPlace[0].piece, resolve(piece).reading.through], ["nine", ["nine"]]);
  const set = change(piece, ({ lens }) => {
    lens.fNumber = 4;
  });
  const named = renameRecord(renameRecord(set, "lens", "24", "wide"), "rig", "matte box", "box");
  assert.deepEqual([named.inUse.lens, named.inUse.rig, resolve(named).lens.fNumber, resolve(named).inPlace.length], ["wide", "box", 4, 1]);
  const copied = copyRig(named, "box", "box");
  assert.deepEqual(copied.rigs.map(({ id }) => id), ["box", "screw-in", "snap-on", "box (2)"]);
  const removed = removeRecord(copied, "rigs", "box");
  assert.deepEqual([removed.inUse.rig, resolve(removed).rig.slots], [undefined, []]);
});

test("the case goes into a file and comes back, what the file does not hold stays", () => {
  const document = change(putOnLens(demo(), "24"), ({ lens }) => {
    lens.squeeze = 2;
  });
  const { text } = writeCase({ case: caseContent(document), as: "json" });
  const read = frozen(takeCase(document, readCase({ text }).case));
  assert.equal(refusalOf(read), undefined);
  const places = (one) => resolve(one).rig.slots.map(({ id, size, rotates, opening }) => [id, size, rotates, opening.distanceFromRimMm, opening.widthMm]);
  assert.deepEqual(places(read), places(document));
  assert.deepEqual([read.inUse.lens, resolve(read).lens.squeeze, read.inUse.body, read.inUse.mode, read.inUse.day], ["24", 2, "A", "full", "day"]);
  assert.deepEqual(takeShared(document, caseToSend(document)).rigs.map(({ id }) => id), document.rigs.map(({ id }) => id));
});

test("every form ever kept opens, and passes the check", async () => {
  const folder = new URL("../fixtures/saved/", import.meta.url);
  for (const name of await readdir(folder)) {
    const { setup: kept } = JSON.parse(await readFile(new URL(name, folder), "utf8"));
    const document = frozen(migrate(kept));
    assert.equal(refusalOf(document), undefined, name);
    const setup = resolve(document);
    assert.deepEqual(setup.kit.slice(0, kept.kit.length), kept.kit, name);
    assert.deepEqual([setup.reading.aperture, setup.shot.aperture], [kept.reading.aperture, kept.shot.aperture], name);
    assert.deepEqual(setup.rig.slots.map(({ id }) => id), kept.rig.slots.map(({ id }) => id), name);
    assert.deepEqual(setup.inPlace, kept.inPlace ?? [], name);
    assert.deepEqual([setup.wheel, setup.wheelNow], [kept.wheel ?? [], kept.wheelNow ?? 0], name);
    // Kept again it is the same.
    assert.deepEqual(migrate(JSON.parse(JSON.stringify(document))), document, name);
  }
});

test("a lens of the first form that kept another's pupil is believed only as far as its record", async () => {
  const kept = JSON.parse(await readFile(new URL("../fixtures/saved/v1-all-screens.json", import.meta.url), "utf8")).setup;
  const lens = { focalLengthMm: 50, zoomFocalLengthMm: 140, fromCase: "zoom 50–140", pupil: { by: "figure", mm: 30 } };
  const { lens: on } = resolve(migrate({ ...kept, lens }));
  assert.deepEqual([on.id, on.pupil.mm, on.pupil.by], ["zoom 50–140", undefined, "front"]);
  // The demo's lens, with which an own case began, was nobody's.
  assert.equal(resolve(migrate(kept)).lens.id, undefined);
});

test("what the core refuses is not taken, and what was refused before may be mended", () => {
  const kept = [];
  const state = createState({ document: demo(), drafts: {} }, { refusalOf, keep: (act) => kept.push(act), now: () => "2026-05-01T10:00:00+02:00" });
  const refused = [
    ({ reading }) => { reading.exposureIndex = 0; },
    ({ reading }) => { reading.frameRate = 0; },
    ({ shot }) => { shot.exposureIndex = -5; },
    ({ rig }) => { for (let n = 4; n <= 9; n += 1) rig.slots.push({ id: `slot ${n}`, size: "", rotates: false }); },
    ({ kit }) => { for (let n = 0; n < 401; n += 1) kit.push({ id: `p${n}`, kind: "nd", density: 0.3, size: "", count: 1 }); },
    (setup) => { setup.wheel = Array.from({ length: 17 }, (_, at) => at / 10); },
    // Nor in a rig and a body that are not on.
    ({ stock }) => { for (let n = 3; n <= 9; n += 1) stock.slots.push({ rig: "screw-in", id: `slot ${n}`, size: "", rotates: false }); },
    ({ stock }) => {
      stock.bodies.push({ id: "B" });
      for (let n = 0; n < 17; n += 1) stock.wheels.push({ body: "B", id: `${n}`, density: n / 10 });
    },
    ({ kit }) => { kit.push(null); },
  ];
  for (const edit of refused) {
    const before = state.document;
    let refusal;
    try {
      refusal = state.edit(actOf(edit));
    } catch (error) {
      refusal = error;
    }
    assert.ok(refusal, edit.toString());
    assert.equal(state.document, before, edit.toString());
  }
  assert.equal(kept.length, 0);
  const broken = change(demo(), ({ reading }) => { reading.exposureIndex = 0; });
  const open = createState({ document: broken, drafts: {} }, { refusalOf, keep() {}, now: () => "" });
  assert.equal(open.edit(actOf(({ shot }) => { shot.aperture = 4; })), undefined);
  assert.equal(open.edit(actOf(({ reading }) => { reading.exposureIndex = 400; })), undefined);
  assert.equal(refusalOf(open.document), undefined);
});

test("a step back says what it undoes, and can be done again", () => {
  const told = [];
  const state = createState({ document: demo(), drafts: {} }, { refusalOf, keep() {}, now: () => "2026-05-01T10:00:00+02:00" });
  state.subscribe(() => told.push(state.undoes()));
  const piece = { id: "own", kind: "nd", density: 0.9, size: "", count: 1 };
  state.edit((document) => addPiece(document, piece), { name: "a piece added" });
  state.edit((document) => removePiece(document, "0.3"), { name: "a piece removed" });
  assert.deepEqual([state.undoes(), state.redoes()], ["a piece removed", undefined]);
  state.undo();
  assert.deepEqual([state.undoes(), state.redoes(), state.setup.kit.some(({ id }) => id === "0.3")], ["a piece added", "a piece removed", true]);
  state.redo();
  assert.equal(state.setup.kit.some(({ id }) => id === "0.3"), false);
  state.undo();
  state.undo();
  assert.equal(state.setup.kit.some(({ id }) => id === "own"), false);
  state.edit((document) => removePiece(document, "0.6"));
  assert.equal(state.redoes(), undefined, "another edit forgets what was to be done again");
  assert.ok(told.length >= 7);
  // Keys of one visit are one step.
  const visit = {};
  for (const aperture of [5, 5.6, 5.66]) state.edit(actOf(({ shot }) => { shot.aperture = aperture; }), { visit });
  state.undo();
  assert.equal(state.setup.shot.aperture, demo().shot.aperture);
});

test("a document that is none is refused, not shown", () => {
  const bad = [{ kit: [null] }, { version: 2, kit: [null] }, { version: 2, rigs: [{ id: "r" }] , inUse: { rig: "r" }, today: { rigs: { r: 5 } } }, { version: 2, lenses: [3] }, { version: 2, today: { lenses: { 50: { focusMm: "near" } } } }, { version: 2, light: { place: 5 } }];
  for (const kept of bad) {
    let refusal;
    try {
      refusal = refusalOf(migrate(kept));
    } catch (error) {
      refusal = error;
    }
    assert.ok(refusal, JSON.stringify(kept));
  }
  assert.ok(askBalance(resolve(demo())).reply);
});

test("the land is read once, for Now and for Frame, through whatever glass", () => {
  const apart = (document) => askBalance(resolve(document)).reply.apartStops;
  const start = demo();
  const told = apart(start);
  assert.ok(Math.abs(told - 3) < 0.01, `${told} stops`);
  // Read anew, two stops darker: the sky is that much farther off.
  const dusk = frozen(setReading(start, { aperture: 8 }));
  assert.ok(Math.abs(apart(dusk) - told - 2) < 1e-9);
  // The same light through a filter is the same light.
  const through = frozen(readBare(putIn(start, [{ slot: "tray 1", piece: "0.9" }]), false));
  const read = frozen(setReading(through, { aperture: 16 / 2 ** (0.45 / Math.log10(2)) }));
  assert.ok(Math.abs(apart(read) - told) < 1e-3, `${apart(read)} and ${told}`);
  // And the sky, typed now, was read through it too.
  const sky = change(read, ({ frame }) => {
    frame.bright.aperture = 45 / 2 ** (0.45 / Math.log10(2));
  });
  assert.deepEqual(sky.frame.bright.through, ["0.9"]);
  assert.ok(Math.abs(apart(sky) - told) < 0.02);
  assert.ok(Math.abs(apart(renamePiece(sky, "0.9", "old")) - told) < 0.02);
  // What was kept with a land of Frame's own is as far apart as it was.
  const kept = { ...structuredClone(start), reading: { ...start.reading, aperture: 8 }, frame: { ...start.frame, bright: { aperture: 16, at: 0.9 }, dark: { aperture: 4, at: 0.1 } } };
  const opened = migrate(kept);
  assert.ok(Math.abs(apart(opened) - 4) < 1e-9);
  assert.deepEqual(opened.frame.dark, { at: 0.1 });
  assert.deepEqual(migrate(opened), opened);
});

test("a screen asks another by a call: no script presses a button or acts as a finger", async () => {
  const root = new URL("../../target/modules/", import.meta.url);
  const files = (await readdir(root, { recursive: true })).filter((name) => name.endsWith(".js") && !/^(?:api|embed)\//.test(name));
  assert.ok(files.length > 100);
  for (const name of files) {
    const text = await readFile(new URL(name, root), "utf8");
    // A download is a link of the script's own; the element tells its host.
    const found = [...text.matchAll(/([\w.?!)"'\]]*)\.click\(\)|dispatchEvent\(/g)].map(([all, of]) => of ?? all).filter((of) => of !== "link");
    assert.deepEqual(found, [], name);
  }
});
