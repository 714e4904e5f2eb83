//! How the light of a clear sky is worked out.

use super::daylight::{DaylightReply, DaylightRequest, FacingName};
use crate::shapes::working::{Step, TermName, TermReply, TermUnit, Working};
use glasscall_core::physics::daylight::coefficients;
use glasscall_core::quantity::{Elevation, Stops};
use glasscall_core::setup::Contribution;

pub(crate) const ALMANAC: &str = "Explanatory Supplement to the Astronomical Almanac (1992), 9.3";
const IES: &str = "IES, Journal of the IES 13(4), 381 (1984)";

/// The terms of the light that falls on what was asked about.
pub(crate) fn working(
    request: &DaylightRequest,
    reply: &DaylightReply,
    (sun, causes, together): (Elevation, impl IntoIterator<Item = Contribution>, Stops),
) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    let height = (request.sun_elevation_deg, TermUnit::Deg);
    working.given("h", TermName::SunHeight, height, "sunElevationDeg");
    level(&mut working, sun)?;
    let lit = if request
        .facing
        .is_none_or(|facing| facing == FacingName::Level)
    {
        "E"
    } else {
        faces(&mut working, request.facing?, request.sun_elevation_deg)?;
        "F"
    };
    let value = format!("log2({lit}/2.5)");
    working.steps(&[(
        "v",
        TermName::ExposureValue,
        TermUnit::ExposureValue,
        &value,
        "ISO 2720:1974, C = 250",
    )])?;
    if !working.tells("E", reply.illuminance_lux) || !working.tells("v", reply.facing_ev100) {
        return None;
    }
    working.causes(causes, together, &[]);
    Some(working.terms())
}

/// What level ground gets.
fn level(working: &mut Working, sun: Elevation) -> Option<()> {
    for (symbol, value) in ["l0", "l1", "l2", "l3"].into_iter().zip(coefficients(sun)) {
        let name = TermName::Coefficient;
        (working.given(symbol, name, (value, TermUnit::Number), "")).from(ALMANAC);
    }
    let formula = "l0 + x * (l1 + x * (l2 + x * l3))";
    working.steps(&[
        (
            "x",
            TermName::HeightShare,
            TermUnit::Number,
            "h/90",
            ALMANAC,
        ),
        ("l", TermName::LogLux, TermUnit::Number, formula, ALMANAC),
        ("E", TermName::Light, TermUnit::Lux, "10 ^ l", ALMANAC),
    ])
}

/// What a surface gets that does not lie level, the sun being up.
fn faces(working: &mut Working, facing: FacingName, height: f64) -> Option<()> {
    let whole = ("F", TermName::FallsOn, TermUnit::Lux);
    let (symbol, name, unit) = whole;
    if height <= 0.0 {
        return working.steps(&[(symbol, name, unit, "E", IES)]);
    }
    let formula = match facing {
        FacingName::Level => "E",
        FacingName::Sun => "b + y * (1 + sin(h))/2",
        FacingName::Upright => "b * cos(h) + y/2",
        FacingName::UprightAway => "min(y, E * y/(b * sin(h) + y))/2",
    };
    let steps: [Step<'_>; 3] = [
        (
            "b",
            TermName::SunAlone,
            TermUnit::Lux,
            "127500 * 2.71828182845905 ^ (-0.21/sin(h))",
            IES,
        ),
        (
            "y",
            TermName::SkyAlone,
            TermUnit::Lux,
            "800 + 15500 * sqrt(sin(h))",
            IES,
        ),
        (symbol, name, unit, formula, IES),
    ];
    working.steps(&steps)
}
