//! Two readings too far apart, and the graduated filter that brings them closer.

mod remedies;
mod stacked;

pub use remedies::{DENSEST, Remedies, SMALLEST_APERTURE, Sparing};
pub use stacked::Stacked;

use crate::physics::profile::Profile;
use crate::quantity::{Aperture, Stops};
use crate::setup::{Tangents, Uncertainties};
use crate::sorted::sort_by;
use alloc::vec::Vec;

/// What nobody sees: a sixth of a stop more or less than what may stay.
///
/// Common practice, no source: half of the third that meters and rings tell.
pub const NOT_SEEN: f64 = 1.0 / 6.0;
/// From here on a filter takes too much: the next weaker mark, a stop less, would
/// leave what is nearer to the wish.
pub const NEARER_ONE_WEAKER: f64 = 0.5;

/// A bright and a dark place, and what may stay between them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Contrast {
    /// How many stops brighter the bright one reads.
    pub apart: Stops,
    /// How many stops are to be left: no more, and the nearer the better.
    pub allowed: Stops,
    /// Direction of the bright place: the sky, or the shirt.
    pub bright: Tangents,
    /// Direction of the dark place: the ground, or the face.
    pub dark: Tangents,
    /// What crosses the line and should keep its light.
    pub subject: Option<Tangents>,
}

/// What one filter does to the two places.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Balance {
    /// Which of the filters asked about.
    pub filter: usize,
    /// The stops it would take with no blend in the way.
    pub marked: Stops,
    /// The stops it brings the two places closer by, beside the others.
    pub delivered: Stops,
    /// What stays between them through all; below 0 the bright place ends up
    /// darker.
    pub left: Stops,
    /// What the dark place loses to all, to be opened up for.
    pub dark_loses: Stops,
    /// What the subject loses to all beyond the dark place.
    pub stolen: Option<Stops>,
    /// Whether that is as much as is seen.
    pub steals: bool,
    /// Whether so much less stays than is to stay that a mark a stop weaker
    /// would be nearer.
    pub flattens: bool,
    /// Whether what stays is within what is allowed, [`NOT_SEEN`] and what its
    /// mark leaves open included.
    pub meets: bool,
}

/// Every filter, best first, and what else would help.
#[derive(Debug, Clone, PartialEq)]
pub struct SkyAndGround {
    /// What stays between the two through the others alone.
    pub without: Stops,
    /// Whether that is within what is allowed.
    pub within_already: bool,
    /// Best first: those that meet the aim before the others, then the ones that
    /// do not turn the sky darker than the ground, then by how far the picture is
    /// from the wished one: what is left between the two against what may stay,
    /// and what is stolen from the subject, in stops.
    pub filters: Vec<Balance>,
    /// For the first filter, when it does not meet the aim or takes light of the
    /// subject.
    pub remedies: Remedies,
}

/// Which filter of the case brings the two places close enough, beside those
/// that stay in.
///
/// A filter delivers what the bright place loses beyond the dark one; blending
/// leaves less of it than is marked wherever the pupil sees both sides of the
/// line from either place. Without any filter to ask about, the one in `stacked`
/// stands for the edge whose density is sought.
///
/// # Units
///
/// Stops. left = apart − (loss at the bright place − loss at the dark place),
/// both through all that is in.
///
/// # Source
///
/// Our own derivation from the pupil average of [`crate::physics::graduated`].
#[must_use]
pub fn sky_and_ground(
    stacked: &Stacked,
    aperture: Aperture,
    filters: &[Profile],
    contrast: Contrast,
    known: &Uncertainties,
) -> SkyAndGround {
    let balances = ranked(stacked, filters, contrast, known);
    let by_others = stacked.others_towards(contrast.bright) - stacked.others_towards(contrast.dark);
    let without = contrast.apart - by_others;
    let within_already = without.size().stops() <= contrast.allowed.stops() + NOT_SEEN;
    let remedies = if within_already {
        Remedies::default()
    } else {
        remedies::remedies(
            stacked,
            aperture,
            filters,
            contrast,
            known,
            balances.first(),
        )
    };
    SkyAndGround {
        without,
        within_already,
        filters: balances,
        remedies,
    }
}

