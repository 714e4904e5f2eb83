//! The shortest way past every set-up, in any order: a generalized travelling
//! salesman path, its places in clusters of which one each is gone to.

use super::budget::{Budget, Proof};
use super::placement::{EMPTY, Left, Place, Rack};
use crate::sorted::sort_by_key;
use alloc::collections::BTreeMap;
use alloc::vec::Vec;

/// Set-ups by number, below 64.
type Shot = u64;

/// Widest front of the search for a plan to begin with.
const BEAM: usize = 120;
/// The most places that are looked at; more leave the plan unproven.
const MAX_PLACES: usize = 6000;

/// A day with its places: each serves one set-up or more.
pub(super) struct Day<'a> {
    rack: &'a Rack,
    /// The first place is the start, whatever it serves.
    places: Vec<Place>,
    serves: Vec<Shot>,
    /// Set-ups that must be gone to; any other is met on the way.
    core: Shot,
    /// Core set-ups in the order bounds take them up.
    ranked: Vec<usize>,
    /// For each place and core set-up the fewest moves to serve it.
    reach: Vec<Vec<u8>>,
    /// The same from set-up to set-up.
    apart: Vec<Vec<u8>>,
    /// The set-ups' own numbers.
    names: Vec<usize>,
    /// Whether these are all the places there are.
    whole: bool,
}

/// An order and whether a shorter one exists.
pub(super) struct Tour {
    pub(super) order: Vec<usize>,
    pub(super) proof: Proof,
}

impl<'a> Day<'a> {
    /// The day of the set-ups `can`, each with its places.
    pub(super) fn new(rack: &'a Rack, can: &[usize], places: &[Vec<(Place, Left)>]) -> Self {
        let mut served: BTreeMap<Place, Shot> = BTreeMap::new();
        for (bit, &set_up) in can.iter().enumerate() {
            for (place, _) in &places[set_up] {
                *served.entry(*place).or_default() |= 1 << bit;
            }
        }
        let core = core_of(&served, can.len());
        let start = served.remove(&EMPTY).unwrap_or(0);
        let mut kept: Vec<(Place, Shot)> = served
            .into_iter()
            .filter(|(_, shot)| shot & core != 0)
            .collect();
        let whole = kept.len() <= MAX_PLACES;
        if !whole {
            kept = most_useful(kept);
        }
        let mut day = Self {
            rack,
            places: core::iter::once(EMPTY)
                .chain(kept.iter().map(|(p, _)| *p))
                .collect(),
            serves: core::iter::once(start)
                .chain(kept.iter().map(|(_, s)| *s))
                .collect(),
            core,
            ranked: bits(core).collect(),
            reach: Vec::new(),
            apart: Vec::new(),
            names: can.to_vec(),
            whole,
        };
        day.measure(can.len());
        day
    }

    fn measure(&mut self, count: usize) {
        let rack = self.rack;
        self.reach = (self.places.iter())
            .map(|from| {
                let mut least = alloc::vec![u8::MAX; count];
                for (to, &serves) in self.places.iter().zip(&self.serves) {
                    let moves = rack.changes(from, to);
                    for bit in bits(serves & self.core) {
                        least[bit] = least[bit].min(moves);
                    }
                }
                least
            })
            .collect();
        self.apart = alloc::vec![alloc::vec![u8::MAX; count]; count];
        for (&serves, reach) in self.serves.iter().zip(&self.reach) {
            for from in bits(serves & self.core) {
                for to in bits(self.core) {
                    self.apart[from][to] = self.apart[from][to].min(reach[to]);
                }
            }
        }
        // Set-ups hard to combine with others first: more of them stand apart.
        let near = |bit: usize| self.apart[bit].iter().filter(|&&moves| moves == 0).count();
        let mut ranked = core::mem::take(&mut self.ranked);
        sort_by_key(&mut ranked, |&bit| near(bit));
        self.ranked = ranked;
    }

    /// What is still to do after `shot`: set-ups no two of which share a place,
    /// and the least that going to all of them takes.
    ///
    /// Each needs a place of its own, so a way past them is no shorter than the
    /// least tree that joins them by their distances.
    fn to_do(&self, shot: Shot) -> ToDo {
        let mut apart: Vec<usize> = Vec::new();
        for &bit in &self.ranked {
            if shot & (1 << bit) == 0 && apart.iter().all(|&o| self.apart[o][bit] > 0) {
                apart.push(bit);
            }
        }
        let tree = self.least_tree(&apart);
        ToDo { apart, tree }
    }

