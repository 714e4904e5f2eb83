// @ts-check
/** What is said of a list while it is read. */
import { say, sayCount } from "../say.js";

/** Why an entry is not read. @type {Record<import("../../api/glasscall.js").ListFaultName, string>} */
export const FAULTS = {
  notUnderstood: say("not understood"),
  noDensity: say("how dense? as 0.6 hard"),
  sizeAlone: say("a size alone; of what?"),
  noFocalLength: say("which focal length?"),
  outOfRange: say("no glass has this number"),
};

/** How an entry was taken that can mean two things. @type {Record<import("../../api/glasscall.js").ListTakenName, string>} */
export const TAKEN = {
  factor: say("factor"),
  stops: say("taken as|stops"),
  density: say("taken as|density"),
  densityInTenths: say("density without its point"),
  share: say("this share of the light"),
  strength: say("strength of a diffusion"),
  focalLength: say("a lens"),
  tNumber: say("its T-stop"),
  fNumber: say("its f-stop"),
  colour: say("a colour"),
};

/** How many of each. @param {import("../../api/glasscall.js").ListedReply[]} listed */
export function gotText(listed) {
  const pieces = listed.reduce((sum, { piece }) => sum + (piece ? piece.count ?? 1 : 0), 0);
  const lenses = listed.filter(({ lens }) => lens).length;
  return [
    pieces ? sayCount(pieces, "{count} piece", "{count} pieces") : "",
    lenses ? sayCount(lenses, "{count} lens", "{count} lenses") : "",
  ].filter(Boolean).join(", ");
}
