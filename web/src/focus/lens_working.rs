//! How an extender, near focus and close-up lenses are worked out.

use super::close_up::{CloseUpReply, CloseUpRequest};
use super::working_stop::{WorkingStopReply, WorkingStopRequest};
use crate::shapes::working::{THIN_LENS, TermName, TermReply, TermUnit, Working};

const PUPIL: &str = "the pupil stays, the image grows";
const BELLOWS: &str = "Ray, Applied Photographic Optics, 3rd ed. 2002";

const fn mm(value: f64) -> (f64, TermUnit) {
    (value, TermUnit::Mm)
}

/// The terms of what a lens becomes: the scale of the image is put in.
pub(crate) fn stop(
    request: &WorkingStopRequest,
    reply: &WorkingStopReply,
    ring: f64,
) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    let number = |value: f64| (value, TermUnit::Number);
    let focal = mm(request.focal_length_mm);
    working.given("f", TermName::FocalLength, focal, "focalLengthMm");
    let stop = (ring, TermUnit::Aperture);
    working.given("N", TermName::Stop, stop, "aperture");
    let by = number(request.extender.unwrap_or(1.0));
    working.given("x", TermName::ExtendedBy, by, "extender");
    let pupils = number(request.pupil_ratio.unwrap_or(1.0));
    (working.given("p", TermName::PupilRatio, pupils, "pupilRatio"))
        .unless(request.pupil_ratio.is_some());
    let field = if request.magnification.is_some() {
        "magnification"
    } else {
        "focusMm"
    };
    working.given(
        "m",
        TermName::Magnification,
        number(reply.magnification),
        field,
    );
    working.steps(&[
        ("F", TermName::FocalLength, TermUnit::Mm, "f * x", PUPIL),
        (
            "a",
            TermName::ExtenderTakes,
            TermUnit::Stops,
            "2 * log2(x)",
            PUPIL,
        ),
        (
            "b",
            TermName::NearTakes,
            TermUnit::Stops,
            "2 * log2(1 + m/(x * p))",
            BELLOWS,
        ),
        (
            "k",
            TermName::Loss,
            TermUnit::Stops,
            "a + b",
            "stops add up",
        ),
        (
            "W",
            TermName::WorkingStop,
            TermUnit::Aperture,
            "N * 2 ^ (k/2)",
            "a stop is sqrt(2)",
        ),
    ])?;
    let agrees = working.tells("F", reply.focal_length_mm)
        && working.tells("a", reply.extender_loss_stops)
        && working.tells("b", reply.close_focus_loss_stops)
        && working.tells("k", reply.loss_stops)
        && working.tells("W", reply.working_aperture);
    agrees.then(|| working.terms())
}

/// The terms of where close-up lenses reach.
pub(crate) fn close_up(request: &CloseUpRequest, reply: &CloseUpReply) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    let mut sum = String::new();
    for (nth, power) in request.dioptres.iter().enumerate() {
        let symbol = format!("D{nth}");
        let value = (*power, TermUnit::Dioptre);
        working.given(&symbol, TermName::Power, value, &format!("dioptres[{nth}]"));
        sum.push_str(if nth == 0 { "" } else { " + " });
        sum.push_str(&symbol);
    }
    let near = mm(request.lens_near_mm);
    working.given("n", TermName::NearestSetting, near, "lensNearMm");
    working.steps(&[
        ("D", TermName::Power, TermUnit::Dioptre, &sum, THIN_LENS),
        ("e", TermName::Far, TermUnit::Mm, "1000/D", THIN_LENS),
        (
            "s",
            TermName::Near,
            TermUnit::Mm,
            "1/(1/n + D/1000)",
            THIN_LENS,
        ),
    ])?;
    if let (Some(focal), Some(far), Some(near)) = (
        request.focal_length_mm,
        reply.far_magnification,
        reply.near_magnification,
    ) {
        working.given("f", TermName::FocalLength, mm(focal), "focalLengthMm");
        let number = TermUnit::Number;
        working.steps(&[
            ("a", TermName::Magnification, number, "f/e", THIN_LENS),
            (
                "m",
                TermName::Magnification,
                number,
                "f/s/(1 - f/n)",
                THIN_LENS,
            ),
        ])?;
        if !working.tells("a", far) || !working.tells("m", near) {
            return None;
        }
    }
    let agrees = working.tells("D", reply.dioptres)
        && working.tells("e", reply.far_mm)
        && working.tells("s", reply.near_mm);
    agrees.then(|| working.terms())
}
