//! How what a graduated filter leaves between two readings is worked out.

use super::line_working::frame;
use super::loss_working::{Spot, edge_of, loss};
use super::sky_and_ground::{SkyAndGroundReply, SkyAndGroundRequest, SpotRequest};
use crate::shapes::lens::LensView;
use crate::shapes::working::{TermName, TermReply, TermUnit, Working};
use glasscall_core::quantity::{Aperture, Stops};
use glasscall_core::setup::Contribution;

const READ: &str = "2 * log2(N), N as engraved";
const CLOSER: &str = "what the bright one loses beyond the dark one; own derivation";

/// What the two places and the subject lose to the first filter, stops.
pub(crate) struct Lost {
    pub(crate) bright: Stops,
    pub(crate) dark: Stops,
    pub(crate) subject: Option<Stops>,
}

/// The terms of the first filter; `None` for places off the middle, which turned
/// glass crosses elsewhere, and for what a few terms do not tell.
pub(crate) fn working(
    request: &SkyAndGroundRequest,
    lens: &LensView,
    reply: &SkyAndGroundReply,
    lost: &Lost,
    (causes, together): ([Contribution; 4], Stops),
) -> Option<Vec<TermReply>> {
    let best = reply.grads.first()?;
    let nth = request.grads.iter().position(|grad| grad.id == best.id)?;
    let profile = &request.grads[nth].profile;
    let path = format!("grads[{nth}].profile");
    let edge = edge_of!(request, profile, &path);
    let across = |spot: &SpotRequest| spot.across_frame.unwrap_or(0.5);
    let aside = across(&request.bright) != 0.5 || across(&request.dark) != 0.5;
    if edge.is_turned() && aside {
        return None;
    }
    let mut working = frame(&edge, lens)?;
    let density = (profile.density?, TermUnit::Density);
    (working.given("D", TermName::Density, density, &edge.field("density"))).of(&best.id, None);
    apart(&mut working, request, reply)?;
    let (bright, dark) = (&request.bright, &request.dark);
    let subject = (request.subject.as_ref()).filter(|_| lost.subject.is_some());
    for (mark, at, field, told) in [
        (
            "1",
            Some(bright.at_frame_height),
            "bright",
            Some(lost.bright),
        ),
        ("2", Some(dark.at_frame_height), "dark", Some(lost.dark)),
        (
            "3",
            subject.map(|place| place.at_frame_height),
            "subject",
            lost.subject,
        ),
    ] {
        let (Some(at), Some(told)) = (at, told) else {
            continue;
        };
        let field = format!("{field}.atFrameHeight");
        let spot = Spot {
            mark,
            at: (at, &field),
            told: told.stops(),
        };
        loss(&mut working, &edge, &spot)?;
    }
    let stops = TermUnit::Stops;
    working.steps(&[
        ("G", TermName::BroughtCloser, stops, "k1 - k2", CLOSER),
        ("L", TermName::LeftApart, stops, "X - G", CLOSER),
    ])?;
    let mut agrees =
        working.tells("G", best.delivered_stops) && working.tells("L", best.left_stops);
    if let Some(stolen) = best.stolen_stops {
        working.steps(&[("Q", TermName::Stolen, stops, "k3 - k2", CLOSER)])?;
        agrees &= working.tells("Q", stolen);
    }
    if !agrees {
        return None;
    }
    working.causes(causes, together, &[]);
    Some(working.terms())
}

/// How many stops the two read apart.
fn apart(
    working: &mut Working,
    request: &SkyAndGroundRequest,
    reply: &SkyAndGroundReply,
) -> Option<()> {
    if let Some(apart) = request.stops_apart {
        let apart = (apart, TermUnit::Stops);
        working.given("X", TermName::Apart, apart, "stopsApart");
        return Some(());
    }
    for (symbol, name, spot, field) in [
        (
            "A",
            TermName::BrightRead,
            &request.bright,
            "bright.aperture",
        ),
        ("B", TermName::DarkRead, &request.dark, "dark.aperture"),
    ] {
        let read = Aperture::from_marking(spot.aperture?).ok()?;
        working.given(symbol, name, (read.number(), TermUnit::Aperture), field);
    }
    let formula = "2 * log2(A/B)";
    working.steps(&[("X", TermName::Apart, TermUnit::Stops, formula, READ)])?;
    working.tells("X", reply.apart_stops).then_some(())
}
