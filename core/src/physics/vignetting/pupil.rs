//! The entrance pupil: the lens's iris as the world sees it.

use super::lens_shape::LensShape;
use crate::quantity::{Aperture, Bounds, FocalLength, Length, OutOfRange, Span, Squeeze};

/// How far behind the rim the pupil lies, for each axis of the picture.
///
/// An anamorphic lens brings its two axes together at different depths; a
/// spherical one has the same figure twice.
///
/// # Units
///
/// Positive when the pupil is behind the rim, towards the sensor.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PupilPosition {
    /// For rays fanning out sideways.
    pub horizontal: Length,
    /// For rays fanning out up and down.
    pub vertical: Length,
}

impl From<Length> for PupilPosition {
    fn from(both: Length) -> Self {
        Self {
            horizontal: both,
            vertical: both,
        }
    }
}

/// The entrance pupil of a lens focused far away.
///
/// An ellipse. By itself it neither moves nor grows with the field angle; its
/// [`LensShape`] says by how much that of a real lens does, and what of its
/// light the front lets in.
///
/// # Units
///
/// Millimetres: f/(N·s) wide, f/N high.
///
/// # Source
///
/// The definition of the f-number, focal length by diameter of the entrance
/// pupil: Wikipedia, “F-number”, as in ISO 517:2008. The ellipse follows from the
/// two focal lengths f/s and f of an anamorphic lens.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pupil {
    half_width: f64,
    half_height: f64,
    position: PupilPosition,
    shape: LensShape,
}

impl Pupil {
    /// The pupil of this lens at this f-number.
    #[must_use]
    pub fn new(
        focal_length: FocalLength,
        f_number: Aperture,
        squeeze: Squeeze,
        position: PupilPosition,
    ) -> Self {
        let half_height = focal_length.millimetres() / f_number.number() / 2.0;
        Self {
            half_width: half_height / squeeze.ratio(),
            half_height,
            position,
            shape: LensShape::PLAIN,
        }
    }

    /// The same pupil elsewhere.
    #[must_use]
    pub const fn with_position(self, position: PupilPosition) -> Self {
        Self { position, ..self }
    }

    /// The same pupil in a lens of this shape.
    #[must_use]
    pub const fn with_shape(self, shape: LensShape) -> Self {
        Self { shape, ..self }
    }

    /// How the lens departs from a fixed pupil and a straight picture.
    #[must_use]
    pub const fn shape(&self) -> &LensShape {
        &self.shape
    }

    /// The pupil of a lens this many times as long at the same f-number.
    #[must_use]
    pub(crate) fn scaled(self, by: f64) -> Self {
        Self {
            half_width: self.half_width * by,
            half_height: self.half_height * by,
            ..self
        }
    }

    /// Where it lies.
    #[must_use]
    pub const fn position(&self) -> PupilPosition {
        self.position
    }

    /// Half its width, in millimetres.
    #[must_use]
    pub const fn half_width(&self) -> f64 {
        self.half_width
    }

    /// Half its height, in millimetres.
    #[must_use]
    pub const fn half_height(&self) -> f64 {
        self.half_height
    }
}

/// The pupil found with two cards: how far it lies and how wide the field is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TwoCards {
    /// Tangent of the angle of the picture's edge from the axis.
    pub tan_half_field: f64,
    /// How far the pupil lies behind the rim.
    pub behind_rim: Length,
    /// How far the pupil may be off when each height is off by
    /// [`CARD_READING_MM`].
    pub spread: Length,
}

impl TwoCards {
    /// How far the pupil may be off when each height is off by `off`, in
    /// millimetres both.
    #[must_use]
    pub fn spread_at(&self, off: f64) -> f64 {
        self.spread.millimetres() * off / CARD_READING_MM
    }
}

/// How well a height on a card is read, in millimetres.
///
/// Common practice, no source.
pub const CARD_READING_MM: f64 = 0.5;

