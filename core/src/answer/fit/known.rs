//! How well the room in an opening is known.

use crate::physics::known_lens::{KnownLens, MODEL_MM, Place};
use crate::physics::opening::{Opening, OpeningRecord};
use crate::physics::pupil::Pupil;
use crate::physics::spare::spare;
use crate::quantity::{Aperture, Length};
use crate::setup::{Uncertainties, View};
use crate::square_root::square_root;

/// What may be off about the room that a lens has in an opening.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RoomFrom {
    /// Where the pupil lies.
    Pupil,
    /// How the lens bends its picture.
    Distortion,
    /// How the pupil grows towards the corner, and what rims inside take of it.
    Growth,
    /// How the near card was read.
    NearCard,
    /// How the far card was read.
    FarCard,
    /// How far ahead of the rim the opening stands.
    OpeningPlace,
    /// What the model of the lens leaves out.
    Model,
}

/// How well a room is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoomKnown {
    /// How far from the told room it is on the average of squares, in
    /// millimetres.
    pub millimetres: f64,
    /// The largest cause and what it does by itself; `None` where nothing is
    /// uncertain.
    pub mostly: Option<(RoomFrom, f64)>,
    /// All of them.
    pub causes: [RoomCause; 5],
}

/// What one cause does to the room, in millimetres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoomCause {
    /// What it is.
    pub from: RoomFrom,
    /// How far its middle puts the room from what is told.
    pub middle: f64,
    /// Its standard deviation.
    pub deviation: f64,
}

impl RoomCause {
    /// An even spread between two ends.
    fn even(from: RoomFrom, [one, other]: [f64; 2]) -> Self {
        Self {
            from,
            middle: f64::midpoint(one, other),
            deviation: libm::fabs(one - other) / (2.0 * SQRT_3),
        }
    }

    #[inline(never)]
    fn size(self) -> f64 {
        square_root(self.middle * self.middle + self.deviation * self.deviation)
    }
}

/// √3: an even spread over ±a has the deviation a/√3.
const SQRT_3: f64 = 1.732_050_807_568_877_2;

/// How well the room in an opening is known.
///
/// To first order: each of the three unknowns of the lens (or both its cards) is
/// moved to its ends while the others stay as the figures have them, and is
/// taken to lie anywhere between with even chance; the opening's place has a
/// deviation of its own. The told room goes by the figures, which leave out what
/// nobody measured and take the worse end of a range, so the middles count as
/// well as the deviations. `between` is what looks have left of it.
///
/// # Units
///
/// Millimetres. u² = Σσᵢ² + (Σmᵢ)², mᵢ how far the middle of a cause puts the
/// room from what is told.
///
/// # Source
///
/// JCGM 100:2008 (GUM), 5.1.2 and F.2.4.5, an effect that is not corrected for.
pub(in crate::answer) fn room_known(
    lens: &KnownLens,
    (view, f_number): (&View, Aperture),
    opening: &Opening,
    (told, between): (f64, (f64, f64)),
    known: &Uncertainties,
) -> RoomKnown {
    let figures = lens.figures(view, f_number);
    let pupil_at = |shares| lens.pupil_at(view, f_number, shares);
    let drawn = pupil_at(figures);
    let here = least(view, &drawn, opening);
    // What each unknown does at its ends while the others stay.
    let mut ends = [[0.0; 2]; 3];
    for (unknown, ends) in ends.iter_mut().enumerate() {
        for (end, to) in ends.iter_mut().zip([0.0, 1.0]) {
            let mut shares = figures;
            shares[unknown] = to;
            *end = least(view, &pupil_at(shares), opening) - here;
        }
    }
    let by = known.opening_mm;
    let [ahead, back] = [by, -by].map(|by| least(view, &drawn, &moved(opening, by)));
    let [first, second] = match lens.place {
        Place::Somewhere { .. } => [RoomFrom::Pupil, RoomFrom::Distortion],
        Place::Cards { .. } => [RoomFrom::NearCard, RoomFrom::FarCard],
    };
    let [of_first, of_second, of_growth] = ends;
    let causes = [
        RoomCause::even(first, of_first),
        RoomCause::even(second, of_second),
        RoomCause::even(RoomFrom::Growth, of_growth),
        RoomCause {
            from: RoomFrom::OpeningPlace,
            middle: 0.0,
            deviation: 0.5 * libm::fabs(ahead - back),
        },
        RoomCause::even(RoomFrom::Model, [-MODEL_MM, MODEL_MM]),
    ];
    let (mut middle, mut squares, mut largest) = (0.0, 0.0, &causes[0]);
    for cause in &causes {
        middle += cause.middle;
        squares += cause.deviation * cause.deviation;
        if cause.size() >= largest.size() {
            largest = cause;
        }
    }
    let farthest = (told - between.0).max(between.1 - told).max(0.0);
    let millimetres = square_root(squares + middle * middle).min(farthest);
    let by_itself = largest.size().min(millimetres);
    RoomKnown {
        millimetres,
        mostly: (by_itself > 0.0).then_some((largest.from, by_itself)),
        causes,
    }
}

