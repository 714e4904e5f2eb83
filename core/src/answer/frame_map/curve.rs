//! A graduated filter's loss in pieces, laid once for all pixels.

use super::shade::Grid;
use super::{FrameGlass, pixels};
use crate::physics::graduated::Footprint;
use crate::physics::line::Line;
use crate::physics::profile::Profile;
use crate::sorted::sort_numbers;
use alloc::vec::Vec;

/// A piece may miss the loss by so many stops.
const OFF_BY: f64 = 3e-5;
/// A stretch between two bends of the glass is halved so often at the least,
/// lest the two places that are looked at agree by chance.
const LEAST_HALVINGS: u8 = 1;
/// And at the most: the last light behind a step goes as the power 3/2 of the
/// distance, which no parabola does.
const MOST_HALVINGS: u8 = 14;

/// Stops against the footprint's centre, in parabolas close enough.
///
/// A row of pixels meets each piece in one run, and a run needs no table to be
/// read: the compiler makes vectors of it. On even glass and within a ramp the
/// pieces are long, since there the loss is exactly straight.
///
/// # Accuracy
///
/// Within 4·10⁻⁵ stop, for steps and ramps up to density 3.
#[derive(Debug, Clone, Default)]
pub(super) struct LossCurve {
    made_for: Option<(Profile, f64)>,
    /// By rising place; the first begins nowhere, the last ends nowhere.
    pieces: Vec<Piece>,
}

/// From a place on, stops + d·(slope + d·bend) at d mm from its origin.
#[derive(Debug, Clone, Copy)]
struct Piece {
    from: f64,
    origin: f64,
    stops: f64,
    slope: f64,
    bend: f64,
}

impl Piece {
    const fn even(from: f64, stops: f64) -> Self {
        Self {
            from,
            origin: 0.0,
            stops,
            slope: 0.0,
            bend: 0.0,
        }
    }

    #[inline]
    fn at(&self, centre: f64) -> f64 {
        let d = centre - self.origin;
        self.stops + d * (self.slope + d * self.bend)
    }

    /// Adds it to a run of pixels: the first at `centre`, each next one `step`
    /// further.
    #[inline]
    fn add(&self, run: &mut [f32], centre: f64, step: f64) {
        let slope = self.slope + 2.0 * self.bend * (centre - self.origin);
        let parts = [self.at(centre), slope * step, self.bend * step * step];
        pixels::add_parabola(run, parts);
    }
}

impl LossCurve {
    /// Makes it for this filter and pupil unless it is already. Moving the line
    /// leaves it as it is.
    pub(super) fn prepare(&mut self, line: &Line) {
        let (profile, half) = (line.profile(), line.half());
        let made = (self.made_for.as_ref())
            .is_some_and(|(made_for, made)| *made == half && made_for == profile);
        if made {
            return;
        }
        let loss = |centre| Footprint::computed(centre, half).loss(profile).stops();
        // The loss bends only where an end of the footprint meets a bend.
        let mut bends: Vec<f64> = (profile.bends())
            .flat_map(|bend| [bend - half, bend + half])
            .collect();
        sort_numbers(&mut bends);
        bends.dedup();
        let low = bends.first().copied().unwrap_or(0.0);
        self.pieces.clear();
        self.pieces.push(Piece::even(f64::NEG_INFINITY, loss(low)));
        for ends in bends.windows(2) {
            lay(&loss, (ends[0], ends[1]), 0, &mut self.pieces);
        }
        if let Some(&high) = bends.last() {
            self.pieces.push(Piece::even(high, loss(high)));
        }
        self.made_for = Some((profile.clone(), half));
    }

    /// Lays a row of a map: even glass and the filter, if there is one.
    #[inline]
    pub(super) fn add_row(&self, glass: &FrameGlass, grid: Grid, row: usize, pixels: &mut [f32]) {
        pixels.fill(pixels::single(glass.uniform.stops()));
        let Some(line) = glass.lines.first() else {
            return;
        };
        let [right, up, axis] = line.centre_of_field();
        let (first, next) = (grid.field(0.0, 0.0).x, grid.field(1.0, 0.0).x);
        let y = grid.field(0.0, pixels::count(row)).y;
        self.add(
            pixels,
            right * first + up * y + axis,
            right * (next - first),
        );
    }

    /// Adds one row: the footprint's centre is `first` mm from the line in its
    /// first pixel and `step` mm further in each next one.
    #[inline]
    pub(super) fn add(&self, row: &mut [f32], first: f64, step: f64) {
        let last = first + step * pixels::count(row.len());
        let (low, high) = (first.min(last), first.max(last));
        let begin = (self.pieces)
            .partition_point(|piece| piece.from <= low)
            .saturating_sub(1);
        let end = self.pieces.partition_point(|piece| piece.from < high);
        let met = self
            .pieces
            .get(begin..end.max(begin + 1))
            .unwrap_or_default();
        let mut from = 0;
        for nth in 0..met.len() {
            // Against the row's direction the pieces come from the far end, and
            // one gives way where it begins.
            let (piece, gives_way) = if step >= 0.0 {
                (met[nth], met.get(nth + 1).map(|next| next.from))
            } else {
                let piece = met[met.len() - 1 - nth];
                (piece, (nth + 1 < met.len()).then_some(piece.from))
            };
            let to = gives_way.map_or(row.len(), |centre| {
                pixels::whole(libm::ceil((centre - first) / step), row.len())
            });
            if to > from {
                let centre = first + step * pixels::count(from);
                piece.add(&mut row[from..to], centre, step);
                from = to;
            }
        }
    }
}

