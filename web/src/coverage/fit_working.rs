//! How the least room of a fit is worked out, where a few terms tell it whole.

use super::fit_reply::FitReply;
use super::fit_request::FitRequest;
use crate::shapes::opening::{OpeningRequest, ShapeName};
use crate::shapes::pupil::PupilPlace;
use crate::shapes::working::{TermName, TermReply, TermUnit, Working};

const GEOMETRY: &str = "a bundle crosses at z * tan(angle); own derivation";

/// The terms of the least room; `None` where more decides it than they say:
/// a turned or deep opening, a lens that bends its picture, a pupil that is not
/// known by a figure. What they come to must be the answer's own figure.
pub(crate) fn working(request: &FitRequest, reply: &FitReply) -> Option<Vec<TermReply>> {
    let told = reply.spare_mm?;
    let at = (reply.openings.iter()).position(|opening| opening.spare_mm == Some(told))?;
    let opening = request.openings.get(at)?;
    let Some(PupilPlace::Known(behind)) = request.pupil_behind_rim_mm else {
        return None;
    };
    let (terms, room) = terms(request, opening, (at, behind), reply.pupil.height_mm)?;
    ((room - told).abs() <= 1e-9).then_some(terms)
}

const fn mm(value: f64) -> (f64, TermUnit) {
    (value, TermUnit::Mm)
}

fn terms(
    request: &FitRequest,
    opening: &OpeningRequest,
    (at, behind): (usize, f64),
    pupil: f64,
) -> Option<(Vec<TermReply>, f64)> {
    let mut working = Working::default();
    let field = |name: &str| format!("openings[{at}].{name}");
    let squeeze = request.squeeze.unwrap_or(1.0);
    let (f, number) = (request.focal_length_mm, request.focal_length_mm / pupil);
    working.given("f", TermName::FocalLength, mm(f), "focalLengthMm");
    working.given(
        "N",
        TermName::FNumber,
        (number, TermUnit::FNumber),
        "fNumber",
    );
    working
        .follows("P", TermName::Pupil, mm(pupil), "f/N")
        .from("definition of the f-number");
    working.given("p", TermName::PupilBehind, mm(behind), "pupilBehindRimMm");
    working
        .given(
            "d",
            TermName::Distance,
            mm(opening.distance_from_rim_mm),
            &field("distanceFromRimMm"),
        )
        .of(&opening.name, None);
    let z = behind + opening.distance_from_rim_mm;
    working
        .follows("z", TermName::FromPupil, mm(z), "p + d")
        .from(GEOMETRY);
    working.given(
        "w",
        TermName::SensorWidth,
        mm(request.sensor.width_mm),
        "sensor.widthMm",
    );
    working.given(
        "h",
        TermName::SensorHeight,
        mm(request.sensor.height_mm),
        "sensor.heightMm",
    );
    working.given(
        "s",
        TermName::Squeeze,
        (squeeze, TermUnit::Number),
        "squeeze",
    );
    let x = z * squeeze * request.sensor.width_mm / (2.0 * f);
    let y = z * request.sensor.height_mm / (2.0 * f);
    working
        .follows("x", TermName::ChiefAcross, mm(x), "z * s * w/(2 * f)")
        .from(GEOMETRY);
    working
        .follows("y", TermName::ChiefUp, mm(y), "z * h/(2 * f)")
        .from(GEOMETRY);
    let (formula, room) = match opening.shape {
        ShapeName::Circle => {
            let across = opening.diameter_mm?;
            working.given(
                "D",
                TermName::OpeningDiameter,
                mm(across),
                &field("diameterMm"),
            );
            (
                "D/2 - sqrt(x ^ 2 + y ^ 2) - P/2",
                across / 2.0 - x.hypot(y) - pupil / 2.0,
            )
        }
        ShapeName::Rectangle => {
            let (width, height) = (opening.width_mm?, opening.height_mm?);
            working.given("W", TermName::OpeningWidth, mm(width), &field("widthMm"));
            working.given("H", TermName::OpeningHeight, mm(height), &field("heightMm"));
            if opening.turns {
                // At its worst turn the nearer side faces the corner.
                let side = width.min(height) / 2.0;
                (
                    "min(W, H)/2 - sqrt(x ^ 2 + y ^ 2) - P/2",
                    side - x.hypot(y) - pupil / 2.0,
                )
            } else {
                let across = width / 2.0 - x - pupil / (2.0 * squeeze);
                let room = across.min(height / 2.0 - y - pupil / 2.0);
                ("min(W/2 - x - P/(2 * s), H/2 - y - P/2)", room)
            }
        }
    };
    (working.follows("r", TermName::Room, mm(room), formula)).from(GEOMETRY);
    Some((working.terms(), room))
}
