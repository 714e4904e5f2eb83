//! How a density's faces, and light against settings, are worked out.

use super::convert_density::{ConvertDensityReply, ConvertDensityRequest};
use super::exposure::{ExposureReply, ExposureRequest, Receptor};
use crate::shapes::working::{Step, TermName, TermReply, TermUnit, Working};
use glasscall_core::physics::exposure::{DOME_RECEPTOR, FLAT_RECEPTOR, REFLECTED};

const DENSITY: &str = "optical density, ISO 5-2";
const ISO: &str = "ISO 2720";

/// The terms of a density from whichever face was given.
pub(crate) fn density(
    request: &ConvertDensityRequest,
    reply: &ConvertDensityReply,
) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    let number = |value: f64| (value, TermUnit::Number);
    time(
        &mut working,
        (
            request.frame_rate,
            request.shutter_angle_deg,
            request.shutter_seconds,
        ),
    )?;
    let faces = [
        (
            "D",
            TermName::Density,
            request.density,
            TermUnit::Density,
            "density",
        ),
        ("k", TermName::Loss, request.stops, TermUnit::Stops, "stops"),
        (
            "x",
            TermName::Factor,
            request.factor,
            TermUnit::Number,
            "factor",
        ),
        (
            "T",
            TermName::Passes,
            request.transmittance,
            TermUnit::Number,
            "transmittance",
        ),
        (
            "u",
            TermName::TimeThrough,
            request.through_seconds,
            TermUnit::Seconds,
            "throughSeconds",
        ),
    ];
    let (given, _, value, unit, field) = *faces.iter().find(|face| face.2.is_some())?;
    let name = faces.iter().find(|face| face.0 == given)?.1;
    working.given(given, name, (value?, unit), field);
    let of_density = match given {
        "k" => "k * log10(2)",
        "x" => "log10(x)",
        "T" => "-log10(T)",
        _ => "log10(u/t)",
    };
    let steps: [Step<'_>; 4] = [
        (
            "D",
            TermName::Density,
            TermUnit::Density,
            of_density,
            DENSITY,
        ),
        ("k", TermName::Loss, TermUnit::Stops, "D/log10(2)", DENSITY),
        ("x", TermName::Factor, TermUnit::Number, "10 ^ D", DENSITY),
        (
            "T",
            TermName::Passes,
            TermUnit::Number,
            "10 ^ (-D)",
            DENSITY,
        ),
    ];
    for step in steps.into_iter().filter(|step| step.0 != given) {
        working.steps(&[step])?;
    }
    if let Some(through) = reply.through
        && given != "u"
    {
        let step = (
            "u",
            TermName::TimeThrough,
            TermUnit::Seconds,
            "t * x",
            DENSITY,
        );
        working.steps(&[step])?;
        if !working.tells("u", through.shutter_seconds) {
            return None;
        }
    }
    let agrees = working.tells("D", reply.density)
        && working.tells("k", reply.stops)
        && working.tells("x", number(reply.factor).0)
        && working.tells("T", reply.transmittance);
    agrees.then(|| working.terms())
}

/// The exposure time as it was given; nothing where it was not.
fn time(
    working: &mut Working,
    (rate, angle, seconds): (Option<f64>, Option<f64>, Option<f64>),
) -> Option<()> {
    if let Some(seconds) = seconds {
        let time = (seconds, TermUnit::Seconds);
        working.given("t", TermName::Time, time, "shutterSeconds");
    } else if let (Some(rate), Some(angle)) = (rate, angle) {
        let rate = (rate, TermUnit::PerSecond);
        working.given("r", TermName::Rate, rate, "frameRate");
        let angle = (angle, TermUnit::Deg);
        working.given("w", TermName::ShutterAngle, angle, "shutterAngleDeg");
        working.open_for("t", TermName::Time, ("w", "r"))?;
    }
    Some(())
}

/// The terms of light, stop, time and index.
pub(crate) fn exposure(request: &ExposureRequest, reply: &ExposureReply) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    if request.aperture.is_some() {
        let stop = (reply.aperture, TermUnit::Aperture);
        working.given("N", TermName::Stop, stop, "aperture");
    }
    time(
        &mut working,
        (
            request.frame_rate,
            request.shutter_angle_deg,
            request.shutter_seconds,
        ),
    )?;
    if let Some(index) = request.exposure_index {
        working.given(
            "S",
            TermName::Index,
            (index, TermUnit::Index),
            "exposureIndex",
        );
    }
    let constant = match request.receptor {
        Receptor::Flat => FLAT_RECEPTOR,
        Receptor::Dome => DOME_RECEPTOR,
    };
    let constant = (constant.lux_seconds(), TermUnit::Number);
    (working.given("C", TermName::IncidentConstant, constant, "receptor")).from(ISO);
    let reflected = (
        REFLECTED.candela_seconds_per_square_metre(),
        TermUnit::Number,
    );
    (working.given("K", TermName::ReflectedConstant, reflected, "")).from(ISO);
    let light = light(&mut working, request);
    let value = TermUnit::ExposureValue;
    if let Some(formula) = light {
        working.steps(&[("V", TermName::ExposureValue, value, formula, ISO)])?;
    }
    let solved: Step<'_> = match (request.aperture, request.exposure_index) {
        _ if light.is_none() && request.ev100.is_none() => {
            let formula = "log2(N ^ 2/t * 100/S)";
            ("V", TermName::ExposureValue, value, formula, ISO)
        }
        (None, _) => (
            "N",
            TermName::Stop,
            TermUnit::Aperture,
            "sqrt(2 ^ V * t * S/100)",
            ISO,
        ),
        (_, None) => {
            let formula = "100 * N ^ 2/(t * 2 ^ V)";
            ("S", TermName::Index, TermUnit::Index, formula, ISO)
        }
        _ => {
            let formula = "100 * N ^ 2/(S * 2 ^ V)";
            ("t", TermName::Time, TermUnit::Seconds, formula, ISO)
        }
    };
    working.steps(&[solved])?;
    if request.illuminance_lux.is_none() {
        let step = ("E", TermName::FallsOn, TermUnit::Lux, "C * 2 ^ V/100", ISO);
        working.steps(&[step])?;
    }
    if request.luminance_cd_m2.is_none() {
        let step = (
            "L",
            TermName::Luminance,
            TermUnit::CandelaM2,
            "K * 2 ^ V/100",
            ISO,
        );
        working.steps(&[step])?;
    }
    let agrees = [
        ("V", reply.ev100),
        ("N", reply.aperture),
        ("t", reply.shutter_seconds),
        ("S", reply.exposure_index),
        ("E", reply.illuminance_lux),
        ("L", reply.luminance_cd_m2),
    ];
    (agrees
        .iter()
        .all(|(symbol, value)| working.tells(symbol, *value)))
    .then(|| working.terms())
}

/// The light as it was given, and its exposure value from it.
fn light(working: &mut Working, request: &ExposureRequest) -> Option<&'static str> {
    if let Some(lux) = request.illuminance_lux {
        working.given(
            "E",
            TermName::FallsOn,
            (lux, TermUnit::Lux),
            "illuminanceLux",
        );
        return Some("log2(100 * E/C)");
    }
    if let Some(spot) = request.luminance_cd_m2 {
        let spot = (spot, TermUnit::CandelaM2);
        working.given("L", TermName::Luminance, spot, "luminanceCdM2");
        return Some("log2(100 * L/K)");
    }
    if let Some(value) = request.ev100 {
        let value = (value, TermUnit::ExposureValue);
        working.given("V", TermName::ExposureValue, value, "ev100");
    }
    None
}
