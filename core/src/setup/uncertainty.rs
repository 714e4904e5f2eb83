//! How well what is put in is known.

use super::{LossOrigin, Piece, WheelPosition};
use crate::quantity::{Density, Stops};
use crate::square_root::square_root;

/// Standard uncertainties of what answers are made of; each may be replaced by
/// what somebody knows better.
///
/// # Units
///
/// One standard deviation, in stops unless named otherwise.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Uncertainties {
    /// One meter reading: an even spread over the third that it is read in,
    /// 1/(3·√12) stop (JCGM 100:2008, 4.3.7). Whether the right thing was read
    /// is not in it.
    pub reading: Stops,
    /// A marked density, as a share of it: an even spread over a tenth either
    /// way. Common practice, no source: what makers hold to.
    pub marked_share: f64,
    /// A measured density, in stops: the last digit of a densitometer and its
    /// zero, 0.01 D. Common practice, no source.
    pub measured: Stops,
    /// A loss somebody stated in stops, told in thirds: an even spread over a
    /// third either way. Common practice, no source.
    pub stated: Stops,
    /// The loss of a polarizer that nobody measured: an even spread from the
    /// floor of one stop to the 2⅓ that a dense one takes, (4/3)/√12. Common
    /// practice, no source.
    pub polarizer: Stops,
    /// Other glass that is taken to cost nothing: two faces without a coating
    /// take an eighth of a stop (Fresnel), coated ones hardly any; an even
    /// spread between.
    pub clear_glass: Stops,
    /// How well the edge of a graduated filter stands where it is said to, mm.
    /// Common practice, no source: marks on a tray.
    pub edge_mm: f64,
    /// How far ahead of the rim an opening stands, in mm: by a rule against a
    /// curved front. Common practice, no source.
    pub opening_mm: f64,
    /// A clear sky against the model, as a share of the spread that
    /// [`daylight`](crate::physics::daylight::spread) tells: that spread is
    /// about the farthest of thirteen models, so nearly two deviations.
    pub sky_share: f64,
    /// The clock and the time of a reading, in seconds: told to the minute.
    /// Common practice, no source.
    pub clock_seconds: f64,
    /// The place, in degrees over the ground: a town for a spot in it, some ten
    /// kilometres. Common practice, no source.
    pub place_degrees: f64,
    /// The height of the sun, where somebody says how well that is known;
    /// instead of clock and place.
    pub sun_degrees: Option<f64>,
}

impl Default for Uncertainties {
    fn default() -> Self {
        Self {
            reading: Stops::computed(0.096_225),
            marked_share: 0.1 / SQRT_3,
            measured: Stops::computed(0.01 / core::f64::consts::LOG10_2),
            stated: Stops::computed(1.0 / 3.0 / SQRT_3),
            polarizer: Stops::computed(4.0 / 3.0 / (2.0 * SQRT_3)),
            clear_glass: Stops::computed(0.125 / (2.0 * SQRT_3)),
            edge_mm: 0.5,
            opening_mm: 0.5,
            sky_share: 0.5,
            clock_seconds: 60.0,
            place_degrees: 0.1,
            sun_degrees: None,
        }
    }
}

/// √3: an even spread over ±a has the deviation a/√3.
const SQRT_3: f64 = 1.732_050_807_568_877_2;

impl Uncertainties {
    /// How well the loss of a piece is known.
    #[must_use]
    pub fn of_piece(&self, piece: &Piece) -> Stops {
        let loss = piece.loss();
        let marked = Stops::computed(loss.stops.stops() * self.marked_share);
        match loss.origin {
            LossOrigin::Measured => self.measured,
            LossOrigin::Stated => self.stated,
            LossOrigin::Marked => marked,
            LossOrigin::Assumed if loss.stops > Stops::ZERO => self.polarizer,
            LossOrigin::Assumed => self.clear_glass,
        }
    }

    /// How well the loss of a pair of polarizers is known, when parallel.
    ///
    /// Two sheets alike, of loss L each, take 1 + 2·(L − 1): unsaid, the pair
    /// is off by twice as much as one of them.
    #[must_use]
    pub fn of_pair(&self, origin: LossOrigin) -> Stops {
        match origin {
            LossOrigin::Assumed => self.polarizer + self.polarizer,
            _ => self.stated,
        }
    }

    /// How well a marked density is known.
    #[must_use]
    pub fn of_marked(&self, density: Density) -> Stops {
        Stops::computed(density.stops().stops() * self.marked_share)
    }

