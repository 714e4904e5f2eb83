//! Any number the unknown: where an answer is what somebody wants.
//!
//! The law that answers is asked again and again, so that what is found here
//! cannot disagree with it. Nothing is turned round by a second formula.

use crate::physics::root::{sign_change, top};
use alloc::vec::Vec;
use core::cell::RefCell;

/// What is asked: how far the answer at a place is above what is wanted, `None`
/// where the question has no answer.
pub type Above<'a> = dyn FnMut(f64) -> Option<f64> + 'a;

/// Where it is what is wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Met {
    /// From here.
    pub from: f64,
    /// To here; the same place unless the answer stands still there.
    pub to: f64,
    /// What the answer is above what is wanted: nothing within
    /// [`Asked::tolerance`], or one side of the step.
    pub above: f64,
    /// Whether the answer jumps past it instead of meeting it.
    pub steps: bool,
}

/// What was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// Where it is what is wanted, rising; none and several are answers.
    pub met: Vec<Met>,
    /// Where it is that or more, rising, ends included.
    pub at_least: Vec<(f64, f64)>,
    /// Where it comes nearest, and how far above it is there; `None` where the
    /// question has no answer at all.
    pub nearest: Option<(f64, f64)>,
    /// Whether every place looked at could be followed up.
    pub complete: bool,
}

/// Where to look.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Asked {
    /// From here.
    pub from: f64,
    /// To here.
    pub to: f64,
    /// What counts as nothing above what is wanted.
    pub tolerance: f64,
}

/// Pieces the range is cut into.
const PIECES: u32 = 96;
/// A range whose ends are so many times apart is cut into equal ratios.
const WIDE: f64 = 30.0;
/// No more looks than this, whatever the answer is like.
const MOST_LOOKS: u32 = 1500;
/// So near an end, as a share of its piece, tells which way the answer sets out.
const BESIDE: f64 = 1e-3;
/// Where in its piece a place is looked at. No ratio of whole numbers, so that no
/// place is round: a request may mean something else by a round number (22 on a ring
/// is 22.6), and a root beside it would be taken for a step.
const ASIDE: f64 = core::f64::consts::FRAC_1_PI;
/// Halvings after which two places are neighbours.
const HALVINGS: u32 = 100;

/// Where an answer is what is wanted.
///
/// The range is cut into pieces, each end of an answer is closed in on, and
/// each top and bottom is climbed to, so that between the places kept the answer
/// rises or falls; on each such stretch that changes sides one root is bracketed.
///
/// # Units
///
/// Those of the question.
///
/// # Accuracy
///
/// To neighbouring places of f64. A hill and a dale both narrower than a
/// ninety-sixth of the range are passed over, as are two ends so close.
///
/// # Source
///
/// Own derivation; the root by `sign_change`.
pub fn solve(asked: Asked, above: &mut Above<'_>) -> Found {
    let look = Look {
        above: RefCell::new(above),
        left: RefCell::new(MOST_LOOKS),
    };
    let mut found = Found {
        met: Vec::new(),
        at_least: Vec::new(),
        nearest: None,
        complete: true,
    };
    let mut run: Vec<Place> = Vec::new();
    let mut before: Option<f64> = None;
    for at in places(asked) {
        match (look.at(at), before) {
            (Some(height), Some(missing)) if run.is_empty() => {
                run.push(look.end(at, height, missing));
                run.push(Place { at, height });
            }
            (Some(height), _) => run.push(Place { at, height }),
            (None, _) => {
                if let Some(last) = run.last().copied() {
                    run.push(look.end(last.at, last.height, at));
                    found.take(&look, &core::mem::take(&mut run), asked.tolerance);
                }
                before = Some(at);
            }
        }
    }
    found.take(&look, &run, asked.tolerance);
    found.complete = *look.left.borrow() > 0;
    found
}

/// A place and how far above what is wanted the answer is there.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Place {
    at: f64,
    height: f64,
}

