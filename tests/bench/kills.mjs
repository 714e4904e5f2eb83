// How old an edit is that a killed browser may still lose:
// `node tests/bench/kills.mjs [ROUNDS] [chromium | firefox | webkit]`
// streams edits into a page, one every 5 to 125 ms, kills every process of the
// browser at once as a dead battery would, starts it again, and compares what
// is there with the last edit made 100 ms or more before the kill. It prints
// each loss, and how the ages are spread.
//
// No driver is between: a page of this script's own holds the page in a frame
// of the same origin, edits in it, and tells what it did.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync } from "node:fs";
import { mkdtemp, readFile, readdir, rm, writeFile } from "node:fs/promises";
import { createServer } from "node:http";
import { loadavg, tmpdir } from "node:os";
import path from "node:path";
import { fileURLToPath } from "node:url";
import { WEBKIT } from "../browser/engines/engines.mjs";
import { until } from "../browser/until.mjs";

const ROUNDS = Number(process.argv[2] ?? 20);
const ENGINE = process.argv[3] ?? "chromium";
const AIM_MS = 100;
const DIST = process.env.GLASSCALL_DIST ?? fileURLToPath(new URL("../../dist/", import.meta.url));
/** In the surroundings of every process that a round starts: so they are found again. */
const MARK = "GLASSCALL_KILLS";

/** Firefox asks nothing, tells nobody, and starts as usual after it was killed. */
const FIREFOX = {
  "app.update.disabledForTesting": true, "browser.aboutwelcome.enabled": false, "browser.sessionstore.resume_from_crash": false,
  "browser.shell.checkDefaultBrowser": false, "browser.startup.homepage_override.mstone": "ignore", "browser.startup.page": 0,
  "datareporting.policy.dataSubmissionEnabled": false, "network.captive-portal-service.enabled": false,
  "network.connectivity-service.enabled": false, "toolkit.startup.max_resumed_crashes": -1, "toolkit.telemetry.reportingpolicy.firstRun": false,
};

/** How each engine is started on a profile. @type {Record<string, (folder: string, url: string) => Promise<string[]>>} */
const ENGINES = {
  chromium: async (folder, url) => [process.env.CHROMIUM ?? "/usr/bin/chromium", "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync", "--window-size=390,844",
    "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1", `--user-data-dir=${folder}`, url],
  async firefox(folder, url) {
    const prefs = Object.entries(FIREFOX).map(([name, value]) => `user_pref("${name}", ${JSON.stringify(value)});`);
    await writeFile(path.join(folder, "user.js"), prefs.join("\n"));
    return ["/usr/bin/firefox-esr", "--headless", "--no-remote", "--profile", folder, url];
  },
  webkit: async (_, url) => ["xvfb-run", "--auto-servernum", String(WEBKIT), url],
};

/** Runs inside the page that holds the page. */
async function driver() {
  const { hash } = location;
  const tell = (/** @type {object} */ what) => fetch("/told", { method: "POST", body: JSON.stringify(what), keepalive: true });
  const frame = document.querySelector("iframe");
  frame.src = "page/index.html#day";
  const inside = () => frame.contentDocument;
  while (!inside()?.documentElement?.dataset.ready || !inside().querySelector("#slate-note")) await new Promise((done) => setTimeout(done, 50));
  const input = inside().querySelector("#slate-note");
  if (hash === "#read") {
    tell({ kept: input.value });
    return;
  }
  inside().querySelector(".day-slate").setAttribute("open", "");
  let nth = 0;
  const one = () => {
    nth += 1;
    // Told before it is made: no age comes out too small.
    tell({ nth, at: Date.now() });
    // As a thumb does it: a key in a field.
    input.value = `edit ${nth}`;
    input.dispatchEvent(new Event("input", { bubbles: true }));
    setTimeout(one, Number(hash.slice(1)));
  };
  one();
}