/// Every filter in this holder, best first.
fn ranked(
    stacked: &Stacked,
    filters: &[Profile],
    contrast: Contrast,
    known: &Uncertainties,
) -> Vec<Balance> {
    let mut balances: Vec<Balance> = (filters.iter().enumerate())
        .map(|(at, profile)| balance(&stacked.with_profile(profile), at, contrast, known))
        .collect();
    sort_by(&mut balances, |a, b| {
        let over = |balance: &Balance| contrast.kept(balance.left) < -NOT_SEEN;
        let wrong = |balance: &Balance| contrast.wrong_by(balance);
        let off_wish = |balance: &Balance| contrast.off_wish(balance.left);
        (b.meets.cmp(&a.meets))
            .then(over(a).cmp(&over(b)))
            .then(wrong(a).total_cmp(&wrong(b)))
            .then(off_wish(a).total_cmp(&off_wish(b)))
            .then(a.filter.cmp(&b.filter))
    });
    balances
}

impl Contrast {
    /// What is left between the two, the way round that was read.
    fn kept(self, left: Stops) -> f64 {
        if self.apart < Stops::ZERO {
            -left.stops()
        } else {
            left.stops()
        }
    }

    /// How far that is from what may stay, which is what the eye wants to see
    /// there: a sky flattened to the ground is as far off as one left too bright.
    fn off_wish(self, left: Stops) -> f64 {
        libm::fabs(self.kept(left) - self.allowed.stops())
    }

    /// How far the picture is from the wished one, in stops: what stays between
    /// the two places, and what the subject loses. Less than nobody sees counts
    /// for nothing.
    fn wrong_by(self, balance: &Balance) -> f64 {
        let stolen = balance.stolen.map_or(0.0, |stolen| stolen.size().stops());
        let seen = |stops: f64| if stops < NOT_SEEN { 0.0 } else { stops };
        seen(self.off_wish(balance.left)) + seen(stolen)
    }
}

