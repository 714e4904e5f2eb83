// @ts-check
/**
 * The answer as a picture that stands anywhere a file can be put: what each piece
 * takes, drawn to scale against the need. SVG without script, style sheet or a
 * sign beyond ASCII. Pure.
 */

/** @typedef {{id: string, stops: number}} Bar */
/** @typedef {{need: string, needStops: number, bars: Bar[], set: string, caution: string}} Told */

const WIDTH = 480;
const LEFT = 12;
const ROW = 34;
const TOP = 64;

/** @param {string} text */
const safe = (text) => text.replace(/[&<>"\u0000-\u001f]|[^\u0000-\u007f]/gu, (sign) => `&#${sign.codePointAt(0)};`);

/** @param {number} x @param {number} y @param {number} size @param {string} text @param {string} [more] */
const words = (x, y, size, text, more = "") =>
  `<text x="${x}" y="${y}" font-size="${size}" font-family="sans-serif" fill="#111"${more}>${safe(text)}</text>`;

/** @param {Told} told */
export function stillPicture({ need, needStops, bars, set, caution }) {
  const taken = bars.reduce((sum, { stops }) => sum + stops, 0);
  const scale = (WIDTH - 2 * LEFT) / Math.max(1, needStops, taken);
  const height = TOP + ROW * Math.max(1, bars.length) + 70;
  let before = 0;
  const rows = bars.map(({ id, stops }, at) => {
    const [x, y] = [LEFT + before * scale, TOP + ROW * at];
    before += stops;
    return `<rect x="${x.toFixed(1)}" y="${y}" width="${(stops * scale).toFixed(1)}" height="${ROW - 6}" fill="#9aa7b4" stroke="#111"/>${words(LEFT + 6, y + 20, 16, id)}`;
  });
  const line = LEFT + Math.max(0, needStops) * scale;
  const foot = TOP + ROW * Math.max(1, bars.length);
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${height}" width="${WIDTH}" height="${height}" role="img">`,
    `<title>${safe(`${need}. ${bars.map(({ id }) => id).join(" + ")}. ${set}`)}</title>`,
    `<rect width="${WIDTH}" height="${height}" fill="#fff"/>`,
    words(LEFT, 40, 30, need, ' font-weight="bold"'),
    ...rows,
    `<path d="M${line.toFixed(1)} ${TOP - 8}V${foot}" stroke="#b00" stroke-width="3"/>`,
    words(LEFT, foot + 28, 24, set, ' font-weight="bold"'),
    words(LEFT, foot + 56, 14, caution),
    "</svg>",
    "",
  ].join("\n");
}
