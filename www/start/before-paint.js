// @ts-check
// Before the first paint, so that the night look never flashes white and no
// other language stands there first: the look and the language that were kept,
// or the device's. Everything else about them is start.js's and say.js's. Then
// the answer that stood here last, marked as kept until this start has its own.
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

  const showKept = () => {
    const answer = JSON.parse(localStorage.getItem("glasscall-answer") ?? "null");
    const { build } = /** @type {HTMLElement} */ (document.querySelector("main")).dataset;
    // Of this very state, as this very build answers it: a stale stop is a wrong exposure.
    const isThis = answer && build && answer.build === build && answer.edit === kept.edit && answer.by === kept.by && answer.language === root.lang;
    // A very first start begins with the demo.
    const texts = isThis ? answer.texts : localStorage.getItem("glasscall") === null && /** @type {any} */ (globalThis).firstAnswer[root.lang];
    if (!texts || !/^(#now|$)/.test(location.hash)) return;
    for (const [place, text] of Object.entries(texts)) {
      const found = /** @type {any} */ (document.querySelector(place));
      if (text) found.hidden = false;
      found["value" in found && found.type === "text" ? "value" : "textContent"] = text;
    }
    root.dataset.kept = "";
  };
  new MutationObserver((_, parsing) => {
    if (!document.querySelector(".now-demo")) return;
    parsing.disconnect();
    try {
      showKept();
    } catch {
      // Nothing kept that can be shown.
    }
  }).observe(root, { childList: true, subtree: true });
}
