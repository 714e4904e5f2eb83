//! `fit`: whether the glass in front of this lens shades this picture.

use super::fit_working::working;
use crate::coverage::fit_reply::{FitReply, reply};
use crate::coverage::fit_request::{FitRequest, MapSize, ZoomRequest};
use crate::plain::refusal::Refusal;
use crate::shapes::lens::without_loss;
use crate::shapes::opening::OpeningRequest;
use crate::shapes::uncertainty::known;
use glasscall_core::answer::fit::{
    FitError, Looked, MAX_LOOKS, MAX_OPENINGS, Question, fit as core_answer,
};
use glasscall_core::answer::{Placed, ZoomEnd, loss_map};
use glasscall_core::physics::known_lens::{KnownLens, Place};
use glasscall_core::quantity::{Aperture, FocalLength, Stops};
use glasscall_derive::read;

/// The most columns, and the most rows, of a loss map.
const MAX_MAP_SIDE: usize = 200;

/// Answers `fit`.
///
/// # Errors
///
/// `outOfRange` (a size of nothing, a field near a half turn, an opening behind
/// the pupil or where another one stands), `missing`, `oneTooMany`, `tooMany`.
pub fn fit(request: &FitRequest) -> Result<FitReply, Refusal> {
    let view = request.view("")?;
    let f_number = read!(Aperture::engraved, request.f_number)?;
    let f_number = without_loss(f_number, request.lens_loss_stops, "lensLossStops")?;
    let lens = request.known().lens(&view, f_number, "")?;
    let close = (request.close.as_ref())
        .map(|close| close.close(&view, f_number, &request.known(), ""))
        .transpose()?
        .flatten();
    let zoom = (request.zoom.as_ref().zip(lens))
        .map(|(zoom, lens)| zoom.end(f_number, lens))
        .transpose()?;
    let looks = looked(&request.looks, "")?;
    let openings = openings(&request.openings)?;
    if request.points.len() > MAX_MAP_SIDE {
        return Err(Refusal::too_many(
            "points",
            request.points.len(),
            MAX_MAP_SIDE,
        ));
    }
    let points = (request.points.iter().enumerate())
        .map(|(at, point)| point.field(&view, &format!("points[{at}]")))
        .collect::<Result<Vec<_>, Refusal>>()?;
    let question = Question {
        view,
        f_number,
        lens,
        close,
        openings: &openings,
        looks: &looks,
        zoom,
        points: &points,
        known: known(request.uncertainty.as_ref())?,
    };
    let answer = core_answer(&question).map_err(refusal)?;
    let map = request.loss_map.map(MapSize::checked).transpose()?;
    let told = reply(&request.openings, &answer);
    Ok(FitReply {
        working: (request.explain)
            .then(|| {
                working(
                    request,
                    (&told, &answer),
                    &[lens, close.map(|close| close.lens)],
                )
            })
            .flatten(),
        loss_map: map.and_then(|MapSize { columns, rows }| {
            let map = loss_map(&question, columns, rows)?;
            Some(map.into_iter().map(|loss| loss.map(Stops::stops)).collect())
        }),
        ..told
    })
}

/// Looks at openings that are not there now.
pub(crate) fn looked(given: &[OpeningRequest], path: &str) -> Result<Vec<Looked>, Refusal> {
    if given.len() > MAX_LOOKS {
        let field = format!("{path}looks");
        return Err(Refusal::too_many(&field, given.len(), MAX_LOOKS));
    }
    (given.iter().enumerate())
        .map(|(at, look)| look.looked(&format!("{path}looks[{at}]")))
        .collect()
}

fn openings(given: &[OpeningRequest]) -> Result<Vec<Placed>, Refusal> {
    if given.len() > MAX_OPENINGS {
        return Err(Refusal::too_many("openings", given.len(), MAX_OPENINGS));
    }
    (given.iter().enumerate())
        .map(|(at, opening)| opening.placed(&format!("openings[{at}]")))
        .collect()
}

fn refusal(error: FitError) -> Refusal {
    match error {
        FitError::BehindPupil(at, error) | FitError::Overlap(at, error) => {
            Refusal::out_of_range(&format!("openings[{at}].distanceFromRimMm"), error)
        }
        FitError::ZoomField(error) => Refusal::out_of_range("zoom.focalLengthMm", error),
    }
}

impl ZoomRequest {
    fn end(&self, f_number: Aperture, lens: KnownLens) -> Result<ZoomEnd, Refusal> {
        let zoom = self;
        let own = read!(Aperture::engraved, in zoom.f_number?)?;
        let place = (self.pupil_behind_rim_mm)
            .map(|place| place.range("zoom.pupilBehindRimMm"))
            .transpose()?;
        Ok(ZoomEnd {
            focal_length: read!(FocalLength::new, in zoom.focal_length_mm)?,
            f_number: own.unwrap_or(f_number),
            lens: place.map_or(lens, |pupil| KnownLens {
                place: Place::Somewhere {
                    pupil,
                    distortion: None,
                },
                growth: None,
                ..lens
            }),
        })
    }
}

impl MapSize {
    fn checked(self) -> Result<Self, Refusal> {
        let side = |given: usize, field: &str| {
            if (1..=MAX_MAP_SIDE).contains(&given) {
                return Ok(());
            }
            Err(Refusal::count_outside(field, given, 1, MAX_MAP_SIDE))
        };
        side(self.columns, "lossMap.columns")?;
        side(self.rows, "lossMap.rows")?;
        Ok(self)
    }
}
