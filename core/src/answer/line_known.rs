//! How well the loss through a graduated filter is known.

use crate::physics::graduated::through::loss_through;
use crate::physics::known_lens::KnownLens;
use crate::physics::line::{Held, Line, Place};
use crate::physics::profile::Profile;
use crate::quantity::{Aperture, OutOfRange, Stops};
use crate::setup::{Contribution, Origin, Tangents, Uncertainties, Uncertainty, View};
use crate::square_root::square_root;
use alloc::vec::Vec;

/// The same filter in the same place before every lens this one may be.
///
/// # Errors
///
/// [`OutOfRange`] as [`Line::new`] has it.
pub fn before_each(
    lens: &KnownLens,
    f_number: Aperture,
    view: View,
    profile: &Profile,
    (held, place): (Held, Place),
) -> Result<[Line; 8], OutOfRange> {
    let at = |pupil| Line::new(profile.clone(), held, view, &pupil, place);
    let [a, b, c, d, e, f, g, h] = lens.extremes(&view, f_number).map(at);
    Ok([a?, b?, c?, d?, e?, f?, g?, h?])
}

/// Between which heights on the filter the line lies, in mm from the axis, and
/// between which of the frame, with all the lens may be.
#[must_use]
pub fn line_between(before_each: &[Line]) -> ((f64, f64), Option<(f64, f64)>) {
    let heights = before_each.iter().map(Line::height_millimetres);
    let shares: Option<Vec<f64>> = before_each.iter().map(Line::height_in_frame).collect();
    (ends(heights), shares.map(|shares| ends(shares.into_iter())))
}

fn ends(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), one| {
        (least.min(one), most.max(one))
    })
}

/// What the mark of a graduated filter, the place of its edge and the lens leave
/// open in one direction: to first order, half the change between both ends of
/// each; of the lens even spreads of its three unknowns, or of the two heights
/// of its cards.
///
/// # Units
///
/// Stops, one standard deviation.
#[must_use]
pub fn line_known(
    line: &Line,
    field: Tangents,
    known: &Uncertainties,
    before_each: &[Line],
) -> Uncertainty {
    Uncertainty::of(line_causes(line, field, known, before_each))
}

/// The same by cause.
#[must_use]
pub fn line_causes(
    line: &Line,
    field: Tangents,
    known: &Uncertainties,
    before_each: &[Line],
) -> [Contribution; 3] {
    causes_of(line, &|line| line.loss_towards(field), known, before_each)
}

/// What leaves open what filters leave between two places: their readings, where
/// they were read, and those three in the bright one's loss beyond the dark one's.
/// Marks and edges of several err apart; the lens is one before all of them, and
/// `before_each` has them all before each lens it may be.
#[must_use]
pub fn left_causes(
    lines: &[Line],
    [bright, dark]: [Tangents; 2],
    (known, read): (&Uncertainties, bool),
    before_each: &[Vec<Line>],
) -> [Contribution; 4] {
    let closer = |lines: &[Line]| loss_through(lines, bright) - loss_through(lines, dark);
    let mut squares = [0.0; 2];
    for (nth, line) in lines.iter().enumerate() {
        let varied = |line: &Line| {
            let mut lines = lines.to_vec();
            lines[nth] = line.clone();
            closer(&lines)
        };
        let [mark, edge, _] = causes_of(line, &varied, known, &[]);
        squares[0] += mark.stops.stops() * mark.stops.stops();
        squares[1] += edge.stops.stops() * edge.stops.stops();
    }
    let each: Vec<f64> = (before_each.iter())
        .map(|lines| closer(lines).stops())
        .collect();
    let [mark, edge, lens] = [
        (Origin::GraduatedDensity, square_root(squares[0])),
        (Origin::GraduatedEdge, square_root(squares[1])),
        (Origin::Lens, spread_over(&each)),
    ]
    .map(|(from, stops)| Contribution {
        from,
        stops: Stops::computed(stops),
    });
    let both = known.reading.stops() * core::f64::consts::SQRT_2;
    let readings = Contribution {
        from: Origin::Reading,
        stops: Stops::computed(if read { both } else { 0.0 }),
    };
    [readings, mark, edge, lens]
}

