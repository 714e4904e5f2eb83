//! How a graduated filter's line is worked out.

use super::line::{LineReply, LineRequest};
use crate::shapes::grad::ProfileKind;
use crate::shapes::lens::LensView;
use crate::shapes::pupil::PupilPlace;
use crate::shapes::working::{TermName, TermReply, TermUnit, Working};
use glasscall_core::quantity::Stops;
use glasscall_core::setup::Contribution;

const GEOMETRY: &str = "a bundle crosses at z * tan(angle); own derivation";
const SEGMENT: &str = "area of a circular segment";
const FIVE: &str = "Gauss-Chebyshev, second kind, 5 points; Abramowitz and Stegun 25.4.40";
const LIGHT: &str = "light adds up over the pupil, density does not; own derivation";

/// The terms of where the line lies, how wide it blends and what the first height
/// asked about loses; `None` for a lens that bends its picture.
pub(crate) fn working(
    request: &LineRequest,
    lens: &LensView,
    reply: &LineReply,
    (causes, together): (Vec<Contribution>, Stops),
) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    let turned = request.rotation_deg != 0.0;
    before_lens(&mut working, request, lens)?;
    place(&mut working, request, turned)?;
    let ramp = request.profile.ramp_mm.unwrap_or(0.0);
    (working.given("m", TermName::Ramp, mm(ramp), "profile.rampMm"))
        .unless(request.profile.ramp_mm.is_some());
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
        ("r", TermName::HalfPupil, TermUnit::Mm, half, GEOMETRY),
        ("b", TermName::Blend, TermUnit::Share, blend, GEOMETRY),
        ("e", TermName::SlidePerDegree, TermUnit::Mm, slide, GEOMETRY),
    ])?;
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
    let stepped = request.profile.kind == ProfileKind::Hard && ramp == 0.0;
    let told = loss(&mut working, request, reply, stepped);
    if told.is_some() {
        working.causes(causes, together, &[]);
    } else {
        working.cut(before);
    }
    Some(working.terms())
}

const fn mm(value: f64) -> (f64, TermUnit) {
    (value, TermUnit::Mm)
}

/// Lens, pupil, and how far ahead of it the filter stands.
fn before_lens(working: &mut Working, request: &LineRequest, lens: &LensView) -> Option<()> {
    let number = (lens.f_number.number(), TermUnit::FNumber);
    working.given(
        "f",
        TermName::FocalLength,
        mm(request.focal_length_mm),
        "focalLengthMm",
    );
    working.given("N", TermName::FNumber, number, "fNumber");
    let behind = lens.pupil.position().vertical.millimetres();
    (working.given("p", TermName::PupilBehind, mm(behind), "pupilBehindRimMm")).unless(matches!(
        request.pupil_behind_rim_mm,
        Some(PupilPlace::Known(_))
    ));
    working.given(
        "d",
        TermName::Distance,
        mm(request.distance_from_rim_mm),
        "distanceFromRimMm",
    );
    working.given(
        "h",
        TermName::SensorHeight,
        mm(request.sensor.height_mm),
        "sensor.heightMm",
    );
    if request.rotation_deg != 0.0 {
        let turn = (request.rotation_deg, TermUnit::Deg);
        working.given("g", TermName::Rotation, turn, "rotationDeg");
        let squeeze = (request.squeeze, TermUnit::Number);
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
        ("z", TermName::FromPupil, TermUnit::Mm, "p + d", GEOMETRY),
    ])
}

/// Where the line lies on the filter.
fn place(working: &mut Working, request: &LineRequest, turned: bool) -> Option<()> {
    if let Some(height) = request.line_height_mm {
        working.given("y", TermName::LineHeight, mm(height), "lineHeightMm");
        return Some(());
    }
    let share = (request.line_at_frame_height?, TermUnit::Share);
    working.given("a", TermName::LineInFrame, share, "lineAtFrameHeight");
    let formula = at_height("a", request.shift_y_mm, turned);
    if request.shift_y_mm != 0.0 {
        working.given("v", TermName::AboveAxis, mm(request.shift_y_mm), "shiftYMm");
    }
    working.steps(&[("y", TermName::LineHeight, TermUnit::Mm, &formula, GEOMETRY)])
}

