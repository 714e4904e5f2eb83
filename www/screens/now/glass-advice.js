// @ts-check
/** The glass itself: in what order, which way round, what is quick. Advice; what is done is what is logged. */
import { brewsterAngles, onePiece, QUICK_STOPS, quickChanges } from "../../questions/glass-advice.js";
import { SUN_IMAGE } from "../../questions/sun-image.js";
import { ask } from "../../engine/ask.js";
import { rigsOf } from "../../questions/plan.js";
import { ringsFor, WEIGHT } from "../../questions/rig-compare.js";
import { say } from "../../language/say.js";
import { fixed, signed } from "../../language/numbers.js";
import { el } from "../../parts/dom.js";
import { openDrawer } from "../../parts/drawer.js";
import { movesText, pieces } from "../../parts/stack.js";
import { sunLines } from "../../parts/sun-lines.js";

/**
 * @typedef {import("../../start/start.js").App} App
 * @typedef {import("../../document/setup.js").Setup} Setup
 */

/** What is in, from the lens outward. @param {Setup} setup */
function inOrder({ rig, inPlace, kit }) {
  return rig.slots.flatMap((slot) => {
    const piece = kit.find(({ id }) => id === inPlace.find((placed) => placed.slot === slot.id)?.piece);
    return piece ? [{ slot, piece }] : [];
  });
}

/** What is wrong with the order as it is. @param {Setup} setup @returns {string[]} */
function faults(setup) {
  const placed = inOrder(setup);
  const at = (/** @type {(piece: import("../../document/setup.js").Piece) => boolean} */ is) => placed.findIndex(({ piece }) => is(piece));
  const polarizer = at(({ kind }) => kind === "polarizer");
  return [
    ...placed.slice(1).filter(({ piece }) => piece.kind === "closeUp").map(({ piece }) => say("{piece} is a close-up lens: it goes nearest the lens.", { piece: piece.id })),
    ...placed.filter(({ piece, slot }) => piece.kind === "polarizer" && !slot.rotates).map(({ piece, slot }) => say("{piece} cannot turn in {slot}.", { piece: piece.id, slot: slot.id })),
    ...placed.slice(polarizer + 1).filter(({ piece }) => polarizer >= 0 && piece.kind === "grad" && piece.material === "resin")
      .map(({ piece }) => say("{piece} is resin and stands before the polarizer: its stress can show as colours. Put it on the lens side.", { piece: piece.id })),
  ];
}

/** @type {Record<ReturnType<typeof brewsterAngles>[number]["name"], (angle: string) => string>} */
const UNDER = {
  road: (angle) => say("A wet road or water: the shine goes at {angle} from straight on, what is beneath shows.", { angle }),
  glass: (angle) => say("A car’s side glass: at {angle} one sees in; tempered panes show spots and stripes under blue sky.", { angle }),
  leaves: (angle) => say("Leaves: their wax loses the sky’s shine about {angle}; greens grow deeper.", { angle }),
  skin: (angle) => say("Skin: its shine goes about {angle}, and faces look flat; turn back a little.", { angle }),
};

/** @param {string} title @param {string[]} lines @param {string} [hint] */
const part = (title, lines, hint = "") => [
  el("h4", { class: "turn-title" }, title),
  el("ul", { class: "notes" }, ...lines.map((text) => el("li", { text }))),
  ...(hint ? [el("p", { class: "hint" }, hint)] : []),
];

/** @param {App} app @returns {string[]} */
function quickLines({ setup, answer }) {
  return quickChanges(setup, answer?.stacks ?? []).map(({ from, to, seconds }) => {
    const change = say("{from} to {to}: {moves}", { from: pieces(from), to: pieces(to), moves: movesText(to) });
    return seconds === undefined ? change : say("{change}, about {seconds} s", { change, seconds: fixed(seconds, 0) });
  });
}

