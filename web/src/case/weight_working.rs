//! How weight, moment and counterweight are worked out.

use super::weight::{WeightItem, WeightReply, WeightRequest};
use crate::shapes::working::{Step, TermName, TermReply, TermUnit, Working};
use glasscall_core::physics::weight::Outline;

const STATICS: &str = "statics, g = 9.80665 m/s2";
const HEFT: &str = "area by thickness by density";

/// More than this is a list, no sum that a hand follows.
const FEW: usize = 24;

/// A thing that is weighed, and where it stands in the request.
pub(crate) struct Weighed<'a> {
    pub(crate) item: &'a WeightItem,
    pub(crate) path: String,
    pub(crate) grams: f64,
    pub(crate) cut: Option<(Outline, f64, f64)>,
}

/// The terms of what hangs there anyway and the heaviest stack beside it.
pub(crate) fn working(
    request: &WeightRequest,
    things: &[Weighed<'_>],
    reply: &WeightReply,
) -> Option<Vec<TermReply>> {
    if things.is_empty() || things.len() > FEW {
        return None;
    }
    let mut working = Working::default();
    let pivot = (request.pivot_behind_rim_mm, TermUnit::Mm);
    working.given("p", TermName::Pivot, pivot, "pivotBehindRimMm");
    let (mut mass, mut moment) = (String::new(), String::new());
    for (nth, thing) in things.iter().enumerate() {
        let (m, x) = (format!("m{nth}"), format!("x{nth}"));
        weighs(&mut working, nth, thing)?;
        let field = format!("{}.distanceFromRimMm", thing.path);
        let ahead = (thing.item.distance_from_rim_mm, TermUnit::Mm);
        named(working.given(&x, TermName::Distance, ahead, &field), thing);
        let sign = if nth == 0 { "" } else { " + " };
        mass.push_str(&format!("{sign}{m}"));
        moment.push_str(&format!("{sign}{m} * ({x} + p)"));
    }
    let moment = format!("9.80665 * ({moment})/1000000");
    working.steps(&[
        ("M", TermName::AllMass, TermUnit::Grams, &mass, STATICS),
        (
            "T",
            TermName::Moment,
            TermUnit::NewtonMetres,
            &moment,
            STATICS,
        ),
    ])?;
    let (all, turning, counter) = reply.heaviest.as_ref().map_or(
        (reply.mass_g, reply.moment_nm, reply.counterweight_g),
        |most| (most.mass_g, most.moment_nm, most.counterweight_g),
    );
    let mut agrees = working.tells("M", all) && working.tells("T", turning);
    if let (Some(arm), Some(counter)) = (request.counter_arm_mm, counter) {
        let arm = (arm, TermUnit::Mm);
        working.given("r", TermName::CounterArm, arm, "counterArmMm");
        working.steps(&[(
            "C",
            TermName::Counterweight,
            TermUnit::Grams,
            "T * 1000000/(9.80665 * r)",
            STATICS,
        )])?;
        agrees &= working.tells("C", counter);
    }
    agrees.then(|| working.terms())
}

fn named(term: &mut TermReply, thing: &Weighed<'_>) {
    if !thing.item.name.is_empty() {
        term.of(&thing.item.name, None);
    }
}

/// What one thing weighs, as said or by its measures.
fn weighs(working: &mut Working, nth: usize, thing: &Weighed<'_>) -> Option<()> {
    let m = format!("m{nth}");
    let Some((outline, thickness, density)) = thing.cut else {
        let field = format!("{}.massG", thing.path);
        let grams = (thing.grams, TermUnit::Grams);
        named(working.given(&m, TermName::Mass, grams, &field), thing);
        return Some(());
    };
    let put = |working: &mut Working, sign: &str, name, value, field: &str| {
        let symbol = format!("{sign}{nth}");
        let field = format!("{}.{field}", thing.path);
        named(working.given(&symbol, name, value, &field), thing);
    };
    let area = match outline {
        Outline::Round(across) => {
            let across = (across.millimetres(), TermUnit::Mm);
            put(
                working,
                "d",
                TermName::OpeningDiameter,
                across,
                "diameterMm",
            );
            format!("3.14159265358979 * (d{nth}/2) ^ 2")
        }
        Outline::Panel(width, height) => {
            let [width, height] = [width, height].map(|side| (side.millimetres(), TermUnit::Mm));
            put(working, "w", TermName::Width, width, "widthMm");
            put(working, "h", TermName::Height, height, "heightMm");
            format!("w{nth} * h{nth}")
        }
    };
    let thick = (thickness, TermUnit::Mm);
    put(working, "t", TermName::Thickness, thick, "thicknessMm");
    let heft = (density, TermUnit::Number);
    put(working, "g", TermName::Heft, heft, "material");
    let formula = format!("{area} * t{nth} * g{nth}/1000");
    let step: Step<'_> = (&m, TermName::Mass, TermUnit::Grams, &formula, HEFT);
    working.steps(&[step])
}
