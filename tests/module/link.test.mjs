// Links of every form ever sent still open; the short form is what any inflater
// unpacks, and short.
import assert from "node:assert/strict";
import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { inflateRawSync } from "node:zlib";
import { ready } from "../../target/modules/engine/ask.js";
import { adler32, packedAgainst, withKnown } from "../../target/modules/hand-over/deflate.js";
import { KNOWN } from "../../target/modules/hand-over/link-known.js";
import { drawCode } from "../../target/modules/api/glasscall.js";
import { resolve } from "../../target/modules/document/resolve.js";
import { setUpTexts } from "../../target/modules/hand-over/codes.js";
import { readLink, writeLink } from "../../target/modules/hand-over/link.js";
import { documentFrom, partsToSend } from "../../target/modules/hand-over/offered-set-up.js";
import { demoDocument, ownDocument } from "../../target/modules/document/demo.js";

await ready;

const fixture = async (/** @type {string} */ name) => (await readFile(new URL(`../fixtures/links/${name}`, import.meta.url), "utf8")).trim();
/** A set-up as a crew has it: own pieces, lens, slate. */
function own() {
  const document = ownDocument();
  document.kit = [
    { id: "ND2", kind: "nd", density: 0.3, count: 1, size: "4x4" }, { id: "ND8", kind: "nd", density: 0.9, measuredDensity: 0.93, count: 1, size: "4x4" },
    { id: "3 stops", kind: "nd", density: 0.903, count: 1, size: "4x4" }, { id: "my pola", kind: "polarizer", count: 1, size: "4x4" },
  ];
  document.reading.aperture = 13.45;
  document.lenses = [{ id: "24-90", focalMm: 24, threadMm: 95 }];
  document.inUse.lens = "24-90";
  document.slate = { ...document.slate, scene: "42B", take: "3", note: "sun from the left" };
  return document;
}

test("links of each form still open", async () => {
  for (const [form, read] of [["form-1.txt", 22], ["form-2.txt", 13.45]]) {
    const document = await documentFrom(await fixture(form));
    assert.equal(document.reading.aperture, read, form);
    assert.equal(document.slate.scene, "42B", form);
  }
});

test("what both sides know never changes", () => {
  assert.equal(createHash("sha256").update(KNOWN).digest("hex"), "38165c328a4b1f903980dd8c2d405340b56c2cfba635e36a415a949c49fca749");
});

test("a set-up takes three hundred characters at most", async () => {
  for (const document of [demoDocument(), ownDocument(), own()]) {
    const link = await writeLink(partsToSend(document));
    assert.ok(link.length <= 300, `${link.length} characters`);
    assert.deepEqual(await readLink(link), JSON.parse(JSON.stringify(partsToSend(document))));
  }
});

// ISO/IEC 18004: a byte-mode code of 300 bytes has at most 73 modules a side at level L or M.
test("a set-up is one code that a camera opens, whatever the case", async () => {
  const address = "https://example.invalid/glasscall/";
  const document = own();
  // A crew's case: 14 pieces and 9 lenses; then one that no code holds.
  const piece = (/** @type {number} */ at) => ({ id: `${(at * 7919) % 1009} by the quay`, kind: "nd", density: 0.3 + at / 100, measuredDensity: 0.31 + at / 97, count: 1, size: "4x5.65" });
  for (const [pieces, lenses] of [[0, 0], [10, 8], [200, 60]]) {
    const big = { ...structuredClone(document), kit: [...document.kit, ...Array.from({ length: pieces }, (_, at) => piece(at))] };
    big.lenses.push(...Array.from({ length: lenses }, (_, at) => ({ id: `${20 + at}`, focalMm: 20 + at, threadMm: 60 + ((at * 37) % 41) })));
    big.keep = ["ND8"];
    big.today.rigs[big.inUse.rig] = { inPlace: [{ slot: big.rigs[0].slots[0].id, piece: "my pola" }] };
    const texts = await setUpTexts(big, address);
    assert.equal(texts.length, 1);
    assert.ok(texts[0].startsWith(`${address}#now?s=2.`) && texts[0].length <= 300, `${pieces} pieces: ${texts[0].length}`);
    assert.ok(drawCode({ text: texts[0] }).rows.length <= 73);
    // What arrives gives the same answer, on the same lens and rig.
    const arrived = await documentFrom(texts[0].split("s=")[1]);
    const [theirs, ours] = [arrived, big].map((one) => JSON.parse(JSON.stringify(resolve(one))));
    for (const part of ["reading", "shot", "lens", "rig", "sensor", "inPlace", "keep", "slate", "light", "frame"]) assert.deepEqual(theirs[part], ours[part], part);
    assert.ok(["ND8", "my pola"].every((id) => arrived.kit.some((one) => one.id === id)));
    // From a file there is nothing to open: one frame then.
    assert.equal((await setUpTexts(big)).length, 1);
  }
});

test("another inflater unpacks it, whatever the bytes", () => {
  let state = 7;
  const noise = () => (state = (state * 1_664_525 + 1_013_904_223) >>> 0) >>> 24;
  const known = new TextEncoder().encode(KNOWN);
  const samples = [
    [], [0], [255], Array(1000).fill(7), Array.from({ length: 3000 }, noise), Array.from({ length: 3000 }, () => noise() % 3),
    [...known.slice(100, 2000)], [...known, ...known], [...new TextEncoder().encode("⅓ stop, élan, T2.8".repeat(40))],
  ];
  for (const sample of samples) {
    const bytes = Uint8Array.from(sample);
    for (const before of [known, new Uint8Array(0)]) {
      const packed = packedAgainst(before, bytes);
      assert.deepEqual(new Uint8Array(inflateRawSync(withKnown(before, packed)).subarray(before.length)), bytes);
      assert.ok(packed.length <= bytes.length * 1.2 + 4);
    }
  }
});

// RFC 1950's checksum of "Wikipedia" as widely printed, from memory.
test("the checksum is the standard's", () => {
  assert.equal(adler32(new TextEncoder().encode("Wikipedia")), 0x11e60398);
});

test("a short link that is cut, changed or swollen is refused", async () => {
  const link = await writeLink(partsToSend(own()));
  for (let at = 2; at < link.length; at += 7) {
    const other = link[at] === "A" ? "B" : "A";
    await assert.rejects(readLink(link.slice(0, at)), { code: "damaged" });
    await assert.rejects(readLink(link.slice(0, at) + other + link.slice(at + 1)), (error) => ["damaged", "strange", "tooLong"].includes(error.code));
  }
  const sent = (/** @type {string} */ text) => {
    const bytes = new TextEncoder().encode(text);
    const sum = Buffer.alloc(4);
    sum.writeUInt32BE(adler32(bytes));
    return `2.${Buffer.concat([packedAgainst(new TextEncoder().encode(KNOWN), bytes), sum]).toString("base64url")}`;
  };
  assert.deepEqual(await readLink(sent('{"a":1}')), { a: 1 });
  await assert.rejects(readLink(sent(" ".repeat(70_000))), { code: "tooLong" });
  await assert.rejects(readLink(sent('{"a":1,"a":2}')), { code: "strange" });
  await assert.rejects(readLink(sent(JSON.stringify({ note: "0.9\u202e6.0" }))), { code: "strange" });
  await assert.rejects(readLink("3.AAAA"), { code: "version" });
});