/** What the page told since the last round. @type {any[]} */
let told = [];
const KINDS = { html: "text/html", js: "text/javascript", css: "text/css", wasm: "application/wasm", json: "application/json", svg: "image/svg+xml" };
const server = createServer(async (request, response) => {
  const name = new URL(String(request.url), "http://here").pathname.slice(1);
  if (name === "told") {
    let text = "";
    for await (const part of request) text += part;
    told.push(JSON.parse(text));
    response.end();
  } else if (!name.startsWith("page/")) {
    // Beside what the page's service worker answers for.
    response.setHeader("Content-Type", "text/html");
    response.end(`<!doctype html><iframe style="width:390px;height:800px"></iframe><script>(${driver})()</script>`);
  } else {
    const file = path.join(DIST, path.normalize(name.slice("page".length)));
    response.setHeader("Content-Type", KINDS[/** @type {"js"} */ (name.split(".").at(-1))] ?? "application/octet-stream");
    response.statusCode = existsSync(file) ? 200 : 404;
    response.end(existsSync(file) ? await readFile(file) : "");
  }
}).listen(0, "127.0.0.1");
await once(server, "listening");
const url = `http://127.0.0.1:${/** @type {import("node:net").AddressInfo} */ (server.address()).port}/driver.html`;

/** @param {string} folder @param {string} hash */
async function start(folder, hash) {
  const [program, ...args] = await ENGINES[ENGINE](folder, url + hash);
  // What it keeps, and nothing of whoever runs this.
  const own = { HOME: folder, XDG_DATA_HOME: folder, XDG_CACHE_HOME: folder, XDG_CONFIG_HOME: folder, [MARK]: folder };
  spawn(program, args, { stdio: "ignore", detached: true, env: { ...process.env, ...own } });
}

/** Every process of a round, found before the moment of the kill. @param {string} folder */
async function processesOf(folder) {
  const pids = (await readdir("/proc")).filter((name) => /^\d+$/.test(name));
  const lines = await Promise.all(pids.map((pid) => readFile(`/proc/${pid}/environ`, "utf8").catch(() => "")));
  return pids.filter((_, at) => lines[at].includes(`${MARK}=${folder}`)).map(Number);
}

/** @param {number[]} pids */
function kill(pids) {
  for (const pid of pids) {
    try {
      process.kill(pid, "SIGKILL");
    } catch {
      // It has ended with another.
    }
  }
}

/** Until none is left, those that started since too. @param {string} folder */
const gone = (folder) => until("the end of the killed browser", async () => {
  const pids = await processesOf(folder);
  kill(pids);
  return pids.length === 0;
});

let late = 0;
/** @type {number[]} */
const ages = [];
for (let round = 0; round < ROUNDS; round += 1) {
  const folder = await mkdtemp(path.join(tmpdir(), "kills-"));
  const every = 5 + Math.floor((120 * round) / ROUNDS);
  told = [];
  await start(folder, `#${every}`);
  await until("the first edit", () => told.length > 0);
  const pids = await processesOf(folder);
  await new Promise((done) => setTimeout(done, 150 + ((round * 977) % 1850)));
  const killed = Date.now();
  kill(pids);
  await gone(folder);
  const made = told;
  told = [];
  await start(folder, "#read");
  const { kept: note } = await until("what was kept", () => told.find(({ kept }) => kept !== undefined));
  await gone(folder);
  await rm(folder, { recursive: true, force: true, maxRetries: 5 });
  const kept = Number(note.replace("edit ", "")) || 0;
  // What was told may come in another order, or be lost with the page, never be early.
  const lost = made.filter(({ nth }) => nth > kept).map(({ at }) => killed - at);
  const age = Math.max(0, ...lost);
  ages.push(age);
  if (age > AIM_MS) {
    late += 1;
    console.log(`round ${round}: an edit every ${every} ms, ${made.length} made, ${kept} kept, oldest lost ${age} ms, load ${loadavg()[0].toFixed(1)}`);
  }
}
ages.sort((a, b) => a - b);
const share = (/** @type {number} */ part) => ages[Math.min(ages.length - 1, Math.floor(ages.length * part))];
console.log(`${ROUNDS} kills of ${ENGINE}: in ${late} an edit older than ${AIM_MS} ms was lost; half under ${share(0.5)} ms, nine of ten under ${share(0.9)}, worst ${ages.at(-1)}; load ${loadavg().map((one) => one.toFixed(1)).join(" ")}`);
server.close();
server.closeAllConnections();
