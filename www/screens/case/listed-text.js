// @ts-check
/** A piece or a lens in a line of a list, in few words. */
import { say } from "../../language/say.js";
import { fixed } from "../../language/numbers.js";
import { GRAD_EDGES } from "../../language/words/frame.js";
import { densityText, KINDS } from "../../language/words/shared.js";

/** What a piece is: "graduated, hard". @param {import("../../api/glasscall.js").PieceRequest} piece */
export function kindText({ kind, profile, split }) {
  if (kind === "grad" && profile) return say("{kind}, {edge}", { kind: KINDS.grad, edge: GRAD_EDGES[profile.kind] });
  return kind === "closeUp" && split ? say("split close-up") : KINDS[kind];
}

/** @param {import("../../api/glasscall.js").ListedReply} listed */
export function listedText({ piece, lens }) {
  if (lens) return lensText(lens);
  if (!piece) return "";
  return [
    piece.kind === "nd" ? "" : kindText(piece),
    densityText(piece),
    piece.dioptres === undefined ? "" : say("{power} dioptres", { power: fixed(piece.dioptres, 2) }),
    piece.infraredDensity === undefined ? "" : say("infrared alike"),
    piece.size,
    (piece.count ?? 1) > 1 ? say("{count} of them", { count: piece.count ?? 1 }) : "",
  ].filter(Boolean).join(", ");
}

/** @param {import("../../api/glasscall.js").CaseLens} lens */
export function lensText({ focalMm, focalToMm, tNumber, fNumber, threadMm, outerMm }) {
  const zoom = focalToMm === undefined ? "" : `–${fixed(focalToMm, 1)}`;
  return [
    focalMm === undefined ? "" : say("lens {focal} mm", { focal: `${fixed(focalMm, 1)}${zoom}` }),
    tNumber === undefined ? "" : `T${fixed(tNumber, 1)}`,
    fNumber === undefined ? "" : `f/${fixed(fNumber, 1)}`,
    threadMm === undefined ? "" : say("thread {diameter}", { diameter: fixed(threadMm, 1) }),
    outerMm === undefined ? "" : say("outside {diameter}", { diameter: fixed(outerMm, 1) }),
  ].filter(Boolean).join(", ");
}
