//! How what a search found is worked out: the sums of what was found, and how near
//! it is to proven. The search itself is not told again.

use super::cover_kit::{CoverKitReply, CoverKitRequest};
use super::order_day::{OrderDayReply, OrderDayRequest};
use super::two_bodies::{BodyStackReply, TwoBodiesReply, TwoBodiesRequest};
use crate::shapes::placed::{KnownBy, PlacedReply};
use crate::shapes::working::{DENSITY, TermName, TermReply, TermUnit, Working};

/// More needs than this are a list, no sum that a hand follows.
const FEW: usize = 16;

const SUM: &str = "sum";
const LEFT: &str = "what is needed less what is taken";
const BOUND: &str = "branch and bound over whole sets; own derivation";
const CHANGED: &str = "slots whose content changes";

pub(crate) const fn stops(value: f64) -> (f64, TermUnit) {
    (value, TermUnit::Stops)
}

pub(crate) const fn number(value: f64) -> (f64, TermUnit) {
    (value, TermUnit::Number)
}

#[expect(clippy::cast_precision_loss, reason = "counts stay below 2⁵³")]
pub(crate) const fn count(value: usize) -> (f64, TermUnit) {
    number(value as f64)
}

/// Several terms added up.
pub(crate) fn sum(terms: &[String]) -> String {
    if terms.is_empty() {
        return "0".to_owned();
    }
    terms.join(" + ")
}

/// How near to proven: what nothing comes below, what is not ruled out, and the
/// steps that took.
pub(crate) fn proof(
    working: &mut Working,
    found: &str,
    least: (f64, TermUnit),
    steps: u64,
) -> Option<()> {
    (working.given("b", TermName::LeastPossible, least, "")).from(BOUND);
    looked(working, steps);
    let gap = format!("{found} - b");
    working.steps(&[("x", TermName::NotRuledOut, least.1, &gap, BOUND)])
}

fn looked(working: &mut Working, steps: u64) {
    #[expect(clippy::cast_precision_loss, reason = "at most 10¹² steps")]
    let steps = number(steps as f64);
    (working.given("s", TermName::SearchSteps, steps, "steps")).from(BOUND);
}

/// What pieces take, each put down once.
#[derive(Default)]
struct Losses(Vec<String>);

impl Losses {
    fn of(&mut self, working: &mut Working, piece: &str, loss: f64, known_by: KnownBy) -> String {
        if let Some(at) = self.0.iter().position(|seen| seen == piece) {
            return format!("a{at}");
        }
        let symbol = format!("a{}", self.0.len());
        (working.given(&symbol, TermName::Loss, stops(loss), "")).of(piece, Some(known_by));
        self.0.push(piece.to_owned());
        symbol
    }

    /// A stack against a need.
    fn stack(
        &mut self,
        working: &mut Working,
        need: &Need<'_>,
        (slots, wheel): (&[PlacedReply], Option<f64>),
    ) -> Option<()> {
        let mut taken: Vec<String> = (slots.iter())
            .map(|one| self.of(working, &one.piece, one.stops, one.known_by))
            .collect();
        if let Some(density) = wheel.filter(|&density| density > 0.0) {
            let symbol = format!("w{}", need.mark);
            let density = (density, TermUnit::Density);
            working.given(&symbol, TermName::Density, density, "wheel");
            let (takes, formula) = (format!("v{}", need.mark), format!("{symbol}/log10(2)"));
            let unit = TermUnit::Stops;
            working.steps(&[(&takes, TermName::Loss, unit, &formula, DENSITY)])?;
            taken.push(takes);
        }
        need.left(working, &taken)
    }
}

/// A need, and what it is said to leave.
struct Need<'a> {
    mark: &'a str,
    name: &'a str,
    field: &'a str,
    stops: f64,
    left: f64,
}

impl Need<'_> {
    fn left(&self, working: &mut Working, taken: &[String]) -> Option<()> {
        let (need, left) = (format!("n{}", self.mark), format!("l{}", self.mark));
        let term = working.given(&need, TermName::Need, stops(self.stops), self.field);
        if !self.name.is_empty() {
            term.of(self.name, None);
        }
        let mut formula = need;
        for taken in taken {
            formula.push_str(" - ");
            formula.push_str(taken);
        }
        let unit = TermUnit::Stops;
        working.steps(&[(&left, TermName::LeftOver, unit, &formula, LEFT)])?;
        working.tells(&left, self.left).then_some(())
    }
}

