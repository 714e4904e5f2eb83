// @ts-check
/** When a window reads what others may have written to the log. */
import { ONE_TEXT, ON_ITS_WAY } from "./log-keys.js";

/** @param {() => void} follow @param {() => void} moveIn takes over what an earlier version wrote @returns {() => void} tells the others */
export function meetWindows(follow, moveIn) {
  const others = channel();
  if (others) others.onmessage = follow;
  // A window that was asleep was told nothing.
  for (const event of ["pageshow", "focus", "online"]) addEventListener(event, follow);
  for (const event of ["visibilitychange", "resume"]) document.addEventListener(event, follow);
  addEventListener("storage", (event) => {
    if (event.key?.startsWith(ON_ITS_WAY) && event.newValue !== null) follow();
    // A window of an earlier version is still open beside this one.
    if (event.key === ONE_TEXT && event.newValue !== null) moveIn();
  });
  return () => others?.postMessage("written");
}

/** Other windows; none where they cannot be reached. */
function channel() {
  try {
    return new BroadcastChannel("glasscall-log");
  } catch {
    return undefined;
  }
}
