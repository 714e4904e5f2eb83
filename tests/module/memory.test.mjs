// What was answered once is answered from memory, and never another's answer.
import assert from "node:assert/strict";
import { test } from "node:test";
import { memory } from "../../www/engine/memory.js";

/** A memory and how often it had to ask. */
function counting() {
  const remembered = memory();
  let count = 0;
  return {
    ask: (name, request) => remembered(name, request, () => ({ reply: { count: (count += 1), list: [1] } })),
    count: () => count,
  };
}

test("the same question is asked once, another always", () => {
  const { ask, count } = counting();
  assert.equal(ask("depth", { a: 1 }), ask("depth", { a: 1 }));
  ask("depth", { a: 2 });
  ask("other", { a: 1 });
  assert.equal(count(), 3);
});

test("what is no number is never taken for another that is none", () => {
  const { ask, count } = counting();
  for (const a of [NaN, Infinity, null, NaN]) ask("depth", { a });
  assert.equal(count(), 4);
});

test("nobody can change what another will be answered", () => {
  const { reply } = counting().ask("depth", {});
  assert.throws(() => (reply.count = 5), TypeError);
  assert.throws(() => reply.list.push(2), TypeError);
});

test("the memory is bounded and keeps what is asked again", () => {
  const { ask, count } = counting();
  const long = "x".repeat(100_000);
  for (let nth = 0; nth < 50; nth += 1) {
    ask("readCase", { text: long + nth });
    ask("depth", {});
  }
  assert.equal(count(), 51);
  ask("readCase", { text: `${long}0` });
  assert.equal(count(), 52, "a question of long ago is still held");
});