fn causes_of(
    line: &Line,
    told: &dyn Fn(&Line) -> Stops,
    known: &Uncertainties,
    before_each: &[Line],
) -> [Contribution; 3] {
    let between = |one: Stops, other: Stops| Stops::computed(0.5 * (one - other).size().stops());
    let scaled = |factor: f64| {
        let profile = line.profile().scaled(factor).ok()?;
        Some(told(&line.with_profile(profile)))
    };
    let here = told(line);
    let density = match (
        scaled(1.0 + known.marked_share),
        scaled(1.0 - known.marked_share),
    ) {
        (Some(more), Some(less)) => between(more, less),
        // The densest there is: only down.
        (None, Some(less)) => (here - less).size(),
        _ => Stops::ZERO,
    };
    let slid = |by: f64| told(&line.slid_to(line.height_millimetres() + by));
    let edge = between(slid(known.edge_mm), slid(-known.edge_mm));
    let each: Vec<f64> = (before_each.iter())
        .map(|line| told(line).stops())
        .collect();
    let lens = Stops::computed(spread_over(&each));
    [
        (Origin::GraduatedDensity, density),
        (Origin::GraduatedEdge, edge),
        (Origin::Lens, lens),
    ]
    .map(|(from, stops)| Contribution { from, stops })
}