fn balance(stacked: &Stacked, filter: usize, contrast: Contrast, known: &Uncertainties) -> Balance {
    let dark_loses = stacked.loss_towards(contrast.dark);
    let together = stacked.loss_towards(contrast.bright) - dark_loses;
    let by_others = stacked.others_towards(contrast.bright) - stacked.others_towards(contrast.dark);
    let delivered = together - by_others;
    let left = contrast.apart - together;
    let stolen = (contrast.subject).map(|subject| stacked.loss_towards(subject) - dark_loses);
    let densest = stacked.line().profile().densest();
    let tolerance = NOT_SEEN.max(known.of_marked(densest).stops());
    Balance {
        filter,
        marked: densest.stops(),
        delivered,
        left,
        dark_loses,
        steals: stolen.is_some_and(|stolen| stolen.stops() >= NOT_SEEN),
        stolen,
        flattens: contrast.kept(left) < contrast.allowed.stops() - NEARER_ONE_WEAKER,
        meets: left.size().stops() <= contrast.allowed.stops() + tolerance,
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
pub(super) mod tests {
    use super::{Contrast, SkyAndGround, Stacked, sky_and_ground};
    use crate::physics::line::tests::{hard, held, lens};
    use crate::physics::line::{Line, Place};
    use crate::physics::profile::Profile;
    use crate::physics::profile::tests::{d, mm};
    use crate::quantity::{Aperture, Stops};
    use crate::setup::Uncertainties;

    /// A focal length at a stop behind a line at this height, and the stop.
    pub(in super::super) fn before(
        focal: f64,
        number: f64,
        up: f64,
        profile: Profile,
    ) -> (Line, Aperture) {
        let (view, pupil) = lens([24.9, 14.0], 1.0, focal, number);
        let place = Place::InFrame(up);
        let line = Line::new(profile, held(80.0, 0.0, false), view, &pupil, place).unwrap();
        (line, Aperture::from_number(number).unwrap())
    }

    /// So far apart, so much to stay, a bright and a dark height, and a subject's.
    pub(in super::super) fn contrast(
        line: &Line,
        [apart, allowed, bright, dark]: [f64; 4],
        subject: Option<f64>,
    ) -> Contrast {
        let at = |up| line.view().tangents_of(0.5, up);
        Contrast {
            apart: Stops::computed(apart),
            allowed: Stops::computed(allowed),
            bright: at(bright),
            dark: at(dark),
            subject: subject.map(at),
        }
    }

    fn asked(
        (line, stop): &(Line, Aperture),
        filters: &[Profile],
        contrast: Contrast,
    ) -> SkyAndGround {
        beside(line, *stop, &[], filters, contrast)
    }

    pub(super) fn beside(
        line: &Line,
        stop: Aperture,
        others: &[Line],
        filters: &[Profile],
        contrast: Contrast,
    ) -> SkyAndGround {
        let stacked = Stacked::new(line.clone(), others.iter().cloned());
        sky_and_ground(&stacked, stop, filters, contrast, &Uncertainties::default())
    }

    fn answer(number: f64, apart: f64, filters: &[Profile], subject: f64) -> SkyAndGround {
        let before = before(25.0, number, 0.5, hard(0.3));
        let contrast = contrast(&before.0, [apart, 0.5, 0.9, 0.1], Some(subject));
        asked(&before, filters, contrast)
    }

    #[test]
    fn far_from_the_line_a_filter_delivers_what_it_is_marked() {
        let found = answer(8.0, 3.0, &[hard(0.3), hard(0.6), hard(0.9)], 0.2);
        let best = found.filters[0];
        assert_eq!(best.filter, 2);
        assert!((best.delivered - best.marked).size().stops() < 1e-12);
        assert!(best.meets && best.stolen.unwrap().stops().abs() < 1e-12);
    }

    #[test]
    fn a_face_above_the_line_pays_for_the_sky() {
        let found = answer(8.0, 2.0, &[hard(0.6)], 0.7);
        assert!(found.filters[0].stolen.unwrap().stops() > 1.9);
    }

    #[test]
    fn of_two_that_meet_the_one_that_steals_less_comes_first() {
        let found = answer(8.0, 2.3, &[hard(0.75), hard(0.6)], 0.7);
        assert!(found.filters.iter().all(|filter| filter.meets));
        assert_eq!(found.filters[0].filter, 1);
    }

    #[test]
    fn a_sky_darker_than_the_ground_is_not_what_may_stay() {
        // Of one stop 0.45 leaves 0.495 the wrong way round, 0.17 leaves 0.435.
        let found = answer(8.0, 1.0, &[hard(0.45), hard(0.17)], 0.2);
        assert!(found.filters.iter().all(|filter| filter.meets));
        assert_eq!(found.filters[0].filter, 1);
    }

    #[test]
    fn a_case_too_weak_says_which_density_would_do() {
        let found = answer(8.0, 3.0, &[hard(0.3)], 0.2);
        let density = found.remedies.density.unwrap();
        // 2.5 stops are just enough: 2.5·log10 2 = 0.7526, by hand.
        assert!((density.density() - 2.5 * core::f64::consts::LOG10_2).abs() < 1e-9);
        let again = answer(8.0, 3.0, &[hard(density.density() + 1e-9)], 0.2);
        assert!(again.filters[0].meets);
    }

    #[test]
    fn a_filter_too_strong_asks_for_a_weaker_one() {
        let found = answer(8.0, 1.0, &[hard(0.9)], 0.2);
        assert!(found.filters[0].left.stops() < -0.5);
        let density = found.remedies.density.unwrap();
        assert!((density.density() - 1.5 * core::f64::consts::LOG10_2).abs() < 1e-9);
    }

    #[test]
    fn wide_open_close_to_the_line_stopping_down_would_do() {
        // At f/1.4 the pupil at 0.9 and 0.1 still sees across the line.
        let soft = Profile::soft(d(0.9), mm(6.0)).unwrap();
        let before = before(85.0, 2.0, 0.5, soft.clone());
        let contrast = contrast(&before.0, [3.0, 0.5, 0.95, 0.05], None);
        let found = asked(&before, &[soft], contrast);
        assert!(!found.filters[0].meets);
        assert!(found.remedies.aperture.unwrap() > before.1);
    }

    #[test]
    fn an_empty_case_still_says_what_to_borrow() {
        let density = answer(8.0, 3.0, &[], 0.2).remedies.density.unwrap();
        assert!((density.density() - 2.5 * core::f64::consts::LOG10_2).abs() < 1e-9);
    }

    #[test]
    fn two_places_close_enough_need_no_filter() {
        assert!(answer(4.0, 0.4, &[], 0.5).within_already);
    }

    #[test]
    fn three_stops_with_one_to_stay_are_a_marked_0_6() {
        // 3 − 1.993 leaves 1.007: nobody sees the 0.007 beyond what may stay.
        let before = before(25.0, 8.0, 0.5, hard(0.3));
        let contrast = contrast(&before.0, [3.0, 1.0, 0.9, 0.1], None);
        let found = asked(&before, &[hard(0.9), hard(0.6)], contrast);
        assert_eq!(found.filters[0].filter, 1);
        assert!(found.filters[0].meets && found.filters[1].meets);
    }

    #[test]
    fn what_may_stay_is_what_is_to_stay() {
        // One stop was to stay of three: the hard one takes all of it, the soft
        // one, which costs the subject half a stop, leaves 0.86.
        let before = before(25.0, 8.0, 0.5, hard(0.3));
        let wished = contrast(&before.0, [3.0, 1.0, 0.9, 0.1], Some(0.3));
        let filters = [hard(0.9), Profile::soft(d(0.9), mm(50.0)).unwrap()];
        let found = asked(&before, &filters, wished);
        let [first, second] = found.filters[..] else {
            unreachable!("two were asked about");
        };
        assert_eq!((first.filter, second.filter), (1, 0));
        assert!(first.steals && !second.steals);
        // Each has its fault: the one takes from the face, the other from the sky.
        assert!(!first.flattens && second.flattens);
        assert!(wished.off_wish(first.left) < 0.5 && second.left.stops() < 0.02);
        // A face that loses more than the sky keeps decides the other way.
        let dear = contrast(&before.0, [2.85, 0.6, 0.9, 0.1], Some(0.45));
        let found = asked(&before, &filters, dear);
        assert!(found.filters.iter().all(|filter| filter.meets));
        assert_eq!(found.filters[0].filter, 0);
    }

    #[test]
    fn a_line_slid_off_the_subject_spares_it() {
        // 0.6 soft over a face at 0.35: with its line at half the height its foot
        // reaches the face, slid up it leaves the face alone and keeps the stop
        // that is to stay. The hard one spares the face and flattens the sky.
        let before = before(25.0, 2.8, 0.5, hard(0.3));
        let wished = contrast(&before.0, [3.0, 1.0, 0.9, 0.1], Some(0.35));
        let filters = [hard(0.9), Profile::soft(d(0.6), mm(30.0)).unwrap()];
        let found = asked(&before, &filters, wished);
        assert!(found.filters[0].steals);
        let sparing = found.remedies.sparing.unwrap();
        // An independent route: the same question with the line there.
        let there = before.0.slid_to(sparing.height);
        assert!(there.height_in_frame().unwrap() > 0.5);
        let again = asked(&(there, before.1), &filters, wished);
        let best = again.filters[0];
        assert_eq!(best.filter, sparing.filter);
        assert!(best.meets && !best.steals && !best.flattens);
        assert_eq!(again.remedies.sparing, None);
        // A sky flattened to the land would spare the face as well.
        assert!(wished.off_wish(best.left) < super::NOT_SEEN);
        // Where the face stands as high as the sky was read nothing spares it.
        let high = contrast(&before.0, [3.0, 1.0, 0.9, 0.1], Some(0.9));
        let found = asked(&before, &filters, high);
        assert!(found.filters[0].steals && found.remedies.sparing.is_none());
    }

    #[test]
    fn a_line_that_spares_stays_below_the_sky_that_was_read() {
        // A hard one far up would come nearest to the wish, and leave bright all
        // that lies between its line and the land.
        let filters = [hard(0.9), Profile::soft(d(0.6), mm(30.0)).unwrap()];
        let mut found = 0;
        for focal in [25.0, 35.0, 50.0, 75.0] {
            let before = before(focal, 2.8, 0.5, hard(0.3));
            for apart in [1.5, 2.0, 2.5, 3.0] {
                let contrast = contrast(&before.0, [apart, 1.0, 0.9, 0.1], Some(0.35));
                let answer = asked(&before, &filters, contrast);
                let Some(sparing) = answer.remedies.sparing else {
                    continue;
                };
                found += 1;
                let profile = filters[sparing.filter].clone();
                let marked = profile.densest().stops().stops();
                let there = before.0.with_profile(profile).slid_to(sparing.height);
                let taken = there.loss_towards(contrast.bright).stops();
                assert!(
                    taken >= 0.5 * marked,
                    "{focal} mm, {apart}: {taken} of {marked}"
                );
            }
        }
        assert!(found > 3, "{found} found");
    }

    #[test]
    fn a_bright_place_below_wants_the_filter_upside_down() {
        // A shirt at a fifth, a face above it.
        let before = before(25.0, 8.0, 0.45, hard(0.3));
        let contrast = contrast(&before.0, [2.33, 0.5, 0.1, 0.9], None);
        let found = asked(&before, &[hard(0.3), hard(0.6)], contrast);
        assert!(!found.filters[0].meets);
        assert_eq!(found.remedies.turned_over, Some(1));
    }
}