/// Where the middle of a bundle from this height of the frame crosses.
fn at_height(share: &str, shift: f64, turned: bool) -> String {
    let shift = if shift == 0.0 { "" } else { " + v" };
    let turn = if turned { " * cos(g)" } else { "" };
    format!("z * (({share} - 0.5) * h{shift})/f{turn}")
}

/// What the first height asked about loses.
fn loss(
    working: &mut Working,
    request: &LineRequest,
    reply: &LineReply,
    stepped: bool,
) -> Option<()> {
    let (first, density) = (reply.heights.first()?, request.profile.density?);
    let at = (first.at, TermUnit::Share);
    working.given("i", TermName::At, at, "heights[0]");
    let density = (density, TermUnit::Density);
    working.given("D", TermName::Density, density, "profile.density");
    let turned = request.rotation_deg != 0.0;
    let middle = at_height("i", request.shift_y_mm, turned);
    let from_line = if request.invert {
        format!("y - {middle}")
    } else {
        format!("{middle} - y")
    };
    let from_line = (
        "c",
        TermName::FromLine,
        TermUnit::Mm,
        from_line.as_str(),
        GEOMETRY,
    );
    working.steps(&[from_line])?;
    if stepped {
        behind_step(working)?;
        return working.tells("k", first.stops).then_some(());
    }
    behind_ramp(working, request.profile.kind, first.stops)
}

/// A step covers a segment of the pupil.
fn behind_step(working: &mut Working) -> Option<()> {
    working.steps(&[
        (
            "q",
            TermName::FromLine,
            TermUnit::Number,
            "min(max(c/r, -1), 1)",
            SEGMENT,
        ),
        (
            "w",
            TermName::DenseShare,
            TermUnit::Share,
            "0.5 + asin(q)/180 + q * sqrt(1 - q ^ 2)/3.14159265358979",
            SEGMENT,
        ),
        (
            "k",
            TermName::TakesThere,
            TermUnit::Stops,
            "-log2(1 - w + w * 10 ^ (-D))",
            LIGHT,
        ),
    ])
}

/// Five places of the pupil, in half pupils from its middle, and how much each
/// stands for, in twelfths: what an integral over a disc comes to by hand.
const PLACES: [(&str, &str); 5] = [
    ("T1", " + r * sqrt(3)/2"),
    ("T2", " + r/2"),
    ("T3", ""),
    ("T4", " - r/2"),
    ("T5", " - r * sqrt(3)/2"),
];

/// A hand's five places come this near to the integral, or are not shown.
const NEAR: f64 = 0.05;

/// Behind a ramp every part of the pupil sees its own density: five of them are
/// told, and what finer parts add.
fn behind_ramp(working: &mut Working, kind: ProfileKind, told: f64) -> Option<()> {
    let density = |place: &str| {
        let up = format!("min(max((c{place})/m + 0.5, 0), 1)");
        match kind {
            ProfileKind::Hard | ProfileKind::Soft => Some(format!("D * {up}")),
            ProfileKind::Smooth => Some(format!("D * {up} ^ 2 * (3 - 2 * {up})")),
            ProfileKind::Stripe => Some(format!("D * max(1 - max(c{place}, -(c{place}))/m, 0)")),
            _ => None,
        }
    };
    let number = TermUnit::Number;
    for (symbol, place) in PLACES {
        let formula = format!("10 ^ (-({}))", density(place)?);
        working.steps(&[(symbol, TermName::PartPasses, number, &formula, LIGHT)])?;
    }
    let mean = "(T1 + 3 * T2 + 4 * T3 + 3 * T4 + T5)/12";
    working.steps(&[
        ("T", TermName::MeanPasses, number, mean, FIVE),
        (
            "j",
            TermName::ByFiveParts,
            TermUnit::Stops,
            "-log2(T)",
            LIGHT,
        ),
    ])?;
    let finer = told - working.value("j")?;
    if finer.abs() > NEAR {
        return None;
    }
    (working.given("o", TermName::FinerParts, (finer, TermUnit::Stops), ""))
        .from("24 points to a stretch, Gauss-Legendre");
    working.steps(&[("k", TermName::TakesThere, TermUnit::Stops, "j + o", LIGHT)])
}
