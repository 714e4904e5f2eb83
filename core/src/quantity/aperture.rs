//! Aperture numbers and the labels on an iris ring.

use super::series::{FULL, Series, exact_index};
use super::{Bounds, IrisThirds, OutOfRange, Stops};
use core::fmt;

/// An aperture number, kept exact.
///
/// A T-number where light is counted, an f-number where the size of the pupil
/// is; the type does not know which, its user does.
///
/// # Units
///
/// The number N is a pure ratio. The stop index k = 2·log2 N counts stops from
/// N 1; closing the iris raises it.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Aperture(f64);

/// An aperture as a ring shows it: an engraved full stop, thirds closed from
/// it, and what that misses. Displays as `2.8⅓`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ApertureLabel {
    /// The engraved full stop.
    pub full: f64,
    /// 0, 1 or 2 thirds closed from it.
    pub thirds: u8,
    /// What the label misses; positive when the aperture is more closed.
    pub left_over: Stops,
}

impl Aperture {
    /// Exactly this number, whatever rings are engraved with.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] outside 0.25 to 1024.
    pub fn from_number(number: f64) -> Result<Self, OutOfRange> {
        Bounds::APERTURE.check(number).map(Self)
    }

    /// What a ring or a meter means by this number: a label of the full, half
    /// or third series stands for its exact value, any other number for itself.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] outside 0.25 to 1024.
    ///
    /// # Examples
    ///
    /// ```
    /// use glasscall_core::quantity::Aperture;
    ///
    /// assert!((Aperture::from_marking(2.8)?.number() - 8f64.sqrt()).abs() < 1e-15);
    /// assert_eq!(Aperture::from_marking(2.9)?.number(), 2.9);
    /// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
    /// ```
    pub fn from_marking(number: f64) -> Result<Self, OutOfRange> {
        exact_index(number).map_or_else(|| Self::from_number(number), Self::from_index)
    }

    /// The widest stop as it is engraved on a lens: a full-stop label stands for
    /// its exact value, any other number for itself, because makers engrave
    /// what the pupil is. A lens of 1.2 has a pupil of f/1.2, not of the third
    /// or half stop that a meter shows as 1.2.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] outside 0.25 to 1024.
    pub fn engraved(number: f64) -> Result<Self, OutOfRange> {
        (Series::Full.index_of(number)).map_or_else(|| Self::from_number(number), Self::from_index)
    }

    /// The aperture at this stop index.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] outside aperture numbers 0.25 to 1024.
    pub fn from_index(index: f64) -> Result<Self, OutOfRange> {
        Self::from_number(libm::exp2(index / 2.0))
    }

    /// An aperture between two that are allowed.
    pub(crate) fn between(index: f64) -> Self {
        let Bounds { min, max, .. } = Bounds::APERTURE;
        Self(libm::exp2(index / 2.0).max(min).min(max))
    }

    /// The aperture number N.
    #[must_use]
    pub const fn number(self) -> f64 {
        self.0
    }

    /// The stop index 2·log2 N.
    #[must_use]
    pub fn index(self) -> f64 {
        2.0 * libm::log2(self.0)
    }

    /// How far `other` is closed from here; negative when it is wider.
    #[must_use]
    pub fn stops_to(self, other: Self) -> Stops {
        Stops::computed(other.index() - self.index())
    }

    /// This aperture closed by so much, opened by a negative amount.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] when no such aperture number is allowed.
    ///
    /// # Examples
    ///
    /// ```
    /// use glasscall_core::quantity::{Aperture, Stops};
    ///
    /// let closed = Aperture::from_marking(2.8)?.closed_by(Stops::new(5.0)?)?;
    /// assert!((closed.number() - 16.0).abs() < 1e-12);
    /// assert!(closed.closed_by(Stops::new(20.0)?).is_err());
    /// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
    /// ```
    pub fn closed_by(self, stops: Stops) -> Result<Self, OutOfRange> {
        Self::from_index(self.index() + stops.stops())
    }

    /// The nearest third of a stop, as a ring would show it.
    ///
    /// # Examples
    ///
    /// ```
    /// use glasscall_core::quantity::{Aperture, Stops};
    ///
    /// let third = Aperture::from_marking(2.8)?.closed_by(Stops::new(1.0 / 3.0)?)?;
    /// assert_eq!(third.label().to_string(), "2.8⅓");
    /// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
    /// ```
    #[must_use]
    pub fn label(self) -> ApertureLabel {
        let IrisThirds { thirds, left_over } = Stops::computed(self.index()).iris_thirds();
        let whole = thirds.div_euclid(3);
        let engraved = usize::try_from(whole + 1).ok().and_then(|at| FULL.get(at));
        ApertureLabel {
            full: engraved
                .copied()
                .unwrap_or_else(|| libm::exp2(f64::from(whole) / 2.0)),
            thirds: u8::try_from(thirds.rem_euclid(3)).unwrap_or_default(),
            left_over,
        }
    }
}

impl fmt::Display for ApertureLabel {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // Three decimals are all a label can carry; the engraved series has two.
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a stop is between 0 and some thousands"
        )]
        let thousandths = libm::round(self.full * 1000.0) as u32;
        write!(f, "{}", thousandths / 1000)?;
        let mut rest = thousandths % 1000;
        if rest > 0 {
            f.write_str(".")?;
        }
        while rest > 0 {
            write!(f, "{}", rest / 100)?;
            rest = rest % 100 * 10;
        }
        f.write_str(["", "⅓", "⅔"][usize::from(self.thirds) % 3])
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Aperture, Stops};
    use alloc::string::ToString as _;

    fn marked(number: f64) -> Aperture {
        Aperture::from_marking(number).unwrap()
    }

    #[test]
    fn what_is_engraved_on_a_lens_is_its_pupil() {
        // 1.2 on a meter is a third over 1; on a lens it is 1.2.
        let [engraved, metered] =
            [Aperture::engraved(1.2), Aperture::from_marking(1.2)].map(Result::unwrap);
        assert_eq!(engraved.number(), 1.2);
        assert!((metered.number() - 1.26).abs() < 0.001);
        assert!((Aperture::engraved(2.8).unwrap().index() - 3.0).abs() < 1e-12);
    }

    #[test]
    fn six_stops_lie_between_twenty_two_and_two_eight() {
        // Common practice, no source.
        assert_eq!(marked(2.8).stops_to(marked(22.0)).stops(), 6.0);
    }

    #[test]
    fn closing_and_opening_cancel() {
        let there = marked(4.0).closed_by(Stops::computed(1.7)).unwrap();
        let back = there.closed_by(Stops::computed(-1.7)).unwrap();
        assert!((back.number() - 4.0).abs() < 1e-14);
    }

    #[test]
    fn labels_count_thirds_closed_from_a_full_stop() {
        let closed = |thirds: f64| {
            marked(2.8)
                .closed_by(Stops::computed(thirds / 3.0))
                .unwrap()
        };
        assert_eq!(closed(0.0).label().to_string(), "2.8");
        assert_eq!(closed(1.0).label().to_string(), "2.8⅓");
        assert_eq!(closed(2.0).label().to_string(), "2.8⅔");
        assert_eq!(closed(-1.0).label().to_string(), "2⅔");
    }

    #[test]
    fn a_label_below_the_engraved_series_is_still_a_number() {
        assert_eq!(
            Aperture::from_number(0.5).unwrap().label().to_string(),
            "0.5"
        );
    }

    #[test]
    fn an_aperture_of_nothing_is_refused() {
        assert!(Aperture::from_marking(0.0).is_err());
        assert!(Aperture::from_marking(f64::INFINITY).is_err());
    }
}
