//! One field point's light as other families of laws see it.

use super::bundle::Bundle;
use super::left::Left;
use super::opening::Opening;
use super::plane::Vector;
use super::pupil::Pupil;
use crate::setup::Tangents;

/// The light that comes in by one pair of real tangents.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Beam(Bundle);

impl Beam {
    /// The light that reaches the sensor by these tangents.
    pub(crate) fn of_ray(pupil: &Pupil, ray: Tangents) -> Self {
        Self(Bundle::of_ray(pupil, ray))
    }

    /// How far its middle is along a direction in a plane ahead of the rim, and
    /// how far it reaches from there either way, in millimetres.
    pub(crate) fn along(&self, [x, y]: [f64; 2], ahead: f64) -> (f64, f64) {
        let towards = Vector { x, y };
        let reach = self.0.ellipse.reach(self.0.own(towards));
        (self.0.middle(ahead).dot(towards), reach)
    }

    /// What openings and the lens's rim leave of it; `None` for nothing.
    pub(crate) fn left(&self, openings: &[Opening]) -> Option<Left> {
        Left::of(&self.0, openings)
    }
}