/// The terms of a set that covers needs: what each piece costs and takes, what
/// each need is left with.
pub(crate) fn cover(
    request: &CoverKitRequest,
    reply: &CoverKitReply,
    takes: impl Fn(&str) -> Option<(f64, KnownBy)>,
    steps: u64,
) -> Option<Vec<TermReply>> {
    if request.needs.len() > FEW {
        return None;
    }
    let mut working = Working::default();
    let mut losses = Losses::default();
    for (nth, (need, served)) in request.needs.iter().zip(&reply.served).enumerate() {
        let Some(left) = served.left_over_stops else {
            continue;
        };
        let mut taken = Vec::new();
        for piece in &served.pieces {
            let (loss, known_by) = takes(piece)?;
            taken.push(losses.of(&mut working, piece, loss, known_by));
        }
        let asked = Need {
            mark: &nth.to_string(),
            name: "",
            field: &format!("needs[{nth}].stops"),
            stops: need.stops,
            left,
        };
        asked.left(&mut working, &taken)?;
    }
    let (mut pieces, mut costs) = (Vec::new(), Vec::new());
    for (nth, chosen) in reply.chosen.iter().enumerate() {
        let (many, each) = (format!("q{nth}"), format!("c{nth}"));
        (working.given(&many, TermName::HowMany, count(chosen.count), "")).of(&chosen.piece, None);
        let at = (request.catalogue.iter()).position(|ware| ware.id == chosen.piece)?;
        let (cost, field) = (request.catalogue[at].cost, format!("catalogue[{at}].cost"));
        if cost > 0.0 {
            (working.given(&each, TermName::Cost, number(cost), &field)).of(&chosen.piece, None);
            costs.push(format!("{many} * {each}"));
        }
        pieces.push(many);
    }
    let unit = TermUnit::Number;
    working.steps(&[
        ("Q", TermName::PiecesTogether, unit, &sum(&pieces), SUM),
        ("C", TermName::CostTogether, unit, &sum(&costs), SUM),
    ])?;
    let agrees = working.tells("C", reply.cost) && working.tells("Q", count(reply.pieces).0);
    proof(&mut working, "C", number(reply.least_cost), steps)?;
    agrees.then(|| working.terms())
}

/// The terms of a day's moves: each set-up's stack, and what changes between them.
pub(crate) fn day(
    request: &OrderDayRequest,
    reply: &OrderDayReply,
    steps: u64,
) -> Option<Vec<TermReply>> {
    if reply.stages.len() > FEW {
        return None;
    }
    let mut working = Working::default();
    let mut losses = Losses::default();
    let mut moves = Vec::new();
    for (nth, stage) in reply.stages.iter().enumerate() {
        let at = (request.set_ups.iter()).position(|set_up| set_up.id == stage.set_up)?;
        let need = Need {
            mark: &nth.to_string(),
            name: &stage.set_up,
            field: &format!("setUps[{at}].needStops"),
            stops: request.set_ups[at].need_stops,
            left: stage.left_over_stops,
        };
        losses.stack(&mut working, &need, (&stage.slots, stage.wheel))?;
        let symbol = format!("m{nth}");
        let moved = working.given(&symbol, TermName::Moves, count(stage.moves), "");
        moved.from(CHANGED).of(&stage.set_up, None);
        moves.push(symbol);
    }
    let unit = TermUnit::Number;
    working.steps(&[("M", TermName::MovesTogether, unit, &sum(&moves), SUM)])?;
    let mut agrees = working.tells("M", count(reply.moves).0);
    if let (Some(each), Some(told)) = (request.minutes_per_move, reply.minutes) {
        let each = (each, TermUnit::Minutes);
        working.given("e", TermName::MinutesAMove, each, "minutesPerMove");
        let unit = TermUnit::Minutes;
        working.steps(&[("T", TermName::MinutesTogether, unit, "M * e", SUM)])?;
        agrees &= working.tells("T", told);
    }
    proof(&mut working, "M", count(reply.least_moves), steps)?;
    agrees.then(|| working.terms())
}

/// The terms of what two bodies take at once: each one's stack, and what it would
/// leave were the case its own.
pub(crate) fn bodies(
    request: &TwoBodiesRequest,
    reply: &TwoBodiesReply,
    steps: u64,
) -> Option<Vec<TermReply>> {
    if reply.set_ups.len() > FEW / 2 {
        return None;
    }
    let mut working = Working::default();
    let mut losses = Losses::default();
    for (nth, (asked, both)) in request.set_ups.iter().zip(&reply.set_ups).enumerate() {
        for (letter, field, need, body) in [
            ("f", "needStops", asked.need_stops, &both.first),
            ("o", "otherNeedStops", asked.other_need_stops, &both.second),
        ] {
            let Some(body) = body else { continue };
            let need = Need {
                mark: &format!("{letter}{nth}"),
                name: &asked.id,
                field: &format!("setUps[{nth}].{field}"),
                stops: need,
                left: body.left_over_stops,
            };
            shared(&mut working, &mut losses, &need, body)?;
        }
    }
    if working.len() == 0 {
        return None;
    }
    looked(&mut working, steps);
    Some(working.terms())
}

fn shared(
    working: &mut Working,
    losses: &mut Losses,
    need: &Need<'_>,
    body: &BodyStackReply,
) -> Option<()> {
    losses.stack(working, need, (&body.slots, body.wheel))?;
    let (alone, more) = (format!("h{}", need.mark), format!("g{}", need.mark));
    let left = working.given(
        &alone,
        TermName::LeftAlone,
        stops(body.alone_left_over_stops),
        "",
    );
    left.from(BOUND).of(need.name, None);
    let formula = format!("l{} - {alone}", need.mark);
    let unit = TermUnit::Stops;
    working.steps(&[(&more, TermName::CostsBody, unit, &formula, LEFT)])
}
