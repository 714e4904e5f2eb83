//! How a graduated filter's line is worked out.

use super::line::{LineReply, LineRequest};
use super::loss_working::{Edge, Spot, at_height, edge_of, loss};
use crate::shapes::grad::ProfileKind;
use crate::shapes::lens::LensView;
use crate::shapes::working::{CROSSING, TermName, TermReply, TermUnit, Working};
use glasscall_core::quantity::Stops;
use glasscall_core::setup::Contribution;

/// The terms of where the line lies, how wide it blends and what the first height
/// asked about loses; `None` for a lens that bends its picture.
pub(crate) fn working(
    request: &LineRequest,
    lens: &LensView,
    reply: &LineReply,
    (causes, together): (Vec<Contribution>, Stops),
) -> Option<Vec<TermReply>> {
    let edge = edge_of!(request, &request.profile, "profile");
    let mut working = frame(&edge, lens)?;
    let whole = matches!(
        request.profile.kind,
        ProfileKind::Hard | ProfileKind::Soft | ProfileKind::Smooth
    );
    let agrees = working.tells("y", reply.line_height_mm)
        && (!whole || working.tells("b", reply.blend_of_frame))
        && working.tells("e", reply.slide_per_degree_mm);
    if !agrees {
        return None;
    }
    let before = working.len();
    if first(&mut working, &edge, reply).is_some() {
        working.causes(causes, together, &[]);
    } else {
        working.cut(before);
    }
    Some(working.terms())
}

/// Lens, line and edge: what every place in the picture is counted from.
pub(crate) fn frame(edge: &Edge<'_>, lens: &LensView) -> Option<Working> {
    let mut working = Working::default();
    let turned = edge.is_turned();
    before_lens(&mut working, edge, lens)?;
    place(&mut working, edge, turned)?;
    let ramp = edge.profile.ramp_mm.unwrap_or(0.0);
    (working.given("m", TermName::Ramp, mm(ramp), &edge.field("rampMm")))
        .unless(edge.profile.ramp_mm.is_some());
    let [half, blend, slide] = if turned {
        [
            "P * sqrt((sin(g)/s) ^ 2 + cos(g) ^ 2)/2",
            "(2 * r + m) * f/(z * h * sqrt((s * sin(g)) ^ 2 + cos(g) ^ 2))",
            "z * (1 + (y/(z * cos(g))) ^ 2) * cos(g) * 3.14159265358979/180",
        ]
    } else {
        [
            "P/2",
            "(2 * r + m) * f/(z * h)",
            "z * (1 + (y/z) ^ 2) * 3.14159265358979/180",
        ]
    };
    working.steps(&[
        ("r", TermName::HalfPupil, TermUnit::Mm, half, CROSSING),
        ("b", TermName::Blend, TermUnit::Share, blend, CROSSING),
        ("e", TermName::SlidePerDegree, TermUnit::Mm, slide, CROSSING),
    ])?;
    Some(working)
}

/// What the first height asked about loses.
fn first(working: &mut Working, edge: &Edge<'_>, reply: &LineReply) -> Option<()> {
    let first = reply.heights.first()?;
    let density = (edge.profile.density?, TermUnit::Density);
    working.given("D", TermName::Density, density, &edge.field("density"));
    let spot = Spot {
        mark: "",
        at: (first.at, "heights[0]"),
        told: first.stops,
    };
    loss(working, edge, &spot)
}

const fn mm(value: f64) -> (f64, TermUnit) {
    (value, TermUnit::Mm)
}

/// Lens, pupil, and how far ahead of it the filter stands.
fn before_lens(working: &mut Working, edge: &Edge<'_>, lens: &LensView) -> Option<()> {
    let number = (lens.f_number.number(), TermUnit::FNumber);
    working.given(
        "f",
        TermName::FocalLength,
        mm(edge.focal_length_mm),
        "focalLengthMm",
    );
    working.given("N", TermName::FNumber, number, "fNumber");
    let behind = lens.pupil.position().vertical.millimetres();
    (working.given("p", TermName::PupilBehind, mm(behind), "pupilBehindRimMm"))
        .unless(edge.pupil_is_said);
    working.given(
        "d",
        TermName::Distance,
        mm(edge.distance_from_rim_mm),
        "distanceFromRimMm",
    );
    working.given(
        "h",
        TermName::SensorHeight,
        mm(edge.sensor_height_mm),
        "sensor.heightMm",
    );
    if edge.is_turned() {
        let turn = (edge.rotation_deg, TermUnit::Deg);
        working.given("g", TermName::Rotation, turn, "rotationDeg");
        let squeeze = (edge.squeeze, TermUnit::Number);
        working.given("s", TermName::Squeeze, squeeze, "squeeze");
    }
    working.steps(&[
        (
            "P",
            TermName::Pupil,
            TermUnit::Mm,
            "f/N",
            "definition of the f-number",
        ),
        ("z", TermName::FromPupil, TermUnit::Mm, "p + d", CROSSING),
    ])
}

/// Where the line lies on the filter.
fn place(working: &mut Working, edge: &Edge<'_>, turned: bool) -> Option<()> {
    if edge.shift_y_mm != 0.0 {
        working.given("v", TermName::AboveAxis, mm(edge.shift_y_mm), "shiftYMm");
    }
    if let Some(height) = edge.line_height_mm {
        working.given("y", TermName::LineHeight, mm(height), "lineHeightMm");
        return Some(());
    }
    let share = (edge.line_at_frame_height?, TermUnit::Share);
    working.given("a", TermName::LineInFrame, share, "lineAtFrameHeight");
    let formula = at_height("a", edge.shift_y_mm, turned);
    working.steps(&[("y", TermName::LineHeight, TermUnit::Mm, &formula, CROSSING)])
}