/// What three unknowns, each evenly spread between its ends, make of eight
/// values in the order of [`KnownLens::extremes`], one standard deviation: half
/// the mean change along each over √3.
fn spread_over(values: &[f64]) -> f64 {
    if values.len() < 8 {
        return 0.0;
    }
    let squares = [1, 2, 4].map(|bit| {
        let sum = |high: bool| -> f64 {
            (values.iter().enumerate())
                .filter(|(nth, _)| (nth & bit != 0) == high)
                .map(|(_, value)| value)
                .sum()
        };
        let half = (sum(true) - sum(false)) / 8.0;
        half * half / 3.0
    });
    square_root(squares.iter().sum())
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::physics::line::tests::{held, lens};
    use crate::physics::profile::tests::{d, mm};

    fn soft() -> Line {
        let (view, pupil) = lens([24.9, 14.0], 1.0, 50.0, 4.0);
        let profile = Profile::soft(d(0.9), mm(30.0)).unwrap();
        Line::new(
            profile,
            held(80.0, 0.0, false),
            view,
            &pupil,
            Place::InFrame(0.5),
        )
        .unwrap()
    }

    #[test]
    fn in_the_blend_the_edge_decides_and_beyond_it_the_mark() {
        let line = soft();
        let known = Uncertainties::default();
        let hard = line.with_profile(Profile::hard(d(0.9), mm(0.0)).unwrap());
        let top = line_known(&hard, line.view().tangents_of(0.5, 0.98), &known, &[]);
        // All of 2.98974 stops, and no edge near.
        assert!((top.stops.stops() - 2.989_735 * known.marked_share).abs() < 1e-6);
        assert_eq!(top.mostly.unwrap().from, Origin::GraduatedDensity);
        let tight = Uncertainties {
            marked_share: 0.0,
            ..known
        };
        let only = line_known(&line, line.view().tangents_of(0.5, 0.5), &tight, &[]);
        assert_eq!(only.mostly.unwrap().from, Origin::GraduatedEdge);
    }

    #[test]
    fn first_order_is_what_a_hundred_thousand_draws_scatter() {
        let line = soft();
        let known = Uncertainties::default();
        let field = line.view().tangents_of(0.5, 0.6);
        let told = line_known(&line, field, &known, &[]).stops.stops();
        // An even grid of draws, 316 densities by 317 places, is 10⁵ of them
        // without any chance in it.
        let spread = 3f64.sqrt();
        let (mut sum, mut squares) = (0.0, 0.0);
        for nth in 0..316_u32 {
            let density = spread * ((f64::from(nth) + 0.5) / 158.0 - 1.0) * known.marked_share;
            let profile = line.profile().scaled(1.0 + density).unwrap();
            let dense = line.with_profile(profile);
            for at in 0..317_u32 {
                let edge = spread * ((f64::from(at) + 0.5) / 158.5 - 1.0) * known.edge_mm;
                let height = line.height_millimetres() + edge;
                let loss = dense.slid_to(height).loss_towards(field).stops();
                sum += loss;
                squares += loss * loss;
            }
        }
        let draws = 316.0 * 317.0;
        let deviation = (squares / draws - (sum / draws).powi(2)).sqrt();
        // First order, of a blend that is nearly a ramp: within two per cent.
        assert!(
            (deviation / told - 1.0).abs() < 0.02,
            "{deviation} for {told}"
        );
    }

    #[test]
    fn a_lens_nobody_measured_is_the_largest_cause_far_from_the_axis() {
        use crate::physics::pupil_range::PupilRange;
        let (view, _) = lens([36.0, 24.0], 1.0, 18.0, 8.0);
        let stop = Aperture::from_marking(8.0).unwrap();
        let known = KnownLens::somewhere(PupilRange::known(mm(25.0).into()));
        let pupil = known.drawn(&view, stop);
        let soft = Profile::soft(d(0.9), mm(30.0)).unwrap();
        let at = held(60.0, 0.0, false);
        // Put where it is 30 mm up on the filter: where in the picture depends.
        let place = Place::OnFilter(mm(30.0));
        let line = Line::new(soft.clone(), at, view, &pupil, place).unwrap();
        let each = before_each(&known, stop, view, &soft, (at, place)).unwrap();
        let ((low, high), shares) = line_between(&each);
        assert_eq!((low, high), (30.0, 30.0));
        let (low, high) = shares.unwrap();
        let told = line.height_in_frame().unwrap();
        assert!(
            low < told && told < high && high - low > 0.02,
            "{low} {high}"
        );
        let table = Uncertainties::default();
        let field = view.tangents_of(0.5, told);
        let found = line_known(&line, field, &table, &each);
        assert_eq!(found.mostly.unwrap().from, Origin::Lens);
        let without = line_known(&line, field, &table, &[]);
        assert!(without.stops < found.stops);
    }

    #[test]
    fn the_share_of_misread_cards_is_what_a_hundred_thousand_draws_scatter() {
        use crate::physics::cards::axis_by_cards;
        use crate::physics::known_lens::{Between, Place as Where};
        use crate::physics::pupil::Card;
        use crate::quantity::{Length, Span};
        let (view, _) = lens([36.0, 24.0], 1.0, 24.0, 8.0);
        let stop = Aperture::from_marking(8.0).unwrap();
        let soft = Profile::soft(d(0.9), mm(30.0)).unwrap();
        let at = held(60.0, 0.0, false);
        let field = view.tangents_of(0.5, 0.85);
        let place = Place::OnFilter(mm(25.0));
        let by_cards = |near: f64, far: f64| {
            let card = |z: f64, off: f64| Card {
                distance: Length::new(z).unwrap(),
                height: Span::new((35.0 + z) * 0.77 + off).unwrap(),
            };
            let side = view.tangents_of(1.0, 0.5).x;
            let corner = view.farthest_corner();
            let found =
                axis_by_cards(card(30.0, near), card(150.0, far), side, corner, 0.5).unwrap();
            KnownLens {
                place: Where::Cards {
                    read: [found.read; 2],
                    misread: found.misread.map(|axis| [axis; 2]),
                },
                growth: Some(Between::exactly(0.0)),
                front: None,
                widest: Aperture::from_marking(1.0).ok(),
            }
        };
        let line = |near: f64, far: f64| {
            let pupil = by_cards(near, far).drawn(&view, stop);
            Line::new(soft.clone(), at, view, &pupil, place).unwrap()
        };
        let nothing = Uncertainties {
            marked_share: 0.0,
            edge_mm: 0.0,
            ..Uncertainties::default()
        };
        let each = before_each(&by_cards(0.0, 0.0), stop, view, &soft, (at, place)).unwrap();
        let told = line_known(&line(0.0, 0.0), field, &nothing, &each);
        assert_eq!(told.mostly.unwrap().from, Origin::Lens);
        let (mut sum, mut squares) = (0.0, 0.0);
        for near in 0..316_u32 {
            for far in 0..317_u32 {
                let off = |nth: u32, of: f64| (f64::from(nth) + 0.5) / of - 0.5;
                let loss = line(off(near, 316.0), off(far, 317.0))
                    .loss_towards(field)
                    .stops();
                sum += loss;
                squares += loss * loss;
            }
        }
        let draws = 316.0 * 317.0;
        let deviation = (squares / draws - (sum / draws).powi(2)).sqrt();
        assert!(
            (deviation / told.stops.stops() - 1.0).abs() < 0.02,
            "{deviation} for {told:?}"
        );
    }
}
