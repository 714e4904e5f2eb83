//! Several graduated filters at once, each with its line.

use crate::physics::graduated::through::loss_through;
use crate::physics::line::Line;
use crate::physics::profile::Profile;
use crate::quantity::Stops;
use crate::setup::Tangents;
use alloc::vec::Vec;

/// A filter in its holder, and those that stay in beside it, each with its line,
/// all before one pupil.
#[derive(Debug, Clone, PartialEq)]
pub struct Stacked {
    /// The filter that is asked about, then the others.
    lines: Vec<Line>,
}

impl Stacked {
    /// A filter asked about beside others.
    #[must_use]
    pub fn new(line: Line, others: impl IntoIterator<Item = Line>) -> Self {
        let lines = core::iter::once(line).chain(others).collect();
        Self { lines }
    }

    /// The filter that is asked about.
    #[must_use]
    pub fn line(&self) -> &Line {
        &self.lines[0]
    }

    /// All of them, the one asked about first.
    #[must_use]
    pub fn all(&self) -> &[Line] {
        &self.lines
    }

    /// The others.
    #[must_use]
    pub fn others(&self) -> &[Line] {
        &self.lines[1..]
    }

    /// What is lost in one direction through all of them.
    pub(super) fn loss_towards(&self, field: Tangents) -> Stops {
        loss_through(&self.lines, field)
    }

    /// What the others take alone.
    pub(super) fn others_towards(&self, field: Tangents) -> Stops {
        loss_through(self.others(), field)
    }

    /// With another filter asked about, the others as they are.
    fn with(&self, line: Line) -> Self {
        let mut lines = self.lines.clone();
        lines[0] = line;
        Self { lines }
    }

    /// With other glass in the holder of the one asked about.
    #[must_use]
    pub fn with_profile(&self, profile: &Profile) -> Self {
        self.with(self.line().with_profile(profile.clone()))
    }

    pub(super) fn turned_over(&self) -> Self {
        self.with(self.line().turned_over())
    }

    pub(super) fn slid_to(&self, height: f64) -> Self {
        self.with(self.line().slid_to(height))
    }

    pub(in crate::answer) fn with_pupil_scaled(&self, by: f64) -> Self {
        let scaled = self.lines.iter().map(|line| line.with_pupil_scaled(by));
        Self {
            lines: scaled.collect(),
        }
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::super::tests::{before, beside, contrast};
    use super::{Line, Stacked};
    use crate::physics::line::tests::hard;
    use core::f64::consts::LOG10_2;

    /// A hard filter behind 25 mm at f/8, its line at this height.
    fn at(up: f64, density: f64) -> Line {
        before(25.0, 8.0, up, hard(density)).0
    }

    fn near(found: f64, wanted: f64) {
        assert!((found - wanted).abs() < 1e-9, "{found} for {wanted}");
    }

    #[test]
    fn far_from_both_lines_two_take_the_sum_of_their_marks() {
        // 0.6 from 0.4 up and 0.3 from 0.7 up, a face between the two lines.
        let (line, stop) = before(25.0, 8.0, 0.7, hard(0.3));
        let others = [at(0.4, 0.6)];
        let read = contrast(&line, [4.0, 1.0, 0.95, 0.1], Some(0.55));
        let found = beside(&line, stop, &others, &[hard(0.3)], read);
        let both = found.filters[0];
        near(found.without.stops(), 4.0 - 0.6 / LOG10_2);
        near(both.delivered.stops(), 0.3 / LOG10_2);
        near(both.left.stops(), 4.0 - 0.9 / LOG10_2);
        near(both.stolen.unwrap().stops(), 0.6 / LOG10_2);
        near(both.dark_loses.stops(), 0.0);
        assert!(both.meets && both.steals);
    }

    #[test]
    fn on_a_common_line_two_take_less_than_their_sum() {
        // Half the pupil sees both, half neither: (1 + t₁·t₂)/2, by hand, not
        // (1 + t₁)/2 · (1 + t₂)/2.
        let line = at(0.5, 0.9);
        let stacked = Stacked::new(line, [at(0.5, 0.6)]);
        let axis = stacked.line().view().tangents_of(0.5, 0.5);
        let wanted = -((1.0 + 10f64.powf(-1.5)) / 2.0).log2();
        near(stacked.loss_towards(axis).stops(), wanted);
        let alone = stacked.line().loss_towards(axis) + stacked.others_towards(axis);
        assert!(alone.stops() > wanted + 0.5);
        // One against the other is the weaker one in the dark half.
        let turned = stacked.turned_over();
        let wanted = -f64::midpoint(10f64.powf(-0.9), 10f64.powf(-0.6)).log2();
        near(turned.loss_towards(axis).stops(), wanted);
    }

    #[test]
    fn what_is_in_may_be_enough_and_else_less_is_to_borrow() {
        let (line, stop) = before(25.0, 8.0, 0.5, hard(0.3));
        let others = [at(0.5, 0.6)];
        let close = contrast(&line, [2.3, 0.5, 0.9, 0.1], None);
        assert!(beside(&line, stop, &others, &[], close).within_already);
        assert!(!beside(&line, stop, &[], &[], close).within_already);
        // 3 − 0.6/log 2 − D/log 2 = 0.5.
        let far = contrast(&line, [3.0, 0.5, 0.9, 0.1], None);
        let found = beside(&line, stop, &others, &[], far);
        let density = found.remedies.density.unwrap().density();
        near(density, 2.5 * LOG10_2 - 0.6);
    }

    #[test]
    fn of_two_that_would_do_alone_the_one_that_fits_the_others_comes_first() {
        let (line, stop) = before(25.0, 8.0, 0.5, hard(0.3));
        let read = contrast(&line, [3.0, 0.5, 0.9, 0.1], None);
        let filters = [hard(0.9), hard(0.15)];
        let first = |others: &[Line]| beside(&line, stop, others, &filters, read).filters[0].filter;
        assert_eq!((first(&[]), first(&[at(0.5, 0.6)])), (0, 1));
    }
}
