//! Rings as a network: the least that several lenses cost together when only
//! threads are looked at, as a minimum-cost flow.

use super::ring::{Front, Problem, Ring};
use crate::quantity::Length;
use crate::sorted::sort_by;
use alloc::vec::Vec;

/// Lenses left out, cost in hundredths, rings, depth in micrometres: less is
/// better, in turn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(super) struct Price(pub(super) [i64; 4]);

impl Price {
    /// A lens left out.
    pub(super) const LEFT_OUT: Self = Self([1, 0, 0, 0]);

    pub(super) fn plus(self, other: Self) -> Self {
        Self(core::array::from_fn(|at| self.0[at] + other.0[at]))
    }

    fn minus(self, other: Self) -> Self {
        Self(core::array::from_fn(|at| self.0[at] - other.0[at]))
    }

    /// One ring, with what it costs.
    pub(super) fn of_ring(ring: &Ring, bought: bool) -> Option<Self> {
        let cost = if bought { ring.price? } else { 0 };
        let cost = i64::try_from(cost).unwrap_or(i64::MAX / 1024);
        Some(Self([0, cost, 1, micrometres(ring.depth)]))
    }
}

/// A length in micrometres; a negative depth counts as none.
#[expect(
    clippy::cast_possible_truncation,
    reason = "a length is at most 10⁹ mm"
)]
pub(super) fn micrometres(length: Length) -> i64 {
    libm::round(length.millimetres() * 1000.0).max(0.0) as i64
}

/// Fronts as numbers: those nearer than rings tell apart are one.
pub(super) struct Network<'a> {
    rings: &'a [Ring],
    /// For each ring its two ends.
    ends: Vec<(usize, usize)>,
    /// For each lens where it starts.
    pub(super) starts: Vec<usize>,
    /// The filter's.
    pub(super) goal: usize,
    nodes: usize,
    /// Whether any lens may use the ring.
    usable: Vec<bool>,
}

/// A flow of rings: how many of each sort are on, and what that costs.
pub(super) struct Flow {
    pub(super) price: Price,
    /// For each ring how many are on.
    pub(super) on: Vec<usize>,
    /// For each node how many lenses that start there reach the filter.
    pub(super) reached: Vec<usize>,
}

impl<'a> Network<'a> {
    pub(super) fn new(problem: &Problem<'a>) -> Self {
        let rings = problem.rings;
        let fronts: Vec<Front> = (rings.iter())
            .flat_map(|ring| [ring.from, Front::Thread(ring.to)])
            .chain(problem.lenses.iter().map(|lens| lens.front))
            .chain(core::iter::once(Front::Thread(problem.filter)))
            .collect();
        let node = numbered(&fronts);
        let ends = (0..rings.len()).map(|at| (node[2 * at], node[2 * at + 1]));
        let starts = &node[2 * rings.len()..];
        // A step down passes only where a lens says what it needs.
        let told = (problem.lenses.iter()).any(|lens| lens.needs_clear.is_some());
        Self {
            rings,
            ends: ends.collect(),
            starts: starts[..problem.lenses.len()].to_vec(),
            goal: starts[problem.lenses.len()],
            nodes: node.iter().max().map_or(0, |most| most + 1),
            usable: rings
                .iter()
                .map(|ring| told || !ring.steps_down())
                .collect(),
        }
    }

    /// The least that lenses starting at these nodes cost together, each on a
    /// way of its own or left out; no plan of rings that are used so far can be
    /// cheaper, since how many rings stand in a row and how much they leave
    /// clear are not looked at.
    ///
    /// # Source
    ///
    /// Successive shortest paths: Ahuja, Magnanti and Orlin, Network Flows, which
    /// the Boost Graph Library's `successive_shortest_path_nonnegative_weights`
    /// follows; costs compared part by part are an ordered group, which is all it
    /// needs.
    pub(super) fn least(&self, starting: &[usize], used: &[usize]) -> Flow {
        let all = starting.iter().sum();
        let mut arcs = Arcs::default();
        let source = self.nodes;
        let mut from_source = Vec::new();
        for (node, &count) in starting.iter().enumerate() {
            from_source.push(arcs.add(source, node, count, Price::default()));
        }
        arcs.add(source, self.goal, all, Price::LEFT_OUT);
        let mut of_rings = Vec::new();
        for (at, ring) in self.rings.iter().enumerate() {
            let (from, to) = self.ends[at];
            if from == to || !self.usable[at] {
                continue;
            }
            for (count, bought) in [(ring.owned.saturating_sub(used[at]), false), (all, true)] {
                if let (1.., Some(price)) = (count, Price::of_ring(ring, bought)) {
                    of_rings.push((at, arcs.add(from, to, count, price)));
                }
            }
        }
        let price = arcs.send(source, self.goal, all, self.nodes + 1);
        let mut on = alloc::vec![0; self.rings.len()];
        for (at, arc) in of_rings {
            on[at] += arcs.sent(arc);
        }
        Flow {
            price,
            on,
            reached: from_source.into_iter().map(|arc| arcs.sent(arc)).collect(),
        }
    }

