// @ts-check
/** What every sheet of paper says: when and where it was printed, which page it is of how many. */
import { fixed } from "../language/numbers.js";
import { locale, say } from "../language/say.js";

/** @typedef {import("../start/start.js").App} App */

/** Rules that only paper has: when, and which page of how many. */
const paper = typeof CSSStyleSheet === "function" ? new CSSStyleSheet() : undefined;

/** The foot of every page: the moment, and the page of pages. @param {Date} now */
export function footPages(now) {
  if (!paper) return;
  paper.replaceSync(`@page { @bottom-left { content: ${JSON.stringify(momentText(now))}; font-size: 8pt } @bottom-right { content: counter(page) " / " counter(pages); font-size: 8pt } }`);
  if (!document.adoptedStyleSheets.includes(paper)) document.adoptedStyleSheets = [...document.adoptedStyleSheets, paper];
}

/** @param {Date} now */
const momentText = (now) => now.toLocaleString(locale, { dateStyle: "medium", timeStyle: "short" });

/** Where it was, if anybody said. @param {App} app */
function placeText({ setup: { light: { place } } }) {
  if (place?.latitudeDeg === undefined || place.longitudeDeg === undefined) return "";
  return say("{latitude}° north, {longitude}° east", { latitude: fixed(place.latitudeDeg, 3), longitude: fixed(place.longitudeDeg, 3) });
}

/** @param {App} app @param {Date} now */
export const whenAndWhere = (app, now) => [momentText(now), placeText(app)].filter(Boolean).join(" · ");