/** @param {Setup} setup @returns {string[]} */
function gimbalLines({ kit, inPlace }) {
  const clears = kit.filter(({ kind }) => kind === "clear").map(({ id }) => id);
  const masses = inPlace.flatMap(({ piece: id }) => {
    const piece = kit.find((one) => one.id === id);
    if (piece?.massG === undefined) return [];
    const { massG } = piece;
    const near = kit.filter(({ kind, size, massG: mass }) => kind === "clear" && size === piece.size && mass !== undefined)
      .sort((a, b) => Math.abs((a.massG ?? 0) - massG) - Math.abs((b.massG ?? 0) - massG))[0];
    const mass = fixed(massG, 0);
    return [near
      ? say("{piece} weighs {mass} g; {clear} in its place: {difference} g.", { piece: id, mass, clear: near.id, difference: `${(near.massG ?? 0) > massG ? "+" : ""}${fixed((near.massG ?? 0) - massG, 0)}` })
      : say("{piece} weighs {mass} g.", { piece: id, mass })];
  });
  return [
    say("When a piece comes out, put a clear of the same size in its place: balance and focus stay."),
    clears.length > 0 ? say("Clears in the case: {pieces}.", { pieces: clears.join(", ") }) : say("No clear is in the case."),
    ...masses,
  ];
}

/** What hangs in front as it is now: the rig and what is in it. @param {Setup} setup */
function hangsNow(setup) {
  const [rig] = rigsOf(setup);
  const slots = setup.inPlace.map(({ slot, piece }) => ({ slot, piece }));
  return rig ? WEIGHT.request(setup, rig, ringsFor(setup, rig), { stages: [{ slots }] }) : { items: [] };
}

/** @param {HTMLElement} opener @param {App} app */
export function openAdvice(opener, app) {
  const { setup } = app;
  openDrawer(opener, say("Order and quick swaps"), () => {
    const wrong = faults(setup);
    const alone = onePiece(setup);
    const quick = quickLines(app);
    const sun = SUN_IMAGE.request(setup);
    const hangs = hangsNow(setup);
    const work = (/** @type {string} */ name, /** @type {import("../../questions/workings.js").Question} */ asked) => el("button", {
      type: "button", "data-do": `work-${name}`, onclick: async () => (await import("./worked.js")).openWorked(opener, [asked]),
    }, name === "weight" ? say("What hangs in front, worked out") : say("How it is worked out"));
    return [
      ...part(say("In what order"), [
        ...(wrong.length > 0 ? wrong : [say("Nothing in the rig stands against the usual order.")]),
        say("From the lens outward: close-up lens, graduated and other glass, polarizer where it can turn, mirror-type density outermost or tilted."),
        say("Never two mirror-type densities side by side: they throw the picture back at each other."),
      ], say("Common practice, no source. Overrule it as you like: what is put in is what is logged.")),
      ...part(say("Which way round a polarizer goes"), [
        say("A circular polarizer works one way only: its ring faces the scene, the side with the thread the lens."),
        say("Not sure? Look through it from the lens side at a reflection and turn it: it must darken."),
        say("Turning it changes what is polarized and nothing else: sky and shine by what Light says, an even grey card not at all."),
      ]),
      ...part(say("What it does to"), brewsterAngles().map(({ name, deg }) => UNDER[name](`${fixed(deg, 0)}°`)), say("By Brewster’s law, tan of the angle = refractive index: water 1.333, glass 1.52, skin 1.51 to 1.53 as measured (J. Biomed. Opt. 18, 037002); leaves 1.425, as the walls of their cells (Applied Optics 13, 109). Metal keeps its shine.")),
      ...part(say("{stops} stops less, quickest first", { stops: String(QUICK_STOPS) }), quick.length > 0 ? quick : [say("No stack here loses them in this rig.")]),
      ...part(say("Walking with one piece"), [alone
        ? say("{piece}, which leaves {left}", { piece: pieces(alone), left: signed(alone.leftOverStops) })
        : say("No piece does it alone.")]),
      ...part(say("On a gimbal"), gimbalLines(setup)),
      ...(ask("weight", hangs).reply?.heaviest?.massG ? [work("weight", ["weight", hangs])] : []),
      ...part(say("The sun in a long lens"), sunLines(setup)),
      ...(sun ? [work("sun", ["sunImage", sun])] : []),
    ];
  });
}
