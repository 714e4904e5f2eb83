/**
 * What a page shows follows what was done to it by some turns: it draws in the
 * next frame, asks a worker, fetches a screen. A test reads when all that was
 * begun is over, so that it reads what a person would see.
 */

/** What has not ended by then never will, as a database that hangs: it is waited for no more. */
export const MOST_MS = 3000;

/** Runs inside a page, before its own scripts: counts what it begins and has not ended. */
export function countUnfinished() {
  const all = /** @type {any} */ (globalThis);
  if (all.unfinished) return;
  const open = (all.unfinished = new Set());
  /** A timer that is no turn is none to wait for: a notice stands for seconds. */
  const TURN_MS = 400;
  all.turn = all.setTimeout.bind(all);

  /** Counts from now until it is called. @param {string} what */
  const begun = (what) => {
    const mark = { what };
    open.add(mark);
    return () => open.delete(mark);
  };
  /** @param {any} owner @param {string} name @param {(plain: Function) => Function} make */
  const instead = (owner, name, make) => {
    if (typeof owner?.[name] === "function") owner[name] = make(owner[name]);
  };
  /** Calls back once, by what `begin` gives and `end` takes back. @param {string} begin @param {string} end @param {(rest: any[]) => boolean} counts */
  const later = (begin, end, counts) => {
    const ends = new Map();
    instead(all, begin, (plain) => (/** @type {any} */ act, /** @type {any[]} */ ...rest) => {
      if (typeof act !== "function" || !counts(rest)) return plain.call(all, act, ...rest);
      const over = begun(begin);
      const id = plain.call(all, (/** @type {any[]} */ ...given) => {
        ends.delete(id);
        // What it begins itself is counted before it is over.
        try { act(...given); } finally { over(); }
      }, ...rest);
      ends.set(id, over);
      return id;
    });
    instead(all, end, (plain) => (/** @type {any} */ id) => {
      ends.get(id)?.();
      ends.delete(id);
      plain.call(all, id);
    });
  };
  later("setTimeout", "clearTimeout", ([ms = 0]) => ms <= TURN_MS);
  // In a page out of sight no frame comes.
  later("requestAnimationFrame", "cancelAnimationFrame", () => !document.hidden);
  later("requestIdleCallback", "cancelIdleCallback", () => true);

  /** A promise is one turn longer open than it takes, for whoever awaits it. @param {any} owner @param {string} name */
  const promised = (owner, name) => instead(owner, name, (plain) => function (/** @type {any[]} */ ...given) {
    const over = begun(name);
    const made = plain.apply(/** @type {any} */ (this), given);
    Promise.resolve(made).catch(() => {}).then(() => all.turn(over));
    return made;
  });
  promised(all, "fetch");
  promised(all.scheduler, "yield");
  for (const name of ["arrayBuffer", "blob", "json", "text"]) promised(all.Response?.prototype, name);
  for (const name of ["compile", "instantiate", "compileStreaming", "instantiateStreaming"]) promised(all.WebAssembly, name);

  /** @param {any} kind @param {string[]} names whose requests tell when they are over */
  const requested = (kind, ...names) => {
    for (const name of names) {
      instead(kind?.prototype, name, (plain) => function (/** @type {any[]} */ ...given) {
        const over = begun(name);
        const request = plain.apply(/** @type {any} */ (this), given);
        for (const end of ["success", "error", "blocked"]) request.addEventListener(end, () => all.turn(over));
        return request;
      });
    }
  };
  requested(all.IDBFactory, "open", "deleteDatabase");
  requested(all.IDBObjectStore, "get", "getAll", "put", "add", "delete", "clear", "count", "openCursor");

  // A worker ends a question by its number, or all of them by failing.
  const asked = new WeakMap();
  const of = (/** @type {any} */ worker) => {
    let questions = asked.get(worker);
    if (questions) return questions;
    asked.set(worker, (questions = new Map()));
    const end = () => questions.forEach((/** @type {() => void} */ over) => all.turn(over));
    worker.addEventListener("error", end);
    worker.addEventListener("message", (/** @type {any} */ { data }) => (data?.failed ? end() : data?.number !== undefined && all.turn(questions.get(data.number))));
    return questions;
  };
  instead(all.Worker?.prototype, "postMessage", (plain) => function (/** @type {any[]} */ ...given) {
    const worker = /** @type {any} */ (this);
    if (given[0]?.name !== undefined) of(worker).set(given[0].number, begun(`worker ${given[0].name}`));
    return plain.apply(worker, given);
  });
  instead(all.Worker?.prototype, "terminate", (plain) => function () {
    const worker = /** @type {any} */ (this);
    of(worker).forEach((/** @type {() => void} */ over) => over());
    return plain.call(worker);
  });
}

