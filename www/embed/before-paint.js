// @ts-check
// Before anything is said: the language the host asks for by the fragment, or
// the reader's. A sandboxed frame cannot see the page it stands in.
{
  const asked = new URLSearchParams(location.hash.slice(1)).get("lang");
  const wanted = [asked, ...navigator.languages].map((tag) => String(tag).slice(0, 2).toLowerCase());
  // The host may speak before the calculator has started; messages.js listens then.
  window.addEventListener("message", (event) => {
    if (event.source === window.parent) /** @type {any} */ (window).glasscallHeard = event;
  });
  const root = document.documentElement;
  root.lang = wanted.find((tag) => ["en", "de"].includes(tag)) ?? "en";
}
