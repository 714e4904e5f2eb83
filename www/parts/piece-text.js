// @ts-check
/** How people say a piece of glass. Pure. */

/** Whether a mark says a polarizer. @param {string} text */
export const isPolarizer = (text) => /^pol(a|filter)|^c?pl$/i.test(text);
