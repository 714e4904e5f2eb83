// @ts-check
/** What a tap opens comes into view as far as it fits, its question with its answer. */

/** @param {HTMLElement} page what scrolls */
export function bringWhatOpens(page) {
  page.addEventListener("click", ({ target }) => {
    const fold = target instanceof Element ? target.closest("summary")?.parentElement : null;
    // What lies over the page has its place.
    if (!(fold instanceof HTMLDetailsElement) || fold.matches(".drawer, .shows")) return;
    // It opens after the click, and its fields are made as it does.
    requestAnimationFrame(() => {
      if (!fold.open) return;
      const [box, seen] = [fold.getBoundingClientRect(), page.getBoundingClientRect()];
      page.scrollBy({ top: Math.max(0, Math.min(box.top - seen.top, box.bottom - seen.bottom)) });
    });
  });
}
