/** A browser driven by the W3C's WebDriver protocol, which needs no more than fetch. */
import { spawn } from "node:child_process";
import { once } from "node:events";
import { createServer } from "node:net";
import { LOCALE, ZONE } from "../moment.mjs";
import { until } from "../until.mjs";

/** Zone and tongue of the tests, not those of their machine. */
export const surroundings = { ...process.env, TZ: ZONE, LC_ALL: "C.UTF-8", LANGUAGE: LOCALE.replace("-", "_") };
const KEYS = { Tab: "\uE004", Enter: "\uE007", Escape: "\uE00C" };
/** The protocol's name for the field that holds an element. */
const ELEMENT = "element-6066-11e4-a52e-4f735466cecf";

async function freePort() {
  const server = createServer().listen(0, "127.0.0.1");
  await once(server, "listening");
  const { port } = /** @type {import("node:net").AddressInfo} */ (server.address());
  server.close();
  return port;
}

/**
 * Starts a driver with one session.
 * @param {string[]} command the driver and its arguments, `PORT` where its port goes
 * @param {object} capabilities
 * @returns {Promise<import("./engines.mjs").Driver>}
 */
export async function startWebDriver(command, capabilities) {
  const port = await freePort();
  const [program, ...args] = command.map((word) => word.replace("PORT", String(port)));
  // A group of its own, so that what the driver starts ends with it.
  const driver = spawn(program, args, { stdio: "ignore", detached: true, env: surroundings });
  const stop = () => {
    try {
      process.kill(-Number(driver.pid), "SIGKILL");
    } catch {
      // It has ended by itself.
    }
  };
  const call = async (/** @type {string} */ method, /** @type {string} */ path, /** @type {object} */ body = {}) => {
    const response = await fetch(`http://127.0.0.1:${port}${path}`, {
      method, ...(method === "POST" ? { body: JSON.stringify(body), headers: { "Content-Type": "application/json" } } : {}),
    });
    const { value } = await response.json();
    if (!response.ok) throw new Error(`${method} ${path}: ${value.error}: ${value.message}`);
    return value;
  };
  try {
    await until(`${program} to answer`, () => call("GET", "/status").then(() => true));
    const { sessionId } = await call("POST", "/session", { capabilities: { alwaysMatch: capabilities } });
    const at = `/session/${sessionId}`;
    const find = async (/** @type {string} */ css) => (await call("POST", `${at}/element`, { using: "css selector", value: css }))[ELEMENT];
    const send = async (/** @type {string} */ text) => {
      const active = (await call("GET", `${at}/element/active`))[ELEMENT];
      await call("POST", `${at}/element/${active}/value`, { text });
    };
    return {
      open: (url) => call("POST", `${at}/url`, { url }),
      run: (fn, ...given) => call("POST", `${at}/execute/sync`, { script: `return (${fn}).apply(null, arguments)`, args: given }),
      click: async (css) => call("POST", `${at}/element/${await find(css)}/click`),
      choose: async (css, value) => call("POST", `${at}/element/${await find(`${css} option[value="${value}"]`)}/click`),
      type: send,
      press: (key) => send(KEYS[key]),
      close: async () => {
        await call("DELETE", at).catch(() => {});
        stop();
      },
    };
  } catch (error) {
    stop();
    throw error;
  }
}
