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

/**
 * The one that must be there, and of that kind where one is named.
 * @template {keyof HTMLElementTagNameMap} N
 * @overload
 * @param {ParentNode} root @param {N} selector
 * @returns {HTMLElementTagNameMap[N]}
 */
/**
 * @template {Element} [T=HTMLElement]
 * @overload
 * @param {ParentNode} root @param {string} selector @param {new () => T} [kind]
 * @returns {T}
 */
/** @param {ParentNode} root @param {string} selector @param {new () => Element} [kind] */
export function one(root, selector, kind) {
  const found = root.querySelector(selector);
  if (!found || (kind && !(found instanceof kind))) throw new Error(`no ${selector}`);
  return found;
}

/** @param {ParentNode} root @param {string} selector @returns {HTMLElement[]} */
export function all(root, selector) {
  return [...root.querySelectorAll(selector)].map((found) => /** @type {HTMLElement} */ (found));
}
