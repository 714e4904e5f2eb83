//! A distance that may be infinity.

use super::{Bounds, Distance, OutOfRange};

/// How far a place is: a distance, or infinity by name.
///
/// What computes to more than a thousand kilometres is infinity: no lens tells
/// the two apart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Reach {
    /// At a distance.
    At(Distance),
    /// At infinity: a star, the horizon.
    Infinity,
}

impl Reach {
    /// The place of this vergence.
    ///
    /// # Units
    ///
    /// Vergence in 1/mm, positive for a real place ahead; zero and below is
    /// infinity.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] nearer than the nearest [`Distance`].
    pub fn from_vergence(per_millimetre: f64) -> Result<Self, OutOfRange> {
        if per_millimetre * Bounds::DISTANCE.max <= 1.0 {
            return Ok(Self::Infinity);
        }
        Distance::new(1.0 / per_millimetre).map(Self::At)
    }

    /// 1/distance, 0 at infinity.
    ///
    /// # Units
    ///
    /// 1/mm.
    #[must_use]
    pub fn vergence(self) -> f64 {
        match self {
            Self::At(distance) => 1.0 / distance.millimetres(),
            Self::Infinity => 0.0,
        }
    }

    /// The distance, if it has one.
    #[must_use]
    pub const fn distance(self) -> Option<Distance> {
        match self {
            Self::At(distance) => Some(distance),
            Self::Infinity => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Distance, Reach};

    #[test]
    fn a_vergence_leads_back_to_its_place() {
        let two_metres = Distance::new(2000.0).map(Reach::At);
        let back = two_metres.and_then(|reach| Reach::from_vergence(reach.vergence()));
        assert_eq!(back, two_metres);
    }

    #[test]
    fn nothing_and_less_is_infinity() {
        assert_eq!(Reach::from_vergence(0.0), Ok(Reach::Infinity));
        assert_eq!(Reach::from_vergence(-0.001), Ok(Reach::Infinity));
        assert_eq!(Reach::from_vergence(1e-10), Ok(Reach::Infinity));
        assert_eq!(Reach::Infinity.vergence(), 0.0);
    }

    #[test]
    fn a_place_inside_the_lens_is_refused() {
        assert!(Reach::from_vergence(2.0).is_err());
    }
}
