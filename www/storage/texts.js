// @ts-check
/** Local storage, where there is one: texts by name, written at once. */

/** Whether this window may keep anything; a sandboxed one may not. */
function place() {
  try {
    return window.localStorage;
  } catch {
    return undefined;
  }
}

/** @param {string} name */
export function textAt(name) {
  try {
    return place()?.getItem(name) ?? undefined;
  } catch {
    return undefined;
  }
}

/** @param {string} name @param {string} text @returns {boolean} */
export function putText(name, text) {
  try {
    const kept = place();
    kept?.setItem(name, text);
    return kept !== undefined;
  } catch {
    return false;
  }
}

/** @param {string} name */
export function dropText(name) {
  try {
    place()?.removeItem(name);
  } catch {
    // Not ours to change.
  }
}

/** Names that begin like this. @param {string} start @returns {string[]} */
export function namesAt(start) {
  try {
    return Object.keys(place() ?? {}).filter((name) => name.startsWith(start));
  } catch {
    return [];
  }
}