/// The least room over the corners of the picture, in millimetres. Not inlined
/// nine times: it comes before the first answer.
#[inline(never)]
fn least(view: &View, pupil: &Pupil, opening: &Opening) -> f64 {
    (view.corners().iter())
        .map(|&corner| spare(pupil, opening, corner).millimetres())
        .fold(f64::INFINITY, f64::min)
}

/// The same opening further ahead.
fn moved(opening: &Opening, by: f64) -> Opening {
    let record = *opening.record();
    let there = Length::new(record.distance.millimetres() + by);
    there.map_or(*opening, |distance| {
        Opening::new(OpeningRecord { distance, ..record })
    })
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
pub(in crate::answer) mod tests {
    use super::super::answer::tests::ring;
    use super::*;
    use crate::physics::cards::axis_by_cards;
    use crate::physics::known_lens::Between;
    use crate::physics::pupil::Card;
    use crate::physics::pupil_range::PupilRange;
    use crate::quantity::{FocalLength, Span, Squeeze};
    use crate::setup::ViewRecord;

    /// Unbounded by looks.
    const OPEN: (f64, f64) = (-1e9, 1e9);

    fn view(focal_length: f64) -> View {
        View::new(ViewRecord {
            width: Span::new(24.0).unwrap(),
            height: Span::new(18.0).unwrap(),
            shift_x: Length::ZERO,
            shift_y: Length::ZERO,
            focal_length: FocalLength::new(focal_length).unwrap(),
            squeeze: Squeeze::new(1.0).unwrap(),
        })
        .unwrap()
    }

    fn stop(number: f64) -> Aperture {
        Aperture::from_marking(number).unwrap()
    }

    fn lens(nearest: f64, farthest: f64) -> KnownLens {
        let at = |mm: f64| Length::new(mm).unwrap();
        KnownLens {
            widest: Some(stop(1.4)),
            ..KnownLens::somewhere(PupilRange::between(at(nearest), at(farthest)))
        }
    }

    fn by_cards(view: &View) -> KnownLens {
        let card = |z: f64| Card {
            distance: Length::new(z).unwrap(),
            height: Span::new((30.0 + z) * 0.52).unwrap(),
        };
        let side = view.tangents_of(1.0, 0.5).x;
        let corner = view.farthest_corner();
        let found = axis_by_cards(card(20.0), card(140.0), side, corner, 0.5).unwrap();
        KnownLens {
            place: Place::Cards {
                read: [found.read; 2],
                misread: found.misread.map(|axis| [axis; 2]),
            },
            growth: Some(Between::exactly(0.2)),
            ..lens(30.0, 30.0)
        }
    }

    /// How far a hundred thousand lenses, openings and errors of the model put
    /// the room from what the figures say, on the average of squares.
    pub(in crate::answer) fn drawn(
        lens: &KnownLens,
        (view, at): (&View, Aperture),
        opening: &Opening,
    ) -> f64 {
        let mut state = 1_u64;
        let mut even = || {
            // Knuth's multiplier; the upper half of the bits.
            state = (state.wrapping_mul(6_364_136_223_846_793_005)).wrapping_add(1);
            f64::from(u32::try_from(state >> 32).unwrap()) / f64::from(u32::MAX)
        };
        let room = |shares: [f64; 3], opening: &Opening| {
            let pupil = lens.pupil_at(view, at, shares);
            (view.corners().iter())
                .map(|&corner| spare(&pupil, opening, corner).millimetres())
                .fold(f64::INFINITY, f64::min)
        };
        let here = room(lens.figures(view, at), opening);
        let mut squares = 0.0;
        for _ in 0..100_000 {
            let shares = [even(), even(), even()];
            // Twelve even draws have the deviation one.
            let normal: f64 = (0..12).map(|_| even()).sum::<f64>() - 6.0;
            let place = normal * Uncertainties::default().opening_mm;
            let model = (2.0 * even() - 1.0) * MODEL_MM;
            let off = room(shares, &moved(opening, place)) + model - here;
            squares += off * off;
        }
        square_root(squares / 100_000.0)
    }

    fn told(lens: &KnownLens, view: &View, opening: &Opening) -> RoomKnown {
        let at = (view, stop(8.0));
        room_known(lens, at, opening, (0.0, OPEN), &Uncertainties::default())
    }

    #[test]
    fn first_order_is_what_a_hundred_thousand_draws_scatter() {
        let opening = ring(120.0, 40.0).opening;
        let wide = view(24.0);
        for (name, lens, view, within) in [
            ("cards", by_cards(&wide), wide, 0.03),
            ("its pupil, wide", lens(30.0, 30.0), wide, 0.03),
            ("its pupil, normal", lens(30.0, 30.0), view(50.0), 0.03),
            // Anywhere behind its front: no small change any more.
            ("its front", lens(15.0, 45.0), view(35.0), 0.05),
        ] {
            let (told, drawn) = (
                told(&lens, &view, &opening),
                drawn(&lens, (&view, stop(8.0)), &opening),
            );
            assert!(
                (told.millimetres / drawn - 1.0).abs() < within,
                "{name}: {told:?} for {drawn}"
            );
        }
    }

    #[test]
    fn the_largest_cause_is_named() {
        let opening = ring(120.0, 40.0).opening;
        let mostly = |lens: &KnownLens, view: &View| told(lens, view, &opening).mostly.unwrap().0;
        assert_eq!(mostly(&lens(15.0, 45.0), &view(35.0)), RoomFrom::Pupil);
        assert_eq!(mostly(&lens(30.0, 30.0), &view(18.0)), RoomFrom::Distortion);
        let exact = KnownLens {
            place: Place::Somewhere {
                pupil: PupilRange::known(Length::ZERO.into()),
                distortion: Some(Between::exactly(0.0)),
            },
            growth: Some(Between::exactly(0.0)),
            ..lens(0.0, 0.0)
        };
        // Straight through: half a millimetre of the model, evenly spread.
        let (from, by) = told(&exact, &view(100.0), &opening).mostly.unwrap();
        assert_eq!(from, RoomFrom::Model);
        assert!((by - 0.5 / 3f64.sqrt()).abs() < 1e-12);
    }

    #[test]
    fn what_looks_have_left_bounds_it() {
        let opening = ring(120.0, 40.0).opening;
        let (lens, view) = (lens(15.0, 45.0), view(35.0));
        let known = Uncertainties::default();
        let found = room_known(
            &lens,
            (&view, stop(8.0)),
            &opening,
            (1.0, (0.5, 1.2)),
            &known,
        );
        assert!((found.millimetres - 0.5).abs() < 1e-12);
        assert!(found.mostly.unwrap().1 <= found.millimetres);
    }
}
