// Whatever a record of a case can hold travels: in the file, in its table, in a link and in codes.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { caseContent, caseToSend, takeCase, takeShared } from "../../target/modules/document/case-content.js";
import { ownDocument } from "../../target/modules/document/demo.js";
import { byId } from "../../target/modules/document/document.js";
import { resolve } from "../../target/modules/document/resolve.js";
import { FrameCollector, writeFrames } from "../../target/modules/hand-over/code-series.js";
import { readLink, writeLink } from "../../target/modules/hand-over/link.js";
import { partsToSend, soundDocument } from "../../target/modules/hand-over/offered-set-up.js";
import { compared, mergedCase, settled } from "../../target/modules/hand-over/merge-case.js";
import { LIST_NAMES, caseFieldName, caseValueText } from "../../target/modules/language/words/case-fields.js";
import { refusalOf } from "../../target/modules/questions/check.js";
import { actOf } from "../../target/modules/start/state.js";
import { readCase, writeCase } from "../../target/modules/api/glasscall.js";

/** The published schema, which `interface/case_file.rs` walks against the reader: the table of all fields. */
const schema = JSON.parse(await readFile(new URL("../../www/case.schema.json", import.meta.url), "utf8"));
const LISTS = Object.entries(schema.properties).filter(([, { type }]) => type === "array").map(([name, { items }]) => [name, items.$ref]);
/** What belongs to a record of another list names it. */
const OWNERS = { rig: "rigs", body: "bodies", day: "days" };
const TIMES = 60;

