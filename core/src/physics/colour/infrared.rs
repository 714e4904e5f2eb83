//! What neutral density lets through that the eye does not see.

use crate::quantity::{Density, Stops};
use crate::setup::{Piece, PieceKind, WheelPosition};

/// Where infrared begins to show behind ordinary glass: visible density 1.2.
///
/// Common practice, no source.
pub const WATCH_FROM: f64 = 1.2;
/// Where ordinary glass needs an infrared cut: visible density 1.5.
///
/// Common practice, no source.
pub const CUT_FROM: f64 = 1.5;

/// What a film polarizer stops of infrared until it is measured.
///
/// Dyed film polarizes visible light only: crossed or not it is all but clear
/// beyond 800 nm, and what is left are its faces.
///
/// # Source
///
/// Common practice, no source for the figure; that film polarizers hardly
/// attenuate the near infrared is in Laser Focus World, article 55244446.
pub const FILM_POLARIZER: f64 = 0.05;

/// From which excess to warn, as densities.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limits {
    /// Infrared may show from here.
    pub watch: Density,
    /// An infrared cut is needed from here.
    pub cut: Density,
}

/// What an excess asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Too little to show.
    Fine,
    /// May show on dark cloth and foliage: look at a picture.
    Watch,
    /// Shows: put an infrared cut in.
    CutNeeded,
}

/// What a stack does to visible and to infrared light, kept apart.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Balance {
    /// Visible light taken.
    pub visible: Stops,
    /// Infrared taken.
    pub infrared: Stops,
    /// Visible taken by neutral glass that is not known to stop infrared.
    pub ordinary: Stops,
    /// Whether neutral glass that stops infrared stands with some that does not:
    /// the first does nothing for the second.
    pub mixed: bool,
    /// Whether any neutral glass stops infrared.
    pub stopping: bool,
}

impl Limits {
    /// The trade's limits, [`WATCH_FROM`] and [`CUT_FROM`].
    pub const USUAL: Self = Self {
        watch: Density::constant(WATCH_FROM),
        cut: Density::constant(CUT_FROM),
    };

    /// What this excess asks for; each limit belongs to the graver side.
    ///
    /// # Source
    ///
    /// Common practice, no source.
    #[must_use]
    pub fn verdict(self, excess: Stops) -> Verdict {
        // Marked densities of exactly the limit must reach it.
        let density = as_density(excess) + 1e-9;
        if density >= self.cut.density() {
            Verdict::CutNeeded
        } else if density >= self.watch.density() {
            Verdict::Watch
        } else {
            Verdict::Fine
        }
    }

    /// What the excess of two film polarizers asks for: a cut from where other
    /// glass is to be watched.
    ///
    /// The limits are told in what is marked on neutral glass, and most of it
    /// stops some infrared of its own; film stops hardly any, so the same excess
    /// is more of it. And a pair is turned from shot to shot: a picture looked
    /// at before says nothing of the next.
    ///
    /// # Source
    ///
    /// Common practice, no source for the limit.
    #[must_use]
    pub fn pair_verdict(self, excess: Stops) -> Verdict {
        match self.verdict(excess) {
            Verdict::Fine => Verdict::Fine,
            Verdict::Watch | Verdict::CutNeeded => Verdict::CutNeeded,
        }
    }
}

impl Balance {
    /// The same stack with a position of the internal wheel behind it.
    #[must_use]
    pub fn behind(self, wheel: WheelPosition) -> Self {
        let (visible, infrared) = (wheel.stops(), wheel.infrared());
        let is_ordinary = infrared.stops() < visible.stops() / 2.0;
        let ordinary = if is_ordinary {
            self.ordinary + visible
        } else {
            self.ordinary
        };
        let stops_infrared = !is_ordinary && visible > Stops::ZERO;
        let stands_with = self.mixed || self.stopping || stops_infrared;
        Self {
            visible: self.visible + visible,
            infrared: self.infrared + infrared,
            ordinary,
            stopping: self.stopping || stops_infrared,
            mixed: stands_with && ordinary > Stops::ZERO,
        }
    }

    /// How much less infrared than visible light is taken.
    ///
    /// # Units
    ///
    /// Stops; positive when the sensor sees relatively more infrared.
    #[must_use]
    pub fn excess(self) -> Stops {
        self.visible - self.infrared
    }

    /// The same as a density, below 0 when more infrared is taken.
    #[must_use]
    pub fn excess_density(self) -> f64 {
        as_density(self.excess())
    }

    /// Density of the neutral glass that is not known to stop infrared.
    #[must_use]
    pub fn ordinary_density(self) -> f64 {
        as_density(self.ordinary)
    }
}

/// A [`Density`] cannot be negative, an excess can.
fn as_density(stops: Stops) -> f64 {
    stops.stops() * core::f64::consts::LOG10_2
}

