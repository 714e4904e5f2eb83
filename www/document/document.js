// @ts-check
/**
 * The document: all that is kept, undone and handed on, each thing in it once.
 *
 * It is lists of records with ids (pieces, lenses, rigs, bodies, days); what is
 * in use is ids (`inUse`), and what differs from a record today (`today`) is
 * remembered for that record, so that another lens, rig or body and back loses
 * nothing. A record says what was measured of a thing, wherever it was typed.
 *
 * How the rest of the page meets it:
 * - `resolve(document)` (resolve.js) gives the set-up in use, `Setup`, which
 *   screens and questions read. It is made anew after each edit, never kept.
 * - Named pure edits (edits.js: `putOnLens`, `putOnRig`, `putOnBody`, `putIn`,
 *   `pull`, …) take a document and give the next one: `app.do(putOnLens, id)`.
 * - A single field of the set-up in use is edited by
 *   `app.change((setup) => { setup.lens.squeeze = 2; })`; `written()` puts what
 *   differs back where it belongs: into the record, or into `today`.
 * - `migrate(kept)` (migrate.js) opens whatever was ever kept.
 * - `refusalOf(document)` (questions/check.js) is the one check: what the page
 *   accepts and what a start opens.
 */

/**
 * @typedef {import("../api/glasscall.js").PieceRequest} Piece
 * @typedef {import("../api/glasscall.js").SlotRequest} Slot
 * @typedef {import("../api/glasscall.js").OpeningRequest} Opening
 * @typedef {import("../api/glasscall.js").InPlace} InPlace
 * @typedef {import("../api/glasscall.js").CaseLens} CaseLens
 * @typedef {import("../api/glasscall.js").CaseRig} CaseRig
 * @typedef {import("../api/glasscall.js").CaseBody} CaseBody
 */

/** A lens, with all that was measured of it: as a case file holds it. @typedef {CaseLens} LensRecord */

/** A rig with its slots, from the lens outward, and what is always in front. @typedef {CaseRig & {slots: Slot[], always: Opening[]}} RigRecord */

/**
 * A body with its modes, its wheel and the glass of the wheel.
 * @typedef {CaseBody & {modes: Mode[], wheel: WheelPosition[], plates: Plate[]}} BodyRecord
 * @typedef {Omit<import("../api/glasscall.js").CaseMode, "body">} Mode
 * @typedef {Omit<import("../api/glasscall.js").CaseWheel, "body">} WheelPosition
 * @typedef {Omit<import("../api/glasscall.js").CasePlate, "body">} Plate
 */

/**
 * A day with its set-ups and what it may ask for.
 * @typedef {Omit<import("./case.js").Plan, "wares" | "ringOffers">} DayRecord
 */

/** What is in use, by id; absent: nothing. @typedef {{lens?: string, rig?: string, body?: string, mode?: string, day?: string}} InUse */

/**
 * What differs from the records today, by the record's id.
 * @typedef {object} Today
 * @property {Record<string, LensToday>} lenses
 * @property {Record<string, {inPlace: InPlace[]}>} rigs
 * @property {Record<string, BodyToday>} bodies
 *
 * @typedef {object} LensToday
 * @property {number} [focalLengthMm] where a zoom is set, or what differs from the record
 * @property {import("../api/glasscall.js").Place} [focusMm] from the sensor, as somebody said
 * @property {number} [fNumber] the stop the fit is asked for
 * @property {number} [extender]
 * @property {number} [shiftXMm]
 * @property {number} [shiftYMm]
 * @property {boolean} [withoutRings] whether its rings are left out of the fit
 * @property {number} [closeFocalMm] the focal length that gives its field focused close: it breathes
 * @property {number} [closePupilMm] its pupil then
 *
 * @typedef {object} BodyToday
 * @property {number} [exposureIndex]
 * @property {number} [wheelNow] density of the position the wheel is at
 * @property {string} [mode] the mode it was last used in
 * @property {{widthMm: number, heightMm: number}} [sensor] what is read out where no mode of it says
 */

/**
 * The reading: what the light was read at, and through what.
 * @typedef {object} Reading
 * @property {number} [aperture] absent: nothing was read
 * @property {number} exposureIndex where no body says
 * @property {number} frameRate
 * @property {number} [shutterAngleDeg]
 * @property {number} [shutterSeconds]
 * @property {string[]} through ids of pieces
 * @property {number} [wheelDensity] of the wheel's position it was read through
 * @property {string} [inThen] what was in when `through` was said
 * @property {boolean} [retaken] whether `through` followed a swap by itself
 */

/**
 * @typedef {object} Document
 * @property {2} version
 * @property {boolean} demo whether the case is the invented one
 * @property {Piece[]} kit
 * @property {LensRecord[]} lenses
 * @property {RigRecord[]} rigs
 * @property {BodyRecord[]} bodies
 * @property {DayRecord[]} days
 * @property {import("../api/glasscall.js").OwnedRingRequest[]} rings
 * @property {import("../api/glasscall.js").WareRequest[]} wares pieces that could be bought
 * @property {import("../api/glasscall.js").RingOfferRequest[]} ringOffers rings that could be bought
 * @property {InUse} inUse
 * @property {Today} today
 * @property {Reading} reading
 * @property {import("./setup.js").Light} shot
 * @property {string[]} keep ids of pieces that must be in
 * @property {import("./slate.js").Slate} slate
 * @property {Record<string, import("../questions/fit.js").Seen>} seen
 * @property {import("../questions/light.js").LightPart} light
 * @property {import("./frame.js").Frame} frame its `grad` is only tried while none is in the rig
 * @property {Omit<import("../questions/depth-and-colour.js").OtherGlass["focus"], "onMm">} focus
 * @property {import("../questions/depth-and-colour.js").Wish} wish
 * @property {import("../questions/depth-and-colour.js").OtherGlass["colour"]} colour
 * @property {import("../questions/depth-and-colour.js").OtherGlass["infrared"]} infrared
 * @property {import("../questions/known.js").Known} uncertainty how well inputs are known, where somebody said so
 * @property {import("../questions/depth-and-colour.js").OtherGlass["ramp"]} ramp
 * @property {import("./match.js").Match} match
 * @property {import("../hand-over/merge-case.js").Edited} edited when each record of the case was
 * @property {import("../hand-over/merge-case.js").Conflict[]} unsettled records that another phone has differently
 */

/** The record in use of a list, if any. @template {{id: string}} T @param {T[]} list @param {string | undefined} id @returns {T | undefined} */
export const byId = (list, id) => (id === undefined ? undefined : list.find((record) => record.id === id));

/** An id like the wanted one that no other has. @param {{id: string}[]} list @param {string} wanted */
export function freeId(list, wanted) {
  const taken = new Set(list.map((item) => item.id));
  for (let n = 1; ; n += 1) {
    const id = n === 1 ? wanted : `${wanted} (${n})`;
    if (!taken.has(id)) return id;
  }
}

/** Without the fields that are not there. @template {object} T @param {T} fields @returns {T} */
export function given(fields) {
  return /** @type {T} */ (Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)));
}

/** The same content, whatever object holds it. @param {unknown} a @param {unknown} b */
export const same = (a, b) => a === b || JSON.stringify(a) === JSON.stringify(b);
