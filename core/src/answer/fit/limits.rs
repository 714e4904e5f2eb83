//! How far each thing may go before an opening shades.

use super::light::Light;
use crate::physics::opening::Opening;
use crate::physics::root::{sign_change, top};
use crate::physics::spare::{chief_room, spare};
use crate::quantity::{Angle, Aperture, Bounds, Length};
use crate::setup::View;
use crate::sorted::sort_by;
use alloc::vec::Vec;

/// No opening is looked for further out than this, in millimetres.
pub const FARTHEST_MM: f64 = 1000.0;

/// The smallest f-number at which every opening is clear; `None` when no stop
/// helps because a chief ray is stopped.
///
/// Not an [`Aperture`]: it may be a number no lens has, which says that the lens
/// is clear wide open.
pub(in crate::answer) fn clean_from(
    light: Light,
    f_number: Aperture,
    openings: &[Opening],
) -> Option<f64> {
    let least = |opening: &Opening| light.least(opening, chief_room);
    if openings.is_empty() || openings.iter().any(|opening| least(opening) <= 0.0) {
        return None;
    }
    // Room is concave in the pupil's size and positive for none.
    let room = |times: f64| worst_spare(light.with_pupil_times(times), openings);
    let mut times = 1.0;
    while room(times) > 0.0 {
        // Where the front holds the light no pupil is too large.
        if times >= LARGEST {
            return Some(f_number.number() / times);
        }
        times *= 2.0;
    }
    Some(f_number.number() / sign_change(room, 0.0, times))
}

/// As many times its pupil no lens has.
const LARGEST: f64 = 1024.0;

/// The shortest focal length at which every opening is clear with the pupil
/// where it is and the f-number kept; `None` when none is.
///
/// No real pair of lenses has its pupil in the same place: a hint.
pub(super) fn widest_focal_length(light: Light, view: &View, openings: &[Opening]) -> Option<f64> {
    if openings.is_empty() {
        return None;
    }
    let focal_length = view.record().focal_length.millimetres();
    // A longer lens sees less and has a larger pupil. In u = 1/f a side's room
    // h − n·d·u − c/u is concave, so lenses that are clear form one interval.
    let room = |u: f64| {
        worst_spare(
            light.with_focal_length_times(1.0 / u / focal_length),
            openings,
        )
    };
    let widest_tangent = libm::tan(View::WIDEST_HALF_FIELD_DEG.to_radians());
    let shortest = focal_length * view.farthest_corner() / widest_tangent;
    let shortest = shortest.max(Bounds::FOCAL_LENGTH.min);
    let (low, high) = (1.0 / Bounds::FOCAL_LENGTH.max, 1.0 / shortest);
    let best = top(room, low, high);
    if room(best) < 0.0 {
        return None;
    }
    if room(high) >= 0.0 {
        return Some(shortest);
    }
    Some(1.0 / sign_change(room, best, high))
}

fn worst_spare(light: Light, openings: &[Opening]) -> f64 {
    (openings.iter())
        .map(|opening| light.least(opening, spare))
        .fold(f64::INFINITY, f64::min)
}

/// How far ahead of the rim the opening may stand and stay clear, at most
/// [`FARTHEST_MM`]; `None` when it is clear nowhere ahead of the pupil.
pub(super) fn clear_to(light: Light, opening: &Opening) -> Option<Length> {
    let nearest = -light
        .range()
        .ends()
        .iter()
        .fold(f64::INFINITY, |least, end| {
            least
                .min(end.horizontal.millimetres())
                .min(end.vertical.millimetres())
        });
    let depth = opening.record().depth.map_or(0.0, |d| d.millimetres());
    let room = |distance: f64| {
        let there = Length::new(distance).map(|distance| opening.with_distance(distance));
        there.map_or(f64::NEG_INFINITY, |there| light.least(&there, spare))
    };
    let end = FARTHEST_MM - depth;
    if nearest >= end {
        return None;
    }
    let best = top(room, nearest, end);
    if room(best) < 0.0 {
        return None;
    }
    let farthest = if room(end) >= 0.0 {
        end
    } else {
        sign_change(room, best, end)
    };
    Length::new(farthest).ok()
}

/// Turns of an opening that shade.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// Counter-clockwise from here, in degrees.
    pub from: f64,
    /// To here; beyond 360 when the arc passes the top.
    pub to: f64,
}

/// Arcs narrower than this many degrees are not told apart.
const NARROWEST_ARC_DEG: f64 = 0.02;

