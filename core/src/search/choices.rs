//! Every choice of so many pieces whose sum lies in a band: a subset sum, all of
//! whose answers are wanted.

use super::budget::Budget;
use crate::sorted::sort_by;
use alloc::vec::Vec;

/// Room for the rounding of sums taken in different orders, in stops.
pub(super) const SLACK: f64 = 1e-9;

/// A kind of piece, all of whose copies are alike.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Kind {
    /// The searcher's own name for it.
    pub(super) name: usize,
    /// What one takes, in stops, never negative.
    pub(super) loss: f64,
    /// How many there are.
    pub(super) copies: usize,
}

/// The copies, heaviest first, with what bounds need.
#[derive(Debug)]
pub(super) struct Choices {
    copies: Vec<(usize, f64)>,
    /// `sums[i]` is what the first i copies take together.
    sums: Vec<f64>,
}

impl Choices {
    pub(super) fn new(kinds: impl IntoIterator<Item = Kind>) -> Self {
        let mut copies: Vec<(usize, f64)> = (kinds.into_iter())
            .flat_map(|kind| core::iter::repeat_n((kind.name, kind.loss), kind.copies))
            .collect();
        sort_by(&mut copies, |a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        let sums = core::iter::once(0.0)
            .chain(copies.iter().scan(0.0, |sum, (_, loss)| {
                *sum += loss;
                Some(*sum)
            }))
            .collect();
        Self { copies, sums }
    }

    /// Shows every choice of exactly `pieces` copies with a sum in `band`, ends
    /// included, once: names in the order heaviest first, and the sum. Goes on
    /// while `visit` answers true. False when stopped before the end.
    pub(super) fn each(
        &self,
        pieces: usize,
        band: (f64, f64),
        budget: &mut Budget,
        visit: &mut impl FnMut(&[usize], f64) -> bool,
    ) -> bool {
        let mut walk = Walk {
            choices: self,
            band: (band.0 - SLACK, band.1 + SLACK),
            chosen: Vec::with_capacity(pieces),
            budget,
            visit,
        };
        walk.choose(0, pieces, 0.0)
    }
}

struct Walk<'a, V> {
    choices: &'a Choices,
    band: (f64, f64),
    chosen: Vec<usize>,
    budget: &'a mut Budget,
    visit: &'a mut V,
}

impl<V: FnMut(&[usize], f64) -> bool> Walk<'_, V> {
    fn choose(&mut self, from: usize, wanted: usize, sum: f64) -> bool {
        if wanted == 0 {
            let hit = sum >= self.band.0 && sum <= self.band.1;
            return !hit || (self.visit)(&self.chosen, sum);
        }
        let (copies, sums) = (&self.choices.copies, &self.choices.sums);
        let end = copies.len();
        let lightest_others = sums[end] - sums[(end + 1).saturating_sub(wanted).min(end)];
        // Heaviest first: skip straight to the first that is not too heavy.
        let most = self.band.1 + SLACK - lightest_others - sum;
        let mut at = from + copies[from..].partition_point(|&(_, loss)| loss > most);
        while at + wanted <= end {
            if !self.budget.take(1) {
                return false;
            }
            if sum + sums[at + wanted] - sums[at] < self.band.0 - SLACK {
                break;
            }
            let (name, loss) = copies[at];
            self.chosen.push(name);
            let on = self.choose(at + 1, wanted - 1, sum + loss);
            self.chosen.pop();
            if !on {
                return false;
            }
            while at < end && copies[at].0 == name {
                at += 1;
            }
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::{Budget, Choices, Kind};
    use alloc::vec::Vec;

    fn found(pieces: usize, band: (f64, f64)) -> Vec<Vec<usize>> {
        let kind = |name, loss, copies| Kind { name, loss, copies };
        let choices = Choices::new([kind(0, 1.0, 2), kind(1, 2.0, 1), kind(2, 3.0, 1)]);
        let mut all = Vec::new();
        choices.each(pieces, band, &mut Budget::endless(), &mut |chosen, _| {
            all.push(chosen.into());
            true
        });
        all
    }

    #[test]
    fn both_ends_of_the_band_belong_to_it() {
        assert_eq!(found(1, (2.0, 3.0)), [[2], [1]]);
    }

    #[test]
    fn copies_make_one_choice() {
        assert_eq!(
            found(2, (2.0, 4.0)),
            [[2, 0].to_vec(), [1, 0].into(), [0, 0].into()]
        );
    }

    #[test]
    fn nothing_is_a_choice_too() {
        assert_eq!(found(0, (-1.0, 0.0)), [Vec::new()]);
        assert!(found(5, (0.0, 99.0)).is_empty());
    }

    #[test]
    fn every_choice_in_the_band_is_shown_and_no_other() {
        // Two of 1, one of 2, one of 3: the sums by hand.
        assert_eq!(found(3, (6.0, 6.0)), [[2, 1, 0]]);
        assert_eq!(found(3, (4.0, 5.0)), [[2, 0, 0].to_vec(), [1, 0, 0].into()]);
        assert_eq!(found(4, (7.0, 7.0)), [[2, 1, 0, 0]]);
        assert!(found(4, (0.0, 6.9)).is_empty());
    }

    #[test]
    fn rounding_alone_takes_no_sum_out_of_the_band() {
        // 0.1 + 0.2 is a little more than 0.3 in binary.
        let kind = |name, loss| Kind {
            name,
            loss,
            copies: 1,
        };
        let choices = Choices::new([kind(0, 0.1), kind(1, 0.2)]);
        let mut sums = Vec::new();
        choices.each(2, (0.3, 0.3), &mut Budget::endless(), &mut |_, sum| {
            sums.push(sum);
            true
        });
        assert_eq!(sums, [0.1 + 0.2]);
    }
}
