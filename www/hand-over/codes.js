// @ts-check
/** Square codes on the screen: a set-up in one, a whole case or a log in numbered frames. */
import { ask } from "../engine/ask.js";
import { say } from "../language/say.js";
import { badLinkText, DAY_WORDS } from "../language/words/day.js";
import { partsInUse, partsToSend } from "./offered-set-up.js";
import { caseToSend } from "../document/case-content.js";
import { writeFrames } from "./code-series.js";
import { hasAddress, pageAddress } from "./address.js";
import { BadLink, writeLink } from "./link.js";
import { el, one } from "../parts/dom.js";

/** @typedef {import("../start/start.js").App} App */

/** Long enough for a camera to see each frame twice. */
const FRAME_MS = 700;
/** Longer than this a code is too fine for a glance with any phone's camera. */
const LONGEST_IN_ONE = 300;
/** One that has more to say is still easier read in one than in frames. */
const LONGEST_AT_ALL = 1_400;
/** Light modules around a code, as ISO/IEC 18004 asks. */
const MARGIN = 4;

/** What a phone gives another, and how. @param {App} app @param {string} what @returns {Promise<string[]>} */
export async function textsOf({ document, records }, what) {
  if (what === "case") return writeFrames({ case: caseToSend(document), edited: document.edited });
  if (what === "log") return writeFrames({ log: records });
  return setUpTexts(document, hasAddress() ? pageAddress() : undefined);
}

/** One code, and no larger. @param {string[]} texts @param {number} most */
const isWithin = ([text = "", ...more], most) => more.length === 0 && text.length <= most;

/**
 * A set-up in one code: with the case it is of as long as that has room, alone
 * where it has not.
 * @param {import("../document/document.js").Document} document
 * @param {string} [address] that a camera opens; from a file there is none, and another phone reads a frame
 */
export async function setUpTexts(document, address) {
  const inOne = async (/** @type {object} */ sent) => (address === undefined ? writeFrames({ setup: sent }) : [`${address}#now?s=${await writeLink(sent)}`]);
  const whole = await inOne(partsToSend(document));
  if (isWithin(whole, LONGEST_IN_ONE)) return whole;
  const alone = await inOne(partsInUse(document));
  return isWithin(alone, LONGEST_AT_ALL) ? alone : writeFrames({ setup: partsInUse(document) });
}

/** A code as a picture of one path, black on white whatever the look. @param {string} text @param {string} name */
function codePicture(text, name) {
  const { reply } = ask("drawCode", { text });
  if (!reply) throw new BadLink("tooLong");
  const side = reply.rows.length + 2 * MARGIN;
  const dark = reply.rows.flatMap((row, y) =>
    [...row.matchAll(/1+/g)].map((run) => `M${run.index + MARGIN} ${y + MARGIN}h${run[0].length}v1h-${run[0].length}z`));
  const svg = document.createElementNS("http://www.w3.org/2000/svg", "svg");
  for (const [attribute, value] of Object.entries({ viewBox: `0 0 ${side} ${side}`, role: "img", "aria-label": name, "shape-rendering": "crispEdges", class: "code" })) {
    svg.setAttribute(attribute, value);
  }
  const shape = (/** @type {string} */ d, /** @type {string} */ fill) => {
    const path = document.createElementNS("http://www.w3.org/2000/svg", "path");
    path.setAttribute("d", d);
    path.setAttribute("fill", fill);
    return path;
  };
  svg.append(shape(`M0 0h${side}v${side}h-${side}z`, "#fff"), shape(dark.join(""), "#000"));
  return svg;
}

/** @param {HTMLElement} root @param {App} app */
export function mountCodes(root, app) {
  const what = one(root, "[data-do=code-what]", HTMLSelectElement);
  const box = one(root, ".code-box");
  const picture = one(box, ".code-picture");
  const line = one(box, ".code-line");
  const steps = one(box, ".code-steps");
  const pause = one(box, "[data-do=code-pause]");
  /** @type {string[]} */
  let texts = [];
  let at = 0;
  /** @type {ReturnType<typeof setInterval> | undefined} */
  let running;

  const show = () => {
    const name = texts.length === 1 ? DAY_WORDS.code : DAY_WORDS.frame(at + 1, texts.length);
    picture.replaceChildren(codePicture(texts[at] ?? "", name));
    line.textContent = name;
  };
  const step = (/** @type {number} */ by) => {
    at = (at + by + texts.length) % texts.length;
    show();
  };
  const run = (/** @type {boolean} */ on) => {
    clearInterval(running);
    running = on && texts.length > 1 ? setInterval(() => step(1), FRAME_MS) : undefined;
    pause.textContent = running ? say("frames|Pause") : say("frames|Run");
  };
  const close = () => {
    run(false);
    box.hidden = true;
  };
  one(root, "[data-do=show-code]").addEventListener("click", async () => {
    try {
      texts = await textsOf(app, what.value);
    } catch (error) {
      if (!(error instanceof BadLink)) throw error;
      one(root, ".code-message").textContent = badLinkText(error);
      return;
    }
    one(root, ".code-message").textContent = "";
    at = 0;
    box.hidden = false;
    steps.hidden = texts.length === 1;
    show();
    run(!matchMedia("(prefers-reduced-motion: reduce)").matches);
    box.scrollIntoView({ block: "nearest" });
  });
  pause.addEventListener("click", () => run(!running));
  for (const [name, by] of /** @type {[string, number][]} */ ([["code-back", -1], ["code-on", 1]])) {
    one(box, `[data-do=${name}]`).addEventListener("click", () => {
      run(false);
      step(by);
    });
  }
  one(box, "[data-do=code-close]").addEventListener("click", close);
  window.addEventListener("hashchange", close);
  return { update: () => undefined };
}

/** For paper: a code with its caption. @param {string} text @param {string} caption */
export function printedCode(text, caption) {
  return el("figure", { class: "printed-code" }, codePicture(text, caption), el("figcaption", { text: caption }));
}
