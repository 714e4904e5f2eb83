// @ts-check
/** What a text can mean twice, offered back. */
import { say } from "../language/say.js";
import { stopLabel, stopsText } from "../language/numbers.js";

/** @typedef {import("../api/glasscall.js").ChoiceReply} Choice */

/** How the core took a number without a unit. @type {Record<string, string>} */
const TAKEN_AS = {
  density: say("taken as|density"),
  "density without its point": say("density without its point"),
  "share of the light": say("share of the light"),
  "strength of a diffusion": say("strength of a diffusion"),
  factor: say("factor"),
  stops: say("taken as|stops"),
  angle: say("taken as|angle"),
  time: say("taken as|time"),
};

/** @param {Choice} choice */
export function takenAs({ label }) {
  const [how = ""] = label.split(": ");
  return TAKEN_AS[how] ?? how;
}

/** @param {Choice} choice */
export function choiceLabel(choice) {
  const { value, unit, label } = choice;
  const [, name = ""] = label.split(": ");
  return `${takenAs(choice)}: ${unit === "stops" ? stopsText(value, 3) : stopLabel(name)}`;
}

/** A choice as a text that means only that. @param {Choice} choice */
export function choiceText({ value, unit }) {
  const unitText = { density: "D", stops: "stops", deg: "°", seconds: "s", aperture: "", mm: "mm", number: "" }[unit];
  return `${value.toLocaleString("en", { useGrouping: false, maximumFractionDigits: 12 })} ${unitText}`.trim();
}
