//! How a ghost is worked out.

use super::ghost::{GhostBetween, GhostReply, GhostRequest};
use crate::shapes::working::{TermName, TermReply, TermUnit, Working};

const UNFOLDED: &str = "law of reflection, the mirrors unfolded; own derivation";
const PROJECTED: &str = "a thin lens draws tan(angle); own derivation";
const BOTH: &str = "shares reflected multiply";

/// The terms of where a ghost stands, how weak it is and what throws it out.
pub(crate) fn working(request: &GhostRequest, reply: &GhostReply) -> Option<Vec<TermReply>> {
    let mut working = Working::default();
    given(&mut working, request);
    let turn = if request.between == GhostBetween::FacesOfOnePlate {
        "2 * n * t"
    } else {
        "2 * t"
    };
    let lamp = (
        "a",
        TermName::LampAngle,
        TermUnit::Deg,
        "atan2(i, f)",
        PROJECTED,
    );
    let turned = ("v", TermName::TurnedBy, TermUnit::Deg, turn, UNFOLDED);
    working.steps(&[lamp, turned])?;
    if let Some(at) = reply.ghost_mm {
        let opposite = request.between == GhostBetween::PlateAndSensor;
        let place = if opposite {
            "f * tan(v - a)"
        } else {
            "f * tan(v + a)"
        };
        working.steps(&[("g", TermName::GhostPlace, TermUnit::Mm, place, UNFOLDED)])?;
        if !working.tells("g", at) {
            return None;
        }
    }
    working.steps(&[(
        "s",
        TermName::MovedByTilt,
        TermUnit::Mm,
        "f * tan(v)",
        PROJECTED,
    )])?;
    if let Some(weaker) = reply.weaker_by_stops {
        working.steps(&[(
            "k",
            TermName::WeakerBy,
            TermUnit::Stops,
            "-log2(A * B)",
            BOTH,
        )])?;
        if !working.tells("k", weaker) {
            return None;
        }
    }
    clearing(&mut working, request, reply)?;
    working.tells("s", reply.shift_mm).then(|| working.terms())
}

fn given(working: &mut Working, request: &GhostRequest) {
    let mm = |value: f64| (value, TermUnit::Mm);
    let focal = mm(request.focal_length_mm);
    working.given("f", TermName::FocalLength, focal, "focalLengthMm");
    working.given("i", TermName::LampImage, mm(request.lamp_mm), "lampMm");
    let tilt = (request.tilt_deg, TermUnit::Deg);
    working.given("t", TermName::Tilt, tilt, "tiltDeg");
    for (symbol, share, field) in [
        ("A", request.reflectances[0], "reflectances[0]"),
        ("B", request.reflectances[1], "reflectances[1]"),
    ] {
        working.given(symbol, TermName::Reflects, (share, TermUnit::Share), field);
    }
    if request.between == GhostBetween::FacesOfOnePlate
        && let Some(index) = request.refractive_index
    {
        let index = (index, TermUnit::Number);
        working.given("n", TermName::RefractiveIndex, index, "refractiveIndex");
    }
}

/// The least tilt that throws it past the edge it is nearer to.
fn clearing(working: &mut Working, request: &GhostRequest, reply: &GhostReply) -> Option<()> {
    let (Some(edge), Some(tilt)) = (request.edge_mm, reply.tilt_to_clear_deg) else {
        return Some(());
    };
    let edge = (edge, TermUnit::Mm);
    working.given("e", TermName::PictureEdge, edge, "edgeMm");
    let by = if request.between == GhostBetween::FacesOfOnePlate {
        "(2 * n)"
    } else {
        "2"
    };
    let way = if tilt < 0.0 { "-" } else { "" };
    let formula = format!("{way}max(atan2(max(e, -e), f) - max(a, -a), 0)/{by}");
    working.steps(&[(
        "c",
        TermName::TiltToClear,
        TermUnit::Deg,
        &formula,
        UNFOLDED,
    )])?;
    working.tells("c", tilt).then_some(())
}
