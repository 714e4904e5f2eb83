// How old an edit is that a killed browser may still lose: `node tests/bench/kills.mjs 200`
// streams edits into a page, one every 5 to 125 ms, kills every process of the
// browser at once as a dead battery would, starts it again, and compares what
// is there with the last edit made 100 ms or more before the kill. It prints
// each loss and the worst.
import { loadavg, tmpdir } from "node:os";
import path from "node:path";
import { mkdtemp, readFile, readdir, rm } from "node:fs/promises";
import { launchKept, open, serveDist } from "../browser/harness.mjs";

const ROUNDS = Number(process.argv[2] ?? 20);
const AIM_MS = 100;

/** Edits, each with the moment it was made, written down before it is made. */
const stream = (page, every) => page.evaluate((ms) => {
  const input = document.querySelector("#slate-note");
  let nth = 0;
  const one = () => {
    nth += 1;
    // As a thumb does it: a key in a field.
    // The harness sets the page's clock; this one it leaves alone.
    const at = performance.now();
    window.told(nth, at);
    input.value = `edit ${nth}`;
    input.dispatchEvent(new Event("input", { bubbles: true }));
    setTimeout(one, ms);
  };
  one();
}, every);

/** Every process that works on a profile, found before the moment of the kill. @param {string} folder */
async function processesOf(folder) {
  const pids = (await readdir("/proc")).filter((name) => /^\d+$/.test(name));
  const lines = await Promise.all(pids.map((pid) => readFile(`/proc/${pid}/cmdline`, "utf8").catch(() => "")));
  return pids.filter((_, at) => lines[at].includes(folder)).map(Number);
}

const server = await serveDist();
let late = 0;
const ages = [];
for (let round = 0; round < ROUNDS; round += 1) {
  const folder = await mkdtemp(path.join(tmpdir(), "kills-"));
  const every = 5 + Math.floor((120 * round) / ROUNDS);
  const first = await launchKept(folder);
  const { page } = await open(first.context, `${server.url}#day`);
  const told = [];
  await page.exposeBinding("told", (_, nth, at) => {
    told.push({ nth, at });
  });
  await page.evaluate(() => document.querySelector(".day-slate").setAttribute("open", ""));
  const pids = await processesOf(folder);
  // The page's zero by this process's clock: rather too early, so that no age comes out too small.
  const before = Date.now();
  const zero = before - (await page.evaluate(() => performance.now()));
  await stream(page, every);
  await page.waitForTimeout(150 + ((round * 977) % 1850));
  const killed = Date.now();
  for (const pid of pids) process.kill(pid, "SIGKILL");
  // What started since, if anything.
  await first.kill();
  const again = await launchKept(folder);
  const { page: next } = await open(again.context, `${server.url}#day`);
  const kept = Number((await next.locator("#slate-note").inputValue()).replace("edit ", "")) || 0;
  await again.context.close();
  await rm(folder, { recursive: true, force: true });
  // The binding's message may be lost with the page, never be early.
  const firstLost = told.find(({ nth }) => nth > kept);
  const age = firstLost ? Math.round(killed - zero - firstLost.at) : 0;
  ages.push(age);
  if (age > AIM_MS) {
    late += 1;
    console.log(`round ${round}: an edit every ${every} ms, ${told.length} made, ${kept} kept, oldest lost ${age} ms, load ${loadavg()[0].toFixed(1)}`);
  }
}
ages.sort((a, b) => a - b);
console.log(`${ROUNDS} kills: in ${late} an edit older than ${AIM_MS} ms was lost; median ${ages[ages.length >> 1]} ms, worst ${ages.at(-1)} ms; load ${loadavg().map((one) => one.toFixed(1)).join(" ")}`);
await server.stop();
