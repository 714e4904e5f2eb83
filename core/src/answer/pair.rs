//! Two polarizers at work: marks for the ring, pulls, and wide fields.

use crate::physics::polarizer_pair::PolarizerPair;
use crate::physics::sheet::{Sheet, half_turn};
use crate::quantity::{Angle, Aperture, Direction, Elevation, Stops};
use crate::setup::{Aim, View};
use alloc::vec::Vec;

/// A place for a mark on the ring.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Mark {
    /// What the pair takes there.
    pub taken: Stops,
    /// From parallel, in degrees; `None` where the pair cannot take that.
    pub degrees: Option<f64>,
}

/// The most marks that fit a ring.
const MOST_MARKS: u8 = 60;

/// The angle between two axes that have no front end, [0, 90].
///
/// # Examples
///
/// ```
/// use glasscall_core::answer::pair::between_axes;
///
/// assert_eq!(between_axes(100.0), 80.0);
/// assert_eq!(between_axes(-30.0), 30.0);
/// ```
#[must_use]
pub fn between_axes(degrees: f64) -> f64 {
    let turned = half_turn(degrees);
    turned.min(180.0 - turned)
}

/// Marks every third of a stop, from parallel on.
#[must_use]
pub fn ring(pair: PolarizerPair) -> Vec<Mark> {
    let mark = |third: u8| {
        let taken = pair.loss + Stops::computed(f64::from(third) / 3.0);
        Mark {
            taken,
            degrees: pair.angle_for(taken),
        }
    };
    (0..MOST_MARKS)
        .map(mark)
        .take_while(|mark| mark.degrees.is_some())
        .collect()
}

/// One step of an iris pull and the turn that keeps the exposure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PullStep {
    /// The aperture.
    pub aperture: Aperture,
    /// Where the ring must be by then.
    pub mark: Mark,
}

/// An iris pull matched by turning the pair, in thirds of a stop and to its end.
#[must_use]
pub fn pull(
    pair: PolarizerPair,
    taken_at_first: Stops,
    [first, last]: [Aperture; 2],
) -> Vec<PullStep> {
    let whole = first.stops_to(last);
    let thirds = libm::floor(whole.size().stops() * 3.0 + 1e-9).min(f64::from(MOST_MARKS));
    let way = if whole < Stops::ZERO { -1.0 } else { 1.0 };
    let mut closed: Vec<f64> = (0..=MOST_MARKS)
        .map(f64::from)
        .take_while(|third| *third <= thirds)
        .map(|third| way * third / 3.0)
        .collect();
    if closed
        .last()
        .is_some_and(|last| libm::fabs(last - whole.stops()) > 1e-6)
    {
        closed.push(whole.stops());
    }
    let step = |closed: f64| {
        // Closing the iris asks less of the pair.
        let taken = taken_at_first - Stops::computed(closed);
        PullStep {
            aperture: Aperture::between(first.index() + closed),
            mark: Mark {
                taken,
                degrees: pair.angle_for(taken),
            },
        }
    };
    closed.into_iter().map(step).collect()
}

/// How uneven the pair is across the picture, however the pair is turned
/// against the frame: darkest less brightest.
///
/// Retarding layers in real sheets can add to it or take from it.
#[must_use]
pub fn unevenness(pair: PolarizerPair, degrees: f64, view: View) -> Stops {
    let aim = Aim::new(Angle::ZERO, Elevation::constant(0.0), Angle::ZERO);
    let rays = field_rays(aim, view);
    let spread = |turn: u8| {
        let turn = f64::from(turn) * TURN_STEP;
        let sheets = [Sheet::new(aim, turn), Sheet::new(aim, turn + degrees)];
        let (brightest, darkest) = rays
            .iter()
            .filter_map(|&ray| pair.taken_from(ray, sheets))
            .map(Stops::stops)
            .fold((f64::INFINITY, 0.0), |(least, most), taken| {
                (taken.min(least), taken.max(most))
            });
        darkest - brightest
    };
    let worst = (0..TURNS).map(spread).fold(0.0, f64::max);
    Stops::computed(worst)
}

/// Turns of the pair tried, in degrees.
const TURN_STEP: f64 = 7.5;
const TURNS: u8 = 24;

