//! How the least room of a fit is worked out, where a few terms tell it whole.

use super::fit_reply::FitReply;
use super::fit_request::FitRequest;
use crate::shapes::known_lens::NumberOrLimits;
use crate::shapes::opening::{OpeningRequest, ShapeName};
use crate::shapes::pupil::PupilPlace;
use crate::shapes::working::{CROSSING, TermName, TermReply, TermUnit, Working};
use glasscall_core::answer::fit::{Answer, RoomFrom, RoomKnown};
use glasscall_core::physics::known_lens::KnownLens;

/// One way the least room may come about.
#[derive(Clone, Copy)]
struct Way<'a> {
    opening: &'a OpeningRequest,
    at: usize,
    /// Focal length and where it stands in the request.
    focal: (f64, &'static str),
    /// The pupil behind the rim, and whether that is a figure of the request.
    behind: (f64, bool),
    /// The front face of a deep opening.
    in_front: bool,
    pupil: f64,
}

/// The terms of the least room; `None` where more decides it than they say. What
/// they come to must be the answer's own figure.
pub(crate) fn working(
    request: &FitRequest,
    (reply, answer): (&FitReply, &Answer),
    lenses: &[Option<KnownLens>; 2],
) -> Option<Vec<TermReply>> {
    let told = reply.spare_mm?;
    let at = (reply.openings.iter()).position(|opening| opening.spare_mm == Some(told))?;
    let opening = request.openings.get(at)?;
    let close = request.close.and_then(|close| close.focal_length_mm);
    let focals = [
        (request.focal_length_mm, "focalLengthMm"),
        (
            close.unwrap_or(request.focal_length_mm),
            "close.focalLengthMm",
        ),
    ];
    for (lens, focal) in lenses.iter().zip(focals) {
        let ends = lens.map(|lens| lens.pupil().ends());
        for end in ends.into_iter().flatten() {
            let behind = (
                end.vertical.millimetres(),
                matches!(request.pupil_behind_rim_mm, Some(PupilPlace::Known(_))),
            );
            // A pupil keeps its f-number where a lens breathes.
            let pupil = reply.pupil.height_mm * focal.0 / request.focal_length_mm;
            for in_front in [false, true] {
                let way = Way {
                    opening,
                    at,
                    focal,
                    behind,
                    in_front,
                    pupil,
                };
                if let Some(mut working) = terms(request, way, told) {
                    if let Some(known) = &answer.openings.get(at)?.room_known {
                        unsure(&mut working, request, known)?;
                    }
                    return Some(working.terms());
                }
            }
        }
    }
    None
}

const fn mm(value: f64) -> (f64, TermUnit) {
    (value, TermUnit::Mm)
}

fn terms(request: &FitRequest, way: Way<'_>, told: f64) -> Option<Working> {
    if way.in_front && way.opening.depth_mm.is_none() {
        return None;
    }
    let mut working = Working::default();
    let bends = match request.distortion {
        None => None,
        Some(NumberOrLimits::Known(bends)) => Some(bends),
        Some(NumberOrLimits::Between(_)) => return None,
    };
    lens(&mut working, way)?;
    corner(&mut working, request, bends)?;
    edge(&mut working, request, way.opening, way.at)?;
    working.tells("r", told).then_some(working)
}

/// What each cause leaves open of the room, and all of them together.
fn unsure(working: &mut Working, request: &FitRequest, known: &RoomKnown) -> Option<()> {
    let said = (request.uncertainty.as_ref()).is_some_and(|said| said.opening_mm.is_some());
    let (mut squares, mut middles) = (Vec::new(), Vec::new());
    for (nth, cause) in known.causes.iter().enumerate() {
        if cause.deviation > 0.0 {
            let symbol = format!("u{nth}");
            let of_opening = cause.from == RoomFrom::OpeningPlace;
            let field = if of_opening {
                "uncertainty.openingMm"
            } else {
                ""
            };
            let value = mm(cause.deviation);
            (working.given(&symbol, cause_name(cause.from), value, field))
                .unless(said || !of_opening);
            squares.push(format!("{symbol} ^ 2"));
        }
        if cause.middle != 0.0 {
            let symbol = format!("m{nth}");
            working.given(&symbol, TermName::MiddleOff, mm(cause.middle), "");
            middles.push(symbol);
        }
    }
    if !middles.is_empty() {
        squares.push(format!("({}) ^ 2", middles.join(" + ")));
    }
    let together = format!("sqrt({})", squares.join(" + "));
    let all = [("u", TermName::Unsure, TermUnit::Mm, &*together, BIASED)];
    let before = working.len();
    working.steps(&all)?;
    if !working.tells("u", known.millimetres) {
        // No farther off than the ends of the lens, or a look, leave it.
        working.cut(before);
        working.given("B", TermName::FarthestOff, mm(known.millimetres), "");
        let within = format!("min({together}, B)");
        working.steps(&[("u", TermName::Unsure, TermUnit::Mm, &*within, BIASED)])?;
    }
    working.tells("u", known.millimetres).then_some(())
}

