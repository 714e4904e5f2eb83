// @ts-check
// Before the first paint, so that the night look never flashes white and no
// other language stands there first: the look and the language that were kept,
// or the device's. Everything else about them is start.js's and say.js's.
{
  const root = document.documentElement;
  /** @type {any} */
  let kept = {};
  try {
    kept = JSON.parse(localStorage.getItem("glasscall") ?? "{}") ?? {};
  } catch {
    // A window that may keep nothing, or a damaged record: as the device has it.
  }
  if (kept.look) root.dataset.look = kept.look;
  if (kept.setup && !kept.setup.demo) root.dataset.own = "";
  const wanted = [kept.shows?.language, ...navigator.languages].map((tag) => String(tag).slice(0, 2));
  root.lang = wanted.find((tag) => ["en", "de"].includes(tag)) ?? "en";
  if (["ar", "fa", "he", "ur"].includes(root.lang)) root.dir = "rtl";
}
