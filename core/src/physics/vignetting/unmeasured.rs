//! What a lens may be that nobody measured, chosen by traces of published lenses.

use super::known_lens::Between;
use crate::quantity::Span;
use crate::setup::View;

/// δ of a lens nobody measured, at a corner of this tan²θ.
///
/// `bends`: 1 for a lens that may bend its picture, 0 for one that is known to
/// draw straight lines about straight, as [`may_bend`] tells.
///
/// Our own traces, chosen with the seventeen that `traced_lenses.json` marks so:
/// no less than −0.0103 at 0.2; no more than 0.175·tan²θ for lenses that draw
/// straight lines straight and 0.009 near the axis; two of 100° and 120° that do
/// not quite reach 0.50 at 0.16, 0.55 at 0.33 and 0.68 at 0.59.
pub(super) fn unmeasured(square: f64, bends: f64) -> Between {
    let rise = (0.3 + 1.2 * square).min(0.5 + 0.33 * square);
    Between {
        least: -(0.005 + 0.05 * square),
        most: 0.006 + (STRAIGHT + bends * (rise - STRAIGHT)) * square,
    }
}

/// δ over tan²θ of lenses that draw straight lines about straight, at most: our
/// own traces, with nearly half as much again.
const STRAIGHT: f64 = 0.25;

/// Whether a lens of this front may bend its picture, 0 to 1.
///
/// What bends so that it takes in far more than its focal length says needs a
/// front of several focal lengths for that. Our own traces: 4.2 and 4.3 focal
/// lengths; from memory no less than 3 in others.
pub(super) fn may_bend(front: Option<Span>, view: &View) -> f64 {
    let record = view.record();
    let shortest = record.focal_length.millimetres() / record.squeeze.ratio();
    front.map_or(1.0, |front| {
        (front.millimetres() / shortest - 2.0).clamp(0.0, 1.0)
    })
}

/// b of a lens nobody measured, at a corner of this tan²θ. Our own traces: −1.0
/// to 0.91; two stops closed no pupil is less than 0.966 of its size on the axis.
pub(super) fn unmeasured_growth(square: f64) -> Between {
    Between {
        least: (-0.1 / square.max(NO_FIELD)).max(-1.0),
        most: 1.1,
    }
}

/// No picture is narrower, as tan²θ.
pub(super) const NO_FIELD: f64 = 1e-12;
