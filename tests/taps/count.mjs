/**
 * Counts what the questions of a shooting day cost on the built page, by touch
 * at phone size, and writes the table of day-in-taps.md anew: `npm run taps`.
 * With numbers behind it, those alone are counted and told.
 */
import { readFile, writeFile } from "node:fs/promises";
import { PHONE, launch, open, serveDist } from "../browser/harness.mjs";
import { Hand } from "./hand.mjs";
import { QUESTIONS } from "./questions.mjs";

const TABLE = new URL("../day-in-taps.md", import.meta.url);
const MARK = "<!-- counted -->";

/** @param {import("playwright-core").Browser} browser @param {string} url @param {import("./questions.mjs").Question} question */
async function counted(browser, url, { act, why = "" }) {
  if (!act) return { after: "—", why };
  const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true });
  const { page } = await open(context, url);
  page.setDefaultTimeout(6_000);
  await page.waitForSelector("html[data-ready='every screen']", { timeout: 60_000 });
  const hand = new Hand(page);
  try {
    await act(hand);
    return { after: hand.told(), why };
  } finally {
    await context.close();
  }
}

const only = process.argv[2]?.split(",");
const [browser, server] = await Promise.all([launch(), serveDist()]);
const rows = [];
let failed = 0;
for (const question of QUESTIONS.filter(({ no }) => !only || only.includes(no))) {
  try {
    const { after, why } = await counted(browser, server.url, question);
    rows.push(`| ${question.no} | ${question.what} | ${question.before} | ${after}${why && `: ${why}`} |`);
  } catch (error) {
    failed += 1;
    rows.push(`| ${question.no} | not answered: ${String(error).split("\n").slice(0, 4).join(" ").slice(0, 260)}`);
  }
  console.log(rows.at(-1));
}
await browser.close();
await server.stop();
if (failed > 0) process.exitCode = 1;
else if (!only) {
  const [before, , after] = (await readFile(TABLE, "utf8")).split(MARK);
  await writeFile(TABLE, [before, `\n| question | subject | before | now |\n| --- | --- | --- | --- |\n${rows.join("\n")}\n`, after].join(MARK));
}
