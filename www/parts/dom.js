// @ts-check
/** Making elements; text is always set as text, never as markup. */

/**
 * @template {keyof HTMLElementTagNameMap} T
 * @param {T} tag
 * @param {Record<string, string | boolean | EventListener>} [props] attributes; `text`; `on…` listeners
 * @param {...(Node | string)} inside
 * @returns {HTMLElementTagNameMap[T]}
 */
export function el(tag, props = {}, ...inside) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(props)) {
    if (name === "text") made.textContent = String(value);
    else if (typeof value === "function") made.addEventListener(name.slice(2), value);
    else if (typeof value === "boolean") made.toggleAttribute(name, value);
    else made.setAttribute(name, value);
  }
  made.append(...inside);
  return made;
}

/** @param {ParentNode} root @param {string} selector @returns {any} */
export function one(root, selector) {
  const found = root.querySelector(selector);
  if (!found) throw new Error(`no ${selector}`);
  return found;
}

/** @param {ParentNode} root @param {string} selector @returns {HTMLElement[]} */
export function all(root, selector) {
  return [...root.querySelectorAll(selector)].map((found) => /** @type {HTMLElement} */ (found));
}