    /// Takes one way from a node out of a flow.
    pub(super) fn way_from(&self, start: usize, on: &mut [usize]) -> Option<Vec<usize>> {
        let mut way = Vec::new();
        let mut node = start;
        while node != self.goal {
            let next = (0..on.len()).find(|&at| on[at] > 0 && self.ends[at].0 == node)?;
            on[next] -= 1;
            way.push(next);
            node = self.ends[next].1;
        }
        Some(way)
    }

    pub(super) const fn nodes(&self) -> usize {
        self.nodes
    }
}

/// Numbers for fronts; sizes no farther apart than a neighbour counts as the
/// same are one.
fn numbered(fronts: &[Front]) -> Vec<usize> {
    let kind = |front: Front| match front {
        Front::Thread(size) => (0_u8, size.millimetres()),
        Front::Outside(size) => (1_u8, size.millimetres()),
    };
    let mut order: Vec<usize> = (0..fronts.len()).collect();
    sort_by(&mut order, |&a, &b| {
        let (a, b) = (kind(fronts[a]), kind(fronts[b]));
        a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
    });
    let mut node = alloc::vec![0; fronts.len()];
    let mut last: Option<usize> = None;
    for &at in &order {
        node[at] = match last {
            None => 0,
            Some(before) if super::ring::same_front(fronts[before], fronts[at]) => node[before],
            Some(before) => node[before] + 1,
        };
        last = Some(at);
    }
    node
}

/// Arcs in pairs, there and back; what is sent there can be sent back.
#[derive(Default)]
struct Arcs {
    from: Vec<usize>,
    to: Vec<usize>,
    room: Vec<usize>,
    price: Vec<Price>,
}

impl Arcs {
    fn add(&mut self, from: usize, to: usize, room: usize, price: Price) -> usize {
        let back = Price::default().minus(price);
        for (from, to, room, price) in [(from, to, room, price), (to, from, 0, back)] {
            self.from.push(from);
            self.to.push(to);
            self.room.push(room);
            self.price.push(price);
        }
        self.to.len() - 2
    }

    fn sent(&self, arc: usize) -> usize {
        self.room[arc + 1]
    }

    /// Sends so many units along ever dearer shortest ways.
    fn send(&mut self, source: usize, goal: usize, units: usize, nodes: usize) -> Price {
        let mut price = Price::default();
        let mut left = units;
        while left > 0 {
            let Some((way, each)) = self.shortest(source, goal, nodes) else {
                break;
            };
            let room = way
                .iter()
                .map(|&arc| self.room[arc])
                .min()
                .unwrap_or(0)
                .min(left);
            for &arc in &way {
                self.room[arc] -= room;
                self.room[arc ^ 1] += room;
            }
            for _ in 0..room {
                price = price.plus(each);
            }
            left -= room;
        }
        price
    }

    /// The shortest way by Bellman and Ford, which bears prices below nothing.
    fn shortest(&self, source: usize, goal: usize, nodes: usize) -> Option<(Vec<usize>, Price)> {
        let mut best: Vec<Option<Price>> = alloc::vec![None; nodes];
        let mut by: Vec<usize> = alloc::vec![usize::MAX; nodes];
        best[source] = Some(Price::default());
        for _ in 0..nodes {
            let mut changed = false;
            for arc in 0..self.to.len() {
                let (Some(here), 1..) = (best[self.from[arc]], self.room[arc]) else {
                    continue;
                };
                let there = here.plus(self.price[arc]);
                if best[self.to[arc]].is_none_or(|other| there < other) {
                    best[self.to[arc]] = Some(there);
                    by[self.to[arc]] = arc;
                    changed = true;
                }
            }
            if !changed {
                break;
            }
        }
        let price = best[goal]?;
        let mut way = Vec::new();
        let mut node = goal;
        while node != source {
            way.push(by[node]);
            node = self.from[by[node]];
        }
        Some((way, price))
    }
}
