//! `measuredPolarizer`: a polarizer's own loss from readings through it.

use crate::plain::refusal::{At, Code, Refusal};
use crate::shapes::uncertainty::{UncertaintyRequest, known};
use crate::shapes::working::{SUM_OF_SQUARES, TermName, TermReply, TermUnit, Working};
use glasscall_core::physics::polarizer_pair::measured;
use glasscall_core::quantity::{Aperture, Stops};
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// Three readings of one patch under one light.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase", deny_unknown_fields)]
pub struct MeasuredPolarizerRequest {
    /// Aperture number without the polarizer.
    pub bare_aperture: f64,
    /// Through it, turned to the brightest.
    pub brightest_aperture: f64,
    /// Through it, turned to the darkest.
    pub darkest_aperture: f64,
    /// How well inputs are known, where better than usual.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uncertainty: Option<UncertaintyRequest>,
    /// Whether to tell how it is worked out, where a few terms tell it whole.
    #[serde(default)]
    pub explain: bool,
}

/// What the polarizer takes.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct MeasuredPolarizerReply {
    /// From light as it comes: the piece's `lossStops`.
    pub loss_stops: f64,
    /// How polarized the patch was, as far as this polarizer shows it.
    pub polarization: f64,
    /// By how much the exposure changed from the brightest turn to the darkest.
    pub turned_stops: f64,
    /// Whether the loss is below one stop, which no linear polarizer reaches in
    /// light as it comes: read again.
    pub below_floor: bool,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// A loss this far under one stop is the meter's third, not an error.
const METER_STEP: f64 = 1.0 / 3.0;

/// Answers `measuredPolarizer`.
///
/// # Errors
///
/// `outOfRange`; `notUnderstood` of the darkest reading when it is brighter
/// than the brightest.
pub fn measured_polarizer(
    request: &MeasuredPolarizerRequest,
) -> Result<MeasuredPolarizerReply, Refusal> {
    let at = |number: f64, field| Aperture::from_marking(number).at(field);
    let bare = at(request.bare_aperture, "bareAperture")?;
    let brightest = at(request.brightest_aperture, "brightestAperture")?;
    let darkest = at(request.darkest_aperture, "darkestAperture")?;
    // Less light through it reads as a wider stop.
    let [least, most] = [brightest, darkest].map(|through| through.stops_to(bare));
    if most.stops() < least.stops() - 1e-9 {
        return Err(Refusal::new(Code::NotUnderstood, "darkestAperture"));
    }
    let found = measured(least, most);
    let mut told = MeasuredPolarizerReply {
        loss_stops: found.loss.stops(),
        polarization: found.contrast,
        turned_stops: most.stops() - least.stops(),
        below_floor: found.loss < floor(),
        working: None,
    };
    let known = known(request.uncertainty.as_ref())?;
    if request.explain {
        let said = (request.uncertainty.as_ref()).is_some_and(|said| said.reading_stops.is_some());
        let read = (known.reading.stops(), said);
        told.working = working([bare, brightest, darkest], &told, read);
    }
    Ok(told)
}

fn floor() -> Stops {
    Stops::new(1.0 - METER_STEP).unwrap_or(Stops::ZERO)
}

const MALUS: &str = "Malus; both turns on one patch";

/// The terms of the loss from the readings bare, brightest, darkest.
fn working(
    read: [Aperture; 3],
    reply: &MeasuredPolarizerReply,
    (unsure, said): (f64, bool),
) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    let given = [
        ("B", TermName::ReadBare, "bareAperture"),
        ("N", TermName::ReadBrightest, "brightestAperture"),
        ("Q", TermName::ReadDarkest, "darkestAperture"),
    ];
    for ((symbol, name, field), stop) in given.into_iter().zip(read) {
        working.given(symbol, name, (stop.number(), TermUnit::Aperture), field);
    }
    let share = TermUnit::Number;
    working.steps(&[
        (
            "T",
            TermName::Passes,
            share,
            "((N/B) ^ 2 + (Q/B) ^ 2)/2",
            MALUS,
        ),
        ("k", TermName::Loss, TermUnit::Stops, "-log2(T)", MALUS),
        (
            "v",
            TermName::TurnedStops,
            TermUnit::Stops,
            "2 * log2(N/Q)",
            MALUS,
        ),
    ])?;
    if !(working.tells("k", reply.loss_stops) && working.tells("v", reply.turned_stops)) {
        return None;
    }
    let (field, stops) = ("uncertainty.readingStops", TermUnit::Stops);
    (working.given("R", TermName::ReadingUnsure, (unsure, stops), field)).unless(said);
    let together = "R * sqrt(1 + (N ^ 4 + Q ^ 4)/(N ^ 2 + Q ^ 2) ^ 2)";
    working.steps(&[("u", TermName::Unsure, stops, together, SUM_OF_SQUARES)])?;
    Some(working.terms())
}
