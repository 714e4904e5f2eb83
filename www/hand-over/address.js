// @ts-check
/** Where this page stands, as far as another phone or page could open it. */
import { BadLink } from "./link.js";

/** A file on this device has an address that only this device can open; it even names its folders. */
export const hasAddress = () => location.protocol.startsWith("http");

/** This page's address without what follows it. @returns {string} */
export function pageAddress() {
  if (!hasAddress()) throw new BadLink("noAddress");
  return location.href.replace(/[?#].*$/s, "");
}
