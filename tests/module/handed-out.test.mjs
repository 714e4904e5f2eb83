// What leaves the page for other pages: markup of each kind, the picture, versions.
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import MarkdownIt from "markdown-it";
import { FORMS } from "../../target/modules/day/markup.js";
import { stillPicture } from "../../target/modules/hand-over/still-picture.js";
import { version } from "../../dist/api/glasscall.js";

const TABLE = { caption: "Read T16 bare", head: ["tray 1", "Set"], rows: [["1.2 IR", "T2.8"], ["a|b ^c^ %%d%% **e**", "-0.08"]] };
const UNDER = { strong: "Not eye protection.", more: "Tether *it*.", link: { text: "Open this set-up", address: "https://example.org/g/#now?s=2.a-b_c" } };

test("wikis that mark a heading by ^ take each cell as it stands", () => {
  assert.equal(FORMS.caret.write(TABLE), "Read T16 bare\n\n^ tray 1 ^ Set ^\n| 1.2 IR | T2.8 |\n| %%a|b ^c^ %%<nowiki>%%</nowiki>%%d%%<nowiki>%%</nowiki>%% **e**%% | %%-0.08%% |\n");
});

test("the caution and the way back stand under the table in each markup", () => {
  const rendered = new MarkdownIt().render(FORMS.markdown.write(TABLE) + FORMS.markdown.under(UNDER));
  assert.match(rendered, /<strong>Not eye protection\.<\/strong> Tether \*it\*\./);
  assert.match(rendered, /<a href="https:\/\/example\.org\/g\/#now\?s=2\.a-b_c">Open this set-up<\/a>/);
  assert.match(FORMS.html.under(UNDER), /<a href="https:\/\/example\.org\/g\/#now\?s=2\.a-b_c">Open this set-up<\/a>/);
  assert.match(FORMS.wiki.under(UNDER), /'''Not eye protection\.'''.*\n\n\[https:\/\/example\.org\/g\/#now\?s=2\.a-b_c Open this set&#45;up\]/);
  assert.match(FORMS.caret.under(UNDER), /\*\*Not eye protection\.\*\*/);
  assert.match(FORMS.caret.under(UNDER), /\[\[https:\/\/example\.org\/g\/#now\?s=2\.a-b_c\|Open this set-up\]\]/);
  assert.equal(FORMS.csv.under(), "");
});

test("the picture is to scale, plain, and holds no markup of anybody's", () => {
  const svg = stillPicture({ need: "5 stops", needStops: 5, bars: [{ id: "<b>0.9", stops: 3 }, { id: "0.6 ⅓", stops: 2 }], set: "Set T2.8", caution: "Not eye protection." });
  const widths = [...svg.matchAll(/<rect x="([\d.]+)" y="\d+" width="([\d.]+)"/g)].map(([, x, width]) => [Number(x), Number(width)]);
  assert.ok(Math.abs(widths[0][1] / widths[1][1] - 1.5) < 0.01 && Math.abs(widths[0][0] + widths[0][1] - widths[1][0]) < 0.2);
  assert.match(svg, new RegExp(`M${(widths[1][0] + widths[1][1]).toFixed(1)} `), "the line of the need stands where both end");
  assert.ok(!svg.includes("<b>") && !svg.includes("script") && /^[\x00-\x7f]*$/.test(svg));
});

test("each file that is handed out says its version", async () => {
  for (const name of ["index.html", "glasscall.html", "embed.html", "embed-more.html", "embed-help.html", "embed.js", "embed-more.js"]) {
    const text = await readFile(new URL(`../../dist/${name}`, import.meta.url), "utf8");
    assert.ok(text.slice(0, 400).includes(`Glasscall ${version}`), name);
  }
  const page = await readFile(new URL("../../dist/index.html", import.meta.url), "utf8");
  assert.match(page, new RegExp(`data-version>Glasscall ${version.replaceAll(".", "\\.")}<`));
});