/// Asks, and counts.
struct Look<'a, 'b> {
    above: RefCell<&'a mut Above<'b>>,
    left: RefCell<u32>,
}

impl Look<'_, '_> {
    fn at(&self, place: f64) -> Option<f64> {
        let mut left = self.left.borrow_mut();
        if *left == 0 {
            return None;
        }
        *left -= 1;
        (self.above.borrow_mut())(place).filter(|height| height.is_finite())
    }

    /// For the finders, which know no gaps: there is an answer on both sides.
    fn height(&self, place: f64, else_: f64) -> f64 {
        self.at(place).unwrap_or(else_)
    }

    /// The last place with an answer on the way to one without.
    fn end(&self, with: f64, height: f64, without: f64) -> Place {
        let (mut place, mut without) = (Place { at: with, height }, without);
        for _ in 0..HALVINGS {
            let middle = place.at + (without - place.at) / 2.0;
            if middle == place.at || middle == without {
                break;
            }
            match self.at(middle) {
                Some(height) => place = Place { at: middle, height },
                None => without = middle,
            }
        }
        place
    }

    /// The last place on the way from `still` to `gone` at which the answer has
    /// not left what is wanted.
    fn leaves(&self, still: f64, gone: f64, tolerance: f64) -> f64 {
        let (mut still, mut gone) = (still, gone);
        for _ in 0..HALVINGS {
            let middle = still + (gone - still) / 2.0;
            if middle == still || middle == gone {
                break;
            }
            if libm::fabs(self.height(middle, f64::MAX)) <= tolerance {
                still = middle;
            } else {
                gone = middle;
            }
        }
        still
    }

    /// A hill's top or a dale's bottom about the middle of three places, where
    /// it may reach what is wanted and the three do not.
    fn turn(&self, [left, middle, right]: [Place; 3]) -> Option<Place> {
        let up = middle.height >= left.height && middle.height >= right.height;
        let down = middle.height <= left.height && middle.height <= right.height;
        let reaches = (up && middle.height < 0.0) || (down && middle.height > 0.0);
        if up == down || !reaches {
            return None;
        }
        let side = if up { 1.0 } else { -1.0 };
        let at = top(
            |place| side * self.height(place, -f64::MAX * side),
            left.at,
            right.at,
        );
        let height = self.at(at)?;
        (side * height > side * middle.height).then_some(Place { at, height })
    }

    /// The same in the piece at an end, where the answer sets out the other way
    /// than it comes to the next place.
    fn turn_at_end(&self, end: Place, next: Place) -> Option<Place> {
        let side = if end.height < 0.0 { 1.0 } else { -1.0 };
        if next.height * side > end.height * side || end.height * side > 0.0 {
            return None;
        }
        let beside = self.at(end.at + BESIDE * (next.at - end.at))?;
        if beside * side <= end.height * side {
            return None;
        }
        let (from, to) = (end.at.min(next.at), end.at.max(next.at));
        let at = top(
            |place| side * self.height(place, -f64::MAX * side),
            from,
            to,
        );
        let height = self.at(at)?;
        (side * height > side * end.height).then_some(Place { at, height })
    }
}

/// Where the range is looked at first: its ends, close beside them, and once in each
/// piece.
fn places(asked: Asked) -> impl Iterator<Item = f64> {
    let Asked { from, to, .. } = asked;
    let ratio = (from > 0.0 && to / from > WIDE).then(|| libm::log(to / from));
    let pieces = f64::from(PIECES);
    let within = (0..PIECES).map(move |nth| f64::from(nth) + ASIDE);
    let all = [BESIDE].into_iter().chain(within).chain([pieces - BESIDE]);
    let inner = all.map(move |piece| match (piece / pieces, ratio) {
        (share, Some(ratio)) => from * libm::exp(ratio * share),
        (share, None) => from + (to - from) * share,
    });
    core::iter::once(from).chain(inner).chain([to])
}

