//! How the darkening of a sky is worked out.

use super::sky::{SkyReply, SkyRequest, SkyVerdictName};
use crate::shapes::working::{TermName, TermReply, TermUnit, Working};
use glasscall_core::physics::sky::CLEAN_SKY;

const SPHERE: &str = "law of cosines on the sphere";
const RAYLEIGH: &str = "Rayleigh, Philosophical Magazine 41 (1871)";
const MALUS: &str = "Malus";

/// The terms of the darkening at the centre; `None` without sky or sun there.
pub(crate) fn working(
    request: &SkyRequest,
    sun: (f64, f64),
    reply: &SkyReply,
) -> Option<Vec<TermReply>> {
    if matches!(
        reply.verdict,
        SkyVerdictName::SunDown | SkyVerdictName::NoSky
    ) {
        return None;
    }
    let mut working = Working::default();
    let deg = |value: f64| (value, TermUnit::Deg);
    for (symbol, name, value, field) in [
        ("h", TermName::SunHeight, sun.1, "sunElevationDeg"),
        ("s", TermName::SunTowards, sun.0, "sunAzimuthDeg"),
        (
            "e",
            TermName::AimHeight,
            request.aim_elevation_deg,
            "aimElevationDeg",
        ),
        (
            "a",
            TermName::AimTowards,
            request.aim_azimuth_deg,
            "aimAzimuthDeg",
        ),
        ("g", TermName::Roll, request.roll_deg, "rollDeg"),
    ] {
        working.given(symbol, name, deg(value), field);
    }
    let most = request.max_polarization;
    let value = (most.unwrap_or(CLEAN_SKY), TermUnit::Number);
    let term = working.given("m", TermName::MostPolarized, value, "maxPolarization");
    term.unless(most.is_some())
        .from("Dahlberg, Pust and Shaw, Optics Express 19, 16008 (2011)");
    working.steps(&[
        (
            "c",
            TermName::CosineFromSun,
            TermUnit::Number,
            "sin(h) * sin(e) + cos(h) * cos(e) * cos(s - a)",
            SPHERE,
        ),
        (
            "y",
            TermName::FromSun,
            TermUnit::Deg,
            "acos(min(c, 1))",
            SPHERE,
        ),
        (
            "p",
            TermName::Polarized,
            TermUnit::Number,
            "m * (1 - c ^ 2)/(1 + c ^ 2)",
            RAYLEIGH,
        ),
        (
            "v",
            TermName::SunAboutAxis,
            TermUnit::Deg,
            "atan2(cos(h) * sin(s - a), sin(h) * cos(e) - cos(h) * sin(e) * cos(s - a)) - g",
            SPHERE,
        ),
    ])?;
    working.given(
        "t",
        TermName::Turn,
        deg(reply.polarizer_deg),
        "polarizerDeg",
    );
    working.steps(&[
        (
            "k",
            TermName::Darkening,
            TermUnit::Stops,
            "-log2(1 - p * cos(2 * (t - v)))",
            MALUS,
        ),
        (
            "x",
            TermName::QuarterTurn,
            TermUnit::Stops,
            "log2((1 + p)/(1 - p))",
            MALUS,
        ),
    ])?;
    working
        .tells("k", reply.darkening_stops)
        .then(|| working.terms())
}
