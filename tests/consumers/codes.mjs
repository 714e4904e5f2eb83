// Codes as a camera sees them, read by us and by a common reader (Debian's
// package `zbar-tools`): `node tests/consumers/codes.mjs` prints who read which.
import { spawnSync } from "node:child_process";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { drawCode, readCode } from "../../dist/api/glasscall.js";

/** A link with a set-up in it, and a frame of a series. */
const TEXTS = [`https://example.org/#now?s=2.${"aB3-_xYz9Q".repeat(20)}`, `GC1:0123abcd:1/9:${"qW4_eR5-tY".repeat(48)}`];
const MODULES = [3, 4, 6];
const TURNS = [0, 7, 30];
const BLURS = [0, 0.3, 0.5];

/** @param {string[]} rows @param {number} module pixels @param {number} turned degrees @param {number} blur standard deviation, modules */
function seen(rows, module, turned, blur) {
  const wide = rows.length + 8;
  const side = Math.ceil(wide * module * 1.4);
  const [sine, cosine] = [Math.sin((turned * Math.PI) / 180), Math.cos((turned * Math.PI) / 180)];
  const cell = (/** @type {number} */ at) => Math.floor(at / module + wide / 2) - 4;
  const dark = (/** @type {number} */ x, /** @type {number} */ y) => rows[cell(cosine * y - sine * x)]?.[cell(cosine * x + sine * y)] === "1";
  let light = Float64Array.from({ length: side * side }, (_, at) => {
    let count = 0;
    for (let part = 0; part < 16; part += 1) {
      if (dark((at % side) + ((part % 4) + 0.5) / 4 - side / 2, Math.floor(at / side) + (Math.floor(part / 4) + 0.5) / 4 - side / 2)) count += 1;
    }
    return 235 - (215 * count) / 16;
  });
  const sigma = blur * module;
  const reach = Math.ceil(3 * sigma);
  for (const step of sigma ? [1, side] : []) {
    const old = light;
    light = old.map((_, at) => {
      let [sum, of] = [0, 0];
      for (let by = -reach; by <= reach; by += 1) {
        const weight = Math.exp((-by * by) / (2 * sigma * sigma));
        const there = old[at + by * step];
        if (there === undefined) continue;
        sum += weight * there;
        of += weight;
      }
      return sum / of;
    });
  }
  return { side, grey: Uint8Array.from(light) };
}

const folder = await mkdtemp(join(tmpdir(), "glasscall-codes-"));
const file = join(folder, "code.pgm");
const totals = { of: 0, ours: 0, common: 0, neither: 0 };
console.log("| characters | pixels a module | degrees | blur, modules | we | the common reader |\n|---|---|---|---|---|---|");
for (const text of TEXTS) {
  const { rows } = drawCode({ text });
  for (const module of MODULES) for (const turned of TURNS) for (const blur of BLURS) {
    const { side, grey } = seen(rows, module, turned, blur);
    const pixels = new Uint8ClampedArray(side * side * 4).map((_, at) => (at % 4 === 3 ? 255 : grey[at >> 2]));
    const ours = readCode({ columns: side, rows: side }, pixels).texts.includes(text);
    await writeFile(file, Buffer.concat([Buffer.from(`P5\n${side} ${side}\n255\n`), grey]));
    const told = spawnSync("zbarimg", ["--raw", "--quiet", file], { encoding: "utf8" });
    if (told.error) throw new Error("apt-get install zbar-tools");
    const common = told.stdout.trim() === text;
    totals.of += 1;
    totals.ours += Number(ours);
    totals.common += Number(common);
    totals.neither += Number(!ours && !common);
    console.log(`| ${text.length} | ${module} | ${turned} | ${blur} | ${ours ? "reads" : "no"} | ${common ? "reads" : "no"} |`);
  }
}
await rm(folder, { recursive: true });
console.log(`\nOf ${totals.of} we read ${totals.ours}, the common reader ${totals.common}; neither ${totals.neither}.`);
