// @ts-check
/** Case: pieces and rig, lenses and rings, packing, order, file; one at a time. */
import { mountCase } from "./pieces.js";
import { mountCaseFile } from "./file.js";
import { mountDayOrder } from "./order.js";
import { mountLenses } from "./lenses.js";
import { mountPacking } from "./packing.js";
import { mountRigs } from "./rigs.js";
import { mountSystems } from "./compare-rigs.js";
import { all } from "../../parts/dom.js";
import { speakAnswers } from "../../parts/speak.js";

const FIRST = "pieces";

/** @param {HTMLElement} root @param {import("../../start/start.js").App} app @returns {() => void} */
export function mountWholeCase(root, app) {
  const parts = [mountCase, mountRigs, mountLenses, mountPacking, mountDayOrder, mountSystems, mountCaseFile]
    .map((mount) => mount(root, app));
  speakAnswers(root);
  const showPart = () => {
    const [screen, wanted] = location.hash.slice(1).split("?");
    if (screen !== "case") return;
    const known = root.querySelector(`[data-part="${CSS.escape(wanted ?? "")}"]`);
    const name = known ? wanted : FIRST;
    for (const part of all(root, "[data-part]")) part.hidden = part.dataset.part !== name;
    for (const link of all(root, ".case-parts a")) {
      if (link.getAttribute("href") === `#case?${name}`) link.setAttribute("aria-current", "true");
      else link.removeAttribute("aria-current");
    }
  };
  window.addEventListener("hashchange", showPart);
  showPart();
  return () => parts.forEach((show) => show());
}
