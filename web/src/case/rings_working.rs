//! How rings, their room and their cost add up.

use super::rings::{RingPathReply, RingsReply};
use super::search_working::{count, number, proof, sum};
use crate::shapes::working::{TermName, TermReply, TermUnit, Working};
use glasscall_core::search::rings::{ClearCone, Lens};

/// More lenses than this are a list, no sum that a hand follows.
const FEW: usize = 16;

const STACKED: &str = "one on the other";
const CONE: &str = "the light of a lens widens ahead of the rim; own derivation";
const SUM: &str = "sum";

const fn mm(value: f64) -> (f64, TermUnit) {
    (value, TermUnit::Mm)
}

/// The terms of the rings that stay on each lens, and of what is bought for it.
pub(crate) fn working(lenses: &[Lens], reply: &RingsReply, steps: u64) -> Option<Vec<TermReply>> {
    if reply.settled.len() > FEW {
        return None;
    }
    let mut working = Working::default();
    for (nth, (path, lens)) in reply.settled.iter().zip(lenses).enumerate() {
        if !path.rings.is_empty() {
            on_lens(&mut working, nth, path, lens.needs_clear)?;
        }
    }
    let mut costs = Vec::new();
    for (nth, buy) in reply.buy.iter().enumerate() {
        let [from, to, many, each] = ["f", "t", "q", "p"].map(|letter| format!("{letter}{nth}"));
        working.given(&from, TermName::RingFrom, mm(buy.ring.from_mm), "");
        working.given(&to, TermName::RingTo, mm(buy.ring.to_mm), "");
        working.given(&many, TermName::HowMany, count(buy.count), "");
        working.given(&each, TermName::Cost, number(buy.cost), "catalogue");
        costs.push(format!("{many} * {each}"));
    }
    let unit = TermUnit::Number;
    working.steps(&[("C", TermName::CostTogether, unit, &sum(&costs), SUM)])?;
    let agrees = working.tells("C", reply.cost);
    proof(&mut working, "C", number(reply.least_cost), steps)?;
    agrees.then(|| working.terms())
}

/// The rings of one lens, from the lens outward: how deep, and the room in them.
fn on_lens(
    working: &mut Working,
    nth: usize,
    path: &RingPathReply,
    cone: Option<ClearCone>,
) -> Option<()> {
    let cone = cone.filter(|_| path.spare_mm.is_some());
    let (at_rim, widens) = (format!("y{nth}"), format!("v{nth}"));
    if let Some(cone) = cone {
        let rim = mm(cone.at_rim.millimetres());
        (working.given(&at_rim, TermName::LightAtRim, rim, "")).of(&path.id, None);
        let per_mm = number(cone.per_mm);
        (working.given(&widens, TermName::LightWidens, per_mm, "")).of(&path.id, None);
    }
    let (mut depths, mut room): (Vec<String>, Option<String>) = (Vec::new(), None);
    for (ring, is) in path.rings.iter().enumerate() {
        let [depth, clear, spare] = ["d", "c", "r"].map(|letter| format!("{letter}{nth}r{ring}"));
        (working.given(&depth, TermName::Deep, mm(is.depth_mm), "")).of(&path.id, None);
        depths.push(depth);
        if cone.is_none() {
            continue;
        }
        let across = mm(is.clear_mm);
        (working.given(&clear, TermName::OpeningDiameter, across, "")).of(&path.id, None);
        let formula = format!("({clear} - {at_rim} - {widens} * ({}))/2", sum(&depths));
        working.steps(&[(&spare, TermName::Room, TermUnit::Mm, &formula, CONE)])?;
        room = Some(match room {
            Some(least) => format!("min({least}, {spare})"),
            None => spare,
        });
    }
    let (deep, least) = (format!("D{nth}"), format!("R{nth}"));
    let formula = sum(&depths);
    working.steps(&[(
        &deep,
        TermName::DeepTogether,
        TermUnit::Mm,
        &formula,
        STACKED,
    )])?;
    let mut agrees = working.tells(&deep, path.depth_mm);
    if let (Some(room), Some(told)) = (room, path.spare_mm) {
        working.steps(&[(&least, TermName::LeastRoom, TermUnit::Mm, &room, CONE)])?;
        agrees &= working.tells(&least, told);
    }
    agrees.then_some(())
}