const BIASED: &str = "JCGM 100:2008, 5.1.2 and F.2.4.5";

/// What a cause leaves open.
const fn cause_name(from: RoomFrom) -> TermName {
    match from {
        RoomFrom::Pupil => TermName::PupilUnsure,
        RoomFrom::Distortion => TermName::BendsUnsure,
        RoomFrom::Growth => TermName::GrowthUnsure,
        RoomFrom::NearCard => TermName::NearCardUnsure,
        RoomFrom::FarCard => TermName::FarCardUnsure,
        RoomFrom::OpeningPlace => TermName::OpeningPlaceUnsure,
        RoomFrom::Model => TermName::ModelUnsure,
    }
}

/// Lens and pupil, and how far ahead of it the opening stands.
fn lens(working: &mut Working, way: Way<'_>) -> Option<()> {
    let Way { opening, at, .. } = way;
    let (focal, path) = way.focal;
    working.given("f", TermName::FocalLength, mm(focal), path);
    let number = (focal / way.pupil, TermUnit::FNumber);
    working.given("N", TermName::FNumber, number, "fNumber");
    let (behind, said) = way.behind;
    (working.given("p", TermName::PupilBehind, mm(behind), "pupilBehindRimMm")).unless(said);
    let field = |name: &str| format!("openings[{at}].{name}");
    let distance = opening.distance_from_rim_mm;
    working
        .given(
            "d",
            TermName::Distance,
            mm(distance),
            &field("distanceFromRimMm"),
        )
        .of(&opening.name, None);
    let from = "definition of the f-number";
    let mut z = "p + d";
    if way.in_front {
        let depth = opening.depth_mm.unwrap_or_default();
        working.given("j", TermName::Deep, mm(depth), &field("depthMm"));
        z = "p + d + j";
    }
    working.steps(&[
        ("P", TermName::Pupil, TermUnit::Mm, "f/N", from),
        ("z", TermName::FromPupil, TermUnit::Mm, z, CROSSING),
    ])
}

/// Where the ray of the farthest corner crosses.
fn corner(working: &mut Working, request: &FitRequest, bends: Option<f64>) -> Option<()> {
    let (w, h) = (request.sensor.width_mm, request.sensor.height_mm);
    working.given("w", TermName::SensorWidth, mm(w), "sensor.widthMm");
    working.given("h", TermName::SensorHeight, mm(h), "sensor.heightMm");
    let squeeze = (request.squeeze.unwrap_or(1.0), TermUnit::Number);
    working.given("s", TermName::Squeeze, squeeze, "squeeze");
    let mut across = String::from("z * s * w/(2 * f)");
    let mut up = String::from("z * h/(2 * f)");
    for (symbol, name, shift, field, formula) in [
        (
            "X",
            TermName::RightOfAxis,
            request.shift_x_mm,
            "shiftXMm",
            &mut across,
        ),
        (
            "Y",
            TermName::AboveAxis,
            request.shift_y_mm,
            "shiftYMm",
            &mut up,
        ),
    ] {
        let Some(shift) = shift.filter(|shift| *shift != 0.0) else {
            continue;
        };
        working.given(symbol, name, mm(shift), field);
        let side = if symbol == "X" { "s * (w" } else { "(h" };
        *formula = format!("z * {side}/2 + max({symbol}, -{symbol}))/f");
    }
    if let Some(bends) = bends.filter(|bends| *bends != 0.0) {
        let value = (bends, TermUnit::Number);
        working.given("q", TermName::Bends, value, "distortion");
        for formula in [&mut across, &mut up] {
            formula.push_str(" * (1 + q)");
        }
    }
    working.steps(&[
        ("x", TermName::ChiefAcross, TermUnit::Mm, &across, CROSSING),
        ("y", TermName::ChiefUp, TermUnit::Mm, &up, CROSSING),
    ])
}

