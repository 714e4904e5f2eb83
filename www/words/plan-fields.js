// @ts-check
/** What fields of the plan and of the stock are called in a sentence. */

/** @type {[RegExp, string][]} */
export const PLAN_FIELDS = [
  [/focalMm$/, "The focal length"],
  [/focalToMm$/, "The longest focal length"],
  [/tNumber$/, "The T-stop"],
  [/fNumber$/, "The f-stop"],
  [/threadMm$|filterMm$/, "The thread"],
  [/outerMm$/, "The outside diameter"],
  [/(needsClear|clear)Mm$/, "The clear diameter"],
  [/pupilBehindRimMm$/, "The pupil’s place"],
  [/(from|to)Mm$/, "The diameter"],
  [/depthMm$/, "The depth"],
  [/massG$/, "The weight"],
  [/cost$/, "The cost"],
  [/needStops$/, "The need"],
  [/toleranceStops$/, "What is near enough"],
  [/minutesPerMove$/, "The minutes"],
  [/distanceFromRimMm$/, "The distance"],
  [/slots$|rotating$/, "The number of slots"],
  [/(width|height)Mm$/, "The size"],
  [/measuredOn$/, "The day"],
  [/(rig|body)$/, "The name"],
  [/^setUps$/, "The day"],
];
