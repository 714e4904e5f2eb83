// @ts-check
/** The frame with the screen Now. */
import { ready } from "../engine/ask.js";
import { define } from "./setup-element.js";
import { startFrame } from "./frame.js";

await ready;
define();
startFrame();