/// The pupil from two cards held ahead of the lens, each with its edge at the
/// edge of the picture.
///
/// The ray of the picture's edge passes both card edges and heads for the middle
/// of the pupil. Close the iris first: with an open one the edge is a blur.
///
/// # Units
///
/// Distances ahead of the rim and heights from the lens axis, in millimetres.
/// tan θ = (y2 − y1)/(z2 − z1); pupil behind rim = y1/tan θ − z1. The spread is
/// ½·Δz·(y1 + y2)/(y2 − y1)², both heights half a millimetre off in the worse
/// direction.
///
/// # Errors
///
/// [`OutOfRange`] of the far card's distance or height when it is not the
/// further or the higher of the two.
///
/// # Source
///
/// Similar triangles, our own derivation.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::pupil::{Card, two_cards};
/// use glasscall_core::quantity::{Length, Span};
///
/// let card = |distance, height| -> Result<Card, glasscall_core::quantity::OutOfRange> {
///     Ok(Card { distance: Length::new(distance)?, height: Span::new(height)? })
/// };
/// let found = two_cards(card(20.0, 50.0)?, card(120.0, 150.0)?);
/// assert!(found.is_ok_and(|found| found.behind_rim.millimetres() == 30.0));
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn two_cards(near: Card, far: Card) -> Result<TwoCards, CardError> {
    let (z1, z2) = (near.distance.millimetres(), far.distance.millimetres());
    let (y1, y2) = (near.height.millimetres(), far.height.millimetres());
    beyond(z2, z1, Bounds::LENGTH).map_err(CardError::FarDistance)?;
    beyond(y2, y1, Bounds::SPAN).map_err(CardError::FarHeight)?;
    let tan_half_field = (y2 - y1) / (z2 - z1);
    let spread = CARD_READING_MM * (z2 - z1) * (y1 + y2) / ((y2 - y1) * (y2 - y1));
    // A pupil or a doubt beyond any length: the edges are too nearly as high.
    let too_low = |_| CardError::FarHeight(too_low(near, far));
    Ok(TwoCards {
        tan_half_field,
        behind_rim: Length::new(y1 / tan_half_field - z1).map_err(too_low)?,
        spread: Length::new(spread).map_err(too_low)?,
    })
}

/// The far height from which pupil and spread are lengths: with d for the
/// difference of the heights, y1·Δz/d − z1 and ½·Δz·(2·y1 + d)/d² at most the
/// longest length.
fn too_low(near: Card, far: Card) -> OutOfRange {
    let (z1, y1) = (near.distance.millimetres(), near.height.millimetres());
    let apart = far.distance.millimetres() - z1;
    let most = Bounds::LENGTH.max;
    let for_pupil = y1 * apart / (most + z1);
    let half = CARD_READING_MM * apart;
    let for_spread = (half + libm::sqrt(half * half + 8.0 * half * y1 * most)) / (2.0 * most);
    let bounds = Bounds::SPAN.from(y1 + for_pupil.max(for_spread) * (1.0 + 1e-9));
    let given = far.height.millimetres();
    OutOfRange { bounds, given }
}

/// Cards closer than this to each other in distance or height decide nothing.
const LEAST_DIFFERENCE_MM: f64 = 1e-3;

fn beyond(far: f64, near: f64, bounds: Bounds) -> Result<(), OutOfRange> {
    (bounds.from(near + LEAST_DIFFERENCE_MM))
        .check(far)
        .map(|_| ())
}

/// A card whose edge is at the edge of the picture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Card {
    /// Ahead of the rim.
    pub distance: Length,
    /// Of its edge, from the lens axis.
    pub height: Span,
}

/// Why two cards give no pupil.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum CardError {
    /// The far card is not the further one.
    FarDistance(OutOfRange),
    /// The far card's edge is not the higher one.
    FarHeight(OutOfRange),
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;

    fn card(distance: f64, height: f64) -> Card {
        Card {
            distance: Length::new(distance).unwrap(),
            height: Span::new(height).unwrap(),
        }
    }

    #[test]
    fn a_fifty_at_two_has_a_pupil_of_twenty_five() {
        let pupil = Pupil::new(
            FocalLength::new(50.0).unwrap(),
            Aperture::from_marking(2.0).unwrap(),
            Squeeze::new(2.0).unwrap(),
            Length::new(40.0).unwrap().into(),
        );
        assert_eq!((pupil.half_width(), pupil.half_height()), (6.25, 12.5));
    }

    #[test]
    fn two_cards_find_the_pupil_they_were_drawn_from() {
        let (behind, tan) = (41.5, 0.63);
        let at = |z: f64| card(z, (behind + z) * tan);
        let found = two_cards(at(15.0), at(95.0)).unwrap();
        assert!((found.behind_rim.millimetres() - behind).abs() < 1e-10);
        assert!((found.tan_half_field - tan).abs() < 1e-12);
    }

    #[test]
    fn the_spread_covers_two_heights_read_wrong() {
        let exact = two_cards(card(20.0, 50.0), card(120.0, 150.0)).unwrap();
        let off = two_cards(card(20.0, 50.01), card(120.0, 149.99)).unwrap();
        let moved = (off.behind_rim.millimetres() - exact.behind_rim.millimetres()).abs();
        // A fiftieth of the reading error moves it by a fiftieth of the spread.
        assert!((moved * 50.0 - exact.spread.millimetres()).abs() < 0.01);
        assert!((moved - exact.spread_at(0.01)).abs() < 2e-4);
    }

    #[test]
    fn cards_in_the_wrong_order_are_refused() {
        let back = two_cards(card(120.0, 50.0), card(20.0, 150.0));
        assert!(matches!(back, Err(CardError::FarDistance(_))));
        let level = two_cards(card(20.0, 50.0), card(120.0, 50.0));
        assert!(matches!(level, Err(CardError::FarHeight(_))));
    }

    #[test]
    fn two_cards_at_one_distance_are_refused() {
        let one = two_cards(card(20.0, 50.0), card(20.0, 150.0));
        assert!(matches!(one, Err(CardError::FarDistance(_))));
    }
}
