//! What a place in the picture loses to a graduated filter, worked out.
//!
//! Several places stand in one working by a mark behind their symbols.

use crate::shapes::grad::{ProfileKind, ProfileRequest};
use crate::shapes::working::{CROSSING, Step, TermName, TermUnit, Working};

const SEGMENT: &str = "area of a circular segment";
const FIVE: &str = "Gauss-Chebyshev, second kind, 5 points; Abramowitz and Stegun 25.4.40";
const LIGHT: &str = "light adds up over the pupil, density does not; own derivation";

/// A place in the picture, and what it is told to lose.
pub(crate) struct Spot<'a> {
    /// Stands behind each of its symbols.
    pub(crate) mark: &'a str,
    /// Height in the frame, and the field that says it.
    pub(crate) at: (f64, &'a str),
    /// The answer's own figure, stops.
    pub(crate) told: f64,
}

/// A filter held before a lens, as its workings need it.
pub(crate) struct Edge<'a> {
    pub(crate) profile: &'a ProfileRequest,
    /// Where the request has that profile.
    pub(crate) path: &'a str,
    pub(crate) focal_length_mm: f64,
    pub(crate) sensor_height_mm: f64,
    pub(crate) squeeze: f64,
    pub(crate) shift_y_mm: f64,
    pub(crate) distance_from_rim_mm: f64,
    pub(crate) line_height_mm: Option<f64>,
    pub(crate) line_at_frame_height: Option<f64>,
    pub(crate) rotation_deg: f64,
    pub(crate) invert: bool,
    pub(crate) pupil_is_said: bool,
}

/// The edge of a request through held glass, which all have the same fields.
macro_rules! edge_of {
    ($request:expr, $profile:expr, $path:expr) => {
        crate::graduated::loss_working::Edge {
            profile: $profile,
            path: $path,
            focal_length_mm: $request.focal_length_mm,
            sensor_height_mm: $request.sensor.height_mm,
            squeeze: $request.squeeze,
            shift_y_mm: $request.shift_y_mm,
            distance_from_rim_mm: $request.distance_from_rim_mm,
            line_height_mm: $request.line_height_mm,
            line_at_frame_height: $request.line_at_frame_height,
            rotation_deg: $request.rotation_deg,
            invert: $request.invert,
            pupil_is_said: matches!(
                $request.pupil_behind_rim_mm,
                Some(crate::shapes::pupil::PupilPlace::Known(_))
            ),
        }
    };
}
pub(crate) use edge_of;

impl Edge<'_> {
    pub(crate) fn is_turned(&self) -> bool {
        self.rotation_deg != 0.0
    }

    /// A field of its profile.
    pub(crate) fn field(&self, name: &str) -> String {
        format!("{}.{name}", self.path)
    }
}

/// Where the middle of a bundle from this height of the frame crosses.
pub(crate) fn at_height(share: &str, shift: f64, turned: bool) -> String {
    let shift = if shift == 0.0 { "" } else { " + v" };
    let turn = if turned { " * cos(g)" } else { "" };
    format!("z * (({share} - 0.5) * h{shift})/f{turn}")
}

/// What a place loses, as the term `k` with its mark; the density stands as `D`.
pub(crate) fn loss(working: &mut Working, edge: &Edge<'_>, spot: &Spot<'_>) -> Option<()> {
    let mark = spot.mark;
    let own = |sign: &str| format!("{sign}{mark}");
    let at = (spot.at.0, TermUnit::Share);
    working.given(&own("i"), TermName::At, at, spot.at.1);
    let middle = at_height(&own("i"), edge.shift_y_mm, edge.is_turned());
    let from_line = if edge.invert {
        format!("y - {middle}")
    } else {
        format!("{middle} - y")
    };
    put(
        working,
        mark,
        ("c", TermName::FromLine, TermUnit::Mm, &from_line, CROSSING),
    )?;
    let ramp = edge.profile.ramp_mm.unwrap_or(0.0);
    if edge.profile.kind == ProfileKind::Hard && ramp == 0.0 {
        behind_step(working, mark)?;
        return working.tells(&own("k"), spot.told).then_some(());
    }
    behind_ramp(working, edge.profile.kind, mark, spot.told)
}

/// One step; `#` in its formula stands for the mark of the place.
fn put(working: &mut Working, mark: &str, step: Step<'_>) -> Option<()> {
    let (symbol, formula) = (format!("{}{mark}", step.0), step.3.replace('#', mark));
    working.steps(&[(&symbol, step.1, step.2, &formula, step.4)])
}

/// A step covers a segment of the pupil.
fn behind_step(working: &mut Working, mark: &str) -> Option<()> {
    for step in [
        (
            "q",
            TermName::FromLine,
            TermUnit::Number,
            "min(max(c#/r, -1), 1)",
            SEGMENT,
        ),
        (
            "w",
            TermName::DenseShare,
            TermUnit::Share,
            "0.5 + asin(q#)/180 + q# * sqrt(1 - q# ^ 2)/3.14159265358979",
            SEGMENT,
        ),
        (
            "k",
            TermName::TakesThere,
            TermUnit::Stops,
            "-log2(1 - w# + w# * 10 ^ (-D))",
            LIGHT,
        ),
    ] {
        put(working, mark, step)?;
    }
    Some(())
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
fn behind_ramp(working: &mut Working, kind: ProfileKind, mark: &str, told: f64) -> Option<()> {
    let density = |place: &str| {
        let up = format!("min(max((c#{place})/m + 0.5, 0), 1)");
        match kind {
            ProfileKind::Hard | ProfileKind::Soft => Some(format!("D * {up}")),
            ProfileKind::Smooth => Some(format!("D * {up} ^ 2 * (3 - 2 * {up})")),
            ProfileKind::Stripe => Some(format!("D * max(1 - max(c#{place}, -(c#{place}))/m, 0)")),
            _ => None,
        }
    };
    let number = TermUnit::Number;
    for (symbol, place) in PLACES {
        let formula = format!("10 ^ (-({}))", density(place)?);
        put(
            working,
            mark,
            (symbol, TermName::PartPasses, number, &formula, LIGHT),
        )?;
    }
    let mean = "(T1# + 3 * T2# + 4 * T3# + 3 * T4# + T5#)/12";
    for step in [
        ("T", TermName::MeanPasses, number, mean, FIVE),
        (
            "j",
            TermName::ByFiveParts,
            TermUnit::Stops,
            "-log2(T#)",
            LIGHT,
        ),
    ] {
        put(working, mark, step)?;
    }
    let finer = told - working.value(&format!("j{mark}"))?;
    if finer.abs() > NEAR {
        return None;
    }
    let value = (finer, TermUnit::Stops);
    (working.given(&format!("o{mark}"), TermName::FinerParts, value, ""))
        .from("24 points to a stretch, Gauss-Legendre");
    put(
        working,
        mark,
        ("k", TermName::TakesThere, TermUnit::Stops, "j# + o#", LIGHT),
    )
}
