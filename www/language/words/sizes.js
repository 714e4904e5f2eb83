// @ts-check
/** Sizes of the trade in the reader's language; the core names them in English. */
import { say } from "../say.js";
import { stopLabel, unitName } from "../numbers.js";

/** Formats by the core's name. @type {Record<string, string>} */
const FORMATS = {
  "2/3-inch type, 16:9": say("2/3-inch type, 16:9"),
  "16 mm film": say("16 mm film"),
  "Super 16 film": say("Super 16 film"),
  "1-inch type": say("1-inch type"),
  "4/3-inch type": say("4/3-inch type"),
  "1.5× crop still": say("1.5× crop still"),
  "35 mm film, 3-perforation": say("35 mm film, 3-perforation"),
  "35 mm film, 4-perforation": say("35 mm film, 4-perforation"),
  "full frame": say("full frame"),
  "35 mm film, 8-perforation": say("35 mm film, 8-perforation"),
  "medium format 44 × 33": say("medium format 44 × 33"),
  "65 mm film, 5-perforation": say("65 mm film, 5-perforation"),
};

/** @param {string} name */
export const formatName = (name) => FORMATS[name] ?? name;

/** Panels go by their numbers, `4 × 5.65 in`; only a round one has a word. @param {string} name */
export function panelName(name) {
  const [, numbers, unit, round] = /^(.*) (mm|in)( round)?$/.exec(name) ?? [];
  if (numbers === undefined || unit === undefined) return name;
  const size = `${stopLabel(numbers)} ${unitName(unit)}`;
  return round ? say("{size} round", { size }) : size;
}

/** Where sizes come from, by the core's words. @type {Record<string, string>} */
const SOURCES = {
  "common practice, no source": say("common practice, no source"),
  "a published table of frame sizes": say("a published table of frame sizes"),
  "nominal series: published lists of filter threads; 105 and 138 mm, and a clear diameter 4 mm less: common practice, no source":
    say("nominal series: published lists of filter threads; 105 and 138 mm, and a clear diameter 4 mm less: common practice, no source"),
  "nominal sizes in inch and mm, and their usual clear openings: common practice, no source; measure your tray":
    say("nominal sizes in inch and mm, and their usual clear openings: common practice, no source; measure your tray"),
};

/** @param {string} source */
export const sourceText = (source) => SOURCES[source] ?? source;
