//! Orders of a day that are good to begin with.

use super::placement::{EMPTY, Place, Rack};
use crate::sorted::sort_by;
use alloc::vec::Vec;

/// The orders people would try: as given, by what the glass must take, rising
/// and falling, and each of these with one sort of set-up after the other.
pub(super) fn first_orders(can: &[usize], need: &[f64], sort: &[bool]) -> Vec<Vec<usize>> {
    let by = |key: &dyn Fn(usize) -> (bool, f64)| {
        let mut order = can.to_vec();
        sort_by(&mut order, |&a, &b| {
            let ((first, x), (other, y)) = (key(a), key(b));
            first.cmp(&other).then(x.total_cmp(&y)).then(a.cmp(&b))
        });
        order
    };
    [
        can.to_vec(),
        by(&|at| (false, need[at])),
        by(&|at| (false, -need[at])),
        by(&|at| (sort[at], need[at])),
        by(&|at| (!sort[at], need[at])),
        by(&|at| (sort[at], -need[at])),
    ]
    .into()
}

/// An order made shorter by turning stretches round and moving stops, each stop
/// staying at its place; `None` where nothing helps.
///
/// # Source
///
/// 2-opt, Croes, Operations Research 6(6), 791–812 (1958), and or-opt, Or (1976),
/// as the R package TSP names and references them; here on a way that begins with
/// empty slots and ends anywhere.
pub(super) fn improved(rack: &Rack, stops: &[(usize, Place)]) -> Option<Vec<usize>> {
    let count = stops.len();
    let place = |at: usize| at.checked_sub(1).map_or(&EMPTY, |at| &stops[at].1);
    let apart: Vec<Vec<u32>> = (0..=count)
        .map(|a| {
            (0..=count)
                .map(|b| u32::from(rack.changes(place(a), place(b))))
                .collect()
        })
        .collect();
    let mut way: Vec<usize> = (0..=count).collect();
    let length = |way: &[usize]| -> u32 { way.windows(2).map(|two| apart[two[0]][two[1]]).sum() };
    let before = length(&way);
    let mut now = before;
    loop {
        let mut better: Option<(u32, Vec<usize>)> = None;
        let least = |better: &Option<(u32, Vec<usize>)>| better.as_ref().map_or(now, |b| b.0);
        for from in 1..=count {
            for to in from + 1..=count {
                let mut turned = way.clone();
                turned[from..=to].reverse();
                let (end, last) = (way[to], to == count);
                let old = apart[way[from - 1]][way[from]]
                    + if last { 0 } else { apart[end][way[to + 1]] };
                let new = apart[way[from - 1]][end]
                    + if last {
                        0
                    } else {
                        apart[way[from]][way[to + 1]]
                    };
                if now + new < least(&better) + old {
                    better = Some((now + new - old, turned));
                }
            }
        }
        for from in 1..=count {
            for to in (1..=count).filter(|&to| to != from) {
                let mut moved = way.clone();
                let stop = moved.remove(from);
                moved.insert(to, stop);
                let new = length(&moved);
                if new < least(&better) {
                    better = Some((new, moved));
                }
            }
        }
        let Some((new, next)) = better.filter(|(new, _)| *new < now) else {
            break;
        };
        (now, way) = (new, next);
    }
    (now < before).then(|| way[1..].iter().map(|&at| stops[at - 1].0).collect())
}
