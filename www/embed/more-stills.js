// @ts-check
/** The other screens as pictures of the moment, each by its name. */
import { askBalance, gradsBeside, profileIn, uniformStops } from "../questions/frame.js";
import { askFit, openingsOf, pupilOf, unsaid } from "../questions/fit.js";
import { SUN, SKY } from "../questions/light.js";
import { answerTo } from "../questions/question.js";
import { localIso } from "../document/moment.js";
import { kitTable } from "../day/columns.js";
import { SAID } from "../day/notation.js";
import { say } from "../language/say.js";
import { fixed, signed } from "../language/numbers.js";
import { refusalSentence } from "../language/words/shared.js";
import { FIT_WORDS, mapText, remedies, widestText, worstText } from "../language/words/fit.js";
import { verdictWord } from "../language/words/stack-fit.js";
import { FRAME_WORDS, balanceVerdict } from "../language/words/frame.js";
import { LIGHT_WORDS, SKY_VERDICTS, bearing, clockText, clockTime } from "../language/words/light.js";
import { el } from "../parts/dom.js";
import { showLossMap } from "../parts/loss-map.js";
import { mountPicture } from "../screens/frame/picture.js";
import { caution } from "./still.js";

/** @typedef {import("./still.js").Still} Still */

const MAP_COLUMNS = 72;

/** @param {string} text */
const complaint = (text) => el("p", { class: "complaint", text });

/** @type {Still} */
function showFit(box, setup) {
  const shape = (setup.sensor.widthMm * (setup.lens.squeeze ?? 1)) / setup.sensor.heightMm;
  const size = { columns: MAP_COLUMNS, rows: Math.max(8, Math.min(96, Math.round(MAP_COLUMNS / shape))) };
  const { reply, refusal } = askFit(setup, { lossMap: size, points: [] });
  const worst = reply?.openings[reply.worst ?? 0];
  if (!reply || !worst) {
    const unknown = openingsOf(setup).length === 0 ? FIT_WORDS.noOpenings : FIT_WORDS.unsaid[unsaid(setup)];
    box.replaceChildren(el("p", { class: "say", text: say("verdict|Not known") }), el("p", { text: refusal ? refusalSentence(refusal) : unknown }), caution());
    return undefined;
  }
  const map = el("canvas", { class: "embed-map", role: "img", "aria-label": say("Loss over the picture. {told}", { told: mapText(reply) }) });
  box.replaceChildren(
    el("p", { class: "say", text: verdictWord(reply) }),
    el("p", { text: worstText(worst) }),
    ...[...remedies(reply), ...widestText(reply)].map((text) => el("p", { class: "hint", text })),
    el("figure", { class: "embed-figure" }, map, el("figcaption", { text: mapText(reply) })),
    caution(),
  );
  return () => showLossMap(map, reply.lossMap ?? [], size, shape);
}

/** @type {Still} */
function showFrame(box, setup) {
  const { reply } = askBalance(setup);
  const view = el("div", { class: "frame-view" }, el("canvas", { class: "frame-picture" }), el("div", { class: "frame-labels", "aria-hidden": "true" }), el("div", { class: "frame-cross", hidden: true }));
  const told = el("p", { class: "complaint" });
  const beside = gradsBeside(setup).flatMap(({ id, said }) => (said ? [id] : []));
  const looked = profileIn(setup) === undefined ? FRAME_WORDS.none : [setup.frame.grad, ...beside].join(" + ");
  box.replaceChildren(
    el("p", { class: "say", text: looked }),
    view,
    el("p", { class: "frame-readout" }),
    el("p", { text: reply ? balanceVerdict(reply) : "" }),
    told,
    caution(),
  );
  const picture = mountPicture(box);
  return () => {
    const { refusal } = picture.draw(setup, { uniform: uniformStops(setup), skyStops: reply?.apartStops ?? 0 });
    const noPupil = pupilOf(setup).place === undefined ? FRAME_WORDS.unsaid[unsaid(setup)] : "";
    told.textContent = refusal ? refusalSentence(refusal) : noPupil;
  };
}

/** @type {Still} */
function showLight(box, setup) {
  const at = setup.light.at ?? localIso(new Date());
  const sun = answerTo(SUN, setup, at).reply;
  if (!sun) {
    box.replaceChildren(complaint(LIGHT_WORDS.noPlace), caution());
    return;
  }
  const where = { bearing: bearing(sun.azimuthDeg) };
  const told = answerTo(SKY, setup, sun).reply;
  const sky = told?.verdict === "sunDown" ? undefined : told;
  box.replaceChildren(
    el("p", { class: "say", text: `${clockTime(at)}: ${fixed(sun.apparentElevationDeg, 1)}° ${sun.apparentElevationDeg >= 0 ? say("up, at {bearing}", where) : say("below the horizon, at {bearing}", where)}` }),
    el("p", { text: sky ? SKY_VERDICTS[sky.verdict] ?? sky.verdict : setup.light.aim.azimuthDeg === undefined ? LIGHT_WORDS.noAim : LIGHT_WORDS.skyDark }),
    ...(sky && sky.verdict !== "noSky"
      ? [el("p", { text: `${signed(sky.darkeningStops)} ${say("stops darker at the centre, ring at {clock}", { clock: clockText(sky.polarizerDeg) })}` })]
      : []),
    caution(),
  );
}

/** @type {Still} */
function showCase(box, setup) {
  const { caption, head, rows } = kitTable(setup, SAID);
  // Columns in which nothing stands only take room.
  const told = head.map((_, at) => at).filter((at) => rows.some((row) => row[at] !== ""));
  box.replaceChildren(
    el("div", { class: "embed-table" }, el("table", {},
      el("caption", { text: caption }),
      el("thead", {}, el("tr", {}, ...told.map((at) => el("th", { scope: "col", text: head[at] ?? "" })))),
      el("tbody", {}, ...rows.map((row) => el("tr", {}, ...told.map((at) => el("td", { text: row[at] ?? "" }))))))),
    caution(),
  );
}

/** @type {Record<string, Still>} */
export const MORE_STILLS = { fit: showFit, frame: showFrame, light: showLight, case: showCase };
