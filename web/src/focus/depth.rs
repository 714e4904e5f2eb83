//! `depth`: what is sharp, how large the background blurs, and the stop for a
//! wish.

use crate::focus::depth_request::DepthRequest;
use crate::focus::depth_working::working;
use crate::focus::wish;
use crate::plain::refusal::{At, Code, Refusal, needed};
use crate::shapes::distance::Place;
use crate::shapes::working::TermReply;
use glasscall_core::answer::depth::{AtStop, Scene};
use glasscall_core::physics::depth_of_field::{DIAGONAL_PARTS, circle_of_confusion};
use glasscall_core::physics::diffraction::GREEN;
use glasscall_core::quantity::{
    Aperture, Bounds, Disc, Distance, FocalLength, OutOfRange, Reach, Span, Stops, Wavelength,
};
use glasscall_derive::read;
use glasscall_derive::{FromPlain, ToPlain};
use serde::{Deserialize, Serialize};
use tsify::Tsify;

/// The picture's depth at one stop.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct DepthReply {
    /// Nearest sharp place.
    pub near_mm: f64,
    /// Farthest sharp place.
    pub far_mm: Place,
    /// Far less near.
    pub depth_mm: Place,
    /// Where the lens is focused.
    pub focus_mm: Place,
    /// The focus whose far limit is just infinity.
    pub hyperfocal_mm: f64,
    /// Disc a background point is drawn as.
    pub background_blur_mm: f64,
    /// The same as a share of the picture's height.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub background_blur_of_frame: Option<f64>,
    /// Disc that light itself draws, to the first dark ring.
    pub diffraction_mm: f64,
    /// The f-number from which that disc is larger than the circle; absent
    /// beyond any iris.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub diffraction_from_f_number: Option<f64>,
    /// The f-number, exact.
    pub f_number: f64,
    /// The nearest third to it, as `f/2.8⅓`.
    pub f_number_label: String,
    /// The T-number that goes with it, exact.
    pub t_number: f64,
    /// The nearest third to it, as `T2.8⅓`.
    pub t_number_label: String,
    /// The f-number as the sensor sees it, focused this near.
    pub working_f_number: f64,
    /// Image size over subject size.
    pub magnification: f64,
    /// The circle of confusion that was used.
    pub circle_mm: f64,
    /// Where the circle comes from.
    pub circle_rule: CircleRule,
    /// The stops to either side, the wider first; empty unless asked for.
    pub neighbours: Vec<NeighbourReply>,
    /// How it is worked out, term by term, where that was asked and can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub working: Option<Vec<TermReply>>,
}

/// Where a circle of confusion comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, ToPlain, Deserialize, FromPlain, Tsify)]
#[serde(rename_all = "camelCase")]
pub enum CircleRule {
    /// It was given.
    Given,
    /// The picture's diagonal in parts. Common practice, no source.
    PartOfDiagonal,
}

/// What a neighbouring stop would do.
#[derive(Debug, Clone, PartialEq, Serialize, ToPlain, Deserialize, Tsify)]
#[serde(rename_all = "camelCase")]
pub struct NeighbourReply {
    /// Stops closed from the stop asked for; negative is wider.
    pub by_stops: f64,
    /// The f-number, exact.
    pub f_number: f64,
    /// The nearest third to it, as `f/2.8⅓`.
    pub f_number_label: String,
    /// The T-number that goes with it, exact.
    pub t_number: f64,
    /// The nearest third to it, as `T2.8⅓`.
    pub t_number_label: String,
    /// Nearest sharp place.
    pub near_mm: f64,
    /// Farthest sharp place.
    pub far_mm: Place,
    /// Far less near.
    pub depth_mm: Place,
    /// Disc a background point is drawn as.
    pub background_blur_mm: f64,
    /// The same as a share of the picture's height.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub background_blur_of_frame: Option<f64>,
    /// Disc that light itself draws.
    pub diffraction_mm: f64,
}

/// Answers `depth`.
///
/// # Errors
///
/// `missing`, `oneTooMany`, `outOfRange`; a wish that no stop grants is refused
/// under its own name with the range that could be had.
pub fn depth(request: &DepthRequest) -> Result<DepthReply, Refusal> {
    let focal = read!(FocalLength::new, request.focal_length_mm)?;
    let (circle, circle_rule) = circle(request)?;
    let wavelength = read!(Wavelength::new, request.wavelength_nm else GREEN)?;
    wish::only_one(request)?;
    let two_places = wish::two_places(request, focal, circle)?;
    let focus = match two_places {
        Some(found) => found.focus,
        None => {
            let on = needed(request.focus_mm, "focusMm")?.reach("focusMm")?;
            request.measured_from.focus(focal, on).at("focusMm")?
        }
    };
    let scene = Scene {
        focus,
        circle,
        background: background(request, request.measured_from.behind_lens(focus))?,
        wavelength,
    };
    let lens_loss = lens_loss(request)?;
    let number = match two_places {
        Some(found) => found.number,
        None => wish::number(request, scene, lens_loss)?,
    };
    let here = scene.at(number).at("fNumber")?;
    let ruler = Ruler {
        behind_lens: request.measured_from.behind_lens(focus),
        frame_height: request.sensor.map(|sensor| sensor.height_mm),
    };
    let hyperfocal = (request.measured_from)
        .reading(focal, Reach::At(here.hyperfocal))
        .at("fNumber")?;
    let transmitting = number.closed_by(lens_loss).map_err(|_| {
        let most = 2.0 * (Bounds::APERTURE.max / number.number()).log2();
        Refusal::outside(
            "lensLossStops",
            lens_loss.stops(),
            0.0,
            most * (1.0 - 1e-12),
        )
    })?;
    let told = DepthReply {
        near_mm: ruler.near(here),
        far_mm: ruler.far(here).at("focusMm")?,
        depth_mm: depth_of(here),
        focus_mm: (request.measured_from)
            .reading(focal, focus.on())
            .at("focusMm")?,
        hyperfocal_mm: match hyperfocal {
            Place::Millimetres(distance) => distance,
            Place::Named(_) => here.hyperfocal.millimetres(),
        },
        background_blur_mm: here.background_blur,
        background_blur_of_frame: ruler.of_frame(here),
        diffraction_mm: here.diffraction,
        diffraction_from_f_number: (scene.number_where_diffraction_shows().ok())
            .map(Aperture::number),
        f_number: number.number(),
        f_number_label: format!("f/{}", number.label()),
        t_number: transmitting.number(),
        t_number_label: format!("T{}", transmitting.label()),
        working_f_number: here.working.number(),
        magnification: focus.magnification(),
        circle_mm: circle.millimetres(),
        circle_rule,
        neighbours: neighbours(request, scene, number, ruler, lens_loss)?,
        working: None,
    };
    Ok(DepthReply {
        working: (request.explain).then(|| working(request, &told)).flatten(),
        ..told
    })
}