/// What a stack takes of visible light and of infrared.
///
/// Neutral density of unknown infrared density is taken to stop none of it;
/// infrared cut of unknown density is taken to stop all that matters (D 2); a
/// polarizer [`FILM_POLARIZER`]; all other glass of unknown density to stop both
/// alike.
///
/// # Units
///
/// Stops.
#[must_use]
pub fn balance<'a>(stack: impl IntoIterator<Item = &'a Piece>) -> Balance {
    let mut sum = Balance {
        visible: Stops::ZERO,
        infrared: Stops::ZERO,
        ordinary: Stops::ZERO,
        mixed: false,
        stopping: false,
    };
    for piece in stack {
        let visible = piece.loss().stops;
        let infrared = taken(piece);
        sum.visible = sum.visible + visible;
        sum.infrared = sum.infrared + infrared;
        if piece.record().kind == PieceKind::NeutralDensity {
            // Half is the nearest simple share that tells the two sorts apart.
            if infrared.stops() < visible.stops() / 2.0 {
                sum.ordinary = sum.ordinary + visible;
            } else {
                sum.stopping = true;
            }
        }
    }
    sum.mixed = sum.stopping && sum.ordinary > Stops::ZERO;
    sum
}

/// How much less infrared than visible light two film polarizers take that take
/// `visible` together, see [`FILM_POLARIZER`].
///
/// # Units
///
/// Stops.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::infrared::{FILM_POLARIZER, pair_excess};
/// use glasscall_core::quantity::Stops;
///
/// // Crossed film stops what is seen, and infrared hardly more than before.
/// let excess = pair_excess(Stops::new(6.0)?).stops();
/// assert!(excess > 5.0 && FILM_POLARIZER < 0.1);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
#[must_use]
pub fn pair_excess(visible: Stops) -> Stops {
    visible - Stops::computed(2.0 * FILM_POLARIZER / core::f64::consts::LOG10_2)
}

/// How much less infrared than visible light a stack takes: see [`balance`].
///
/// # Units
///
/// Stops; positive when the sensor sees relatively more infrared.
#[must_use]
pub fn excess<'a>(stack: impl IntoIterator<Item = &'a Piece>) -> Stops {
    balance(stack).excess()
}

/// What a piece takes of infrared: see [`balance`].
///
/// # Units
///
/// Stops.
#[must_use]
pub fn taken(piece: &Piece) -> Stops {
    let record = piece.record();
    let known = record.infrared.map(Density::stops);
    known.unwrap_or(match record.kind {
        PieceKind::NeutralDensity => Stops::ZERO,
        PieceKind::InfraredCut => Stops::computed(UNKNOWN_CUT),
        PieceKind::Polarizer => film_polarizer(),
        _ => piece.loss().stops,
    })
}

/// [`FILM_POLARIZER`] in stops.
#[must_use]
pub const fn film_polarizer() -> Stops {
    Stops::computed(FILM_POLARIZER / core::f64::consts::LOG10_2)
}

