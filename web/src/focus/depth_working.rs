//! How near, far and the disc of diffraction are worked out.

use super::depth::DepthReply;
use super::depth_request::DepthRequest;
use crate::shapes::distance::{MeasuredFrom, Place};
use crate::shapes::working::{THIN_LENS, TermName, TermReply, TermUnit, Working};
use glasscall_core::physics::depth_of_field::DIAGONAL_PARTS;
use glasscall_core::physics::diffraction::GREEN;

const DEPTH: &str = "Ray, Applied Photographic Optics, 3rd ed. 2002";
const AIRY: &str = "Born and Wolf, Principles of Optics, 8.5.2";

/// The terms of the sharp zone; `None` where they do not tell it whole.
pub(crate) fn working(request: &DepthRequest, reply: &DepthReply) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    let mm = |value: f64| (value, TermUnit::Mm);
    let f = request.focal_length_mm;
    working.given("f", TermName::FocalLength, mm(f), "focalLengthMm");
    let number = (reply.f_number, TermUnit::FNumber);
    working.given("N", TermName::FNumber, number, "fNumber");
    circle(&mut working, request)?;
    let from_sensor = request.measured_from == MeasuredFrom::Sensor;
    let add = if from_sensor { " + v" } else { "" };
    let focus = match reply.focus_mm {
        Place::Millimetres(focus) => {
            let (symbol, name) = if from_sensor {
                ("L", TermName::FocusedOn)
            } else {
                ("s", TermName::FocusFromLens)
            };
            working.given(symbol, name, mm(focus), "focusMm");
            Some(focus)
        }
        Place::Named(_) => None,
    };
    let reach = (
        "A",
        TermName::BlurReach,
        TermUnit::Mm,
        "f ^ 2/(N * c)",
        DEPTH,
    );
    let hyperfocal = if from_sensor {
        "A + f + f * (A + f)/A"
    } else {
        "A + f"
    };
    if focus.is_some() {
        if from_sensor {
            working.focus_from_lens()?;
        }
        working.steps(&[
            (
                "v",
                TermName::ImageBehind,
                TermUnit::Mm,
                "f * s/(s - f)",
                THIN_LENS,
            ),
            reach,
            ("H", TermName::Hyperfocal, TermUnit::Mm, hyperfocal, DEPTH),
            (
                "n",
                TermName::Near,
                TermUnit::Mm,
                &format!("s * A/(A + s - f){add}"),
                DEPTH,
            ),
        ])?;
        if let Place::Millimetres(_) = reply.far_mm {
            let far = format!("s * A/(A - s + f){add}");
            working.steps(&[("e", TermName::Far, TermUnit::Mm, &far, DEPTH)])?;
        }
    } else {
        let near = if from_sensor { "A + f" } else { "A" };
        working.steps(&[
            reach,
            ("H", TermName::Hyperfocal, TermUnit::Mm, hyperfocal, DEPTH),
            ("n", TermName::Near, TermUnit::Mm, near, DEPTH),
        ])?;
    }
    let magnified = if focus.is_some() { "f/(s - f)" } else { "0" };
    let name = TermName::Magnification;
    working.steps(&[("m", name, TermUnit::Number, magnified, THIN_LENS)])?;
    let wavelength = request.wavelength_nm;
    let value = (wavelength.unwrap_or(GREEN), TermUnit::Nm);
    (working.given("w", TermName::Wavelength, value, "wavelengthNm")).unless(wavelength.is_some());
    working.steps(&[(
        "d",
        TermName::Diffraction,
        TermUnit::Mm,
        "2 * 3.83170597020751/3.14159265358979 * w * N * (1 + m)/1000000",
        AIRY,
    )])?;
    let far = match reply.far_mm {
        Place::Millimetres(far) => working.tells("e", far),
        Place::Named(_) => true,
    };
    let agrees = far
        && working.tells("n", reply.near_mm)
        && working.tells("H", reply.hyperfocal_mm)
        && working.tells("d", reply.diffraction_mm)
        && working.tells("m", reply.magnification);
    agrees.then(|| working.terms())
}

/// The largest blur that still looks sharp.
fn circle(working: &mut Working, request: &DepthRequest) -> Option<()> {
    let mm = |value: f64| (value, TermUnit::Mm);
    if let Some(circle) = request.circle_mm {
        working.given("c", TermName::Circle, mm(circle), "circleMm");
        return Some(());
    }
    let sensor = request.sensor?;
    working.given(
        "W",
        TermName::SensorWidth,
        mm(sensor.width_mm),
        "sensor.widthMm",
    );
    working.given(
        "h",
        TermName::SensorHeight,
        mm(sensor.height_mm),
        "sensor.heightMm",
    );
    let parts = request.diagonal_parts;
    let value = (parts.unwrap_or(DIAGONAL_PARTS), TermUnit::Number);
    (working.given("k", TermName::Parts, value, "diagonalParts")).unless(parts.is_some());
    working.steps(&[(
        "c",
        TermName::Circle,
        TermUnit::Mm,
        "sqrt(W ^ 2 + h ^ 2)/k",
        "common practice, no source",
    )])
}
