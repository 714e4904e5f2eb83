//! What a fit is asked with, and what cannot be asked.

use super::placed::Placed;
use crate::physics::opening::Opening;
use crate::physics::pupil_range::PupilRange;
use crate::quantity::{Aperture, Bounds, FocalLength, Length, OutOfRange};
use crate::setup::{Tangents, View};
use crate::sorted::sort_by;
use alloc::vec::Vec;

/// The most openings in a row.
pub const MAX_OPENINGS: usize = 24;

/// What is asked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Question<'a> {
    /// Sensor, focal length, squeeze, shift.
    pub view: View,
    /// The f-number.
    pub f_number: Aperture,
    /// Where the pupil is, or between which limits; `None` when nobody knows,
    /// which leaves what was seen.
    pub pupil: Option<PupilRange>,
    /// The openings, in any order.
    pub openings: &'a [Placed],
    /// The other end of a zoom.
    pub zoom: Option<ZoomEnd>,
    /// Field points whose loss is asked for.
    pub points: &'a [Tangents],
}

/// The other end of a zoom lens. Pupil and f-number are taken to change evenly
/// with focal length in between.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ZoomEnd {
    /// Focal length there.
    pub focal_length: FocalLength,
    /// f-number there.
    pub f_number: Aperture,
    /// Pupil there.
    pub pupil: PupilRange,
}

/// Why a fit cannot be computed. The openings are named by their place in the
/// question.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FitError {
    /// An opening lies behind the pupil.
    BehindPupil(usize, OutOfRange),
    /// An opening stands where another one is.
    Overlap(usize, OutOfRange),
    /// The other end of the zoom sees too wide a field.
    ZoomField(OutOfRange),
}

/// Refuses openings behind a pupil and openings where another one stands.
pub(in crate::answer) fn check_places(
    pupils: impl Iterator<Item = PupilRange>,
    openings: &[Opening],
) -> Result<(), FitError> {
    let nearest = pupils
        .flat_map(|range| range.ends())
        .flat_map(|end| [end.horizontal, end.vertical])
        .map(Length::millimetres)
        .fold(f64::INFINITY, f64::min);
    let rear = |at: usize| openings[at].record().distance.millimetres();
    let mut order: Vec<usize> = (0..openings.len()).collect();
    sort_by(&mut order, |&one, &other| rear(one).total_cmp(&rear(other)));
    let mut free_from = -nearest;
    for (nth, &at) in order.iter().enumerate() {
        let bounds = Bounds {
            min: free_from,
            ..Bounds::LENGTH
        };
        let named = if nth == 0 {
            FitError::BehindPupil
        } else {
            FitError::Overlap
        };
        (bounds.check(rear(at))).map_err(|error| named(at, error))?;
        let depth = openings[at].record().depth;
        let depth = depth.map_or(0.0, |depth| depth.millimetres());
        free_from = rear(at) + depth.max(THINNEST_MM);
    }
    Ok(())
}

/// No two openings stand closer than this, in millimetres.
const THINNEST_MM: f64 = 0.01;
