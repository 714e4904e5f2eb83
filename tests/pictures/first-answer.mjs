// Writes what Now answers of the demo, as a very first start shows it before its
// script is there: `node pictures/first-answer.mjs`, then build again.
import { writeFile } from "node:fs/promises";
import { PHONE, launch, open, serveDist } from "../browser/harness.mjs";
import { until } from "../browser/until.mjs";

const HEAD = `// @ts-check
// What Now answers of the demo, in each language: a very first start shows it, marked,
// until it has worked it out. Written by tests/pictures/first-answer.mjs; kept-answer.test.mjs
// compares it with what the page says then.
`;

const [browser, server] = await Promise.all([launch(), serveDist()]);
/** @type {Record<string, Record<string, string>>} */
const answers = {};
for (const [language, locale] of [["en", "en-GB"], ["de", "de-DE"]]) {
  const context = await browser.newContext({ viewport: PHONE, locale });
  const { page } = await open(context, server.url);
  answers[language] = await until("the answer to be kept", () => page.evaluate(() => JSON.parse(localStorage.getItem("glasscall-answer") ?? "null")?.texts));
  await context.close();
}
const rows = Object.entries(answers).map(([language, texts]) => `    ${language}: ${JSON.stringify(texts)},`);
await writeFile(new URL("../../www/start/first-answer.js", import.meta.url), `${HEAD}Object.assign(globalThis, {\n  firstAnswer: {\n${rows.join("\n")}\n  },\n});\n`);
await browser.close();
await server.stop();
