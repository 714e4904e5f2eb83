//! Rows of a map point by point, where no short cut holds.

use super::FrameGlass;
use super::pixels::{count, single, whole};
use super::shade::{Grid, spacing};
use crate::quantity::Stops;

/// A stretch of pixels is at most so long before it is looked at again.
const WIDEST: usize = 16;
/// So short a stretch is asked pixel by pixel.
const SHORT: usize = 3;
/// A parabola may miss the loss by so many stops where it is checked.
const OFF_BY: f64 = 2e-4;

/// What a row is asked of.
#[derive(Debug, Clone, Copy)]
pub(super) struct ExactRow<'a> {
    pub(super) glass: &'a FrameGlass,
    pub(super) grid: Grid,
    /// No longer than the smallest shadow the pupil casts.
    pub(super) stride: usize,
}

/// Stretches no longer than the shadow of the pupil by way of any opening or
/// filter: each is looked at in four places, so that none is passed over.
pub(super) fn stride(glass: &FrameGlass, grid: Grid) -> usize {
    let lines = (glass.lines.iter()).map(|line| {
        whole(
            line.share_of_frame(2.0 * line.half()) * count(grid.rows),
            WIDEST,
        )
    });
    let openings = spacing(grid, &glass.pupil, &glass.openings);
    lines.fold(openings.min(WIDEST), usize::min).max(1)
}

impl ExactRow<'_> {
    /// Sets a run of pixels to all that glass and openings take; NaN where the
    /// chief ray is stopped.
    pub(super) fn fill(&self, row: usize, (from, to): (usize, usize), pixels: &mut [f32]) {
        if from >= to {
            return;
        }
        let mut here = (from, self.at(from, row));
        pixels[from] = written(here.1);
        while here.0 + 1 < to {
            let next = (here.0 + self.stride).min(to - 1);
            let there = (next, self.at(next, row));
            self.between(row, here, there, pixels);
            pixels[next] = written(there.1);
            here = there;
        }
    }

    fn at(&self, column: usize, row: usize) -> Option<f64> {
        let field = self.grid.field(count(column), count(row));
        self.glass.glass_towards(field).map(Stops::stops)
    }

    /// Fills what lies between two pixels, one parabola where that is close
    /// enough and halves where it is not.
    fn between(&self, row: usize, from: Known, to: Known, pixels: &mut [f32]) {
        let length = to.0 - from.0;
        if length <= SHORT {
            for (column, pixel) in (from.0 + 1..to.0).zip(&mut pixels[from.0 + 1..to.0]) {
                *pixel = written(self.at(column, row));
            }
            return;
        }
        let half = from.0 + length / 2;
        let middle = (half, self.at(half, row));
        if self.is_close(row, [from, middle, to]) {
            for (column, pixel) in (from.0 + 1..to.0).zip(&mut pixels[from.0 + 1..to.0]) {
                *pixel = written(through(column, [from, middle, to]));
            }
            return;
        }
        self.between(row, from, middle, pixels);
        pixels[half] = written(middle.1);
        self.between(row, middle, to, pixels);
    }

    fn is_close(&self, row: usize, three: [Known; 3]) -> bool {
        let [from, middle, to] = three;
        [
            usize::midpoint(from.0, middle.0),
            usize::midpoint(middle.0, to.0),
        ]
        .into_iter()
        .all(
            |column| match (self.at(column, row), through(column, three)) {
                (Some(found), Some(drawn)) => libm::fabs(found - drawn) <= OFF_BY,
                (None, None) => three.iter().all(|known| known.1.is_none()),
                _ => false,
            },
        )
    }
}

/// A pixel and what it loses.
type Known = (usize, Option<f64>);

fn written(stops: Option<f64>) -> f32 {
    stops.map_or(f32::NAN, single)
}

/// The parabola through three pixels.
fn through(column: usize, [from, middle, to]: [Known; 3]) -> Option<f64> {
    let x = |column: usize| count(column);
    let [a, b, c] = [x(from.0), x(middle.0), x(to.0)];
    let at = x(column);
    let part = |value: f64, here: f64, one: f64, other: f64| {
        value * (at - one) * (at - other) / ((here - one) * (here - other))
    };
    let (first, second, third) = (from.1?, middle.1?, to.1?);
    Some(part(first, a, b, c) + part(second, b, a, c) + part(third, c, a, b))
}
