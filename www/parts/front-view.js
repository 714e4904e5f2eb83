// @ts-check
/** An opening from behind the camera, with the light that has to pass it. */

/**
 * @typedef {import("../api/glasscall.js").OpeningRequest} Opening
 * @typedef {import("../api/glasscall.js").OpeningReply} OpeningReply
 * @typedef {import("../api/glasscall.js").PupilSize} PupilSize
 */

const NS = "http://www.w3.org/2000/svg";

/** @param {string} tag @param {Record<string, string | number>} attributes @param {...Node} inside */
function svg(tag, attributes, ...inside) {
  const made = document.createElementNS(NS, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
  made.append(...inside);
  return made;
}

/** The outline of an opening about its own middle, y upward. @param {Opening} opening */
function outline(opening) {
  if (opening.shape === "circle") {
    const r = (opening.diameterMm ?? 0) / 2;
    return `M${-r} 0A${r} ${r} 0 1 0 ${r} 0A${r} ${r} 0 1 0 ${-r} 0Z`;
  }
  const [x, y] = [(opening.widthMm ?? 0) / 2, (opening.heightMm ?? 0) / 2];
  return `M${-x} ${-y}H${x}V${y}H${-x}Z`;
}

let pictures = 0;

/**
 * @param {Opening} opening
 * @param {OpeningReply} reply
 * @param {PupilSize} pupil
 * @param {string} label
 */
export function frontView(opening, reply, pupil, label) {
  pictures += 1;
  const hatch = `fit-hatch-${pictures}`;
  const light = reply.lightInFront ?? reply.light;
  // No light is drawn where nobody knows its way.
  const [rx, ry] = [pupil.widthMm / 2, pupil.heightMm / 2];
  const [x0, y0] = [opening.offsetXMm ?? 0, opening.offsetYMm ?? 0];
  const turned = (opening.rotationDeg ?? 0) % 90 !== 0;
  const [w, h] = [opening.widthMm ?? opening.diameterMm ?? 0, opening.heightMm ?? opening.diameterMm ?? 0];
  const span = turned ? Math.hypot(w, h) / 2 : Math.max(w, h) / 2;
  // Square and about the axis, so that pictures of one rig compare by eye.
  const bundles = light ? [light.centre, ...light.corners] : [];
  const half = 1.06 * Math.max(span + Math.max(Math.abs(x0), Math.abs(y0)),
    ...bundles.flatMap(({ xMm, yMm }) => [Math.abs(xMm) + rx, Math.abs(yMm) + ry]));
  const place = `translate(${x0} ${y0}) rotate(${opening.rotationDeg ?? 0})`;
  const big = 4 * half;
  const lineWidth = half / 70;
  return svg("svg", { class: "front-view", viewBox: `${-half} ${-half} ${2 * half} ${2 * half}`, role: "img", "aria-label": label },
    svg("defs", {},
      svg("pattern", { id: hatch, width: half / 9, height: half / 9, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
        svg("path", { class: "front-hatch", d: `M0 0V${half / 9}`, "stroke-width": half / 22 }))),
    svg("g", { transform: "scale(1 -1)" },
      ...bundles.map(({ xMm, yMm }) => svg("ellipse", { class: "front-light", cx: xMm, cy: yMm, rx, ry, "stroke-width": lineWidth })),
      svg("path", {
        class: "front-mask", transform: place, fill: `url(#${hatch})`, "fill-rule": "evenodd",
        d: `M${-big} ${-big}H${big}V${big}H${-big}Z${outline(opening)}`,
      }),
      svg("path", { class: "front-edge", transform: place, d: outline(opening), "stroke-width": 2 * lineWidth }),
      ...bundles.map(({ xMm, yMm }) => svg("ellipse", { class: "front-ring", cx: xMm, cy: yMm, rx, ry, "stroke-width": lineWidth })),
      svg("path", { class: "front-axis", d: `M${-half / 20} 0H${half / 20}M0 ${-half / 20}V${half / 20}`, "stroke-width": lineWidth })));
}
