/**
 * The questions of a shooting day by number, each from the opened demo to its
 * answer in view. “Before” was counted by hand on the page as it was.
 * @typedef {{no: string, what: string, before: string, act?: (hand: Hand) => Promise<void>, why?: string}} Question
 * @typedef {import("./hand.mjs").Hand} Hand
 */

const NEED = "#now [data-answer=need]";
const PIECES = "#now [data-answer=pieces]";
const STOP = "#now [data-answer=stop]";
const DRAWER = ".drawer-made";
const DEPTH = "#now .now-depth > details > summary";
const CAMERA = "#now .now-camera > summary";
const BODIES = "#day .match-bodies > summary";

/** @typedef {(hand: Hand) => Promise<void>} Act */

/** @param {string} what @param {RegExp} says @returns {Act} */
const seen = (what, says) => (hand) => hand.see(what, says);

/** On another screen. @param {string} screen @param {Act} act @returns {Act} */
const on = (screen, act) => async (hand) => {
  await hand.go(screen);
  await act(hand);
};

/** Behind what is tapped. @param {string} what @param {Act} act @returns {Act} */
const behind = (what, act) => async (hand) => {
  await hand.tap(what);
  await act(hand);
};

/** What is typed, and the answer. @param {string} field @param {string} text @param {string} what @param {RegExp} says @returns {Act} */
const typed = (field, text, what, says) => async (hand) => {
  await hand.type(field, text);
  await hand.see(what, says);
};

/** A setting of the camera or the lens. @param {string} field @param {string} text @param {string} [what] @param {RegExp} [says] */
const setting = (field, text, what = "#now .now-echo", says = /T\d/) => behind(CAMERA, typed(field, text, what, says));

/** A line of the drawer of advice. @param {string} line @param {RegExp} says */
const advised = (line, says) => behind("[data-do=advice]", seen(`${DRAWER} .notes li:has-text("${line}")`, says));

/** A view of Light. @param {string} view @param {Act} act */
const light = (view, act) => on("light", view === "sun" ? act : behind(`.light-views a[href="#light?${view}"]`, act));

/** A part of Case. @param {string} part @param {string} what @param {RegExp} says */
const inCase = (part, what, says) => on("case", behind(`#case .case-parts a[href='#case?${part}']`, seen(what, says)));

/** One of a list at the top of Fit. @param {string} list @param {string} label @returns {Act} */
const fitted = (list, label) => on("fit", async (hand) => {
  await hand.pick(`#fit select[data-switch=${list}]`, label);
  await hand.see("#fit [data-answer=fit]", /Clear|Shades|Clips|not known/);
});

