// @ts-check
/** How the edge of a graduated piece runs, as the Case asks for it. */
import { SOFT_RAMP_MM } from "../../document/frame.js";
import { say } from "../../language/say.js";
import { lengthText } from "../../language/numbers.js";
import { GRAD_EDGES, gradText } from "../../language/words/frame.js";
import { el } from "../../parts/dom.js";
import { choiceField, field } from "../../parts/rows.js";

/** @param {import("../../parts/rows.js").Entry<import("../../document/setup.js").Piece>} piece @returns {HTMLElement[]} */
export function gradFields({ path, now, change }) {
  const { profile } = now();
  // Points are measured under Frame, where they can be seen.
  const { points, ...plain } = GRAD_EDGES;
  const edges = profile?.kind === "points" ? GRAD_EDGES : plain;
  const edge = choiceField(say("Edge"), edges, profile?.kind ?? "", say("soft over {ramp} assumed", { ramp: lengthText(SOFT_RAMP_MM, 0) }), (value) =>
    change((piece) => {
      if (value === "") {
        delete piece.profile;
        return;
      }
      const kind = /** @type {import("../../api/glasscall.js").ProfileKind} */ (value);
      piece.profile = kind === "hard" ? { kind } : { kind, rampMm: profile?.rampMm ?? SOFT_RAMP_MM };
    }));
  if (!profile) return [edge];
  if (profile.kind === "points") return [edge, el("p", { class: "hint", text: say("{grad}; measured anew under Frame.", { grad: gradText(profile) }) })];
  return [
    edge,
    field(say("Ramp"), `${path}.profile.rampMm`, "length", profile.kind === "hard" ? say("a step") : undefined, say("from clear to dense")),
    ...(profile.kind === "reverse" ? [field(say("Density at its top"), `${path}.profile.topDensity`, "density", say("a third"))] : []),
  ];
}
