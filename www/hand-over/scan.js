// @ts-check
/** Square codes read by the camera or from a picture, and what they bring. */
import { ask } from "../engine/ask.js";
import { DAY_WORDS } from "../language/words/day.js";
import { refusalSentence } from "../language/words/shared.js";
import { badText, offerSetup } from "./offered-set-up.js";
import { FrameCollector } from "./code-series.js";
import { BadLink, linkIn } from "./link.js";
import { mergedCase } from "./merge-case.js";
import { readableOf } from "../day/readable.js";
import { merged } from "../day/record.js";
import { caseToSend, takeShared } from "../document/case-content.js";
import { one } from "../parts/dom.js";

/** @typedef {import("../start/start.js").App} App */

/** Pixels a side that are looked at; more only takes time. */
const LONGEST_SIDE = 1_280;
const MIDDLE_SIDE = 640;
const PAUSE_MS = 120;

/** @param {HTMLElement} root @param {App} app */
export function mountScan(root, app) {
  const box = one(root, ".scan-box");
  const video = /** @type {HTMLVideoElement} */ (one(box, "video"));
  const message = one(root, ".scan-message");
  const tell = (/** @type {string} */ text) => {
    if (message.textContent !== text) message.textContent = text;
  };
  const frames = new FrameCollector();
  /** @type {MediaStream | undefined} */
  let stream;

  const stop = () => {
    for (const track of stream?.getTracks() ?? []) track.stop();
    stream = undefined;
    video.srcObject = null;
    box.hidden = true;
  };

  /** Takes what one picture says; whether there is nothing more to look for. @param {string[]} texts */
  const take = async (texts) => {
    let done = false;
    for (const text of texts) {
      const link = linkIn(`#${text.split("#")[1] ?? ""}`);
      if (link) {
        await offerSetup(app, link);
        tell(DAY_WORDS.scanned);
        done = true;
        continue;
      }
      const seen = frames.take(text);
      if (!seen) tell(DAY_WORDS.foreignCode);
      else if (seen.missing.length > 0) tell(DAY_WORDS.frames(seen.count - seen.missing.length, seen.count, seen.missing));
      else {
        tell(await takeWhole(app, await frames.read(seen.name)));
        done = true;
      }
    }
    return done;
  };
  /** @param {() => Promise<boolean>} act */
  const orSayWhy = async (act) => {
    try {
      return await act();
    } catch (error) {
      if (!(error instanceof BadLink)) throw error;
      tell(badText(error));
      return false;
    }
  };

  let closer = false;
  const look = async () => {
    if (!stream) return;
    closer = !closer;
    const texts = video.videoWidth > 0 ? textsIn(video, video.videoWidth, video.videoHeight, closer) : [];
    if (texts.length > 0 && (await orSayWhy(() => take(texts)))) stop();
    else setTimeout(look, PAUSE_MS);
  };
  one(root, "[data-do=scan]").addEventListener("click", async () => {
    stop();
    tell("");
    try {
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment", width: { ideal: 1280 } } });
    } catch {
      // No camera, no permission, or a page that may not ask.
      tell(DAY_WORDS.noCamera);
      return;
    }
    box.hidden = false;
    video.srcObject = stream;
    await video.play();
    tell(DAY_WORDS.lookForCode);
    look();
  });
  one(root, "[data-do=scan-stop]").addEventListener("click", stop);
  window.addEventListener("hashchange", stop);
  one(root, "[data-do=scan-picture]").addEventListener("change", async (/** @type {Event} */ event) => {
    const input = /** @type {HTMLInputElement} */ (event.target);
    const files = [...(input.files ?? [])];
    input.value = "";
    tell("");
    for (const file of files) {
      const texts = await textsInFile(file);
      if (texts.length === 0) tell(DAY_WORDS.noCode(file.name));
      else await orSayWhy(() => take(texts));
    }
  });
  return { update: () => undefined };
}

