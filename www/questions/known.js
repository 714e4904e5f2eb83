// @ts-check
/** How well inputs are known, where somebody said so: what is sent of it. */

/**
 * One standard deviation each; what is not there is the core's.
 * @typedef {import("../api/glasscall.js").UncertaintyRequest & {cardsMm?: number}} Known
 */

/** What every question about an answer's ± takes. @param {{uncertainty?: Known}} setup @returns {{uncertainty?: import("../api/glasscall.js").UncertaintyRequest}} */
export function uncertaintyOf({ uncertainty = {} }) {
  const { cardsMm: _, ...known } = uncertainty;
  return Object.keys(known).length === 0 ? {} : { uncertainty: known };
}

/** How well heights of cards are read, beside the heights themselves. @param {{uncertainty?: Known}} setup @returns {{readingMm?: number}} */
export const cardReading = ({ uncertainty: { cardsMm } = {} }) => (cardsMm === undefined ? {} : { readingMm: cardsMm });
