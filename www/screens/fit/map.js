// @ts-check
/** The loss over the picture, read under the finger. */
import { cornerRangeText, FIT_WORDS, mapText, placeText, pointText } from "../../language/words/fit.js";
import { say } from "../../language/say.js";
import { openingsOf } from "../../questions/fit.js";
import { one } from "../../parts/dom.js";
import { showLossMap } from "../../parts/loss-map.js";

/**
 * @typedef {import("../../document/setup.js").Setup} Setup
 * @typedef {import("../../api/glasscall.js").FitReply} FitReply
 * @typedef {import("../../api/glasscall.js").FramePlace} Point
 */

const MAP_COLUMNS = 72;

/** @param {HTMLElement} root @param {() => void} touched shows all anew */
export function mountMap(root, touched) {
  const map = one(root, ".fit-map");
  /** Where it is read. @type {Point | undefined} */
  let point;
  mountPoint(one(root, ".fit-map-view"), (place) => {
    point = place;
    touched();
  });

  return {
    /** What of the answer it needs. @param {Setup} setup */
    wants: (setup) => ({ lossMap: sizeOf(setup), points: point ? [point] : [] }),
    /** @param {Setup} setup @param {FitReply | undefined} reply */
    show(setup, reply) {
      // A card that is even everywhere is not worth a picture.
      map.hidden = !reply?.lossMap || openingsOf(setup).length === 0 || !losesLight(reply);
      if (!reply?.lossMap || map.hidden) return;
      showLossMap(one(map, "canvas"), reply.lossMap, sizeOf(setup), shapeOf(setup));
      const caption = [mapText(reply), cornerRangeText(reply)].filter(Boolean).join(" ");
      const [read] = reply.points ?? [];
      const here = point && read ? pointText(read.lossStops, placeText(point)) : FIT_WORDS.touch;
      one(map, "figcaption").textContent = `${caption} ${here}`;
      one(map, "canvas").setAttribute("aria-label", say("Loss over the picture. {told}", { told: caption }));
    },
  };
}

/** @param {Setup} setup */
const shapeOf = ({ sensor, lens }) => (sensor.widthMm * (lens.squeeze ?? 1)) / sensor.heightMm;

/** @param {Setup} setup */
const sizeOf = (setup) => ({ columns: MAP_COLUMNS, rows: Math.max(8, Math.min(96, Math.round(MAP_COLUMNS / shapeOf(setup)))) });

/** Whether any place of the picture loses light that could be seen. @param {FitReply} told */
const losesLight = ({ lossMap, cornerLossStops }) =>
  cornerLossStops === undefined || cornerLossStops >= 0.005 || (lossMap ?? []).some((stops) => stops === undefined || stops >= 0.005);

/** Reads the loss map under the finger. @param {HTMLElement} view @param {(point: Point) => void} read */
function mountPoint(view, read) {
  const mark = one(view, ".fit-map-mark");
  const share = (/** @type {number} */ at, /** @type {number} */ of) => Math.min(1, Math.max(0, at / of));
  const follow = (/** @type {PointerEvent} */ { clientX, clientY, buttons }) => {
    if (buttons === 0) return;
    const box = view.getBoundingClientRect();
    const [across, down] = [share(clientX - box.left, box.width), share(clientY - box.top, box.height)];
    Object.assign(mark.style, { left: `${across * 100}%`, top: `${down * 100}%` });
    mark.hidden = false;
    read({ acrossFrame: across, atFrameHeight: 1 - down });
  };
  view.addEventListener("pointerdown", follow);
  view.addEventListener("pointermove", follow);
}