/** Numbers that come again each time. @param {number} seed */
function chance(seed) {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

/** Names of which a program could make something else. */
const NAMES = ["0.9", "1/8", "=1+1", "007", "a, b; “c”", "TRUE", "35 mm", "x'y", "ü", "3:4", "🎬"];

/**
 * A value that keeps to a property; a field of a record that may be left out is
 * there or not as chance has it.
 */
function valueOf(property, random, always) {
  if (property.$ref) return recordOf(schema.$defs[property.$ref.split("/").pop()], random, always);
  if (property.enum) return property.enum[Math.floor(random() * property.enum.length)];
  if (property.type === "boolean") return random() < 0.5;
  if (property.type === "array") return [0, 1, 2].map((at) => ({ heightMm: at * 10.5, density: at * 0.3 }));
  if (property.type === "string") return property.format === "date" ? "2024-02-29" : NAMES[Math.floor(random() * NAMES.length)];
  const [least, most] = [Math.max(property.minimum ?? -100, -100), Math.min(property.maximum ?? 100, 100)];
  const number = least + random() * (most - least);
  return property.type === "integer" ? Math.round(number) : Number(number.toFixed(3));
}

function recordOf({ properties, required = [] }, random, always) {
  return Object.fromEntries(Object.entries(properties)
    .filter(([name]) => always || required.includes(name) || random() < 0.5)
    .map(([name, property]) => [name, valueOf(property, random, always)])
    // Nothing measured is no measurement.
    .filter(([, value]) => typeof value !== "object" || Object.keys(value).length > 0));
}

/** What no field says by itself: which go together. */
const TOGETHER = {
  piece: (piece) => {
    const { profile, dioptres, split, ...rest } = piece;
    if (profile?.kind === "reverse") rest.kind = "grad";
    if (rest.kind === "nd" && rest.density === undefined && rest.measuredDensity === undefined) rest.density = 0.9;
    const closeUp = rest.kind === "closeUp" ? { dioptres: dioptres ?? 1, ...(split === undefined ? {} : { split }) } : {};
    return { ...rest, ...closeUp, ...(rest.kind === "grad" ? { density: rest.density ?? 0.6, ...edgeOf(profile) } : {}) };
  },
  // A day in hand has these, said or not.
  day: ({ filterMm = 77, order = "fixed", needsFrom = "range", ...day }) => ({ ...day, filterMm, order, needsFrom }),
  // One wish to a record.
  want: ({ day, aperture, frameRate }) => ({ day, ...(frameRate === undefined ? { aperture: aperture ?? 4 } : { frameRate }) }),
  lens: (lens) => (lens.focalToMm === undefined ? lens : { ...lens, focalMm: 20, focalToMm: 60 }),
  opening: (opening) => {
    const { diameterMm = 80, widthMm = 90, heightMm = 70, rotationDeg, ...rest } = opening;
    return opening.shape === "circle" ? { ...rest, diameterMm } : { ...rest, widthMm, heightMm, ...(rotationDeg === undefined ? {} : { rotationDeg }) };
  },
};

function edgeOf(profile) {
  if (profile === undefined) return {};
  if (profile.kind === "points") {
    return { density: undefined, measuredDensity: undefined, profile: { kind: "points", points: profile.points ?? [{ heightMm: 0, density: 0 }, { heightMm: 10, density: 0.6 }] } };
  }
  const { kind, rampMm = 30, topDensity } = profile;
  return { profile: { kind, ...(kind === "hard" ? {} : { rampMm }), ...(kind === "reverse" && topDensity !== undefined ? { topDensity: Math.min(topDensity, 0.3) } : {}) } };
}

/** A case with records of every kind. */
function contentOf(random, always) {
  const content = {};
  for (const [list, reference] of LISTS) {
    const kind = reference.split("/").pop();
    const count = 1 + Math.floor(random() * 3);
    const names = [...NAMES];
    content[list] = Array.from({ length: count }, () => {
      let record = recordOf(schema.$defs[kind], random, always);
      record = TOGETHER[kind]?.(record) ?? record;
      if (record.opening) record.opening = TOGETHER.opening(record.opening);
      if (record.id !== undefined) record.id = names.splice(Math.floor(random() * names.length), 1)[0];
      for (const [field, owners] of Object.entries(OWNERS)) {
        if (field in record) record[field] = content[owners][Math.floor(random() * content[owners].length)].id;
      }
      return JSON.parse(JSON.stringify(record));
    });
  }
  // Two of one name in what belongs to one are two of one name; a ring leads elsewhere.
  for (const list of ["rings", "ringOffers"]) content[list].forEach((ring, at) => Object.assign(ring, { fromMm: 50 + at, toMm: 80 + at }));
  return content;
}

/** The document that a file gives. */
const documentOf = (content) => takeCase(ownDocument(), readCase({ text: writeCase({ case: content, as: "json" }).text }).case);
const contentIn = (document) => readCase({ text: writeCase({ case: caseContent(document), as: "json" }).text }).case;
/** By list and name, whatever order. */
const inOrder = (content) => Object.fromEntries(Object.entries(content).map(([list, records]) =>
  [list, [...records].map((record) => JSON.stringify(Object.entries(record).sort())).sort()]));

/** Where no reader of a case could take it, it is not what is asked here. */
function tried(times, ask) {
  let asked = 0;
  for (let seed = 1; asked < times; seed += 1) {
    assert.ok(seed < times * 20, `only ${asked} of ${seed} cases could be written`);
    const content = contentOf(chance(seed * 7919), seed % 3 === 0);
    let document;
    try {
      document = documentOf(content);
    } catch (error) {
      assert.equal(error.name, "Refusal", error.stack);
      continue;
    }
    asked += 1;
    ask(document, content, seed);
  }
}

test("every field of every record is in the document as the file had it", () => {
  const seen = new Set();
  tried(TIMES, (document, content, seed) => {
    assert.deepEqual(inOrder(contentIn(document)), inOrder(readCase({ text: writeCase({ case: content, as: "json" }).text }).case), `seed ${seed}`);
    for (const [list, records] of Object.entries(content)) {
      for (const record of records) for (const name of pathsOf(record)) seen.add(`${list}.${name}`);
    }
  });
  const all = LISTS.flatMap(([list, reference]) => fieldsOf(reference).map((name) => `${list}.${name}`));
  const never = all.filter((name) => !seen.has(name));
  assert.deepEqual(never, [], "fields that no case here had");
});

/** All fields a record may have, with those inside. */
function fieldsOf(reference) {
  const { properties } = schema.$defs[reference.split("/").pop()];
  return Object.entries(properties).flatMap(([name, property]) => (property.$ref ? fieldsOf(property.$ref).map((inner) => `${name}.${inner}`) : [name]));
}

const pathsOf = (record) => Object.entries(record).flatMap(([name, value]) =>
  (value && typeof value === "object" && !Array.isArray(value) ? pathsOf(value).map((inner) => `${name}.${inner}`) : [name]));

test("every field comes back from the file, the table and a file of what came back", () => {
  tried(TIMES, (document, _, seed) => {
    const content = contentIn(document);
    for (const as of ["json", "csv"]) {
      const read = readCase({ text: writeCase({ case: caseContent(document), as }).text }).case;
      assert.deepEqual(inOrder(read), inOrder(content), `${as}, seed ${seed}`);
      assert.deepEqual(inOrder(contentIn(takeCase(ownDocument(), read))), inOrder(content), `${as} taken, seed ${seed}`);
    }
  });
});

test("every field goes from phone to phone in codes", async () => {
  const documents = [];
  tried(12, (document) => documents.push(document));
  for (const document of documents) {
    const collector = new FrameCollector();
    let name = "";
    for (const frame of await writeFrames({ case: caseToSend(document), edited: {} })) ({ name } = collector.take(frame));
    const { case: theirs } = await collector.read(name);
    const empty = { ...ownDocument(), rigs: [], days: [], inUse: {} };
    const { content, conflicts } = mergedCase({ content: caseToSend(empty), edited: {} }, { content: theirs, edited: {} });
    const taken = takeShared(empty, content);
    assert.deepEqual(conflicts, []);
    const [mine, other] = [caseToSend(document), caseToSend(taken)];
    for (const list of Object.keys(mine)) assert.deepEqual(inOrder({ list: other[list] }), inOrder({ list: mine[list] }), list);
  }
});

test("every field of what is in use goes in a link", async () => {
  const documents = [];
  tried(12, (document) => documents.push(document));
  let sent = 0;
  for (const document of documents) {
    const on = { ...document, inUse: { ...document.inUse, lens: document.lenses[0].id } };
    if (refusalOf(on)) continue;
    sent += 1;
    const there = soundDocument(await readLink(await writeLink(partsToSend(on))));
    for (const [list, kind] of [["kit"], ["lenses", "lens"], ["rigs", "rig"], ["bodies", "body"], ["days", "day"]]) {
      if (kind === undefined) assert.deepEqual(there[list], on[list], list);
      else assert.deepEqual(byId(there[list], there.inUse[kind]), byId(on[list], on.inUse[kind]), list);
    }
  }
  assert.ok(sent >= 3, `${sent} sent`);
});

/** What a field of the page says of today and of no record, as `document/document.js` has it. */
const TODAY = ["lens.fNumber", "lens.shiftXMm", "lens.shiftYMm", "lens.extender", "lens.withoutRings", "lens.closeFocalMm", "lens.closePupilMm"];

test("whatever the page asks of a lens, a rig or a body is in its record, or today's by name", async () => {
  const screens = new URL("../../www/screens/", import.meta.url);
  const html = (await Promise.all(["now/now", "fit/fit", "frame/frame", "light/light", "case/case", "day/day"].map((name) => readFile(new URL(`${name}.html`, screens), "utf8")))).join("\n");
  const fields = new Set([...html.matchAll(/data-field="((?:lens|behind|wheel)[^"]*)"/g)].map(([, path]) => path));
  for (const path of ["lens.movesOut", "lens.pupil.by", "lens.pupil.up", "lens.pupil.ringFNumber"]) fields.add(path);
  assert.ok(fields.size > 20, `${fields.size} fields`);
  // Neither the demo's figures nor an end of a zoom stands in the way.
  const start = documentOf({ lenses: [{ id: "z", focalMm: 20, focalToMm: 60, tNumber: 2 }], bodies: [{ id: "A" }], rigs: [{ id: "box", mount: "matteBox" }] });
  const document = { ...start, inUse: { ...start.inUse, lens: "z" } };
  for (const path of fields) {
    if (path === "lens.focalLengthMm") continue;
    const value = { "lens.movesOut": true, "lens.pupil.by": "ring", "lens.pupil.up": { nearMm: 10 }, wheel: [0, 0.6], "behind.wheelMm": [1, 2], "lens.zoomFocalLengthMm": 80 }[path] ?? 1.7;
    const next = actOf((setup) => {
      const names = path.split(".");
      const last = names.pop();
      names.reduce((inner, name) => (inner[name] ??= {}), setup)[last] = value;
    })(document);
    const names = path.split(".");
    const shown = names.reduce((inner, name) => inner?.[name], resolve(next));
    assert.deepEqual(shown, value, `${path} is shown as it was said`);
    const written = JSON.stringify(contentIn(next)) !== JSON.stringify(contentIn(document));
    assert.equal(written, !TODAY.includes(path), path);
    // And on another phone.
    if (written) assert.deepEqual(names.reduce((inner, name) => inner?.[name], resolve({ ...takeCase(ownDocument(), contentIn(next)), ...(path.startsWith("lens") ? { inUse: { lens: "z" } } : {}) })), value, `${path} after a file`);
  }
});

test("the picture a lens covers goes through file, table and what differs, as it was typed", () => {
  const lens = (circle) => ({ id: "30", focalMm: 30, pupilBy: "front", pupil: { by: "front", frontDiameterMm: 72, imageCircleMm: circle } });
  const caseOf = (circle) => ({ lenses: [lens(circle)] });
  for (const as of ["json", "csv"]) {
    const { case: read } = readCase({ text: writeCase({ case: caseOf(43.27), as }).text });
    assert.equal(read.lenses[0].pupil.imageCircleMm, 43.27, as);
    assert.equal(contentIn(takeCase(ownDocument(), read)).lenses[0].pupil.imageCircleMm, 43.27, as);
  }
  const [mine, theirs] = [43.27, 46.5].map((circle) => ({ content: caseOf(circle), edited: {} }));
  const { conflicts } = mergedCase(mine, theirs);
  assert.equal(conflicts.length, 1);
  const [differs] = compared(mine.content.lenses[0], conflicts[0].theirs);
  assert.deepEqual([differs.mine.imageCircleMm, differs.theirs.imageCircleMm], [43.27, 46.5]);
  // The words that stand side by side tell both figures.
  assert.match(caseValueText(differs.field, differs.mine), /image circle, mm\D*43\.27/);
  assert.match(caseValueText(differs.field, differs.theirs), /image circle, mm\D*46\.5/);
  assert.equal(settled(mine.content, conflicts[0], "theirs").lenses[0].pupil.imageCircleMm, 46.5);
});

test("every field of a record has a name where two stand side by side", () => {
  const fieldsOf = ({ properties }) => Object.entries(properties).flatMap(([name, { $ref }]) =>
    [name, ...($ref ? fieldsOf(schema.$defs[$ref.split("/").pop()]) : [])]);
  const compared_ = LISTS.filter(([list]) => list in LIST_NAMES);
  const all = [...new Set(compared_.flatMap(([, ref]) => fieldsOf(schema.$defs[ref.split("/").pop()])))];
  // Words that are their own names.
  const own = ["body", "clamp", "cost", "count", "density", "dioptres", "kind", "mass", "material", "name", "opening", "profile", "rig", "rotates", "shape", "size", "split", "squeeze", "turns"];
  assert.ok(all.length > 60, `${all.length}`);
  assert.deepEqual(all.filter((name) => caseFieldName(name) === name && !own.includes(name)), []);
});
