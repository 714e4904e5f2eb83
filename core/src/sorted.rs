//! Sorting, compiled once.
//!
//! The standard sort is compiled anew for every type and every order, some
//! kilobytes each time; lists here are short and there are twenty kinds of
//! them. This one sorts places instead of items and knows no type.

use alloc::vec::Vec;
use core::cmp::Ordering;

/// Up to here moving items one by one is quicker than sorting places.
const FEW: usize = 12;

/// Sorts by an order; what the order does not tell apart stays as it is.
pub fn sort_by<T>(items: &mut [T], mut compare: impl FnMut(&T, &T) -> Ordering) {
    if items.len() <= FEW {
        for end in 1..items.len() {
            let mut at = end;
            while at > 0 && compare(&items[at - 1], &items[at]).is_gt() {
                items.swap(at - 1, at);
                at -= 1;
            }
        }
        return;
    }
    let order = ranked(items.len(), &mut |a, b| compare(&items[a], &items[b]));
    arrange(items, order);
}

/// Sorts by a key; items with the same key stay as they are.
pub fn sort_by_key<T, K: Ord>(items: &mut [T], key: impl Fn(&T) -> K) {
    sort_by(items, |a, b| key(a).cmp(&key(b)));
}

/// Sorts numbers, smallest first.
pub fn sort_numbers(numbers: &mut [f64]) {
    sort_by(numbers, f64::total_cmp);
}

/// The places of items in their order, by merging runs of growing length.
#[inline(never)]
fn ranked(count: usize, compare: &mut dyn FnMut(usize, usize) -> Ordering) -> Vec<usize> {
    let mut order: Vec<usize> = (0..count).collect();
    let mut merged = Vec::with_capacity(count);
    let mut run = 1;
    while run < count {
        merged.clear();
        for pair in order.chunks(2 * run) {
            let (mut left, mut right) = pair.split_at(run.min(pair.len()));
            while let (Some((&a, rest_a)), Some((&b, rest_b))) =
                (left.split_first(), right.split_first())
            {
                if compare(a, b).is_gt() {
                    merged.push(b);
                    right = rest_b;
                } else {
                    merged.push(a);
                    left = rest_a;
                }
            }
            merged.extend_from_slice(left);
            merged.extend_from_slice(right);
        }
        core::mem::swap(&mut order, &mut merged);
        run *= 2;
    }
    order
}

/// Moves each item to where the order has it, along the order's cycles.
fn arrange<T>(items: &mut [T], mut order: Vec<usize>) {
    for start in 0..order.len() {
        let mut at = start;
        loop {
            let from = core::mem::replace(&mut order[at], at);
            if from == start {
                break;
            }
            items.swap(at, from);
            at = from;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{FEW, sort_by, sort_by_key, sort_numbers};
    use alloc::vec::Vec;

    /// Numbers without any pattern, from a linear congruence.
    fn scattered(count: usize) -> Vec<u64> {
        let mut state = 1_u64;
        (0..count)
            .map(|_| {
                state = state
                    .wrapping_mul(6_364_136_223_846_793_005)
                    .wrapping_add(1);
                state >> 59
            })
            .collect()
    }

    #[test]
    fn every_length_sorts_as_the_standard_sort_does() {
        for count in 0..5 * FEW {
            let mut ours: Vec<(u64, usize)> = scattered(count).into_iter().zip(0..).collect();
            let mut standard = ours.clone();
            sort_by_key(&mut ours, |item| item.0);
            standard.sort_by_key(|item| item.0);
            assert_eq!(ours, standard, "{count} items");
        }
    }

    #[test]
    fn an_order_may_run_backwards() {
        let mut falling: Vec<u64> = (0..40).collect();
        sort_by(&mut falling, |a, b| b.cmp(a));
        assert!(falling.windows(2).all(|pair| pair[0] > pair[1]));
    }

    #[test]
    fn numbers_sort_by_size_and_sign() {
        let mut numbers = [2.0, -0.5, 0.0, -7.0];
        sort_numbers(&mut numbers);
        assert_eq!(numbers, [-7.0, -0.5, 0.0, 2.0]);
    }
}