/// Density 2 in stops: what a cut of unknown density is taken to stop.
const UNKNOWN_CUT: f64 = 2.0 / core::f64::consts::LOG10_2;

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{Density, Limits, Piece, PieceKind, Stops, Verdict, balance, excess, pair_excess};
    use crate::setup::{PieceRecord, WheelPosition};
    use alloc::string::String;

    fn piece(kind: PieceKind, marked: Option<f64>, infrared: Option<f64>) -> Piece {
        Piece::new(PieceRecord {
            id: String::from("a"),
            kind,
            marked: marked.map(|d| Density::new(d).unwrap()),
            measured: None,
            stated: None,
            size: String::new(),
            infrared: infrared.map(|d| Density::new(d).unwrap()),
            mired_shift: None,
            count: 1,
        })
        .unwrap()
    }

    #[test]
    fn ordinary_glass_passes_all_infrared() {
        let plain = piece(PieceKind::NeutralDensity, Some(1.2), None);
        assert_eq!(excess([&plain]), plain.loss().stops);
    }

    #[test]
    fn glass_that_stops_both_alike_has_no_excess() {
        let both = piece(PieceKind::NeutralDensity, Some(1.2), Some(1.2));
        assert_eq!(excess([&both]).stops(), 0.0);
    }

    #[test]
    fn a_cut_takes_the_excess_away() {
        let plain = piece(PieceKind::NeutralDensity, Some(1.5), None);
        let cut = piece(PieceKind::InfraredCut, None, None);
        assert!(excess([&plain, &cut]).stops() < 0.0);
    }

    #[test]
    fn a_film_polarizer_hides_no_infrared() {
        // Its 1⅔ stops are 0.5 D of visible light, 0.05 D of infrared.
        let polarizer = piece(PieceKind::Polarizer, None, None);
        let plain = piece(PieceKind::NeutralDensity, Some(0.9), None);
        let found = balance([&polarizer, &plain]).excess_density();
        assert!((found - (0.9 + 0.501_717 - 0.05)).abs() < 1e-6);
        let measured = piece(PieceKind::Polarizer, None, Some(0.4));
        assert!((balance([&measured]).excess_density() - 0.101_717).abs() < 1e-6);
    }

    #[test]
    fn the_limits_belong_to_the_graver_side() {
        let limits = Limits::USUAL;
        let verdict = |density| limits.verdict(Density::new(density).unwrap().stops());
        assert_eq!(verdict(1.1), Verdict::Fine);
        assert_eq!(verdict(1.2), Verdict::Watch);
        assert_eq!(verdict(1.4), Verdict::Watch);
        assert_eq!(verdict(1.5), Verdict::CutNeeded);
        assert_eq!(limits.verdict(Stops::computed(-3.0)), Verdict::Fine);
    }

    #[test]
    fn a_pair_needs_a_cut_from_where_other_glass_is_watched() {
        let limits = Limits::USUAL;
        let pair = |stops| limits.pair_verdict(pair_excess(Stops::computed(stops)));
        // 1.2 D and the two films' 0.1 are 4.319 stops, by hand.
        assert_eq!(pair(4.31), Verdict::Fine);
        assert_eq!(pair(4.32), Verdict::CutNeeded);
        assert_eq!(pair(6.0), Verdict::CutNeeded);
    }

    #[test]
    fn glass_that_stops_infrared_does_nothing_for_glass_that_does_not() {
        let plain = piece(PieceKind::NeutralDensity, Some(1.2), None);
        let stopping = piece(PieceKind::NeutralDensity, Some(0.9), Some(0.9));
        let both = balance([&plain, &stopping]);
        assert!(both.mixed);
        assert_eq!(both.ordinary, plain.loss().stops);
        assert!((both.excess() - plain.loss().stops).stops().abs() < 1e-12);
        assert!(!balance([&plain, &plain]).mixed);
        assert!(!balance([&stopping]).mixed);
    }

    #[test]
    fn visible_and_infrared_are_counted_apart() {
        let stopping = piece(PieceKind::NeutralDensity, Some(0.9), Some(1.2));
        let cut = piece(PieceKind::InfraredCut, None, Some(1.5));
        let polarizer = piece(PieceKind::Polarizer, None, None);
        let sum = balance([&stopping, &cut, &polarizer]);
        let polarized = Piece::POLARIZER_LOSS;
        let visible = Density::new(0.9).unwrap().stops() + polarized;
        // 1.2, 1.5 and the film's 0.05.
        let infrared = Density::new(2.75).unwrap().stops();
        assert!((sum.visible - visible).stops().abs() < 1e-12);
        assert!((sum.infrared - infrared).stops().abs() < 1e-12);
    }

    #[test]
    fn the_balance_counts_ordinary_glass_and_its_excess_by_density() {
        let plain = piece(PieceKind::NeutralDensity, Some(1.2), None);
        let cutting = piece(PieceKind::NeutralDensity, Some(0.9), Some(0.7));
        let found = balance([&plain, &cutting]);
        // 1.2 + 0.9 visible, 0.7 infrared, 1.2 of it ordinary.
        assert!((found.excess_density() - 1.4).abs() < 1e-12);
        assert!((found.ordinary_density() - 1.2).abs() < 1e-12);
        assert!(found.mixed);
    }

    #[test]
    fn glass_that_stops_half_the_infrared_is_no_ordinary_glass() {
        let ordinary = |infrared| {
            let piece = piece(PieceKind::NeutralDensity, Some(0.6), Some(infrared));
            balance([&piece]).ordinary_density()
        };
        assert_eq!(ordinary(0.3), 0.0);
        assert!((ordinary(0.299) - 0.6).abs() < 1e-12);
    }

    #[test]
    fn a_wheel_of_unknown_glass_lets_infrared_through() {
        let position = |density: f64, infrared: Option<f64>| WheelPosition {
            density: Density::new(density).unwrap(),
            infrared: infrared.map(|density| Density::new(density).unwrap()),
        };
        let bare = balance([]);
        let ordinary = bare.behind(position(1.8, None));
        assert!((ordinary.excess_density() - 1.8).abs() < 1e-12);
        assert!((ordinary.ordinary_density() - 1.8).abs() < 1e-12 && !ordinary.mixed);
        let known = bare.behind(position(1.8, Some(1.7)));
        assert!((known.excess_density() - 0.1).abs() < 1e-12 && known.stopping);
        assert!(known.behind(position(0.6, None)).mixed);
        assert_eq!(bare.behind(position(0.0, None)), bare);
    }
}
