// @ts-check
/** What is pasted into another page to show a set-up there. Pure. */

/** The folder this page is in. @param {string} address */
const folderOf = (address) => address.replace(/[?#].*$/s, "").replace(/[^/]*$/, "");

/**
 * In a link only letters, digits, `-`, `_` and dots stand, so nothing needs escaping.
 * @param {string} link
 * @param {string} address of this page
 * @param {string} language that the set-up is said in
 */
export function frameSnippet(link, address, language) {
  return `<iframe src="${folderOf(address)}embed.html#lang=${language}&s=${link}"\n  sandbox="allow-scripts" title="Glasscall set-up"\n  width="100%" height="620" style="border:0"></iframe>\n`;
}

/** A host may state another charset, or none. @param {string} text */
const ascii = (text) => text.replace(/[^\u0000-\u007f]/gu, (sign) => `&#${sign.codePointAt(0)};`);

/** @param {string} link @param {string} address @param {string} fallback what stands there without a script, as HTML */
export function elementSnippet(link, address, fallback) {
  return `<script src="${folderOf(address)}embed.js" defer></${"script"}>\n<glasscall-setup setup="${link}" mode="live">\n${ascii(fallback)}</glasscall-setup>\n`;
}
