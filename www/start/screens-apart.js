// @ts-check
/**
 * HTML and styles of the screens but Now, which the served page has in a file of
 * its own; in the single file they stand in the page.
 */
import { sayAll } from "../language/say.js";
import { all, one } from "../parts/dom.js";

/** @type {Promise<void> | undefined} */
let here;

/** Fulfilled when every screen has its place; what fails is tried again by the next who wants it. */
export function screensStand() {
  const { screens } = one(document, "main").dataset;
  here ??= (screens ? pageAt(screens).catch(() => pageAt(screens)).then(putIn) : Promise.resolve()).catch((error) => {
    here = undefined;
    throw error;
  });
  return here;
}

/** A page that the browser has read and not shown; no script in it runs. @param {string} address @returns {Promise<Document>} */
const pageAt = (address) => new Promise((take, fail) => {
  const request = new XMLHttpRequest();
  const missing = () => fail(new Error(`${address}: ${request.status}`));
  request.open("GET", address);
  request.responseType = "document";
  request.overrideMimeType("text/html; charset=utf-8");
  request.onerror = missing;
  // Leaving for another address inside the page may end it.
  request.onabort = missing;
  request.onload = () => (request.status === 200 && request.responseXML ? take(request.responseXML) : missing());
  request.send();
});

/** @param {Document} page */
function putIn(page) {
  const screens = all(page, ".screen");
  // What was cut short is not half shown.
  if (screens.length === 0 || screens.some(({ id }) => document.getElementById(id)?.childElementCount !== 0)) throw new Error("screens");
  // Behind the styles of the page, and before those that have the last word.
  one(document, "head style").after(document.adoptNode(one(page, "style")));
  for (const screen of screens) {
    sayAll(screen);
    one(document, `#${screen.id}`).append(...screen.childNodes);
  }
}
