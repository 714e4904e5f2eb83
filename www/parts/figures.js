// @ts-check
/** An answer's figures, each asked back through whatever of its request they hang on. */
import { ask } from "../engine/ask.js";
import { say } from "../language/say.js";
import { fixed, lengthText } from "../language/numbers.js";
import { openTurned } from "./turned.js";
import { workingPart } from "./working.js";

/**
 * @typedef {import("../start/start.js").App} App
 * @typedef {import("../document/setup.js").Setup} Setup
 * @typedef {import("../api/glasscall.js").SolveReply} SolveReply
 */

/**
 * A number of the reply.
 * @typedef {[path: string, label: string, kind: string, is: number | undefined]} Figure
 */

/**
 * A number of the request.
 * @typedef {object} Unknown
 * @property {string} name
 * @property {string} path
 * @property {number} from
 * @property {number} to
 * @property {(value: number) => string} [show]
 * @property {string} [field] where it is taken over, as the page calls it
 * @property {(setup: Setup, value: number) => void} [edit] how
 * @property {object} [request] asked of instead, where it stands in another form of the question
 * @property {(is: number) => SolveReply | undefined} [solved] where another question finds it
 * @property {string[]} [only] the paths of the figures it is asked for; all unless said
 */

export const degrees = (/** @type {number} */ value) => `${fixed(value, 1)}°`;
export const length = (/** @type {number} */ mm) => lengthText(mm, 0);

/** As a field of that kind starts: a meter's thirds, else the digits that are told. @type {Record<string, number>} */
const PARTS = { thirds: 3, signedThirds: 3, share: 1000, factor: 100, number: 100, light: 10_000 };

/** Whether the answer stands still wherever the number is. @param {SolveReply | undefined} found @param {number} now */
const isIdle = (found, now) => found !== undefined && (found.met.length === 0
  ? Math.abs((found.nearest?.gives ?? Infinity) - now) < 1e-9
  : found.met.every(({ from, to }) => from === found.from && to === found.to));

/** Where the answer only leaps past what is wanted, as a direction through north, it is not that. @param {SolveReply | undefined} found */
const reached = (found) => found && { ...found, met: found.met.filter(({ steps }) => !steps) };

/** Puts what was found into the set-up. @param {App} app @param {Unknown} unknown */
const taker = (app, { field = "", edit }) => edit && ((/** @type {number} */ value) => {
  delete app.drafts[field];
  app.change((setup) => edit(setup, value), true, undefined, say("undo|what was asked back"));
});

/**
 * @param {HTMLElement} opener @param {App} app
 * @param {{title: string, question: string, request: any, figures: Figure[], first?: string, unknowns: Unknown[], working?: any}} asked
 *   `first`: the path of the figure that was tapped
 */
export function openFigures(opener, app, { title, question, request, figures, first = "", unknowns, working }) {
  const told = figures.flatMap(([path, label, kind, now]) => (now === undefined ? [] : [{ path, label, kind, now }]));
  openTurned(opener, {
    title,
    wanted: told.map(({ label, kind, now }) => {
      const parts = PARTS[kind] ?? 10;
      return { label, kind, is: Math.round(now * parts) / parts };
    }),
    first: Math.max(told.findIndex(({ path }) => path === first), 0),
    turns: (is, nth) => {
      const { path: wanted, now } = told[nth] ?? { path: "", now: 0 };
      return unknowns.filter(({ only }) => !only || only.includes(wanted)).flatMap((unknown) => {
        const { name, path, from, to, show = degrees, solved } = unknown;
        const found = solved ? solved(is) : ask("solve", { question, request: unknown.request ?? request, unknown: { path, from, to }, wanted: { path: wanted, is } }).reply;
        return isIdle(found, now) ? [] : [{ name, found: reached(found), show, take: taker(app, unknown) }];
      });
    },
    more: workingPart(/** @type {any} */ (ask(/** @type {any} */ (question), { ...(working ?? request), explain: true }).reply)?.working),
  });
}
