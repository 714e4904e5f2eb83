// A place in a list may be empty: every file is held to it but those that owe it,
// and those owe no more than they did. Whoever mends one takes its number down.
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";

/** How many places each file still takes for granted. @type {Record<string, number>} */
const OWED = {
  "day/notation.js": 2,
  "day/print-screen.js": 2,
  "day/print.js": 3,
  "day/sentence.js": 1,
  "embed/look.js": 3,
  "embed/more-stills.js": 3,
  "embed/presets.js": 3,
  "hand-over/address.js": 1,
  "hand-over/code-series.js": 5,
  "hand-over/codes.js": 3,
  "hand-over/deflate.js": 25,
  "hand-over/link.js": 2,
  "hand-over/opened-files.js": 1,
  "hand-over/scan.js": 5,
  "hand-over/snippet.js": 1,
  "language/say.js": 2,
  "language/words/case-fields.js": 3,
  "language/words/fit.js": 6,
  "language/words/planning.js": 1,
  "language/words/shared.js": 3,
  "language/words/sizes.js": 1,
  "language/words/working.js": 3,
  "parts/choices.js": 2,
  "parts/converter.js": 6,
  "parts/field.js": 5,
  "parts/kinds.js": 6,
  "parts/picks.js": 1,
  "parts/side-view.js": 1,
  "parts/sky-pictures.js": 7,
  "parts/slider.js": 2,
  "parts/stack-notes.js": 2,
  "parts/stack.js": 4,
  "parts/stop-pad.js": 3,
  "parts/turned.js": 1,
  "screens/case/compare-rigs.js": 1,
  "screens/case/graduated-edge.js": 3,
  "screens/case/lenses.js": 21,
  "screens/case/listed-text.js": 1,
  "screens/case/order.js": 5,
  "screens/case/packing.js": 10,
  "screens/case/pieces.js": 16,
  "screens/case/rigs.js": 21,
  "screens/day/match.js": 1,
  "screens/fit/fit.js": 7,
  "screens/fit/openings.js": 6,
  "screens/fit/turned.js": 1,
  "screens/frame/frame.js": 1,
  "screens/frame/grads.js": 2,
  "screens/frame/picture.js": 7,
  "screens/frame/slides.js": 2,
  "screens/light/drift.js": 3,
  "screens/light/light.js": 1,
  "screens/light/plan.js": 1,
  "screens/light/sky.js": 1,
  "screens/light/turned.js": 1,
  "screens/now/answer.js": 2,
  "screens/now/colour.js": 6,
  "screens/now/depth.js": 1,
  "screens/now/now.js": 7,
  "screens/now/ramp.js": 4,
  "screens/now/rig.js": 2,
  "screens/now/said.js": 2,
  "screens/now/settings.js": 2,
  "screens/now/side-by-side.js": 4,
  "screens/now/turned.js": 2,
  "screens/now/wish.js": 1,
};

const folder = fileURLToPath(new URL("..", import.meta.url));
const { stdout, error } = spawnSync("tsc", ["--project", "tsconfig.indexed.json", "--pretty", "false"], { cwd: folder, encoding: "utf8" });
if (error) throw error;
/** @type {Record<string, string[]>} */
const found = {};
for (const line of stdout.split("\n")) {
  const [, file] = line.match(/modules\/([^(]+)\(\d+,\d+\): error/) ?? [];
  if (file) (found[file] ??= []).push(line);
  else if (/error TS/.test(line)) throw new Error(line);
}
const worse = Object.entries(found).filter(([file, lines]) => lines.length > (OWED[file] ?? 0));
const better = Object.entries(OWED).filter(([file, owed]) => (found[file]?.length ?? 0) < owed);
for (const [file, lines] of worse) console.error(`${file}: ${lines.length} places taken for granted, ${OWED[file] ?? 0} owed\n${lines.join("\n")}`);
for (const [file, owed] of better) console.error(`${file}: ${found[file]?.length ?? 0} left of ${owed}; take the number down in types/indexed.mjs`);
process.exitCode = worse.length + better.length > 0 ? 1 : 0;
