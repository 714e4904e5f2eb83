//! A wish for depth or blur, answered by a stop.

use crate::focus::depth_request::DepthRequest;
use crate::plain::refusal::{At, Code, Refusal, needed};
use crate::shapes::distance::{MeasuredFrom, Place};
use crate::shapes::lens::closed;
use glasscall_core::answer::depth::{OutOfReach, Scene};
use glasscall_core::physics::depth_of_field::{Between, between, between_on_tape, far_with};
use glasscall_core::quantity::{Aperture, Bounds, Disc, Distance, FocalLength, OutOfRange, Stops};

/// Refuses a second wish.
pub(crate) fn only_one(request: &DepthRequest) -> Result<(), Refusal> {
    let wishes = [
        ("wantedDepthMm", request.wanted_depth_mm.is_some()),
        ("wantedNearMm", request.wanted_near_mm.is_some()),
        ("wantedBlurMm", request.wanted_blur_mm.is_some()),
        ("wantedBlurOfFrame", request.wanted_blur_of_frame.is_some()),
    ];
    match wishes.iter().filter(|(_, given)| *given).nth(1) {
        Some((field, _)) => Err(Refusal::new(Code::OneTooMany, field)),
        None => Ok(()),
    }
}

/// The focus and stop for two places, when that is the wish.
pub(crate) fn two_places(
    request: &DepthRequest,
    focal: FocalLength,
    circle: Disc,
) -> Result<Option<Between>, Refusal> {
    let (near, far) = match (request.wanted_near_mm, request.wanted_far_mm) {
        (None, None) => return Ok(None),
        (None, Some(_)) => return Err(Refusal::new(Code::Missing, "wantedNearMm")),
        (Some(near), far) => (near, needed(far, "wantedFarMm")?),
    };
    if request.focus_mm.is_some() {
        return Err(Refusal::new(Code::OneTooMany, "focusMm"));
    }
    let near = Distance::new(near).at("wantedNearMm")?;
    // The focus lies at twice the nearer place at most, and outside the lens.
    let least = focal.millimetres() / 2.0;
    if request.measured_from == MeasuredFrom::Lens && near.millimetres() <= least {
        let (given, least) = (near.millimetres(), least * (1.0 + 1e-12));
        let most = Bounds::DISTANCE.max;
        return Err(Refusal::outside("wantedNearMm", given, least, most));
    }
    if let Place::Millimetres(far) = far {
        let beyond_near = Bounds::DISTANCE.from(near.millimetres());
        beyond_near.check(far).at("wantedFarMm")?;
    }
    let find = match request.measured_from {
        MeasuredFrom::Lens => between,
        MeasuredFrom::Sensor => between_on_tape,
    };
    let found = find(focal, near, far.reach("wantedFarMm")?, circle);
    found.map(Some).map_err(|_| {
        // From the sensor the range itself depends on the focus: it stays unsaid.
        let from_lens = request.measured_from == MeasuredFrom::Lens;
        let far_at = |number| {
            let number = Aperture::from_number(number).ok().filter(|_| from_lens)?;
            let far = far_with(focal, near, number, circle).ok()?;
            far.distance().map(Distance::millimetres)
        };
        let refusal = Refusal::new(Code::OutOfRange, "wantedFarMm");
        let refusal = match far {
            Place::Millimetres(far) => refusal.given_number(far),
            Place::Named(_) => refusal.given("infinity"),
        };
        refusal.needs(far_at(Bounds::APERTURE.min), far_at(Bounds::APERTURE.max))
    })
}

/// The stop that was given, or that grants the wish.
pub(crate) fn number(
    request: &DepthRequest,
    scene: Scene,
    lens_loss: Stops,
) -> Result<Aperture, Refusal> {
    if let Some(wanted) = request.wanted_depth_mm {
        let field = "wantedDepthMm";
        let reach = wanted.reach(field)?;
        return scene
            .number_for_depth(reach)
            .map_err(|error| refused(field, reach.distance().map(Distance::millimetres), error));
    }
    if let Some(wanted) = request.wanted_blur_mm {
        let disc = Disc::new(wanted).at("wantedBlurMm")?;
        return (scene.number_for_blur(disc))
            .map_err(|error| refused("wantedBlurMm", Some(wanted), error));
    }
    if let Some(share) = request.wanted_blur_of_frame {
        let field = "wantedBlurOfFrame";
        let height = needed(request.sensor, "sensor")?.height_mm;
        let disc = Disc::new(share * height).map_err(|_| {
            let Bounds { min, max, .. } = Bounds::DISC;
            let bounds = Bounds::DISC.from(min / height).to(max / height);
            let given = share;
            Refusal::out_of_range(field, OutOfRange { bounds, given })
        })?;
        return scene.number_for_blur(disc).map_err(|error| {
            let share_of = |disc| disc / height;
            let error = OutOfReach {
                least: share_of(error.least),
                most: error.most.map(share_of),
            };
            refused(field, Some(share), error)
        });
    }
    match (request.f_number, request.t_number) {
        (Some(_), Some(_)) => Err(Refusal::new(Code::OneTooMany, "tNumber")),
        (None, Some(number)) => {
            let transmitting = Aperture::engraved(number).at("tNumber")?;
            closed(transmitting, -lens_loss, number, "tNumber")
        }
        (number, None) => Aperture::engraved(needed(number, "fNumber")?).at("fNumber"),
    }
}

fn refused(field: &str, given: Option<f64>, error: OutOfReach) -> Refusal {
    let refusal = Refusal::new(Code::OutOfRange, field).needs(error.least, error.most);
    match given {
        Some(given) => refusal.given_number(given),
        None => refusal,
    }
}
