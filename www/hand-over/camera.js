// @ts-check
/** The camera, looked through for square codes. */
import { textsIn } from "./codes-in.js";
import { one } from "../parts/dom.js";

const PAUSE_MS = 120;

/**
 * @param {HTMLElement} box shows what the camera sees, while it looks
 * @param {(texts: string[]) => Promise<boolean>} take takes what was read; whether there is nothing more to look for
 */
export function camera(box, take) {
  const video = /** @type {HTMLVideoElement} */ (one(box, "video"));
  /** @type {MediaStream | undefined} */
  let stream;
  let closer = false;

  function stop() {
    for (const track of stream?.getTracks() ?? []) track.stop();
    stream = undefined;
    video.srcObject = null;
    box.hidden = true;
  }

  async function look() {
    if (!stream) return;
    closer = !closer;
    const texts = video.videoWidth > 0 ? textsIn(video, video.videoWidth, video.videoHeight, closer) : [];
    if (texts.length > 0 && (await take(texts))) stop();
    else setTimeout(look, PAUSE_MS);
  }

  return {
    look,
    stop,
    /** @returns {Promise<boolean>} whether there is a camera, and this page may have it */
    async open() {
      stop();
      try {
        stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment", width: { ideal: 1280 } } });
      } catch {
        return false;
      }
      box.hidden = false;
      video.srcObject = stream;
      await video.play();
      return true;
    },
  };
}
