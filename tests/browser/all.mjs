/**
 * All tests in the browsers, three files at a time. What fails there is run once
 * more, a file at a time: twice is a fault; once is told, and is a test that a
 * busy machine can disturb or a fault that comes and goes.
 */
import { spawnSync } from "node:child_process";
import { mkdirSync, readFileSync, readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";

const here = fileURLToPath(new URL(".", import.meta.url));
const output = fileURLToPath(new URL("../output/", import.meta.url));
const reporter = fileURLToPath(new URL("failed-files.mjs", import.meta.url));
const failures = `${output}failed-in-browsers.txt`;

/** @param {string[]} files @param {number} atOnce @returns {string[]} those with a test that failed */
function run(files, atOnce) {
  const { status } = spawnSync(process.execPath, [
    "--test", "--test-force-exit", `--test-concurrency=${atOnce}`,
    "--test-reporter=tap", "--test-reporter-destination=stdout",
    `--test-reporter=${reporter}`, `--test-reporter-destination=${failures}`, ...files,
  ], { stdio: "inherit" });
  if (status === 0) return [];
  const failed = readFileSync(failures, "utf8").split("\n").filter(Boolean);
  // It broke off before any test could fail.
  return failed.length > 0 ? failed : files;
}

mkdirSync(output, { recursive: true });
const first = run(readdirSync(here).filter((name) => name.endsWith(".test.mjs")).map((name) => here + name), 3);
const names = (/** @type {string[]} */ files) => files.map((file) => file.replace(here, "")).join(", ");
if (first.length > 0) console.log(`# failed beside others, now once more: ${names(first)}`);
const second = first.length > 0 ? run(first, 1) : [];
if (first.length > second.length) console.log(`# failed once and not again: ${names(first.filter((file) => !second.includes(file)))}`);
if (second.length > 0) console.log(`# failed twice: ${names(second)}`);
process.exitCode = second.length > 0 ? 1 : 0;
