// @ts-check
/** The set-up in use, as screens and questions read it; `resolve` makes it of the document. */

/**
 * @typedef {import("../api/glasscall.js").PieceRequest} Piece
 * @typedef {import("../api/glasscall.js").SlotRequest} Slot
 * @typedef {import("../api/glasscall.js").InPlace} InPlace
 */

/**
 * @typedef {object} Light
 * @property {number} aperture
 * @property {number} [exposureIndex] absent in the shot: as read
 * @property {number} [frameRate] absent in the shot: as read
 * @property {number} [shutterAngleDeg] absent with shutterSeconds in the shot: as read
 * @property {number} [shutterSeconds]
 */

/**
 * @typedef {object} MainSetup
 * @property {2} version
 * @property {boolean} demo whether the case is the invented one
 * @property {import("./document.js").InUse} inUse what is in use, by id
 * @property {import("./document.js").Reading} reading
 * @property {Light} shot
 * @property {import("../questions/depth-and-colour.js").Lens & import("../questions/fit.js").FitLens} lens the lens in use
 * @property {Piece[]} kit
 * @property {import("./document.js").RigRecord} rig the rig in use; without slots where none is
 * @property {number[]} wheel of the body in use
 * @property {(number | null)[]} wheelInfrared infrared densities of its positions, null where nobody knows
 * @property {number} wheelNow density of the position the wheel is at
 * @property {InPlace[]} inPlace
 * @property {string[]} keep
 * @property {boolean} sensorSaid whether a body in use says how large the picture is; else it is assumed
 * @property {import("./slate.js").Slate} slate what a record says besides
 * @property {import("../hand-over/merge-case.js").Edited} edited when each record of the case was
 * @property {import("../hand-over/merge-case.js").Conflict[]} unsettled records that another phone has differently
 * @property {import("./match.js").Match} match
 * @property {import("./case.js").Stock} stock the lists of the case, those in use among them
 * @property {import("./case.js").Plan} plan the day in hand
 * @property {Record<string, import("../questions/fit.js").Seen>} seen
 * @property {import("../questions/light.js").LightPart} light
 * @property {import("./frame.js").Frame} frame
 * @property {import("../questions/known.js").Known} uncertainty
 */

/** @typedef {MainSetup & import("../questions/depth-and-colour.js").OtherGlass} Setup */

export {};
