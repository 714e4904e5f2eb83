// @ts-check
/** A set-up in the address, where there is one: seldom, and no start waits for what reads it. */
import { offerLink } from "../hand-over/offered-set-up.js";

/** @param {import("./start.js").App} app */
export const offer = (app) => offerLink(app);