/// What is left to the edge of the opening.
fn edge(
    working: &mut Working,
    request: &FitRequest,
    opening: &OpeningRequest,
    at: usize,
) -> Option<()> {
    let field = |name: &str| format!("openings[{at}].{name}");
    let (mut x, mut y) = ("x", "y");
    if opening.offset_x_mm != 0.0 {
        let name = TermName::RightOfAxis;
        working.given("i", name, mm(opening.offset_x_mm), &field("offsetXMm"));
        x = "(x + max(i, -i))";
    }
    if opening.offset_y_mm != 0.0 {
        let name = TermName::AboveAxis;
        working.given("k", name, mm(opening.offset_y_mm), &field("offsetYMm"));
        y = "(y + max(k, -k))";
    }
    let round = opening.shape == ShapeName::Circle;
    let formula = if round {
        let across = mm(opening.diameter_mm?);
        working.given("D", TermName::OpeningDiameter, across, &field("diameterMm"));
        let beam = match (request.pupil_growth, request.front_diameter_mm) {
            (Some(NumberOrLimits::Known(growth)), _) if growth != 0.0 => {
                let value = (growth, TermUnit::Number);
                working.given("b", TermName::Growth, value, "pupilGrowth");
                format!("sqrt({x} ^ 2 + {y} ^ 2) + P/2 * (1 + b * (x ^ 2 + y ^ 2)/z ^ 2)")
            }
            (_, Some(front)) if opening.offset_x_mm == 0.0 && opening.offset_y_mm == 0.0 => {
                working.given("F", TermName::Front, mm(front), "frontDiameterMm");
                String::from(
                    "min(sqrt(x ^ 2 + y ^ 2) + P/2, F/2 + (z - p)/z * sqrt(x ^ 2 + y ^ 2))",
                )
            }
            _ => format!("sqrt({x} ^ 2 + {y} ^ 2) + P/2"),
        };
        format!("D/2 - ({beam})")
    } else {
        let (width, height) = (mm(opening.width_mm?), mm(opening.height_mm?));
        working.given("W", TermName::OpeningWidth, width, &field("widthMm"));
        working.given("H", TermName::OpeningHeight, height, &field("heightMm"));
        if opening.turns {
            // At its worst turn the nearer side faces the corner.
            format!("min(W, H)/2 - sqrt({x} ^ 2 + {y} ^ 2) - P/2")
        } else if opening.rotation_deg != 0.0 {
            let turn = (opening.rotation_deg, TermUnit::Deg);
            working.given("g", TermName::Rotation, turn, &field("rotationDeg"));
            return turned(working, opening);
        } else {
            format!("min(W/2 - {x} - P/(2 * s), H/2 - {y} - P/2)")
        }
    };
    working.steps(&[("r", TermName::Room, TermUnit::Mm, &formula, CROSSING)])
}

/// A rectangle that is turned: along its own sides the four corners' rays reach
/// as far as their parts add up, and the pupil, an ellipse, half as far as its
/// width seen that way.
fn turned(working: &mut Working, opening: &OpeningRequest) -> Option<()> {
    let either = |formula: &str| format!("max({formula}, -({formula}))");
    let (cos, sin) = (either("cos(g)"), either("sin(g)"));
    let beside = |formula: &str| {
        if opening.offset_x_mm == 0.0 && opening.offset_y_mm == 0.0 {
            String::new()
        } else {
            format!(" + {}", either(formula))
        }
    };
    // An offset that is nothing has no term.
    let i = if opening.offset_x_mm == 0.0 { "0" } else { "i" };
    let k = if opening.offset_y_mm == 0.0 { "0" } else { "k" };
    let along = beside(&format!("{i} * cos(g) + {k} * sin(g)"));
    let across = beside(&format!("{k} * cos(g) - {i} * sin(g)"));
    let mut step = |symbol: &str, name, formula: &str| {
        working.steps(&[(symbol, name, TermUnit::Mm, formula, CROSSING)])
    };
    step(
        "a",
        TermName::AlongTurned,
        &format!("x * {cos} + y * {sin}{along}"),
    )?;
    step(
        "c",
        TermName::AcrossTurned,
        &format!("x * {sin} + y * {cos}{across}"),
    )?;
    step(
        "e",
        TermName::HalfPupil,
        "P/2 * sqrt((cos(g)/s) ^ 2 + sin(g) ^ 2)",
    )?;
    step(
        "o",
        TermName::HalfPupil,
        "P/2 * sqrt((sin(g)/s) ^ 2 + cos(g) ^ 2)",
    )?;
    step("r", TermName::Room, "min(W/2 - a - e, H/2 - c - o)")
}
