//! How the lengths of a flag are worked out.

use super::flag::{FlagReply, FlagRequest, FlagSide, LampPlace, SunAim};
use crate::shapes::lens::LensView;
use crate::shapes::pupil::PupilPlace;
use crate::shapes::working::{TermName, TermReply, TermUnit, Working};
use glasscall_core::answer::flag::SUN_RADIUS_DEG;
use glasscall_core::setup::Uncertainties;

const SPHERE: &str = "parts of a direction as the camera sees it; law of cosines on the sphere";
const LIMB: &str = "the plane that touches the sun's disc; own derivation";
const LINES: &str = "two straight lines; own derivation";

/// The terms of the shortest and of the longest; of each only where they come to
/// the answer's own figure.
pub(crate) fn working(
    request: &FlagRequest,
    lens: &LensView,
    known: &Uncertainties,
    reply: &FlagReply,
) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    flag(&mut working, request);
    let mut told = false;
    if let Some(shortest) = reply.shortest_mm {
        let before = working.len();
        if to_shade(&mut working, request, known, shortest).is_some() {
            told = true;
        } else {
            working.cut(before);
        }
    }
    if let Some(longest) = reply.longest_mm {
        let before = working.len();
        if until_seen(&mut working, request, lens, longest).is_some() {
            told = true;
        } else {
            working.cut(before);
        }
    }
    told.then(|| working.terms())
}

const fn mm(value: f64) -> (f64, TermUnit) {
    (value, TermUnit::Mm)
}

const fn deg(value: f64) -> (f64, TermUnit) {
    (value, TermUnit::Deg)
}

const fn is_level(side: FlagSide) -> bool {
    matches!(side, FlagSide::Top | FlagSide::Bottom)
}

/// The flag.
fn flag(working: &mut Working, request: &FlagRequest) {
    let shape = &request.flag;
    let out = mm(shape.hinge_from_axis_mm);
    working.given("H", TermName::HingeOut, out, "flag.hingeFromAxisMm");
    let ahead = mm(shape.hinge_from_rim_mm);
    working.given("j", TermName::HingeAhead, ahead, "flag.hingeFromRimMm");
    working.given("l", TermName::Lean, deg(shape.lean_deg), "flag.leanDeg");
}

/// What shades the farther edge of the glass.
fn to_shade(
    working: &mut Working,
    request: &FlagRequest,
    known: &Uncertainties,
    shortest: f64,
) -> Option<()> {
    let glass = &request.glass;
    let (size, half, field) = if is_level(request.flag.side) {
        (glass.height_mm, TermName::OpeningHeight, "glass.heightMm")
    } else {
        (glass.width_mm, TermName::OpeningWidth, "glass.widthMm")
    };
    working.given("G", half, mm(size), field);
    let ahead = mm(glass.distance_from_rim_mm);
    working.given("o", TermName::GlassAhead, ahead, "glass.distanceFromRimMm");
    match (&request.sun, &request.lamp) {
        (Some(sun), _) => sun_slope(working, sun, request.flag.side)?,
        (None, Some(lamp)) => lamp_slope(working, lamp, request.flag.side)?,
        (None, None) => return None,
    }
    let formula = "max(H + G/2 - m * (j - o), 0)/(m * cos(l) - sin(l))";
    working.steps(&[("k", TermName::ShortestFlag, TermUnit::Mm, formula, LINES)])?;
    if !working.tells("k", shortest) {
        return None;
    }
    if shortest > 0.0 {
        unsure(working, request, known)?;
    }
    Some(())
}

/// What it leaves open how far ahead the glass stands: the shadow's edge moves
/// with it, and a lamp's light falls at another slope there.
fn unsure(working: &mut Working, request: &FlagRequest, known: &Uncertainties) -> Option<()> {
    let said = (request.uncertainty.as_ref()).is_some_and(|said| said.opening_mm.is_some());
    let (field, ahead) = ("uncertainty.openingMm", mm(known.opening_mm));
    (working.given("v", TermName::OpeningUnsure, ahead, field)).unless(said);
    let moves = if request.lamp.is_some() {
        "m * (1 - (j - o + k * cos(l))/(c - o))"
    } else {
        "m"
    };
    let formula = format!("v * sqrt(({moves}/(m * cos(l) - sin(l))) ^ 2)");
    working.steps(&[("u", TermName::Unsure, TermUnit::Mm, &formula, LINES)])
}