/** Runs inside a page: until nothing of it is unfinished for two turns on end. @param {number} most in milliseconds */
export async function untilDone(most) {
  const all = /** @type {any} */ (globalThis);
  const { unfinished: open, turn } = all;
  if (!open) return;
  const end = performance.now() + most;
  for (let still = 0; still < 2 && performance.now() < end;) {
    await new Promise((done) => turn(done, still === 0 && open.size > 0 ? 10 : 0));
    still = open.size === 0 ? still + 1 : 0;
  }
  if (performance.now() >= end) open.clear();
}

/** What a page has asked of its server and not had. @type {WeakMap<import("playwright-core").Page, Set<object>>} */
const onTheWay = new WeakMap();

/** How a locator reads. */
const READS = ["allInnerTexts", "allTextContents", "boundingBox", "count", "evaluate", "evaluateAll", "getAttribute", "innerText", "inputValue", "isChecked", "isDisabled", "isEnabled", "isHidden", "isVisible", "textContent"];

/** Pages in which no turn comes, as where scripts are off. @type {WeakSet<import("playwright-core").Page>} */
const still = new WeakSet();

/** @param {import("playwright-core").Page} page @param {Function} evaluate its own */
async function done(page, evaluate) {
  if (still.has(page)) return;
  const end = performance.now() + MOST_MS;
  const open = onTheWay.get(page) ?? new Set();
  for (;;) {
    // A page that is just replaced or closed is told by the reading itself.
    const asked = evaluate.call(page, untilDone, MOST_MS).then(() => true, () => true);
    const turns = await Promise.race([asked, new Promise((late) => setTimeout(late, 2 * MOST_MS).unref())]);
    if (!turns) still.add(page);
    if (performance.now() >= end) open.clear();
    if (open.size === 0) return;
    await new Promise((soon) => setTimeout(soon, 10));
  }
}

/** Whatever reads this page reads it when it is done. @param {import("playwright-core").Page} page */
export function readWhenDone(page) {
  const open = new Set();
  onTheWay.set(page, open);
  page.on("request", (request) => open.add(request));
  for (const end of /** @type {const} */ (["requestfinished", "requestfailed"])) page.on(end, (/** @type {object} */ request) => open.delete(request));

  const { evaluate } = page;
  for (const name of /** @type {const} */ (["evaluate", "pdf", "screenshot", "waitForFunction"])) {
    const plain = /** @type {Function} */ (page[name]);
    page[name] = async (/** @type {any[]} */ ...given) => {
      await done(page, evaluate);
      return plain.apply(page, given);
    };
  }
  const kind = Object.getPrototypeOf(page.locator("html"));
  if (kind.readsWhenDone) return;
  kind.readsWhenDone = true;
  for (const name of READS) {
    const plain = kind[name];
    /** @this {import("playwright-core").Locator} @param {any[]} given */
    kind[name] = async function whenDone(...given) {
      await done(this.page(), Object.getPrototypeOf(this.page()).evaluate);
      return plain.apply(this, given);
    };
  }
}
