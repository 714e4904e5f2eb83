// @ts-check
/** The grad that two readings ask for: its name, its line, one warning, one button; beside it the others. */
import { pullGrad } from "../../document/grad-edits.js";
import { logNow } from "../../day/log-now.js";
import { one } from "../../parts/dom.js";
import { gradChoice } from "./grad-choice.js";
import { showPlate, showStrip, whatIsDrawn } from "./plate.js";
import { turnLeft, turnLine } from "./turned.js";

/** @param {HTMLElement} root @param {import("../../start/start.js").App} app */
export function mountGradAnswer(root, app) {
  const choice = gradChoice(app);

  const act = one(root, ".frame-plate .plate-act");
  act.addEventListener("click", () => {
    if (act.dataset.do === "log-frame") return void logNow(app);
    const { held } = choice.shown();
    if (!held) return void app.do(pullGrad);
    return choice.putIn(held.frame.grad, held.frame.invert, held.frame.line);
  });

  for (const what of /** @type {const} */ (["line", "left", "blend"])) {
    const figure = one(root, `[data-do=turn-${what}]`);
    figure.addEventListener("click", () => {
      const { held } = choice.shown();
      if (!held) return;
      if (what === "left") turnLeft(figure, app, held);
      else turnLine(figure, app, held, what === "line" ? "heights[0].stops" : what);
    });
  }

  const update = () => {
    const shown = choice.answer();
    showPlate(root, app.setup, shown);
    showStrip(one(root, "[data-chips=grad]"), app.setup, shown, choice);
    one(root, ".frame-in").textContent = whatIsDrawn(app.setup, choice.drawn(app.setup), shown);
  };

  return {
    update,
    drawn: choice.drawn,
    takeInHand: choice.takeInHand,
    /** The place of the line that is drawn. */
    lineNow: () => choice.drawn(app.setup).frame.line,
    /** Somebody puts the line there. @param {number} line */
    slides(line) {
      choice.slides(line);
      // To where the document has it is no edit of it.
      if (line === app.setup.frame.line) update();
    },
  };
}
