// @ts-check
/** What square codes bring: a set-up, or a log or a case in a series of them. */
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

/** @typedef {import("../start/start.js").App} App */

/**
 * Takes the texts of one picture after another.
 * @param {App} app
 * @param {(text: string) => void} tell
 * @returns {(texts: string[]) => Promise<boolean>} whether there is nothing more to look for
 */
export function takeCodes(app, tell) {
  const frames = new FrameCollector();

  /** @param {string} text */
  const take = async (text) => {
    const link = linkIn(`#${text.split("#")[1] ?? ""}`);
    if (link) {
      await offerSetup(app, link);
      tell(DAY_WORDS.scanned);
      return true;
    }
    const seen = frames.take(text);
    if (!seen) tell(DAY_WORDS.foreignCode);
    else if (seen.missing.length > 0) tell(DAY_WORDS.frames(seen.count - seen.missing.length, seen.count, seen.missing));
    else {
      tell(await takeWhole(app, await frames.read(seen.name)));
      return true;
    }
    return false;
  };

  return async (texts) => {
    let done = false;
    try {
      for (const text of texts) done = (await take(text)) || done;
    } catch (error) {
      if (!(error instanceof BadLink)) throw error;
      tell(badText(error));
      return false;
    }
    return done;
  };
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
async function takeTheirCase(app, value) {
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
