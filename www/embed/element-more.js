// @ts-check
/** The element with every screen. */
import { whole } from "../engine/ask.js";
import { MORE_STILLS } from "./more-stills.js";
import { MORE_STYLES } from "./more-styles.js";
import { SCREENS, define } from "./setup-element.js";

Object.assign(SCREENS.stills, MORE_STILLS);
SCREENS.styles += MORE_STYLES;
await whole();
define();
