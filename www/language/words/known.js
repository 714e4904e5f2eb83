// @ts-check
/** What a ± comes from. */
import { say } from "../say.js";
import { fixed, lengthText } from "../numbers.js";

/** How the loss of a piece is known. @type {Record<import("../../api/glasscall.js").KnownBy, (piece: string) => string>} */
const PIECES = {
  marked: (piece) => say("mostly the marked {piece}", { piece }),
  measured: (piece) => say("mostly the measured {piece}", { piece }),
  stated: (piece) => say("mostly {piece}, told in stops", { piece }),
  assumed: (piece) => say("mostly {piece}, not measured", { piece }),
};

/** @type {Record<import("../../api/glasscall.js").CauseName, string>} */
const CAUSES = {
  reading: say("mostly the reading"),
  piece: say("mostly the glass"),
  wheel: say("mostly the wheel"),
  graduatedDensity: say("mostly the mark of the grad"),
  graduatedEdge: say("mostly where its edge stands"),
  lens: say("mostly the lens"),
  clearSky: say("mostly one clear sky from another"),
  sunHeight: say("mostly the height of the sun"),
  clock: say("mostly the clock"),
  place: say("mostly the place"),
};

/** @param {import("../../api/glasscall.js").UncertaintyReply} known */
function mostlyText({ mostly }) {
  if (!mostly) return "";
  const { what, piece, knownBy } = mostly;
  return piece === undefined || knownBy === undefined ? CAUSES[what] : PIECES[knownBy](piece);
}

/** @type {Record<import("../../api/glasscall.js").RoomCauseName, string>} */
const ROOM_CAUSES = {
  pupil: say("mostly where the pupil lies"),
  distortion: say("mostly how the lens bends its picture"),
  pupilGrowth: say("mostly how its pupil grows, and rims inside"),
  nearCard: say("mostly the near card"),
  farCard: say("mostly the far card"),
  openingPlace: say("mostly where the opening stands"),
  model: say("mostly what the model leaves out"),
};

/** How well a room is known, and by what. @param {import("../../api/glasscall.js").RoomKnownReply | undefined} known */
export function roomKnownText(known) {
  if (!known) return "";
  const by = known.mostly ? `, ${ROOM_CAUSES[known.mostly.what]}` : "";
  return `± ${lengthText(known.mm, 1)}${by}.`;
}

/** What is less is not said as nothing: "± 0" would be sure. */
const LEAST_SAID = 0.01;

/** How well a number of stops is known, and by what. @param {import("../../api/glasscall.js").UncertaintyReply} known */
export const stopsKnownText = (known) => [`± ${fixed(Math.max(known.stops, LEAST_SAID), 2)}`, mostlyText(known)].filter(Boolean).join(", ");