/// Rays of a grid over the picture, corners and centre included.
fn field_rays(aim: Aim, view: View) -> Vec<Direction> {
    let steps = 0..=8_u8;
    let share = |step: u8| f64::from(step) / 8.0;
    steps
        .clone()
        .flat_map(|column| steps.clone().map(move |row| (column, row)))
        .map(|(column, row)| {
            let point = view.tangents_of(share(column), share(row));
            aim.ray(point.x, point.y)
        })
        .collect()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::quantity::{ExtinctionRatio, FocalLength, Length, Span, Squeeze};
    use crate::setup::{LossOrigin, Uncertainties, ViewRecord};

    fn pair() -> PolarizerPair {
        PolarizerPair::new(Stops::computed(2.0), ExtinctionRatio::new(1024.0).unwrap())
    }

    fn view(focal_length: f64) -> View {
        View::new(ViewRecord {
            width: Span::new(24.9).unwrap(),
            height: Span::new(14.0).unwrap(),
            shift_x: Length::new(0.0).unwrap(),
            shift_y: Length::new(0.0).unwrap(),
            focal_length: FocalLength::new(focal_length).unwrap(),
            squeeze: Squeeze::new(1.0).unwrap(),
        })
        .unwrap()
    }

    #[test]
    fn a_pair_of_ten_stops_has_thirty_one_marks() {
        let marks = ring(pair());
        assert_eq!(marks.len(), 31);
        assert!((marks[6].taken.stops() - 4.0).abs() < 1e-12);
        assert!(
            marks
                .windows(2)
                .all(|pair| pair[0].degrees < pair[1].degrees)
        );
        assert!((marks[30].degrees.unwrap() - 90.0).abs() < 1e-3);
    }

    #[test]
    fn opening_two_stops_wants_two_more_of_the_pair() {
        let [first, last] = [5.6, 2.8].map(|n| Aperture::from_marking(n).unwrap());
        let steps = pull(pair(), Stops::computed(3.0), [first, last]);
        assert_eq!(steps.len(), 7);
        let end = steps.last().unwrap();
        assert!((end.mark.taken.stops() - 5.0).abs() < 1e-12);
        assert!((end.aperture.number() - last.number()).abs() < 1e-12);
    }

    #[test]
    fn a_pull_the_pair_cannot_follow_says_where() {
        let [first, last] = [2.8, 5.6].map(|n| Aperture::from_marking(n).unwrap());
        let steps = pull(pair(), Stops::computed(3.0), [first, last]);
        // One stop is all there is down to parallel.
        let reached = steps.iter().filter(|step| step.mark.degrees.is_some());
        assert_eq!(reached.count(), 4);
    }

    #[test]
    fn a_wide_lens_shows_a_cross_and_a_long_one_does_not() {
        let wide = unevenness(pair(), 84.0, view(14.0)).stops();
        let long = unevenness(pair(), 84.0, view(135.0)).stops();
        assert!(wide > 2.0 && long < 0.4, "{wide} {long}");
        let open = unevenness(pair(), 20.0, view(135.0)).stops();
        assert!(open < 0.02, "{open}");
    }

    #[test]
    fn axes_meet_at_a_right_angle_at_most() {
        assert_eq!(between_axes(120.0), 60.0);
        assert_eq!(between_axes(-30.0), 30.0);
        assert_eq!(between_axes(270.0), 90.0);
    }

    #[test]
    fn an_unmeasured_pair_scatters_as_a_hundred_thousand_draws_of_its_sheets() {
        // Each sheet of the pair is the same one: from 1 to 2⅓ stops in light as
        // it comes, so ½·k with k along its axis; both pass ½·k² when parallel.
        let (draws, ratio) = (100_000, ExtinctionRatio::new(400.0).unwrap());
        let (mut sum, mut squares) = (0.0, 0.0);
        for draw in 0..draws {
            let one = 1.0 + 4.0 / 3.0 * (f64::from(draw) + 0.5) / f64::from(draws);
            let along = 2.0 * (-one).exp2();
            let both = Stops::computed(-(along * along / 2.0).log2());
            let taken = PolarizerPair::new(both, ratio).taken_at(60.0).unwrap();
            sum += taken.stops();
            squares += taken.stops().powi(2);
        }
        let mean = sum / f64::from(draws);
        let scatter = (squares / f64::from(draws) - mean * mean).sqrt();
        let told = Uncertainties::default().of_pair(LossOrigin::Assumed);
        assert!((told.stops() - scatter).abs() < 1e-4, "{told:?}: {scatter}");
    }
}
