// @ts-check
/** A table in the forms that other programs read. Pure: a table in, a text out. */

/** @typedef {import("./columns.js").Table} Table */

/** What makes a cell a formula, in any program; wide forms count in some. */
const FORMULA = /^'*\s*[=+\-@\t\r＝＋－＠]/;
const NUMBER = /^[+-]?\d+(\.\d+)?$/;
/** What a spreadsheet takes for a day, a time, a share, a price or another number; English and German months. */
const OF_NUMBERS = /^[\d\s/.:,\-+%eE()$€£¥]*(?:[ap]m)?$/i;
/** Without a zone it takes it for a moment. */
const MOMENT = /^[\d-]+T[\d:.]+$/;
const MONTH = "jan(?:uary|uar)?|feb(?:ruary|ruar)?|mar(?:ch)?|märz?|apr(?:il)?|may|mai|june?|juni|july?|juli|aug(?:ust)?|sept?(?:ember)?|o[ck]t(?:ober)?|nov(?:ember)?|de[cz](?:ember)?";
const A_DAY = new RegExp(`^(?:[a-z]+[,.]?\\s+)?[\\d\\s.,/-]*(?:${MONTH})[\\d\\s.,/-]*$`, "i");
const YES_OR_NO = /^(?:true|false|wahr|falsch)$/i;

/** Whether a spreadsheet would make something else of a text. A number written as it writes one stays. @param {string} text */
function looksLikeMore(text) {
  const inner = text.trim();
  if (YES_OR_NO.test(inner)) return true;
  if (!/\d/.test(inner) || (NUMBER.test(text) && String(Number(text)) === text.replace(/^\+/, ""))) return false;
  return OF_NUMBERS.test(inner) || MOMENT.test(inner) || A_DAY.test(inner);
}

/**
 * A text as a cell that no spreadsheet works out or takes for something else:
 * an apostrophe stands before it. A number is one.
 * @param {string} text
 */
const marked = (text) => ((FORMULA.test(text) && !NUMBER.test(text)) || looksLikeMore(text) ? `'${text}` : text);

/**
 * CSV as RFC 4180 has it: CRLF, commas, quotes doubled inside quotes. UTF-8,
 * a point as the decimal sign, times by ISO 8601.
 * @param {Table} table
 */
export function csv({ head, rows }) {
  const cell = (/** @type {string} */ given) => {
    const text = marked(given);
    return /[",;\t\r\n]|^'/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
  };
  return [head, ...rows].map((row) => `${row.map(cell).join(",")}\r\n`).join("");
}

/** @param {string} text */
const inMarkdown = (text) =>
  text.replaceAll("&", "&amp;").replace(/[\\`*_{}[\]<>()#+\-!|~]/g, "\\$&").replace(/\s+/g, " ");

/** A table in Markdown, with what would be markup escaped. @param {Table} table */
export function markdown({ caption, head, rows }) {
  const plain = inMarkdown;
  const line = (/** @type {string[]} */ cells) => `| ${cells.join(" | ")} |\n`;
  return `${plain(caption)}\n\n${line(head.map(plain))}${line(head.map(() => "---"))}${rows.map((row) => line(row.map(plain))).join("")}`;
}

/** @param {string} text */
const escaped = (text) =>
  text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;").replaceAll('"', "&quot;");

/** A plain HTML table without style or script. @param {Table} table */
export function html({ caption, head, rows }) {
  const cells = (/** @type {string} */ tag, /** @type {string[]} */ texts) => texts.map((text) => `<${tag}>${escaped(text)}</${tag}>`).join("");
  return [
    "<table>",
    `<caption>${escaped(caption)}</caption>`,
    `<thead><tr>${head.map((text) => `<th scope="col">${escaped(text)}</th>`).join("")}</tr></thead>`,
    "<tbody>",
    ...rows.map((row) => `<tr>${cells("td", row)}</tr>`),
    "</tbody>",
    "</table>",
    "",
  ].join("\n");
}

/** @param {string} text */
const inWiki = (text) =>
  text.replace(/[&<>|{}[\]'~_=*#:;!+-]/g, (sign) => `&#${sign.codePointAt(0)};`).replace(/\s+/g, " ");

/**
 * The table markup most wikis share: `{|`, `|-`, `|}`. Each cell stands on its
 * own line, its characters that would be markup as entities.
 * @param {Table} table
 */
export function wiki({ caption, head, rows }) {
  const plain = inWiki;
  const line = (/** @type {string} */ sign, /** @type {string} */ text) => `${sign} ${plain(text)}`.trimEnd();
  return [
    '{| class="wikitable"',
    line("|+", caption),
    "|-",
    ...head.map((text) => line("!", text)),
    ...rows.flatMap((row) => ["|-", ...row.map((text) => line("|", text))]),
    "|}",
    "",
  ].join("\n");
}

/** A text that the other wikis take as it stands. @param {string} text */
function inCaret(text) {
  const line = text.replace(/\s+/g, " ").trim();
  // What quotes must not stand in the quoted; a hundred of them is nobody's text.
  return /^[\p{L}\p{N} .,]*$/u.test(line) ? line : line.split("%%").map((part) => part && `%%${part}%%`).join("<nowiki>%%</nowiki>");
}

/** The table markup of the wikis that mark a heading by `^`. @param {Table} table */
export function caret({ caption, head, rows }) {
  const line = (/** @type {string} */ sign, /** @type {string[]} */ cells) => `${cells.map((cell) => `${sign} ${inCaret(cell)} `).join("")}${sign}\n`;
  return `${inCaret(caption)}\n\n${line("^", head)}${rows.map((row) => line("|", row)).join("")}`;
}

/** What stands under a table: the caution, and the way to the set-up itself. @typedef {{strong: string, more: string, link?: {text: string, address: string}}} Under */

/** Forms by name; `end` is how a file of it is called. */
export const FORMS = {
  csv: { write: csv, end: "csv", type: "text/csv;charset=utf-8", under: () => "" },
  markdown: {
    write: markdown, end: "md", type: "text/markdown;charset=utf-8",
    under: (/** @type {Under} */ { strong, more, link }) => `\n**${inMarkdown(strong)}** ${inMarkdown(more)}\n${link ? `\n[${inMarkdown(link.text)}](${link.address})\n` : ""}`,
  },
  html: {
    write: html, end: "html", type: "text/html;charset=utf-8",
    under: (/** @type {Under} */ { strong, more, link }) => `<p><strong>${escaped(strong)}</strong> ${escaped(more)}</p>\n${link ? `<p><a href="${escaped(link.address)}">${escaped(link.text)}</a></p>\n` : ""}`,
  },
  wiki: {
    write: wiki, end: "txt", type: "text/plain;charset=utf-8",
    under: (/** @type {Under} */ { strong, more, link }) => `\n'''${inWiki(strong)}''' ${inWiki(more)}\n${link ? `\n[${link.address} ${inWiki(link.text)}]\n` : ""}`,
  },
  caret: {
    write: caret, end: "txt", type: "text/plain;charset=utf-8",
    under: (/** @type {Under} */ { strong, more, link }) => `\n**${inCaret(strong)}** ${inCaret(more)}\n${link ? `\n[[${link.address}|${link.text.replace(/[|\]]/g, " ")}]]\n` : ""}`,
  },
};
