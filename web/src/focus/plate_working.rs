//! How flat glass behind and in front of the lens is worked out.

use super::behind_lens::{BehindLensReply, BehindLensRequest, Mark, ORDINARY_INDEX, PlateRequest};
use crate::shapes::distance::{MeasuredFrom, Place};
use crate::shapes::working::{THIN_LENS, TermName, TermReply, TermUnit, Working};
use glasscall_core::quantity::Aperture;

const PLATE: &str = "Smith, Modern Optical Engineering, plane-parallel plate";
const FOCUS: &str = "Ray, Applied Photographic Optics, 3rd ed. 2002, depth of focus";
const CONE: &str = "similar triangles in the cone behind the lens";

const fn mm(value: f64) -> (f64, TermUnit) {
    (value, TermUnit::Mm)
}

/// The terms of the shift, its blur, and what the scale reads at infinity.
pub(crate) fn working(
    request: &BehindLensRequest,
    number: Aperture,
    reply: &BehindLensReply,
) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    let focal = mm(request.focal_length_mm);
    working.given("f", TermName::FocalLength, focal, "focalLengthMm");
    let number = (number.number(), TermUnit::FNumber);
    working.given("N", TermName::FNumber, number, "fNumber");
    working.given("c", TermName::Circle, mm(request.circle_mm), "circleMm");
    let at = |position: Option<usize>| {
        let nth = position.unwrap_or(0);
        request.wheel.get(nth).map(|plate| (nth, *plate))
    };
    let now = plates(&mut working, ("b", "behind"), all(&request.behind));
    let wheel = plates(&mut working, ("w", "wheel"), at(request.wheel_at));
    let then = plates(&mut working, ("o", "setFor"), all(&request.set_for));
    let set_at = if request.wheel_set_at.unwrap_or(0) == request.wheel_at.unwrap_or(0) {
        wheel.clone()
    } else {
        plates(&mut working, ("x", "wheel"), at(request.wheel_set_at))
    };
    let sum = format!("{now} + {wheel} - ({then} + {set_at})");
    let shift = ("Z", TermName::GlassShift, TermUnit::Mm, sum.as_str(), PLATE);
    working.steps(&[shift])?;
    focused(&mut working, request)?;
    working.steps(&[
        (
            "R",
            TermName::FocusDepth,
            TermUnit::Mm,
            "N * (1 + m) * c",
            FOCUS,
        ),
        (
            "y",
            TermName::BlurIfLeft,
            TermUnit::Mm,
            "sqrt(Z ^ 2)/(N * (1 + m))",
            CONE,
        ),
    ])?;
    let mut agrees = working.tells("Z", reply.shift_mm)
        && working.tells("R", reply.depth_of_focus_mm)
        && working.tells("y", reply.blur_mm);
    let tape = request.measured_from == MeasuredFrom::Sensor;
    if let Mark::Millimetres(reads) = reply.infinity_reads_mm {
        let formula = if tape {
            "f * (f + Z)/Z + f + Z"
        } else {
            "f * (f + Z)/Z"
        };
        working.steps(&[(
            "F",
            TermName::InfinityReads,
            TermUnit::Mm,
            formula,
            THIN_LENS,
        )])?;
        agrees &= working.tells("F", reads);
    }
    if !request.in_front.is_empty() {
        let ahead = plates(&mut working, ("g", "inFront"), all(&request.in_front));
        let shift = ("J", TermName::InFront, TermUnit::Mm, ahead.as_str(), PLATE);
        working.steps(&[shift])?;
        agrees &= working.tells("J", reply.in_front_shift_mm);
        if let Place::Millimetres(reads) = reply.in_front_reads_mm {
            let formula = if tape {
                "s - J + f * (s - J)/(s - J - f)"
            } else {
                "s - J"
            };
            working.steps(&[(
                "G",
                TermName::ReadsThrough,
                TermUnit::Mm,
                formula,
                THIN_LENS,
            )])?;
            agrees &= working.tells("G", reads);
        }
    }
    agrees.then(|| working.terms())
}

fn all(list: &[PlateRequest]) -> impl Iterator<Item = (usize, PlateRequest)> {
    list.iter().copied().enumerate()
}

/// The pieces of a list, put down; gives what they shift together.
fn plates(
    working: &mut Working,
    (sign, list): (&str, &str),
    pieces: impl IntoIterator<Item = (usize, PlateRequest)>,
) -> String {
    let mut sum = String::from("0");
    for (nth, plate) in pieces {
        let (thick, index) = (format!("{sign}{nth}"), format!("{sign}n{nth}"));
        let field = |name: &str| format!("{list}[{nth}].{name}");
        let thickness = mm(plate.thickness_mm);
        working.given(
            &thick,
            TermName::Thickness,
            thickness,
            &field("thicknessMm"),
        );
        let said = plate.refractive_index;
        let value = (said.unwrap_or(ORDINARY_INDEX), TermUnit::Number);
        (working.given(
            &index,
            TermName::RefractiveIndex,
            value,
            &field("refractiveIndex"),
        ))
        .unless(said.is_some());
        sum.push_str(&format!(" + {thick} * (1 - 1/{index})"));
    }
    sum.strip_prefix("0 + ").unwrap_or(&sum).to_owned()
}

/// How large the image is where the lens is focused.
fn focused(working: &mut Working, request: &BehindLensRequest) -> Option<()> {
    let number = TermUnit::Number;
    let Some(Place::Millimetres(on)) = request.focus_mm else {
        return working.steps(&[("m", TermName::Magnification, number, "0", THIN_LENS)]);
    };
    if request.measured_from == MeasuredFrom::Sensor {
        working.given("L", TermName::FocusedOn, mm(on), "focusMm");
        working.focus_from_lens()?;
    } else {
        working.given("s", TermName::FocusFromLens, mm(on), "focusMm");
    }
    working.steps(&[("m", TermName::Magnification, number, "f/(s - f)", THIN_LENS)])
}