/** @type {Question[]} */
export const QUESTIONS = [
  { no: "1", what: "what goes in for the stop wanted", before: "4 t, 2 f, 2 s", act: async (hand) => {
    await hand.type("#read-stop", "T22");
    await hand.type("#shot-stop", "T4");
    await hand.see(PIECES, /1\.2 IR \+ 0\.3/);
  } },
  { no: "2", what: "what else would do", before: "0", act: seen("#now .strip-way:nth-of-type(2)", /0\.9 \+ 0\.6/) },
  { no: "3", what: "stops, density, factor, per cent", before: "not there", act: behind("[data-do=convert]", typed("#convert-glass-stops", "3", "#convert-glass-factor", /^8$/)) },
  { no: "4", what: "what a mark means", before: "2 t, 1 f", act: on("case", typed("#new-piece", "ND500", "#case .list-table", /2\.7|2\.699/)) },
  { no: "5", what: "another EI", before: "2 t", act: setting("#shot-ei", "1600") },
  { no: "6", what: "another frame rate", before: "5 t, 2 f", act: setting("#shot-fps", "96") },
  { no: "7", what: "how bright without a reading", before: "3 t, 1 f", act: light("plan", seen("[data-answer=plan]", /T\d/)) },
  { no: "8", what: "two pieces together", before: "2 t, 2 f", act: behind("#now .strip-way:nth-of-type(2)", seen("#now .now-more > summary", /takes 4\.9/)) },
  { no: "9", what: "“two thirds under”", before: "4 t, 2 f, 1 s", act: behind(NEED, typed("#said-need", "-2/3", "#read-stop", /T2⅓/)) },
  { no: "10", what: "an extender", before: "1 t, 1 f; wrong", act: setting("#lens-extender", "1.4", "#now .now-extender-cost", /takes 0\.97 stops/) },
  { no: "11", what: "another shutter", before: "3 t, 2 f, 3 s", act: setting("#shot-shutter", "90") },
  { no: "12", what: "a wheel and the rig together", before: "3 t, 2 f", act: setting("#now-wheel", "0; 0.6; 1.2") },
  { no: "13", what: "too little light", before: "4 t, 3 f", act: typed("#read-stop", "T2", NEED, /missing/) },
  { no: "14", what: "what is left over", before: "0", act: seen("#now [data-answer=left]", /-0\.08/) },
  { no: "15", what: "fewest moves", before: "3 t, 1 f, 4 s", act: seen("#now .strip-way", /moves/) },
  { no: "16", what: "lose two stops fastest", before: "not there", act: advised("about 30 s", /1 move/) },
  { no: "17", what: "lux of a stop", before: "not there", act: async (hand) => {
    await hand.tap("[data-do=convert]");
    await hand.tap(".convert-tabs button:has-text('Light')");
    await hand.type("#convert-light-aperture", "T5.6");
    await hand.see("#convert-light-illuminanceLux", /^4[78]\d/);
  } },
  { no: "18", what: "the stop for a depth", before: "7 t, 3 f, 15 s", act: async (hand) => {
    await hand.tap("#now .now-wish > summary");
    await hand.pick("#now [data-do=wish-kind]", "a depth of field");
    await hand.type("#wish-depth", "1 m");
    await hand.see("#now .now-wish", /T\d|f\/\d/);
  } },
  { no: "19", what: "does diffraction show", before: "1 t, 1 f, 2 s", act: behind(DEPTH, seen("#now .now-depth-out :text('Diffraction is larger')", /from f\//)) },
  { no: "20", what: "glass behind the lens", before: "2 t, 1 f, 2 s", act: behind(DEPTH, typed("#depth-behind", "2", "#now :text('Glass behind the lens moves')", /mm/)) },
  { no: "21", what: "when to swap as light fades", before: "10 t, 6 f, 2 s", act: light("drift", async (hand) => {
    for (const [at, stop] of [["14:00", "T16"], ["14:30", "T11"], ["15:00", "T8"]]) {
      await hand.type("#timed", stop);
      await hand.type("#timed-at", at);
      await hand.tap("[data-do=note]");
    }
    await hand.see("[data-answer=drift]", /\d\d:\d\d/);
  }) },
  { no: "22", what: "“a cloud came, minus 1⅔”", before: "4 t, 2 f", act: async (hand) => {
    await hand.tap(NEED);
    await hand.tap(".said-changes button:has-text('−1⅔')");
    await hand.see(NEED, /3\.33/);
  } },
  { no: "22a", what: "read through what is in", before: "2 t, 1 f, 10 s; wrong", act: async (hand) => {
    await hand.tap("#now [data-do=put-in]");
    await hand.tap("#now [data-read=through]");
    await hand.type("#read-stop", "T2.8");
    await hand.see(NEED, /5\.\d|5 stops/);
  } },
  { no: "23", what: "what the polarizer costs", before: "2 t", act: behind("#now .now-assumed > summary, #now summary.now-assumed", seen("#now a:has-text('pola (polarizer)')", /1⅔/)) },
  { no: "24", what: "measure a polarizer", before: "5 t, 3 f, 5 s", act: light("polarizers", async (hand) => {
    await hand.type("#pola-bare", "T16");
    await hand.type("#pola-bright", "T11");
    await hand.type("#pola-dark", "T8");
    await hand.see("[data-answer=measured]", /\d/);
  }) },
  { no: "25", what: "what turning it changes", before: "partly", act: advised("Turning it changes", /grey card not at all/) },
  { no: "26", what: "how dark this sky gets", before: "3 t, 1 f, 4 s", act: light("sky", seen("[data-answer=sky]", /darker/)) },
  { no: "27", what: "the same at another angle", before: "6 t, 3 f, 4 s", act: light("sky", typed("#aim-az", "250", "[data-answer=sky]", /darker/)) },
  { no: "28", what: "a band with a wide lens", before: "5 t, 2 f, 5 s", act: light("sky", async (hand) => {
    await hand.tap("#light summary:has-text('Lens and haze')");
    await hand.type("#light-focal", "18");
    await hand.see("[data-answer=sky]", /dark band/);
  }) },
  { no: "29", what: "when the sky is best", before: "3 t, 1 f", act: light("sky", seen("#light .dial-aims, #light .dial-figure, #light .dial-aims button", /°/)) },
  { no: "30", what: "the angle a reflection goes at", before: "3 t, 3 s", act: light("reflection", async (hand) => {
    await hand.pick("[data-do=surface]", "Window pane");
    await hand.see("[data-answer=reflection]", /57°/);
  }) },
  { no: "31", what: "where to stand for it", before: "1 t, 2 s", act: light("reflection", seen("[data-answer=reflection]", /2(\.0\d?)? m/)) },
  { no: "32", what: "does metal lose its shine", before: "1 t, 2 s", act: light("reflection", seen("#light p:has-text('Metal')", /Metal/)) },
  { no: "33", what: "turned which way", before: "2 t", act: light("sky", seen("[data-answer=sky]", /ring at/)) },
  { no: "34", what: "which way round it goes", before: "not there", act: advised("works one way only", /ring faces the scene/) },
  { no: "35", what: "a pair: how far to turn", before: "4 t, 2 f, 4 s", act: light("polarizers", typed("#pair-stops", "5", "[data-answer=pair]", /°/)) },
  { no: "36", what: "skin and leaves", before: "not there", act: advised("Skin", /57°/) },
  { no: "37", what: "a wet road, a side glass", before: "not there", act: advised("A wet road", /53°/) },
  { no: "38", what: "light lost in the lens", before: "4 t, 2 f; wrong", act: setting("#lens-loss", "0.3", "#now .now-loss-told", /is f\/2⅔/) },
  { no: "39, 45", what: "does it shade or clip with this lens", before: "14 t, 11 f, 13 s", act: fitted("lens", "24 mm") },
  { no: "40", what: "the same with another rig", before: "13 t, 10 f, 9 s", act: fitted("rig", "screw-in") },
  { no: "41", what: "is it clear as it is", before: "1 t", act: on("fit", seen("#fit [data-answer=fit]", /Clear/)) },
  { no: "42", what: "which place has most room", before: "1 t, 2 s", act: on("fit", seen("#fit summary:has-text('tray 2')", /mm to spare/)) },
  { no: "43", what: "clear, by how much", before: "10 t, 8 f", act: on("fit", seen("#fit [data-do=turn]", /mm to spare/)) },
  { no: "44", what: "how it may be turned", before: "2 t, 1 f", act: on("fit", behind("#fit summary:has-text('rotating')", seen("#fit label:has-text('Turned')", /Turned/))) },
  { no: "46", what: "from which stop it is clear", before: "3 t, 2 f, 4 s", act: on("fit", seen("#fit li:has-text('Clear at every stop')", /every stop/)) },
  { no: "47", what: "where the pupil is", before: "7 t, 4 f, 5 s", act: on("fit", seen("#fit [data-answer=fit]", /Pupil 38 mm/)) },
  { no: "48", what: "focused close, where it breathes", before: "not there", act: on("fit", behind("#fit [data-part=close] > summary", typed("#fit-close", "46", "#fit .fit-close-told", /Clear.*to spare/))) },
  { no: "49", what: "screwed in on the same lens", before: "6 t, 1 f, two lists of 32", act: async (hand) => {
    await hand.pick("#now select[data-pick=rig]", "screw-in");
    await hand.see("#now [data-answer=fit]", /clear|spare|shades|clips/i);
  } },
  { no: "50", what: "in what order, and why", before: "not there", act: advised("From the lens outward", /close-up lens/) },
  { no: "50a", what: "how thick a stage may be", before: "4 t, 2 f, 9 s", act: on("fit", behind("#fit summary:has-text('tray 2')", typed("#fit details[open] .field:has(label:text('Depth')) input", "30", "#fit [data-answer=fit]", /Clear|Shades|Clips/))) },
  { no: "51, 52", what: "fewest moves of a day", before: "2 t", act: inCase("order", "#case :text-matches('\\\\d+ moves')", /moves/) },
  { no: "53, 54", what: "where the edge falls, how broad", before: "5 t, 2 f, 3 s", act: on("frame", seen("#frame [data-answer=blend]", /blend 4\d %/)) },
  { no: "55", what: "the line on the horizon: how far up", before: "8 t, 4 f, 4 s", act: async (hand) => {
    await hand.go("frame");
    await hand.slide("#frame [data-slide='frame.line'] input", "0.34");
    await hand.see("#frame [data-answer=line]", /mm/);
  } },
  { no: "56", what: "hard or soft for this lens", before: "3 t, 2 f, 2 s", act: on("frame", behind("#frame [data-chips=grad] button:has-text('0.9 soft')", seen("#frame [data-answer=blend]", /blend/))) },
  { no: "57", what: "may the shot move", before: "2 t, 1 f, 3 s", act: on("frame", behind("#frame .frame-motion > summary", typed("#frame-tilt", "-4", "#frame .frame-motion > summary", /slide|moves|stays/i))) },
  { no: "58, 59", what: "turned, upside down", before: "3 t, 2 f, 3 s", act: on("frame", behind("#frame [data-do=invert]", seen("#frame [data-answer=grad]", /hard|soft/))) },
  { no: "60", what: "what a wrong height costs", before: "7 t, 3 f, 5 s; wrong", act: on("frame", async (hand) => {
    await hand.slide("#frame [data-slide='frame.line'] input", "0.4");
    await hand.tap("#frame .frame-balance > summary");
    await hand.see("#frame .frame-grads li:has-text('0.9 hard')", /takes [\d.]+ from the subject/);
  }) },
  { no: "61", what: "which grad for T22 over T8, one may stay", before: "1 t, 2 s; wrong", act: async (hand) => {
    await hand.go("frame");
    await hand.type("#frame-bright", "T22");
    await hand.type("#frame-dark", "T8");
    await hand.see("#frame [data-answer=grad]", /0\.9 hard/);
  } },
  { no: "62", what: "the stop with it in", before: "6 t, 3 s", act: async (hand) => {
    await hand.go("frame");
    await hand.tap("#frame [data-do=put-grad]");
    await hand.go("now");
    await hand.see(STOP, /^T/);
  } },
  { no: "63", what: "a shot that moves, a grad measured", before: "15 t, 8 f, 16 s", act: on("frame", async (hand) => {
    await hand.tap("#frame .frame-list > summary");
    await hand.pick("#frame [data-new=kind]", "as measured");
    await hand.type("#frame [data-new=points]", "-15 0\n0 0.45\n15 0.9");
    await hand.tap("#frame [data-do=add-grad]");
    await hand.tap("#frame .frame-motion > summary");
    await hand.type("#frame-tilt", "-4");
    await hand.see("#frame .frame-motion > summary", /slide|static|stay/i);
  }) },
  { no: "64", what: "sky and land in figures", before: "4 t", act: on("frame", behind("#frame .frame-figures > summary", seen("#frame .frame-table", /Stops lost/))) },
  { no: "65, 66, 69", what: "ways by rings, clashes, what to buy", before: "2–3 t, 0–1 f", act: inCase("lenses", "#plan-filter", /82/) },
  { no: "67", what: "how many rings stacked", before: "not there", act: inCase("lenses", "#case .rings-answer :text('Screwed one on the other')", /up to \d+, .*\d+ of them/) },
  { no: "68", what: "ways to hold filters compared", before: "2 t", act: inCase("systems", "#case table", /matte box/) },
  { no: "70", what: "what to pack", before: "2 t", act: inCase("packing", "#case summary:has-text('What serves')", /needs/) },
  { no: "71", what: "two bodies from one case", before: "3 t, 2 s; no list", act: on("day", behind(BODIES, typed("#other-ei", "1600", "#day .bodies-answer p:has-text('The second takes')", /The second takes/))) },
  { no: "72", what: "the widest lens that stays clear", before: "partly", act: on("fit", seen("#fit li:has-text('Widest clear lens')", /mm/)) },
  { no: "73", what: "how long a flag", before: "5 t, 2 f, 25 s", act: light("flag", typed("#aim-az", "200", "[data-answer=flag]", /mm/)) },
  { no: "74", what: "where a lamp ghosts", before: "6 t, 6 s", act: light("ghost", seen("[data-answer=ghost]", /6 mm from the centre/)) },
  { no: "75", what: "tilted so that it is out", before: "4 t, 2 f, 5 s", act: light("ghost", typed("#ghost-tilt", "2", "[data-answer=ghost]", /stops weaker|out/)) },
  { no: "76", what: "what the glass weighs", before: "1 t", act: on("case", seen("#case summary:has-text('0.9')", /146 g/)) },
  { no: "77", what: "the sun through a long lens", before: "1 t; no figure", act: advised("The sun’s image", /times as strong/) },
  { no: "78", what: "match a shot in other light", before: "4 t, 1 f, 5 s", act: async (hand) => {
    await hand.tap("#now [data-do=put-in]");
    await hand.tap("#now [data-do=log]");
    await hand.go("day");
    await hand.tap("#day .day-log summary");
    await hand.tap("#day [data-do=match-this]");
    await hand.type("#match-reading", "T8");
    await hand.see("#day .match-answer", /Set T2\.8/);
  } },
  { no: "79", what: "two bodies side by side", before: "3 t, 1 f", act: on("day", behind(BODIES, typed("#other-ei", "400", "#day .bodies-answer tr:has-text('Glass must take')", /4 stops/))) },
  { no: "80", what: "what colour the stack has", before: "3 t, 2 f, 4 s", act: behind("#now summary:has-text('Colour')", typed("#colour-light", "5600", "#now summary:has-text('Colour')", /mired|no shift/)) },
  { no: "81", what: "a step back", before: "2 t", act: async (hand) => {
    await hand.tap("#now [data-do=put-in]");
    await hand.tap("[data-do=undo]");
    await hand.see("#now [data-do=put-in]", /Put in/);
  } },
  { no: "82", what: "the set-up in one sentence", before: "2 t; no lens in it", act: on("day", behind("#day .day-part[data-day=say] > summary", seen("#day output.say", /50 mm/))) },
];