/// How core's distances and discs are told.
#[derive(Clone, Copy)]
struct Ruler {
    behind_lens: f64,
    frame_height: Option<f64>,
}

impl Ruler {
    fn near(self, stop: AtStop) -> f64 {
        stop.zone.near.millimetres() + self.behind_lens
    }

    fn far(self, stop: AtStop) -> Result<Place, OutOfRange> {
        Ok(match stop.zone.far {
            Reach::At(far) => {
                let told = Distance::new(far.millimetres() + self.behind_lens)?;
                Place::Millimetres(told.millimetres())
            }
            Reach::Infinity => Place::INFINITY,
        })
    }

    fn of_frame(self, stop: AtStop) -> Option<f64> {
        self.frame_height
            .map(|height| stop.background_blur / height)
    }
}

fn depth_of(stop: AtStop) -> Place {
    (stop.zone.far.distance()).map_or(Place::INFINITY, |far| {
        Place::Millimetres(far.millimetres() - stop.zone.near.millimetres())
    })
}

fn circle(request: &DepthRequest) -> Result<(Disc, CircleRule), Refusal> {
    let sides = (request.sensor)
        .map(|sensor| {
            let width = read!(Span::new, in sensor.width_mm)?;
            let height = read!(Span::new, in sensor.height_mm)?;
            Ok::<_, Refusal>((width, height))
        })
        .transpose()?;
    let parts = read!(Bounds::DIAGONAL_PARTS, request.diagonal_parts else DIAGONAL_PARTS)?;
    match (request.circle_mm, sides) {
        (Some(_), _) if request.diagonal_parts.is_some() => {
            Err(Refusal::new(Code::OneTooMany, "diagonalParts"))
        }
        (Some(circle), _) => Ok((Disc::new(circle).at("circleMm")?, CircleRule::Given)),
        (None, Some((width, height))) => {
            let circle = circle_of_confusion(width, height, parts).at("diagonalParts")?;
            Ok((circle, CircleRule::PartOfDiagonal))
        }
        (None, None) => Err(Refusal::new(Code::Missing, "circleMm")),
    }
}

/// How much a T-number is above the f-number.
fn lens_loss(request: &DepthRequest) -> Result<Stops, Refusal> {
    read!(Stops::new of Bounds::LENS_LOSS, request.lens_loss_stops else 0.0)
}

fn background(request: &DepthRequest, behind_lens: f64) -> Result<Reach, Refusal> {
    match request.background_mm {
        Some(Place::Millimetres(distance)) => {
            let least = Bounds::DISTANCE.from(Bounds::DISTANCE.min + behind_lens);
            let distance = least.check(distance).at("backgroundMm")? - behind_lens;
            Distance::new(distance).map(Reach::At).at("backgroundMm")
        }
        Some(Place::Named(_)) | None => Ok(Reach::Infinity),
    }
}

fn neighbours(
    request: &DepthRequest,
    scene: Scene,
    number: Aperture,
    ruler: Ruler,
    lens_loss: Stops,
) -> Result<Vec<NeighbourReply>, Refusal> {
    let Some(by) = read!(Bounds::NEIGHBOUR, request.neighbour_stops?)? else {
        return Ok(Vec::new());
    };
    let mut found = Vec::new();
    for by in [-by, by] {
        // A neighbour beyond any iris is none.
        let stop = Stops::new(by).and_then(|by| number.closed_by(by));
        let both = stop
            .and_then(|number| scene.at(number))
            .and_then(|stop| Ok((stop, stop.number.closed_by(lens_loss)?)));
        let Ok((stop, transmitting)) = both else {
            continue;
        };
        found.push(NeighbourReply {
            by_stops: by,
            f_number: stop.number.number(),
            f_number_label: format!("f/{}", stop.number.label()),
            t_number: transmitting.number(),
            t_number_label: format!("T{}", transmitting.label()),
            near_mm: ruler.near(stop),
            far_mm: ruler.far(stop).at("focusMm")?,
            depth_mm: depth_of(stop),
            background_blur_mm: stop.background_blur,
            background_blur_of_frame: ruler.of_frame(stop),
            diffraction_mm: stop.diffraction,
        });
    }
    Ok(found)
}