    /// How far the height of the sun may be off, in degrees, and why. It moves by
    /// 360° a day at the most, and by a degree for each degree over the ground.
    #[must_use]
    pub fn of_sun_height(&self) -> [(Origin, f64); 2] {
        match self.sun_degrees {
            Some(degrees) => [(Origin::SunHeight, degrees), (Origin::Clock, 0.0)],
            None => [
                (Origin::Clock, self.clock_seconds * 360.0 / 86_400.0),
                (Origin::Place, self.place_degrees),
            ],
        }
    }

    /// How well the wheel is known, which is marked.
    #[must_use]
    pub fn of_wheel(&self, position: WheelPosition) -> Stops {
        self.of_marked(position.density)
    }
}

/// Where an uncertainty comes from. Pieces are named by their place in the kit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Origin {
    /// The meter reading, or several.
    Reading,
    /// A piece, and how its loss is known.
    Piece(usize, LossOrigin),
    /// The wheel's position.
    Wheel,
    /// The density of a graduated filter.
    GraduatedDensity,
    /// Where the edge of a graduated filter stands.
    GraduatedEdge,
    /// Where the pupil is and how the lens bends, as far as that is known.
    Lens,
    /// What one clear sky strays from another.
    ClearSky,
    /// The height of the sun, as somebody says it is known.
    SunHeight,
    /// The clock, by the height of the sun.
    Clock,
    /// The place, by the height of the sun.
    Place,
}

/// One cause and what it does to the answer, one standard deviation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contribution {
    /// The cause.
    pub from: Origin,
    /// Its share, never negative.
    pub stops: Stops,
}

/// How well an answer is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Uncertainty {
    /// One standard deviation.
    pub stops: Stops,
    /// The largest cause; `None` where nothing is uncertain.
    pub mostly: Option<Contribution>,
}

impl Uncertainty {
    /// Independent causes together.
    ///
    /// # Units
    ///
    /// u² = Σ uᵢ², each uᵢ what its cause does to the answer, to first order.
    ///
    /// # Source
    ///
    /// JCGM 100:2008 (GUM), 5.1.2.
    #[must_use]
    pub fn of(causes: impl IntoIterator<Item = Contribution>) -> Self {
        let mut squares = 0.0;
        let mut mostly: Option<Contribution> = None;
        for cause in causes {
            squares += cause.stops.stops() * cause.stops.stops();
            if mostly.is_none_or(|most| cause.stops > most.stops) {
                mostly = Some(cause);
            }
        }
        Self {
            stops: Stops::computed(square_root(squares)),
            mostly: mostly.filter(|most| most.stops > Stops::ZERO),
        }
    }

    /// Whether a difference from nothing lies within it: nothing to act on.
    #[must_use]
    pub fn holds(&self, difference: Stops) -> bool {
        difference.size() <= self.stops
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::super::piece::tests::record;
    use super::*;
    use crate::setup::{PieceKind, PieceRecord};

    #[test]
    fn a_mark_is_worth_less_than_a_measurement_and_more_than_a_guess() {
        let table = Uncertainties::default();
        let nine = PieceRecord {
            marked: Density::new(0.9).ok(),
            ..record("9", PieceKind::NeutralDensity)
        };
        let measured = PieceRecord {
            measured: Density::new(0.93).ok(),
            ..nine.clone()
        };
        let of = |record| table.of_piece(&Piece::new(record).unwrap()).stops();
        // A tenth of 2.99 stops over √3, by hand.
        assert!((of(nine) - 0.172_612).abs() < 1e-6);
        assert!((of(measured) - 0.033_219).abs() < 1e-6);
        assert!((of(record("p", PieceKind::Polarizer)) - 0.384_900).abs() < 1e-6);
    }

    #[test]
    fn causes_add_by_their_squares_and_the_largest_is_named() {
        let cause = |from, stops| Contribution {
            from,
            stops: Stops::computed(stops),
        };
        let found = Uncertainty::of([cause(Origin::Reading, 0.3), cause(Origin::Wheel, 0.4)]);
        assert!((found.stops.stops() - 0.5).abs() < 1e-12);
        assert_eq!(found.mostly.unwrap().from, Origin::Wheel);
        assert!(found.holds(Stops::computed(-0.5)) && !found.holds(Stops::computed(0.51)));
        assert_eq!(Uncertainty::of([]).mostly, None);
    }
}