/// Lays parabolas between two places, as few as stay close enough.
fn lay(loss: &dyn Fn(f64) -> f64, ends: (f64, f64), halved: u8, pieces: &mut Vec<Piece>) {
    let (from, to) = ends;
    let length = to - from;
    let along = |share: f64| from + share * length;
    let [first, middle, last] = [0.0, 0.5, 1.0].map(|share| loss(along(share)));
    // Through both ends and the middle.
    let piece = Piece {
        from,
        origin: from,
        stops: first,
        slope: (4.0 * middle - 3.0 * first - last) / length,
        bend: 2.0 * (first - 2.0 * middle + last) / (length * length),
    };
    let close = |share: f64| {
        let centre = along(share);
        libm::fabs(piece.at(centre) - loss(centre)) <= OFF_BY
    };
    let checked = halved >= LEAST_HALVINGS && close(0.2) && close(0.8);
    if checked || halved >= MOST_HALVINGS {
        pieces.push(piece);
    } else {
        lay(loss, (from, along(0.5)), halved + 1, pieces);
        lay(loss, (along(0.5), to), halved + 1, pieces);
    }
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::LossCurve;
    use crate::physics::graduated::Footprint;
    use crate::physics::line::tests::{held, lens};
    use crate::physics::line::{Line, Place};
    use crate::physics::profile::Profile;
    use crate::physics::profile::tests::{d, mm};
    use alloc::vec;
    extern crate std;

    fn line(profile: Profile, number: f64) -> Line {
        let (view, pupil) = lens([24.9, 14.0], 1.0, 35.0, number);
        let place = Place::InFrame(0.5);
        Line::new(profile, held(80.0, 0.0, false), view, &pupil, place).unwrap()
    }

    /// The largest error of rows across a filter, run through either way, and
    /// of how many pieces it is made.
    fn worst(profile: Profile, number: f64) -> (f64, usize) {
        let line = line(profile, number);
        let mut curve = LossCurve::default();
        curve.prepare(&line);
        let mut worst = 0.0;
        for (first, step) in [
            (-33.3, 0.0167),
            (33.0, -0.0167),
            (-40.0, 0.11),
            (30.0, -0.7),
        ] {
            let mut row = vec![0.0_f32; 4_000];
            curve.add(&mut row, first, step);
            for (at, &found) in (0..).zip(&row) {
                let centre = first + step * f64::from(at);
                let exact = Footprint::computed(centre, line.half()).loss(line.profile());
                worst = f64::max(worst, (f64::from(found) - exact.stops()).abs());
            }
        }
        (worst, curve.pieces.len())
    }

    #[test]
    fn every_profile_is_within_the_stated_error() {
        for number in [1.4, 2.8, 8.0, 22.0] {
            for profile in [
                Profile::hard(d(0.3), mm(0.0)),
                Profile::hard(d(1.2), mm(0.0)),
                Profile::hard(d(3.0), mm(0.0)),
                Profile::soft(d(1.2), mm(30.0)),
                Profile::smooth(d(0.9), mm(45.0)),
                Profile::stripe(d(0.6), mm(8.0)),
                Profile::reverse(d(0.9), d(0.3), mm(40.0)),
            ] {
                let profile = profile.unwrap();
                let (off, pieces) = worst(profile.clone(), number);
                assert!(off < 4e-5, "{profile:?} at {number}: {off}");
                assert!(pieces < 100, "{profile:?} at {number}: {pieces} pieces");
            }
        }
    }

    #[test]
    fn a_level_row_has_one_value() {
        let line = line(Profile::soft(d(0.9), mm(30.0)).unwrap(), 4.0);
        let mut curve = LossCurve::default();
        curve.prepare(&line);
        for step in [0.0, 1e-18, -1e-18] {
            let mut row = [1.0_f32; 50];
            curve.add(&mut row, 0.0, step);
            // Half the density on the line, and the averaging takes a little.
            assert!(row.iter().all(|stops| *stops == row[0]));
            assert!((row[0] - 2.495).abs() < 0.05, "{}", row[0]);
        }
    }

    #[test]
    fn even_glass_is_one_piece() {
        let line = line(Profile::even(d(0.3)), 4.0);
        let mut curve = LossCurve::default();
        curve.prepare(&line);
        let mut row = [0.0_f32; 9];
        curve.add(&mut row, -3.0, 1.0);
        assert!(row.iter().all(|stops| (stops - 0.996_578).abs() < 1e-5));
    }
}
