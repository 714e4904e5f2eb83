// @ts-check
/** The questions about light, one at a time; the one that was open last opens again. */
import { all } from "../../parts/dom.js";
import { speak } from "../../parts/speak.js";

const FIRST = "sun";

/** @param {HTMLElement} root */
export function mountViews(root) {
  let open = FIRST;
  const show = () => {
    const [screen, wanted] = location.hash.slice(1).split("?");
    if (screen !== "light") return;
    if (wanted && root.querySelector(`.light-views a[href="#light?${CSS.escape(wanted)}"]`)) open = wanted;
    for (const part of all(root, "[data-view]")) part.hidden = !part.dataset.view?.split(" ").includes(open);
    for (const link of all(root, ".light-views a")) {
      if (link.getAttribute("href") === `#light?${open}`) link.setAttribute("aria-current", "true");
      else link.removeAttribute("aria-current");
    }
  };
  const tell = () => {
    if (root.hidden) return;
    const answer = root.querySelector(`.light-answer [data-view="${open}"] [data-answer]`);
    const line = answer?.querySelector(".plan-line, .plate-why, .sky-verdict");
    if (line) speak([...line.children].map((part) => part.textContent).join(" ") || String(line.textContent));
  };
  window.addEventListener("hashchange", () => {
    show();
    tell();
  });
  // What was drawn before anybody looked is told when it is seen.
  new MutationObserver(tell).observe(root, { attributeFilter: ["hidden"] });
  show();
  return {
    /** Reads out the answer that is seen. */
    tell,
  };
}
