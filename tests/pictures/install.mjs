// Makes what a device shows before and after it installs the page: icons from
// icon.svg, and pictures of the built page. `node pictures/install.mjs`
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { PHONE, DESK, drawn, launch, open, serveDist } from "../browser/harness.mjs";

const TO = new URL("../../www/install/", import.meta.url);
const DEEP = "#14323b";
/** A mask may cut to a circle of four fifths: https://www.w3.org/TR/appmanifest/#icon-masks */
const SAFE = 0.8;

const [browser, server] = await Promise.all([launch(), serveDist()]);
await mkdir(TO, { recursive: true });

const svg = (await readFile(new URL("../../www/icon.svg", import.meta.url))).toString("base64");
for (const size of [192, 512]) {
  for (const [name, share, ground] of [["icon", 1, "transparent"], ["full", SAFE, DEEP]]) {
    const page = await browser.newPage({ viewport: { width: size, height: size } });
    await page.setContent(`<body style="margin:0;height:100vh;display:grid;place-items:center;background:${ground}">
      <img src="data:image/svg+xml;base64,${svg}" width="${size * share}" height="${size * share}">`);
    await page.locator("img").evaluate((image) => image.decode());
    await page.screenshot({ path: new URL(`${name}-${size}.png`, TO).pathname, omitBackground: true });
    await page.close();
  }
}

for (const [name, screen, viewport, scale] of [["now-phone", "now", PHONE, 2], ["frame-phone", "frame", PHONE, 2], ["now-desk", "now", DESK, 1]]) {
  const context = await browser.newContext({ viewport, colorScheme: "light" });
  const { page } = await open(context, `${server.url}#${screen}`);
  await page.waitForSelector("html[data-ready='every screen']", { state: "attached" });
  await drawn(page);
  const session = await context.newCDPSession(page);
  const { data } = await session.send("Page.captureScreenshot", { format: "webp", quality: 60, clip: { x: 0, y: 0, ...viewport, scale } });
  await writeFile(new URL(`${name}.webp`, TO), Buffer.from(data, "base64"));
  await context.close();
}
await browser.close();
await server.stop();
