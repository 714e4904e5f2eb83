// @ts-check
/** The need as a bar of stops, the pieces laid along it, the rest left open. */
import { say } from "../language/say.js";
import { signed } from "../language/numbers.js";

const SVG = "http://www.w3.org/2000/svg";
const WIDTH = 320;
const HEIGHT = 44;
const BAR = { top: 4, height: 22 };

/** @param {string} tag @param {Record<string, string | number>} attributes @param {string} [text] */
function svg(tag, attributes, text) {
  const made = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
  if (text !== undefined) made.textContent = text;
  return made;
}

/** @param {number} need in stops @param {import("../api/glasscall.js").OfferReply} stack */
export function stopsBar(need, stack) {
  const longest = Math.max(need, stack.stops, 1);
  const scale = (WIDTH - 8) / (Math.ceil(longest * 2) / 2);
  const at = (/** @type {number} */ stops) => 4 + stops * scale;
  const picture = svg("svg", {
    class: "stops-bar",
    viewBox: `0 0 ${WIDTH} ${HEIGHT}`,
    role: "img",
    "aria-label": say("The need is {need} stops; the pieces take {taken}.", { need: signed(need), taken: signed(stack.stops) }),
  });
  let from = 0;
  const wheelStops = stack.stops - stack.slots.reduce((sum, placed) => sum + placed.stops, 0);
  const parts = [
    ...(wheelStops > 0.001 ? [{ piece: say("wheel"), stops: wheelStops }] : []),
    ...stack.slots,
  ];
  parts.forEach(({ piece, stops }, nth) => {
    const width = Math.max(0, stops * scale - 1);
    picture.append(svg("rect", { class: `bar-piece bar-piece-${nth % 2}`, x: at(from), y: BAR.top, width, height: BAR.height, rx: 2 }));
    if (width > piece.length * 7) {
      picture.append(svg("text", { class: "bar-name", x: at(from + stops / 2), y: BAR.top + 15 }, piece));
    }
    from += stops;
  });
  if (need > 0) {
    picture.append(svg("path", { class: "bar-need", d: `M${at(need)} 1V${BAR.top + BAR.height + 4}` }));
  }
  for (let stop = 0; at(stop) <= WIDTH - 2; stop += 1) {
    picture.append(svg("path", { class: "bar-tick", d: `M${at(stop)} ${BAR.top + BAR.height + 2}v4` }));
    const room = scale > 14 || stop % 2 === 0;
    if (room) picture.append(svg("text", { class: "bar-number", x: at(stop), y: HEIGHT - 2 }, String(stop)));
  }
  return picture;
}