    fn least_tree(&self, set_ups: &[usize]) -> u32 {
        let Some((&first, rest)) = set_ups.split_first() else {
            return 0;
        };
        let mut open: Vec<(usize, u8)> = rest
            .iter()
            .map(|&bit| (bit, self.apart[first][bit]))
            .collect();
        let mut length = 0;
        while let Some(next) = (0..open.len()).min_by_key(|&at| open[at].1) {
            let (joined, moves) = open.swap_remove(next);
            length += u32::from(moves);
            for (bit, least) in &mut open {
                *least = (*least).min(self.apart[joined][*bit]);
            }
        }
        length
    }
}

struct ToDo {
    apart: Vec<usize>,
    tree: u32,
}

/// Where the day stands.
#[derive(Debug, Clone, Copy)]
struct Node {
    place: usize,
    shot: Shot,
    moves: u32,
    /// Moves in all at the least, the way here included.
    bound: u32,
    before: usize,
}

/// The tour with the fewest moves.
///
/// Best first over (place, set-ups shot): all that a place serves is shot when
/// it is met, for leaving a stop out never makes a way longer. A node is dropped
/// when its place was met before with as few moves and as much shot, or when its
/// bound reaches the best known.
pub(super) fn shortest_tour(day: &Day<'_>, budget: &mut Budget) -> Tour {
    let mut search = Search {
        day,
        nodes: Vec::new(),
        met: alloc::vec![Vec::new(); day.places.len()],
        to_do: BTreeMap::new(),
        best: u32::MAX,
        end: None,
    };
    search.begin();
    search.beam(budget);
    let found = search.end.map(|end| search.order(end));
    // A second pass from the start: the beam met places it then dropped.
    search.met.iter_mut().for_each(Vec::clear);
    search.nodes.truncate(1);
    search.end = None;
    let bound = search.best_first(budget);
    let order = search.end.map(|end| search.order(end)).or(found);
    let proof = if !day.whole {
        // Places left out could only have made it shorter.
        Proof::Bound(0)
    } else if bound >= search.best && order.is_some() {
        Proof::Proven
    } else {
        Proof::Bound(u64::from(bound))
    };
    Tour {
        // Out of steps before any tour was complete: as given.
        order: order.unwrap_or_else(|| day.names.clone()),
        proof,
    }
}

struct Search<'a> {
    day: &'a Day<'a>,
    nodes: Vec<Node>,
    /// For each place what was shot there after how many moves.
    met: Vec<Vec<(Shot, u32)>>,
    to_do: BTreeMap<Shot, ToDo>,
    best: u32,
    /// The node the best tour ends in.
    end: Option<usize>,
}

