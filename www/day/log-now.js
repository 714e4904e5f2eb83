// @ts-check
/** One tap, and what is in stands in the log. */
import { whole } from "../engine/ask.js";
import { localIso } from "../document/moment.js";
import { say } from "../language/say.js";
import { isRead } from "../questions/open-up.js";
import { DAY_WORDS } from "../language/words/day.js";
import { WORDS } from "../language/words/shared.js";
import { nextSlate } from "../document/slate.js";
import { recordOf } from "./record.js";
import { SAID } from "./notation.js";

/** What stands there at the tap; the log may come later, and something else be in by then. @typedef {{setup: import("../document/setup.js").Setup, document: import("../document/document.js").Document, when: Date}} Tapped */

/** @param {import("../start/start.js").App} app @param {Tapped} [tapped] */
export async function logNow(app, { setup, document, when } = { setup: app.setup, document: app.document, when: new Date() }) {
  await Promise.all([whole(), app.logStands()]);
  const made = recordOf(setup, stamp(when), document);
  if (!made) return app.notify(isRead(setup) ? DAY_WORDS.notLogged : WORDS.unread);
  const sameTime = app.records.filter((one) => one.time === made.time && !("amends" in one)).length;
  const record = { ...made, ...(sameTime > 0 ? { sameTime } : {}) };
  // One step back takes back the entry and the count with it.
  const visit = {};
  const takeBack = app.append([record], visit);
  const take = nextSlate(record.slate.take);
  if (take !== record.slate.take) {
    app.change((now) => {
      now.slate.take = take;
    }, true, visit);
  }
  const glass = record.pieces.map(({ id }) => id).join(" + ") || DAY_WORDS.nothingIn;
  return app.notify(say("Logged: {glass}, {stop}", { glass, stop: SAID.label(record.stopToSet) }), say("Undo"), takeBack);
}

export function stamp(now = new Date()) {
  return { id: newId(), time: localIso(now), zone: Intl.DateTimeFormat().resolvedOptions().timeZone ?? "" };
}

/** A name no other record has, on this phone or another. */
export function newId() {
  return [...crypto.getRandomValues(new Uint8Array(8))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
