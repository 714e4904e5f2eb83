// @ts-check
/** What every sheet of paper says: when it was printed, which page it is of how many. */
import { locale } from "../language/say.js";

/** Rules that only paper has: when, and which page of how many. */
const paper = typeof CSSStyleSheet === "function" ? new CSSStyleSheet() : undefined;

/** The foot of every page: the moment, and the page of pages. @param {Date} now */
export function footPages(now) {
  if (!paper) return;
  paper.replaceSync(`@page { @bottom-left { content: ${JSON.stringify(momentText(now))}; font-size: 8pt } @bottom-right { content: counter(page) " / " counter(pages); font-size: 8pt } }`);
  if (!document.adoptedStyleSheets.includes(paper)) document.adoptedStyleSheets = [...document.adoptedStyleSheets, paper];
}

/** @param {Date} now */
export const momentText = (now) => now.toLocaleString(locale, { dateStyle: "medium", timeStyle: "short" });
