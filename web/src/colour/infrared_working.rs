//! How visible and infrared light through a stack are added up.

use super::infrared::{InfraredReply, InfraredRequest};
use crate::shapes::placed::KnownBy;
use crate::shapes::working::{DENSITY, TermName, TermReply, TermUnit, Working};
use glasscall_core::physics::infrared::taken;
use glasscall_core::setup::{
    Contribution, Origin, Piece, Uncertainties, Uncertainty, WheelPosition,
};

const APART: &str = "visible and infrared add up apart; own derivation";

/// The terms of the excess, and how far a cut still is.
pub(crate) fn working(
    request: &InfraredRequest,
    (pieces, wheel): (&[Piece], Option<WheelPosition>),
    reply: &InfraredReply,
    known: &Uncertainties,
) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    let (mut visible, mut infrared) = (String::from("0"), String::from("0"));
    for (nth, piece) in pieces.iter().enumerate() {
        let record = piece.record();
        let symbol = format!("a{nth}");
        let loss = (piece.loss().stops.stops(), TermUnit::Stops);
        (working.given(
            &symbol,
            TermName::VisibleTaken,
            loss,
            &format!("pieces[{nth}].density"),
        ))
        .of(&record.id, Some(piece.loss().origin.into()));
        plus(&mut visible, &symbol);
        let symbol = format!("b{nth}");
        let (known_by, field) = (
            (record.infrared.is_none()).then_some(KnownBy::Assumed),
            format!("pieces[{nth}].infraredDensity"),
        );
        let loss = (taken(piece).stops(), TermUnit::Stops);
        (working.given(&symbol, TermName::InfraredTaken, loss, &field)).of(&record.id, known_by);
        plus(&mut infrared, &symbol);
    }
    if let Some(at) = wheel {
        let density = (at.density.density(), TermUnit::Density);
        working.given("W", TermName::Density, density, "wheelDensity");
        let stops = (at.infrared().stops(), TermUnit::Stops);
        (working.given("bw", TermName::InfraredTaken, stops, "wheelInfraredDensity"))
            .unless(at.infrared.is_some());
        plus(&mut visible, "W/log10(2)");
        plus(&mut infrared, "bw");
    }
    let cut = (reply.cut_from_density, TermUnit::Density);
    (working.given("c", TermName::CutFrom, cut, "cutFromDensity"))
        .unless(request.cut_from_density.is_some())
        .from("common practice, no source");
    let stops = TermUnit::Stops;
    working.steps(&[
        ("V", TermName::VisibleTaken, stops, &visible, DENSITY),
        ("I", TermName::InfraredTaken, stops, &infrared, APART),
        ("e", TermName::InfraredExcess, stops, "V - I", APART),
        (
            "x",
            TermName::ExcessDensity,
            TermUnit::Density,
            "e * log10(2)",
            DENSITY,
        ),
        ("k", TermName::ToCut, TermUnit::Density, "c - x", APART),
    ])?;
    let agrees = working.tells("V", reply.visible_stops)
        && working.tells("I", reply.infrared_stops)
        && working.tells("e", reply.excess_stops)
        && working.tells("x", reply.excess_density);
    if !agrees {
        return None;
    }
    // What is known of visible light; of infrared only what was said counts.
    let of_pieces = (pieces.iter().enumerate()).map(|(at, piece)| Contribution {
        from: Origin::Piece(at, piece.loss().origin),
        stops: known.of_piece(piece),
    });
    let of_wheel = wheel.map(|at| Contribution {
        from: Origin::Wheel,
        stops: known.of_wheel(at),
    });
    let causes: Vec<Contribution> = of_pieces.chain(of_wheel).collect();
    let together = Uncertainty::of(causes.iter().copied()).stops;
    working.causes(causes, together, pieces);
    Some(working.terms())
}

fn plus(sum: &mut String, term: &str) {
    if sum == "0" {
        sum.clear();
    } else {
        sum.push_str(" + ");
    }
    sum.push_str(term);
}
