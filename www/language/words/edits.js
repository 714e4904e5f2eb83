// @ts-check
/** What undo and redo call the edits of the document. */
import * as edits from "../../document/edits.js";
import { addListed } from "../../document/listed.js";
import { say } from "../say.js";

/** @type {Map<Function, string>} */
const NAMES = new Map(/** @type {[Function, string][]} */ ([
  [edits.putOnLens, say("undo|another lens")],
  [edits.putOnRig, say("undo|another rig")],
  [edits.putOnBody, say("undo|another body")],
  [edits.putOnMode, say("undo|another sensor mode")],
  [edits.takeInHand, say("undo|another day")],
  [edits.putIn, say("undo|glass put in")],
  [edits.putInForPicture, say("undo|glass put in")],
  [edits.putInStack, say("undo|glass put in")],
  [edits.putInSlot, say("undo|glass put in")],
  [edits.emptySlot, say("undo|glass pulled")],
  [edits.pull, say("undo|glass pulled")],
  [edits.turnWheel, say("undo|the wheel turned")],
  [edits.readBare, say("undo|how it was read")],
  [edits.setReading, say("undo|the reading")],
  [edits.addPiece, say("undo|a piece added")],
  [edits.removePiece, say("undo|a piece removed")],
  [edits.renameRecord, say("undo|a new name")],
  [edits.removeRecord, say("undo|a record removed")],
  [edits.copyRig, say("undo|a rig copied")],
  [edits.startRig, say("undo|another rig")],
  [edits.addRig, say("undo|another rig")],
  [addListed, say("undo|filters or lenses added")],
]));

/** @param {Function} edit */
export const nameOfEdit = (edit) => NAMES.get(edit) ?? "";

/** The name of an edit that one screen alone makes. @param {Function} edit @param {string} name */
export const nameEdit = (edit, name) => NAMES.set(edit, name);