/// The rotations of an opening at which it has less room than a margin.
///
/// Room changes with rotation no faster than by the longest lever, the distance
/// from the bundle to the opening's middle plus the pupil's difference of axes.
/// Where the room is larger than the lever allows for, nothing is hidden; the
/// rest is halved until it is narrower than [`NARROWEST_ARC_DEG`].
pub(super) fn shading_arcs(light: Light, opening: &Opening, margin: f64) -> Vec<Arc> {
    let room = |degrees: f64| {
        let turned = Angle::new(degrees).map(|angle| opening.with_rotation(angle));
        turned.map_or(0.0, |turned| light.least(&turned, spare) - margin)
    };
    let corners = light.corners().iter();
    let farthest = corners.map(|corner| corner.from_axis()).fold(0.0, f64::max);
    let lever = light
        .pupils()
        .map(|pupil| {
            let levers = light
                .corners()
                .iter()
                .flat_map(|&corner| opening.levers(&pupil, corner));
            let grown = 1.0 + libm::fabs(pupil.shape().growth) * farthest * farthest;
            let (wide, high) = (pupil.half_width(), pupil.half_height());
            let axes = wide.max(high) * grown - wide.min(high);
            axes + levers.fold(0.0, f64::max)
        })
        .fold(0.0, f64::max);
    let start = opening.record().rotation.degrees();
    let mut turns = Vec::new();
    changes(&room, lever, (start, start + 360.0), &mut turns);
    let Some(&first) = turns.first() else {
        let all = Arc {
            from: 0.0,
            to: 360.0,
        };
        return (room(start) < 0.0).then_some(all).into_iter().collect();
    };
    turns.push(first + 360.0);
    (turns.windows(2))
        .filter(|ends| room(f64::midpoint(ends[0], ends[1])) < 0.0)
        .map(|ends| {
            let from = wrapped(ends[0]);
            Arc {
                from,
                to: from + (ends[1] - ends[0]),
            }
        })
        .collect()
}

/// A stretch of turns that leave the picture clear.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClearTurn {
    /// Its middle, degrees counter-clockwise, [0, 180): nothing in front of a
    /// lens has a front end.
    pub middle: f64,
    /// How far to either side, degrees.
    pub half: f64,
    /// Whether its middle is as the opening hangs, upright.
    pub upright: bool,
}

/// The widest stretch between arcs that shade, the upright one where several are
/// as wide; `None` where it shades at every turn, or at none.
pub(super) fn widest_clear(arcs: &[Arc]) -> Option<ClearTurn> {
    let mut arcs = arcs.to_vec();
    sort_by(&mut arcs, |one, other| one.from.total_cmp(&other.from));
    let next = |at: usize| match arcs.get(at + 1) {
        Some(arc) => arc.from,
        None => arcs[0].from + 360.0,
    };
    let gaps = (arcs.iter().enumerate()).map(|(at, arc)| {
        let (from, to) = (arc.to, next(at));
        let half_turn = wrapped(f64::midpoint(from, to)) % 180.0;
        ClearTurn {
            middle: half_turn,
            half: (to - from) / 2.0,
            upright: half_turn.min(180.0 - half_turn) < UPRIGHT_DEG,
        }
    });
    let wide = |turn: &ClearTurn| turn.half + if turn.upright { NARROWEST_ARC_DEG } else { 0.0 };
    gaps.filter(|turn| turn.half > 0.0)
        .max_by(|one, other| wide(one).total_cmp(&wide(other)))
}

/// A middle this near upright is called so: finer than a hand sets it.
const UPRIGHT_DEG: f64 = 0.5;

/// Where `room` changes sign between two angles, in order.
fn changes(room: &dyn Fn(f64) -> f64, lever: f64, ends: (f64, f64), found: &mut Vec<f64>) {
    let (from, to) = ends;
    let half = (to - from) / 2.0;
    let middle = from + half;
    if libm::fabs(room(middle)) > lever * half.to_radians() {
        return;
    }
    if 2.0 * half <= NARROWEST_ARC_DEG {
        if (room(from) < 0.0) != (room(to) < 0.0) {
            found.push(sign_change(room, from, to));
        }
        return;
    }
    changes(room, lever, (from, middle), found);
    changes(room, lever, (middle, to), found);
}

fn wrapped(degrees: f64) -> f64 {
    let turn = libm::fmod(degrees, 360.0);
    if turn < 0.0 { turn + 360.0 } else { turn }
}