/** @param {File} file */
async function textsInFile(file) {
  try {
    const picture = await createImageBitmap(file);
    const texts = textsIn(picture, picture.width, picture.height);
    picture.close();
    return texts;
  } catch (error) {
    // Not a picture, or one the browser cannot open.
    if (error instanceof DOMException) return [];
    throw error;
  }
}

/**
 * A picture from a file is looked at in every way. Of the camera's, of which there
 * is soon another, all is looked at once, then the middle twice: a phone must not
 * stand still for it.
 * @param {CanvasImageSource} source @param {number} width @param {number} height @param {boolean} [closer] the middle of the camera's
 */
function textsIn(source, width, height, closer) {
  const part = closer ? 0.6 : 1;
  const scale = Math.min(1, (closer ? MIDDLE_SIDE : LONGEST_SIDE) / (part * Math.max(width, height)));
  const shrunk = (/** @type {number} */ side) => Math.max(1, Math.round(side * part * scale));
  const [columns, rows] = [shrunk(width), shrunk(height)];
  const canvas = new OffscreenCanvas(columns, rows);
  const paper = canvas.getContext("2d", { willReadFrequently: true });
  if (!paper) return [];
  const rest = (1 - part) / 2;
  paper.drawImage(source, rest * width, rest * height, part * width, part * height, 0, 0, columns, rows);
  const { data } = paper.getImageData(0, 0, columns, rows);
  const tries = closer === undefined ? {} : { tries: closer ? 2 : 1 };
  return ask("readCode", { columns, rows, ...tries }, data).reply?.texts ?? [];
}

/** What a whole series brought. @param {App} app @param {any} value @returns {Promise<string>} what to say of it */
async function takeWhole(app, value) {
  const log = readableOf(value?.log);
  if (log) return addLog(app, log);
  if (value?.case) return takeTheirCase(app, value);
  if (value?.setup) {
    await offerSetup(app, value.setup);
    return DAY_WORDS.scanned;
  }
  throw new BadLink("damaged");
}

/** A log from elsewhere; what cannot be read of it is left out and said. @param {App} app @param {{records: import("../day/record.js").DayRecord[], bad: number}} log @returns {string} */
export function addLog(app, { records, bad }) {
  const { fresh, added, disputed } = merged(app.records, records);
  if (added > 0) app.append(fresh);
  return [DAY_WORDS.added(added, disputed), ...(bad > 0 ? [DAY_WORDS.leftOut(bad)] : [])].join(" ");
}

/** A case from another phone, merged into this one. @param {App} app @param {any} value */
export async function takeTheirCase(app, value) {
  const sound = asRead(value.case);
  if (!sound || !isEdited(value.edited)) throw new BadLink("damaged");
  const theirs = { content: sound, edited: value.edited };
  const { document } = app;
  // The invented case of the demo is nobody's; it gives way.
  const none = Object.fromEntries(Object.keys(caseToSend(document)).map((list) => [list, []]));
  const mine = document.demo ? { content: none, edited: {} } : { content: asRead(caseToSend(document)) ?? caseToSend(document), edited: document.edited };
  const { content, edited, added, same, conflicts } = mergedCase(mine, theirs);
  const refusal = await app.merge((next) => ({
    ...takeShared(next, content),
    edited,
    unsettled: [...next.unsettled.filter((old) => !conflicts.some((one_) => one_.list === old.list && one_.key === old.key)), ...conflicts],
  }));
  if (refusal) throw new BadLink("damaged", refusalSentence(refusal));
  return DAY_WORDS.caseMerged(added, same, conflicts.length);
}

/**
 * A case as the core reads it from a file, so that what is left out and what is
 * said compare as equal; nothing where it would not read it.
 * @param {import("../api/glasscall.js").CaseContent} content
 */
function asRead(content) {
  const { reply: written } = ask("writeCase", { case: content, as: "json" });
  return written && ask("readCase", { text: written.text }).reply?.case;
}

/** @param {any} edited */
const isEdited = (edited) => edited && typeof edited === "object"
  && Object.values(edited).every((time) => typeof time === "string" && !Number.isNaN(Date.parse(time)));
