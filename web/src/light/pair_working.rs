//! How a pair of polarizers and a reflection are worked out.

use super::crossed_polarizers::{CrossedPolarizersReply, CrossedPolarizersRequest};
use super::reflection::{ReflectionReply, ReflectionRequest, SurfaceName};
use crate::shapes::working::{SUM_OF_SQUARES, Step, TermName, TermReply, TermUnit, Working};

const MALUS: &str = "Malus; a leaking sheet after Bennett, Handbook of Optics I";
const FRESNEL: &str = "Fresnel; Born and Wolf, Principles of Optics, 1.5.2";

/// The terms of what a pair takes.
pub(crate) fn pair(
    request: &CrossedPolarizersRequest,
    reply: &CrossedPolarizersReply,
) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    let angle = (reply.angle_deg, TermUnit::Deg);
    working.given("w", TermName::PairAngle, angle, "angleDeg");
    (working.given(
        "a",
        TermName::PairLoss,
        (reply.loss_stops, TermUnit::Stops),
        "lossStops",
    ))
    .unless(request.loss_stops.is_some());
    (working.given(
        "R",
        TermName::Extinction,
        (reply.extinction_ratio, TermUnit::Number),
        "extinctionRatio",
    ))
    .unless(request.extinction_ratio.is_some());
    working.steps(&[
        (
            "T",
            TermName::PassedShare,
            TermUnit::Number,
            "cos(w) ^ 2 + sin(w) ^ 2/R",
            MALUS,
        ),
        (
            "k",
            TermName::PairTakes,
            TermUnit::Stops,
            "a - log2(T)",
            MALUS,
        ),
    ])?;
    if !working.tells("k", reply.stops) {
        return None;
    }
    // The angle is set by eye on a scale, of which nothing is known.
    let said = request.uncertainty.as_ref();
    let (field, said) = match request.loss_stops {
        Some(_) => (
            "uncertainty.statedStops",
            said.is_some_and(|said| said.stated_stops.is_some()),
        ),
        None => (
            "uncertainty.polarizerStops",
            said.is_some_and(|said| said.polarizer_stops.is_some()),
        ),
    };
    let stops = TermUnit::Stops;
    let (shown, formula) = if request.loss_stops.is_some() {
        (reply.uncertainty.stops, "v")
    } else {
        // Two sheets alike.
        (reply.uncertainty.stops / 2.0, "2 * v")
    };
    (working.given("v", TermName::LossUnsure, (shown, stops), field)).unless(said);
    working.steps(&[("u", TermName::Unsure, stops, formula, SUM_OF_SQUARES)])?;
    Some(working.terms())
}

/// The terms of what a polarizer leaves of a reflection.
pub(crate) fn reflection(
    request: &ReflectionRequest,
    reply: &ReflectionReply,
) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    working.given(
        "n",
        TermName::RefractiveIndex,
        (request.refractive_index, TermUnit::Number),
        "refractiveIndex",
    );
    working.given(
        "i",
        TermName::SeenAt,
        (request.angle_deg, TermUnit::Deg),
        "angleDeg",
    );
    let of =
        |symbol, name, formula| -> Step<'_> { (symbol, name, TermUnit::Number, formula, FRESNEL) };
    working.steps(&[of("t", TermName::InsideCosine, "sqrt(1 - (sin(i)/n) ^ 2)")])?;
    let across = "((cos(i) - n * t)/(cos(i) + n * t)) ^ 2";
    let along = "((n * cos(i) - t)/(n * cos(i) + t)) ^ 2";
    match request.surface {
        SurfaceName::OneFace => working.steps(&[
            of("S", TermName::ReflectedAcross, across),
            of("P", TermName::ReflectedAlong, along),
        ])?,
        SurfaceName::Pane => working.steps(&[
            of("s", TermName::ReflectedAcross, across),
            of("p", TermName::ReflectedAlong, along),
            of("S", TermName::ReflectedAcross, "2 * s/(1 + s)"),
            of("P", TermName::ReflectedAlong, "2 * p/(1 + p)"),
        ])?,
    }
    let left = match request.extinction_ratio {
        None => "P/((P + S)/2)",
        Some(ratio) => {
            working.given(
                "R",
                TermName::Extinction,
                (ratio, TermUnit::Number),
                "extinctionRatio",
            );
            "(R * P + S)/((R + 1) * (P + S)/2)"
        }
    };
    working.steps(&[of("l", TermName::LeftShare, left)])?;
    if reply.weaker_by_stops.is_some() {
        working.steps(&[(
            "k",
            TermName::WeakerBy,
            TermUnit::Stops,
            "-log2(l)",
            FRESNEL,
        )])?;
    }
    working.steps(&[(
        "b",
        TermName::BrewsterAngle,
        TermUnit::Deg,
        "atan(n)",
        "Brewster (1815)",
    )])?;
    let agrees = working.tells("l", reply.left_by_polarizer)
        && (reply.weaker_by_stops).is_none_or(|stops| working.tells("k", stops))
        && working.tells("b", reply.brewster_deg);
    agrees.then(|| working.terms())
}
