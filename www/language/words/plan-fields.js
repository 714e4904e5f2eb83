// @ts-check
/** What fields of the plan and of the stock are called in a sentence. */
import { say } from "../say.js";

/** @type {[RegExp, string][]} */
export const PLAN_FIELDS = [
  [/focalMm$/, say("The focal length")],
  [/focalToMm$/, say("The longest focal length")],
  [/tNumber$/, say("The T-stop")],
  [/fNumber$/, say("The f-stop")],
  [/threadMm$|filterMm$/, say("The thread")],
  [/outerMm$/, say("The outside diameter")],
  [/(needsClear|clear)Mm$/, say("The clear diameter")],
  [/pupilBehindRimMm$/, say("The pupil’s place")],
  [/(from|to)Mm$/, say("The diameter")],
  [/depthMm$/, say("The depth")],
  [/massG$/, say("The weight")],
  [/cost$/, say("The cost")],
  [/needStops$/, say("The need")],
  [/toleranceStops$/, say("What is near enough")],
  [/minutesPerMove$/, say("The minutes")],
  [/distanceFromRimMm$/, say("The distance")],
  [/slots$|rotating$/, say("The number of slots")],
  [/(width|height)Mm$/, say("The size")],
  [/measuredOn$/, say("The day")],
  [/(rig|body)$/, say("The name")],
  [/^setUps$/, say("The day")],
];
