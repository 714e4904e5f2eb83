// Times one map of 1920 × 1080 natively, as WebAssembly without and with SIMD,
// and in vectorised NumPy where Python has it, and prints the ratios.
//
//   node tests/bench/frame-map.mjs          (PYTHON names another interpreter)
import { execFileSync } from "node:child_process";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../..", import.meta.url));
const test = ["test", "--release", "--package", "glasscall-web", "--test", "frame_map_speed"];
const wasm = ["--target", "wasm32-unknown-unknown"];

/** @param {string} command @param {string[]} args @param {Record<string, string>} env */
function run(command, args, env = {}) {
  return execFileSync(command, args, {
    cwd: root,
    env: { ...process.env, ...env },
    encoding: "utf8",
    stdio: ["ignore", "pipe", "pipe"],
  });
}

/** @param {string} output @returns {Record<string, number>} */
function times(output) {
  const lines = output.matchAll(/frame_map (\S+) ([\d.]+)/g);
  return Object.fromEntries([...lines].map(([, name, ms]) => [name, Number(ms)]));
}

/** @param {string} features */
function inNode(features) {
  const env = {
    CARGO_ENCODED_RUSTFLAGS: `-C\x1ftarget-feature=${features}`,
    CARGO_TARGET_DIR: `${root}target/bench${features}`,
    // The runner as it is built: it must not be built again with these flags.
    CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUNNER: `${root}target/tool/glasscall-pack runner`,
    WASM_BINDGEN_TEST_ONLY_NODE: "1",
  };
  return times(run("cargo", [...test, ...wasm, "--", "--include-ignored", "--nocapture"], env));
}

/** @returns {Record<string, number> | undefined} */
function inNumPy() {
  try {
    return times(run(process.env.PYTHON ?? "python3", ["tests/bench/frame_map.py"]));
  } catch {
    console.log("no NumPy here: left out");
    return undefined;
  }
}

run("cargo", ["build", "--locked", "--profile", "tool", "--package", "glasscall-pack"]);
const native = times(run("cargo", [...test, "--", "--ignored", "--nocapture"]));
const scalar = inNode("-simd128");
const simd = inNode("+simd128");
const numpy = inNumPy();

console.log("ms for 1920 × 1080   native  scalar    SIMD   NumPy   SIMD/native  NumPy/SIMD");
for (const name of Object.keys(native)) {
  const cells = [native, scalar, simd, numpy].map((set) => (set?.[name] ?? NaN).toFixed(2).padStart(8));
  const ratio = (simd[name] / native[name]).toFixed(2).padStart(13);
  const gain = ((numpy?.[name] ?? NaN) / simd[name]).toFixed(1).padStart(12);
  console.log(name.padEnd(18) + cells.join("") + ratio + gain);
}