impl Found {
    /// What one run of places with an answer gives.
    fn take(&mut self, look: &Look<'_, '_>, run: &[Place], tolerance: f64) {
        let mut run = with_turns(look, run);
        let met = met_in(look, &run, tolerance);
        for &Met {
            from, to, above, ..
        } in &met
        {
            self.comes_near(Place {
                at: from,
                height: above,
            });
            run.extend([from, to].map(|at| Place { at, height: 0.0 }));
        }
        self.met.extend(met);
        crate::sorted::sort_by(&mut run, |a, b| a.at.total_cmp(&b.at));
        for place in &run {
            if place.height != 0.0 {
                self.comes_near(*place);
            }
        }
        for pair in run.windows(2) {
            let (from, to) = (pair[0].at, pair[1].at);
            if pair.iter().any(|place| place.height < -tolerance) {
                continue;
            }
            match self.at_least.last_mut() {
                Some(last) if last.1 == from => last.1 = to,
                _ => self.at_least.push((from, to)),
            }
        }
    }

    fn comes_near(&mut self, place: Place) {
        let nearer = self
            .nearest
            .is_none_or(|(_, near)| libm::fabs(place.height) < libm::fabs(near));
        if nearer {
            self.nearest = Some((place.at, place.height));
        }
    }
}

/// A run with its tops and bottoms among its places.
fn with_turns(look: &Look<'_, '_>, run: &[Place]) -> Vec<Place> {
    let mut all = Vec::with_capacity(run.len() + 2);
    // From either end inwards.
    let at_end = |one: Option<&Place>, next: Option<&Place>| look.turn_at_end(*one?, *next?);
    let last = (run.len() > 2).then(|| &run[run.len() - 2]);
    let (first_turn, last_turn) = (at_end(run.first(), run.get(1)), at_end(run.last(), last));
    for (nth, place) in run.iter().enumerate() {
        let turn = (nth > 0 && nth + 1 < run.len())
            .then(|| look.turn([run[nth - 1], *place, run[nth + 1]]))
            .flatten();
        match turn {
            Some(turn) if turn.at < place.at => all.extend([turn, *place]),
            Some(turn) => all.extend([*place, turn]),
            None => all.push(*place),
        }
        if nth == 0 {
            all.extend(first_turn);
        }
        if nth + 2 == run.len() {
            all.extend(last_turn);
        }
    }
    all
}

/// Where a run whose stretches rise or fall is what is wanted.
fn met_in(look: &Look<'_, '_>, run: &[Place], tolerance: f64) -> Vec<Met> {
    let is_nothing = |place: &Place| libm::fabs(place.height) <= tolerance;
    let mut met = Vec::new();
    let mut nth = 0;
    while nth < run.len() {
        let place = run[nth];
        let still = run[nth..].iter().take_while(|one| is_nothing(one)).count();
        let next = nth + still.max(1);
        if still == 0 {
            if let Some(&other) = run.get(next)
                && !is_nothing(&other)
                && (place.height > 0.0) != (other.height > 0.0)
            {
                met.push(crossing(look, place, other, tolerance));
            }
        } else {
            // A lone zero is a root; several are an answer that stands still.
            let leaves = |still: Place, beside: Option<&Place>| match beside {
                Some(gone) if next > nth + 1 => look.leaves(still.at, gone.at, tolerance),
                _ => still.at,
            };
            let before = nth.checked_sub(1).and_then(|at| run.get(at));
            met.push(Met {
                from: leaves(place, before),
                to: leaves(run[next - 1], run.get(next)),
                above: place.height,
                steps: false,
            });
        }
        nth = next;
    }
    met
}

/// The place between two where the answer changes sides.
fn crossing(look: &Look<'_, '_>, one: Place, other: Place, tolerance: f64) -> Met {
    let root = sign_change(|place| look.height(place, one.height), one.at, other.at);
    let above = look.height(root, one.height);
    Met {
        from: root,
        to: root,
        above,
        steps: libm::fabs(above) > tolerance,
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests;
