//! How the pupil that a ring shows is worked out.

use super::pupil_measured::{PupilByRingReply, PupilByRingRequest};
use crate::shapes::sensor::SensorRequest;
use crate::shapes::working::{CROSSING, TermName, TermReply, TermUnit, Working};
use glasscall_core::quantity::Aperture;

const LENS: &str = "area that two circles share";
const ROOT: &str = "bracketed so that a third of a stop is lost";

/// The picture and the lens, which each working about the pupil begins with.
pub(super) fn picture(working: &mut Working, sensor: SensorRequest, focal_length_mm: f64) {
    for (symbol, name, value, field) in [
        (
            "w",
            TermName::SensorWidth,
            sensor.width_mm,
            "sensor.widthMm",
        ),
        (
            "h",
            TermName::SensorHeight,
            sensor.height_mm,
            "sensor.heightMm",
        ),
        ("f", TermName::FocalLength, focal_length_mm, "focalLengthMm"),
    ] {
        working.given(symbol, name, (value, TermUnit::Mm), field);
    }
}

/// The terms of the three places of the pupil; `None` for squeezed pictures, whose
/// pupil is no circle.
pub(crate) fn working(
    request: &PupilByRingRequest,
    f_number: Aperture,
    reply: &PupilByRingReply,
) -> Option<Vec<TermReply>> {
    if request.squeeze.is_some_and(|squeeze| squeeze != 1.0) {
        return None;
    }
    let mut working = Working::default();
    picture(&mut working, request.sensor, request.focal_length_mm);
    for (symbol, name, value, field) in [
        (
            "D",
            TermName::OpeningDiameter,
            request.ring_diameter_mm,
            "ringDiameterMm",
        ),
        (
            "d",
            TermName::Distance,
            request.darkens_from_mm,
            "darkensFromMm",
        ),
    ] {
        working.given(symbol, name, (value, TermUnit::Mm), field);
    }
    let stop = (f_number.number(), TermUnit::FNumber);
    working.given("N", TermName::FNumber, stop, "fNumber");
    let mm = TermUnit::Mm;
    working.steps(&[
        (
            "P",
            TermName::Pupil,
            mm,
            "f/N",
            "definition of the f-number",
        ),
        (
            "t",
            TermName::FieldSlope,
            TermUnit::Number,
            "sqrt(w ^ 2 + h ^ 2)/(2 * f)",
            CROSSING,
        ),
        (
            "n",
            TermName::PupilNearest,
            mm,
            "(D - P)/(2 * t) - d",
            CROSSING,
        ),
        ("e", TermName::PupilFarthest, mm, "D/(2 * t) - d", CROSSING),
    ])?;
    let moved = (reply.pupil_behind_rim_mm + request.darkens_from_mm) * working.value("t")?;
    (working.given("o", TermName::CornerShift, (moved, mm), "")).from(ROOT);
    working.steps(&[
        ("r", TermName::HalfPupil, mm, "P/2", CROSSING),
        ("R", TermName::HalfRing, mm, "D/2", CROSSING),
        (
            "A",
            TermName::CutOfPupil,
            TermUnit::Deg,
            "acos((o ^ 2 + r ^ 2 - R ^ 2)/(2 * o * r))",
            LENS,
        ),
        (
            "B",
            TermName::CutOfRing,
            TermUnit::Deg,
            "acos((o ^ 2 + R ^ 2 - r ^ 2)/(2 * o * R))",
            LENS,
        ),
        (
            "q",
            TermName::PassedShare,
            TermUnit::Share,
            "((r ^ 2 * A + R ^ 2 * B)/180 - o * R * sin(B)/3.14159265358979)/r ^ 2",
            LENS,
        ),
        ("k", TermName::TakesThere, TermUnit::Stops, "-log2(q)", LENS),
        ("p", TermName::PupilBehind, mm, "o/t - d", CROSSING),
    ])?;
    let agrees = working.tells("n", reply.nearest_mm)
        && working.tells("e", reply.farthest_mm)
        && working.tells("k", 1.0 / 3.0)
        && working.tells("p", reply.pupil_behind_rim_mm);
    agrees.then(|| working.terms())
}
