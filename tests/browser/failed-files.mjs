/** A reporter that names the files in which a test failed, a line each. */

/** @param {AsyncIterable<{type: string, data: {name: string, file?: string}}>} events */
export default async function* failedFiles(events) {
  const told = new Set();
  for await (const { type, data } of events) {
    if (type !== "test:fail") continue;
    const { file = data.name } = data;
    if (told.has(file)) continue;
    told.add(file);
    yield `${file}\n`;
  }
}