impl Search<'_> {
    fn begin(&mut self) {
        let shot = self.day.serves[0] & self.day.core;
        let bound = self.least_from(0, shot);
        self.nodes.push(Node {
            place: 0,
            shot,
            moves: 0,
            bound,
            before: 0,
        });
        self.finish(0);
    }

    fn least_from(&mut self, place: usize, shot: Shot) -> u32 {
        let day = self.day;
        let to_do = self.to_do.entry(shot).or_insert_with(|| day.to_do(shot));
        let first = (to_do.apart.iter()).map(|&bit| u32::from(day.reach[place][bit]));
        to_do.tree + first.min().unwrap_or(0)
    }

    /// Notes a tour that is complete.
    fn finish(&mut self, node: usize) -> bool {
        let Node { shot, moves, .. } = self.nodes[node];
        let complete = shot == self.day.core;
        if complete && moves < self.best {
            (self.best, self.end) = (moves, Some(node));
        }
        complete
    }

    fn is_met(&self, place: usize, shot: Shot, moves: u32) -> bool {
        let covers = |&(other, fewer): &(Shot, u32)| shot & !other == 0 && fewer <= moves;
        self.met[place].iter().any(covers)
    }

    fn meet(&mut self, place: usize, shot: Shot, moves: u32) {
        let met = &mut self.met[place];
        met.retain(|&(other, more)| other & !shot != 0 || more < moves);
        met.push((shot, moves));
    }

    /// The nodes one stop further that may lead to something better.
    fn next(&mut self, at: usize) -> Vec<usize> {
        let from = self.nodes[at];
        let day = self.day;
        let mut found = Vec::new();
        for place in 1..day.places.len() {
            let shot = from.shot | (day.serves[place] & day.core);
            if shot == from.shot {
                continue;
            }
            let step = day
                .rack
                .changes(&day.places[from.place], &day.places[place]);
            let moves = from.moves + u32::from(step);
            if moves >= self.best || self.is_met(place, shot, moves) {
                continue;
            }
            let bound = (moves + self.least_from(place, shot)).max(from.bound);
            if bound >= self.best {
                continue;
            }
            self.meet(place, shot, moves);
            self.nodes.push(Node {
                place,
                shot,
                moves,
                bound,
                before: at,
            });
            let node = self.nodes.len() - 1;
            if !self.finish(node) {
                found.push(node);
            }
        }
        found
    }

    /// A good tour, soon.
    fn beam(&mut self, budget: &mut Budget) {
        let mut front: Vec<usize> = [0].into();
        while !front.is_empty() {
            let mut wider: Vec<usize> = Vec::new();
            for node in front {
                if !budget.take(self.day.places.len() as u64) {
                    return;
                }
                wider.extend(self.next(node));
            }
            sort_by_key(&mut wider, |&node| {
                let Node { bound, shot, .. } = self.nodes[node];
                (bound, 64 - shot.count_ones())
            });
            wider.truncate(BEAM);
            front = wider;
        }
    }

    /// Goes through all that may beat the best; the least bound left open.
    fn best_first(&mut self, budget: &mut Budget) -> u32 {
        let mut open: Vec<Vec<usize>> = Vec::new();
        let mut least = self.nodes[0].bound;
        push(&mut open, least, 0);
        while least < self.best {
            let Some(node) = open.get_mut(least as usize).and_then(Vec::pop) else {
                if (least as usize) >= open.len() {
                    return self.best;
                }
                least += 1;
                continue;
            };
            let Node {
                place, shot, moves, ..
            } = self.nodes[node];
            let current = self.met[place].contains(&(shot, moves)) || node == 0;
            if !current {
                continue;
            }
            if !budget.take(self.day.places.len() as u64) {
                return least;
            }
            for next in self.next(node) {
                push(&mut open, self.nodes[next].bound, next);
            }
        }
        least
    }

    /// Every set-up in the order it is met on the way to a node.
    fn order(&self, end: usize) -> Vec<usize> {
        let mut way: Vec<usize> = core::iter::successors(Some(end), |&node| {
            (node != 0).then(|| self.nodes[node].before)
        })
        .collect();
        way.reverse();
        let mut shot = 0;
        let mut order = Vec::new();
        for node in way {
            let serves = self.day.serves[self.nodes[node].place];
            order.extend(bits(serves & !shot).map(|bit| self.day.names[bit]));
            shot |= serves;
        }
        order
    }
}

fn push(open: &mut Vec<Vec<usize>>, bound: u32, node: usize) {
    let at = bound as usize;
    if open.len() <= at {
        open.resize(at + 1, Vec::new());
    }
    open[at].push(node);
}

fn bits(mut shot: Shot) -> impl Iterator<Item = usize> {
    core::iter::from_fn(move || {
        let bit = shot.trailing_zeros() as usize;
        shot &= shot.wrapping_sub(1);
        (bit < 64).then_some(bit)
    })
}

/// Places that serve most, and for each set-up one at least.
fn most_useful(mut places: Vec<(Place, Shot)>) -> Vec<(Place, Shot)> {
    sort_by_key(&mut places, |(_, shot)| {
        core::cmp::Reverse(shot.count_ones())
    });
    let mut met = 0;
    let mut at = 0;
    places.retain(|(_, shot)| {
        let new = shot & !met != 0;
        met |= shot;
        at += 1;
        new || at <= MAX_PLACES
    });
    places
}

/// Set-ups not met by every way that meets some other one.
fn core_of(served: &BTreeMap<Place, Shot>, count: usize) -> Shot {
    // `with[i]` are the set-ups served wherever i is.
    let mut with = alloc::vec![Shot::MAX; count];
    for &shot in served.values() {
        for bit in bits(shot) {
            with[bit] &= shot;
        }
    }
    let implied = |bit: usize| {
        (0..count).any(|other| {
            let follows = other != bit && with[other] & (1 << bit) != 0;
            // Of two that are served in the same places the first counts.
            let both = with[bit] & (1 << other) != 0;
            follows && (!both || other < bit)
        })
    };
    (0..count)
        .filter(|&bit| !implied(bit))
        .fold(0, |core, bit| core | 1 << bit)
}

#[cfg(test)]
mod tests;
