// @ts-check
/** Work that is done only while its place on the page is seen. */

/**
 * Does `act` when told to, if all of these are seen, and once they come in
 * sight.
 * @param {HTMLElement[]} places
 * @param {() => void} act
 * @returns {() => void}
 */
export function whileSeen(places, act) {
  const actIfSeen = () => {
    if (places.every((place) => !place.hidden)) act();
  };
  const observer = new MutationObserver(actIfSeen);
  for (const place of places) observer.observe(place, { attributeFilter: ["hidden"] });
  return actIfSeen;
}
