//! A graduated filter's loss, tabulated once for all pixels.

use crate::physics::graduated::Footprint;
use crate::physics::line::Line;
use crate::physics::profile::Profile;
use alloc::vec::Vec;

/// Cells between the two places where the glass is even, when there is a step:
/// its loss bends sharply where its light begins and ends.
const STEP_CELLS: usize = 4096;
/// The same for ramps alone, which are smooth.
const RAMP_CELLS: usize = 1024;

/// Stops against the footprint's centre, straight between the cells' ends.
///
/// # Accuracy
///
/// Within 0.0015 stop up to density 1.2, for a step up to 3. The worst is the
/// very end of a step on its dense side, where the last light goes as the power
/// 3/2 of the distance; soft ends are within 10⁻⁴.
#[derive(Debug, Clone, Default)]
pub(super) struct LossTable {
    made_for: Option<(Profile, f64)>,
    from: f64,
    cells_per_mm: f64,
    last: f32,
    stops: Vec<f32>,
}

impl LossTable {
    /// Makes it for this filter and pupil unless it is already. Moving the line
    /// leaves it as it is.
    pub(super) fn prepare(&mut self, line: &Line) {
        let half = line.half();
        let made = (self.made_for.as_ref())
            .is_some_and(|(profile, made)| *made == half && profile == line.profile());
        if made {
            return;
        }
        let (from, to) = line.profile().span();
        let (from, to) = (from - half, to + half);
        let cells = if line.profile().has_steps() {
            STEP_CELLS
        } else {
            RAMP_CELLS
        };
        self.from = from;
        self.cells_per_mm = to_float(cells) / (to - from);
        self.last = single(to_float(cells));
        self.stops.clear();
        self.stops.extend((0..=cells).map(|cell| {
            let centre = from + (to - from) * to_float(cell) / to_float(cells);
            let stops = Footprint::computed(centre, half).loss(line.profile());
            single(stops.stops())
        }));
        self.made_for = Some((line.profile().clone(), half));
    }

    /// Where a centre in mm falls in the table, as a scale and an offset.
    pub(super) const fn scale(&self) -> (f64, f64) {
        (self.cells_per_mm, -self.from * self.cells_per_mm)
    }

    /// The stops at a place in cells; beyond either end the glass is even.
    #[inline(always)]
    pub(super) fn at(&self, cells: f32) -> f32 {
        let inside = cells.max(0.0).min(self.last);
        // Truncation is wanted, and the clamp keeps it in range.
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "clamped to the cells"
        )]
        let cell = (inside as usize).min(self.stops.len().saturating_sub(2));
        #[expect(clippy::cast_precision_loss, reason = "a table has 4096 cells at most")]
        let beyond = inside - cell as f32;
        match self.stops.get(cell..cell + 2) {
            Some([low, high]) => low + (high - low) * beyond,
            _ => 0.0,
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "a table has 4096 cells at most")]
const fn to_float(cells: usize) -> f64 {
    cells as f64
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "a map holds single precision"
)]
pub(super) const fn single(value: f64) -> f32 {
    value as f32
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::{LossTable, single};
    use crate::physics::graduated::Footprint;
    use crate::physics::line::tests::{held, lens};
    use crate::physics::line::{Line, Place};
    use crate::physics::profile::Profile;
    use crate::physics::profile::tests::{d, mm};

    /// The largest error over a tabulated filter.
    fn worst(profile: Profile, number: f64) -> f64 {
        let (view, pupil) = lens([24.9, 14.0], 1.0, 35.0, number);
        let place = Place::InFrame(0.5);
        let line = Line::new(profile, held(80.0, 0.0, false), view, &pupil, place).unwrap();
        let mut table = LossTable::default();
        table.prepare(&line);
        let (scale, offset) = table.scale();
        (-9000..9000)
            .map(|step| {
                let centre = f64::from(step) * 0.003_7;
                let exact = Footprint::computed(centre, line.half()).loss(line.profile());
                let found = f64::from(table.at(single(centre * scale + offset)));
                (found - exact.stops()).abs()
            })
            .fold(0.0, f64::max)
    }

    #[test]
    fn a_step_is_within_the_stated_error() {
        for number in [1.4, 2.8, 8.0, 22.0] {
            let step = |density| Profile::hard(d(density), mm(0.0)).unwrap();
            assert!(worst(step(0.3), number) < 1e-4);
            assert!(worst(step(1.2), number) < 1e-3);
            assert!(
                worst(step(3.0), number) < 5e-3,
                "{}",
                worst(step(3.0), number)
            );
        }
    }

    #[test]
    fn ramps_are_within_the_stated_error() {
        for number in [1.4, 4.0, 22.0] {
            for (profile, bound) in [
                (Profile::soft(d(1.2), mm(30.0)), 1e-4),
                (Profile::smooth(d(0.9), mm(45.0)), 1e-4),
                (Profile::stripe(d(0.6), mm(8.0)), 1e-3),
                (Profile::reverse(d(0.9), d(0.3), mm(40.0)), 1.5e-3),
            ] {
                let profile = profile.unwrap();
                let off = worst(profile.clone(), number);
                assert!(off < bound, "{profile:?} at {number}: {off}");
            }
        }
    }
}
