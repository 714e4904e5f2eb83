// Several windows of one case: whatever the order in which their records meet,
// in the end all show the same and no edit is lost.
import assert from "node:assert/strict";
import { test } from "node:test";
import { mergedDrafts, windowOf } from "../../www/storage/windows.js";

/** Numbers that look random and are the same every time (Lehmer, modulus 2^31 − 1). */
function dice(seed) {
  let state = seed;
  return (below) => {
    state = (state * 48271) % 2147483647;
    return state % below;
  };
}

/** Windows whose records travel late, as between processes of a browser. */
function several(count, roll) {
  const start = { setup: { log: [] }, edit: 0, by: "", heads: {} };
  const windows = Array.from({ length: count }, (_, at) => ({
    here: windowOf(start, String.fromCharCode(97 + at)),
    setup: { log: [] },
    record: start,
    inbox: [],
  }));
  const tell = (from) => {
    for (const window of windows) if (window !== from) window.inbox.push(structuredClone(from.record));
  };
  const keep = (window, act) => {
    window.record = { setup: structuredClone(window.setup), ...window.here.next(act) };
    tell(window);
  };
  return {
    windows,
    edit(window, what) {
      const act = (setup) => setup.log.push(what);
      act(window.setup);
      keep(window, act);
    },
    /** One record arrives somewhere. @returns {boolean} whether any was under way */
    deliver() {
      const waiting = windows.filter((window) => window.inbox.length > 0);
      if (waiting.length === 0) return false;
      const window = waiting[roll(waiting.length)];
      const other = window.inbox.shift();
      const { do: what, again } = window.here.meet(other);
      if (what === "repeat" && window.record !== start) tell(window);
      if (what !== "take") return true;
      window.setup = structuredClone(other.setup);
      window.record = other;
      for (const { act } of again) act(window.setup);
      if (again.length > 0) keep(window);
      return true;
    },
  };
}

test("two or three windows that edit at once agree in the end, with every edit once", () => {
  for (let seed = 1; seed <= 400; seed += 1) {
    const roll = dice(seed);
    const count = 2 + roll(2);
    const play = several(count, roll);
    const edits = [];
    for (let at = 0; at < 12; at += 1) {
      const what = `${seed}.${at}`;
      edits.push(what);
      play.edit(play.windows[roll(count)], what);
      for (let some = roll(4); some > 0; some -= 1) play.deliver();
    }
    let rounds = 0;
    while (play.deliver()) {
      rounds += 1;
      assert.ok(rounds < 5000, `seed ${seed}: the windows never come to rest`);
    }
    const [first, ...others] = play.windows.map(({ setup }) => setup.log);
    for (const log of others) assert.deepEqual(log, first, `seed ${seed}`);
    assert.deepEqual([...first].sort(), [...edits].sort(), `seed ${seed}`);
  }
});

test("drafts of both windows stay, and one that was cleared goes", () => {
  assert.deepEqual(mergedDrafts({ a: "1", b: "2" }, { a: "1x", c: "3" }, { a: "1", b: "2", d: "4" }), { a: "1x", c: "3", d: "4" });
  assert.deepEqual(mergedDrafts({}, {}, { a: "theirs" }), { a: "theirs" });
});
