// @ts-check
/** The element with the screen Now: what most pages need, small. */
import { ready } from "../engine/ask.js";
import { define } from "./setup-element.js";

await ready;
define();
