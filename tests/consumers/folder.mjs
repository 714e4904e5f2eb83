// A folder of somebody who installed the package: what `npm pack` makes of
// dist/api, in node_modules, and the README's own samples as their program.
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { mkdir, mkdtemp, readFile, rename, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const PACKAGE = fileURLToPath(new URL("../../dist/api/", import.meta.url));
const FENCE = "`".repeat(3);

/** What the samples write, as the README says beside them. */
export const SAID = '[[5,"T2.8"],["outOfRange","density",12]]';

/** @param {string} program @param {string[]} args @param {string} cwd @param {Record<string, string>} [env] */
export function run(program, args, cwd, env = {}) {
  const ran = spawnSync(program, args, { cwd, encoding: "utf8", env: { ...process.env, ...env } });
  if (ran.error) throw ran.error;
  if (ran.status !== 0) throw new Error(`${program} ${args.join(" ")} ended with ${ran.status}\n${ran.stdout}\n${ran.stderr}`);
  return ran.stdout;
}

/** Python with a package in a folder beside this one. @param {string} wanted name==version @returns {string} the program */
export function python(wanted) {
  const folder = fileURLToPath(new URL(".venv", import.meta.url));
  const program = join(folder, "bin/python");
  if (!existsSync(program)) run("python3", ["-m", "venv", folder], "/");
  run(program, ["-m", "pip", "install", "--quiet", "--disable-pip-version-check", wanted], folder);
  return program;
}

/** What would be published, file by file. @param {string} to */
function packed(to) {
  const [{ filename, files }] = JSON.parse(run("npm", ["pack", "--json", "--pack-destination", to], PACKAGE));
  return { archive: join(to, filename), files: files.map((/** @type {{ path: string }} */ { path }) => path) };
}

/**
 * The README's samples as one program that tells what they write.
 * @param {(text: string) => string} tell how the program tells it
 */
export async function program(tell) {
  const readme = await readFile(join(PACKAGE, "README.md"), "utf8");
  const samples = readme.split(`${FENCE}js\n`).slice(1).map((rest) => rest.split(FENCE)[0]);
  const names = samples.map((sample) => sample.match(/import \{(.*)\}/)?.[1]);
  const bodies = samples.map((sample) => `{${sample.replace(/import .*\n/, "").replaceAll("console.log(", "told.push([").replace(/(told\.push\(\[.*)\);/g, "$1]);")}}`);
  return `import { ${names.join(",")} } from "glasscall";\nconst told = [];\n${bodies.join("\n")}\n${tell("JSON.stringify(told)")}\n`;
}

/**
 * @param {"module" | "commonjs"} type what the folder says of its scripts
 * @returns {Promise<{ at: string, files: string[], write: (name: string, text: string) => Promise<void>, remove: () => Promise<void> }>}
 */
export async function consumer(type) {
  const at = await mkdtemp(join(tmpdir(), "glasscall-consumer-"));
  const { archive, files } = packed(at);
  run("tar", ["-xzf", archive], at);
  await mkdir(join(at, "node_modules"));
  await rename(join(at, "package"), join(at, "node_modules/glasscall"));
  await rm(archive);
  await writeFile(join(at, "package.json"), JSON.stringify({ private: true, type }));
  return {
    at,
    files,
    write: (name, text) => writeFile(join(at, name), text),
    remove: () => rm(at, { recursive: true }),
  };
}