/// How steeply the sun's nearest limb stands over the axis.
fn sun_slope(working: &mut Working, sun: &SunAim, side: FlagSide) -> Option<()> {
    for (symbol, name, value, field) in [
        (
            "h",
            TermName::SunHeight,
            sun.sun_elevation_deg,
            "sun.sunElevationDeg",
        ),
        (
            "s",
            TermName::SunTowards,
            sun.sun_azimuth_deg,
            "sun.sunAzimuthDeg",
        ),
        (
            "e",
            TermName::AimHeight,
            sun.aim_elevation_deg,
            "sun.aimElevationDeg",
        ),
        (
            "a",
            TermName::AimTowards,
            sun.aim_azimuth_deg,
            "sun.aimAzimuthDeg",
        ),
        ("g", TermName::Roll, sun.roll_deg, "sun.rollDeg"),
    ] {
        working.given(symbol, name, deg(value), field);
    }
    (working.given("R", TermName::SunRadius, deg(SUN_RADIUS_DEG), ""))
        .from("IAU nominal value, after Auwers (1891)");
    let right = "(cos(h) * sin(s - a))";
    let up = "(sin(h) * cos(e) - cos(h) * sin(e) * cos(s - a))";
    let towards = match side {
        FlagSide::Top => format!("{up} * cos(g) + {right} * sin(g)"),
        FlagSide::Bottom => format!("-{up} * cos(g) - {right} * sin(g)"),
        FlagSide::Right => format!("{right} * cos(g) - {up} * sin(g)"),
        FlagSide::Left => format!("{up} * sin(g) - {right} * cos(g)"),
    };
    let number = TermUnit::Number;
    working.steps(&[
        ("q", TermName::TowardsFlag, number, &towards, SPHERE),
        (
            "c",
            TermName::StraightAhead,
            number,
            "sin(h) * sin(e) + cos(h) * cos(e) * cos(s - a)",
            SPHERE,
        ),
        (
            "m",
            TermName::LightSlope,
            number,
            "(q * c - sin(R) * sqrt(q ^ 2 + c ^ 2 - sin(R) ^ 2))/(c ^ 2 - sin(R) ^ 2)",
            LIMB,
        ),
    ])
}

/// How steeply a lamp stands over the farther edge of the glass.
fn lamp_slope(working: &mut Working, lamp: &LampPlace, side: FlagSide) -> Option<()> {
    let (out, field, sign) = match side {
        FlagSide::Top => (lamp.up_mm, "lamp.upMm", ""),
        FlagSide::Bottom => (lamp.up_mm, "lamp.upMm", "-"),
        FlagSide::Right => (lamp.right_mm, "lamp.rightMm", ""),
        FlagSide::Left => (lamp.right_mm, "lamp.rightMm", "-"),
    };
    working.given("q", TermName::LampOut, mm(out), field);
    working.given("c", TermName::LampAhead, mm(lamp.ahead_mm), "lamp.aheadMm");
    let formula = format!("({sign}q + G/2)/(c - o)");
    working.steps(&[("m", TermName::LightSlope, TermUnit::Number, &formula, LINES)])
}

/// What keeps it out of the picture.
fn until_seen(
    working: &mut Working,
    request: &FlagRequest,
    lens: &LensView,
    longest: f64,
) -> Option<()> {
    let level = is_level(request.flag.side);
    let focal = mm(request.focal_length_mm);
    working.given("f", TermName::FocalLength, focal, "focalLengthMm");
    let number = (lens.f_number.number(), TermUnit::FNumber);
    working.given("N", TermName::FNumber, number, "fNumber");
    let position = lens.pupil.position();
    let behind = if level {
        position.vertical
    } else {
        position.horizontal
    };
    let said = matches!(request.pupil_behind_rim_mm, Some(PupilPlace::Known(_)));
    (working.given(
        "p",
        TermName::PupilBehind,
        mm(behind.millimetres()),
        "pupilBehindRimMm",
    ))
    .unless(said);
    let squeezed = !level && request.squeeze != 1.0;
    if squeezed {
        let squeeze = (request.squeeze, TermUnit::Number);
        working.given("z", TermName::Squeeze, squeeze, "squeeze");
    }
    let (name, size, field) = if level {
        (
            TermName::SensorHeight,
            request.sensor.height_mm,
            "sensor.heightMm",
        )
    } else {
        (
            TermName::SensorWidth,
            request.sensor.width_mm,
            "sensor.widthMm",
        )
    };
    working.given("w", name, mm(size), field);
    let [slope, pupil] = if squeezed {
        ["z * w/(2 * f)", "f/(N * z)"]
    } else {
        ["w/(2 * f)", "f/N"]
    };
    working.steps(&[
        ("t", TermName::FieldSlope, TermUnit::Number, slope, LINES),
        (
            "P",
            TermName::Pupil,
            TermUnit::Mm,
            pupil,
            "definition of the f-number",
        ),
    ])?;
    let room = "H - P/2 - t * (j + p)";
    let formula = if let Some(front) = request.front_diameter_mm {
        working.given("F", TermName::Front, mm(front), "frontDiameterMm");
        format!("max(max({room}, H - F/2 - t * j), 0)/(t * cos(l) - sin(l))")
    } else {
        format!("max({room}, 0)/(t * cos(l) - sin(l))")
    };
    working.steps(&[("r", TermName::LongestFlag, TermUnit::Mm, &formula, LINES)])?;
    working.tells("r", longest).then_some(())
}
