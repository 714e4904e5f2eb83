/** What pictures of the page hold, pixel by pixel. */

/**
 * Looks at pictures as a canvas has them, in a page that shows nothing else.
 * @template T
 * @param {import("playwright-core").Page} blank
 * @param {Buffer[]} pictures as PNG
 * @param {(pictures: ImageData[]) => T} look runs in that page
 * @returns {Promise<T>}
 */
export async function withPixels(blank, pictures, look) {
  const decoded = await blank.evaluateHandle((all) => Promise.all(all.map(async (data) => {
    const image = new Image();
    image.src = `data:image/png;base64,${data}`;
    await image.decode();
    const canvas = document.createElement("canvas");
    [canvas.width, canvas.height] = [image.width, image.height];
    const context = canvas.getContext("2d");
    context.drawImage(image, 0, 0);
    return context.getImageData(0, 0, image.width, image.height);
  })), pictures.map((picture) => picture.toString("base64")));
  try {
    return await decoded.evaluate(look);
  } finally {
    await decoded.dispose();
  }
}
