//! A change during the shot that the viewer must not see in the exposure.

use super::equation::change_but_iris;
use crate::quantity::{Aperture, FrameRate, OutOfRange, ShutterAngle, Stops};
use crate::setup::{Settings, Shutter};
use alloc::vec::Vec;

/// The most steps of a ramp.
pub const MAX_STEPS: usize = 200;

/// The control that holds the exposure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeldBy {
    /// The shutter angle follows; how motion blurs changes.
    Angle,
    /// The iris follows; depth of field changes.
    Iris,
    /// Variable density is turned; two polarizers change reflections and the
    /// evenness of wide frames.
    Turn,
}

/// One moment of a ramp.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// How far through: 0 at the start, 1 at the end.
    pub at: f64,
    /// What to set, the holding control included.
    pub set: Settings,
    /// Stops the variable density takes beyond what it took at the start;
    /// 0 when another control holds.
    pub turn: Stops,
}

/// A moment the holding control cannot reach.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stuck {
    /// How far through.
    pub at: f64,
    /// The bound that is hit.
    pub why: OutOfRange,
}

/// The steps of a ramp at constant exposure; those that are reached, and where
/// it sticks, if it does.
///
/// Frame rate and shutter angle change evenly, the iris evenly in stops. The
/// control that holds starts as `from` has it; what `to` says of it is not used.
///
/// # Units
///
/// A shutter given as a time is held as a time unless the angle holds.
/// `steps` counts moments, both ends included.
///
/// # Source
///
/// From the exposure equation, ISO 2720:1974: see [`change_but_iris`].
#[must_use]
pub fn ramp(from: Settings, to: Settings, by: HeldBy, steps: usize) -> (Vec<Step>, Option<Stuck>) {
    let mut reached = Vec::new();
    for at in moments(steps) {
        match step(from, to, by, at) {
            Ok(step) => reached.push(step),
            Err(why) => return (reached, Some(Stuck { at, why })),
        }
    }
    (reached, None)
}

#[expect(clippy::cast_precision_loss, reason = "counts to 200")]
fn moments(steps: usize) -> impl Iterator<Item = f64> {
    let steps = steps.clamp(2, MAX_STEPS);
    (0..steps).map(move |step| step as f64 / (steps - 1) as f64)
}

fn step(from: Settings, to: Settings, by: HeldBy, at: f64) -> Result<Step, OutOfRange> {
    let mix = |from: f64, to: f64| from + (to - from) * at;
    let rate = mix(from.frame_rate.per_second(), to.frame_rate.per_second());
    let moved = Settings {
        frame_rate: FrameRate::new(rate)?,
        aperture: match by {
            HeldBy::Iris => from.aperture,
            _ => Aperture::from_index(mix(from.aperture.index(), to.aperture.index()))?,
        },
        shutter: match (by, from.shutter, to.shutter) {
            (HeldBy::Angle, ..) => from.shutter,
            (_, Shutter::Angle(from), Shutter::Angle(to)) => {
                Shutter::Angle(ShutterAngle::new(mix(from.degrees(), to.degrees()))?)
            }
            (_, shutter, _) => shutter,
        },
        ..from
    };
    let brighter = change_but_iris(from, moved)? - from.aperture.stops_to(moved.aperture);
    let mut step = Step {
        at,
        set: moved,
        turn: Stops::ZERO,
    };
    match by {
        HeldBy::Angle => {
            let time = moved.time()?.seconds() / brighter.factor();
            // As an angle: what a time may be depends on the frame it must fit.
            let angle = ShutterAngle::new(time * 360.0 * rate)?;
            step.set.shutter = Shutter::Angle(angle);
        }
        HeldBy::Iris => step.set.aperture = moved.aperture.closed_by(brighter)?,
        HeldBy::Turn => step.turn = brighter,
    }
    Ok(step)
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::quantity::ExposureIndex;

    fn settings(aperture: f64, rate: f64, angle: f64) -> Settings {
        Settings {
            aperture: Aperture::from_marking(aperture).unwrap(),
            exposure_index: ExposureIndex::new(800.0).unwrap(),
            frame_rate: FrameRate::new(rate).unwrap(),
            shutter: Shutter::Angle(ShutterAngle::new(angle).unwrap()),
        }
    }

    fn angle(step: Step) -> f64 {
        let angle = step.set.shutter.angle_at(step.set.frame_rate);
        angle.unwrap().degrees()
    }

    #[test]
    fn twice_the_frames_want_twice_the_angle_or_a_stop() {
        let (from, to) = (settings(4.0, 24.0, 90.0), settings(4.0, 48.0, 90.0));
        let last = |by| *ramp(from, to, by, 5).0.last().unwrap();
        assert!((angle(last(HeldBy::Angle)) - 180.0).abs() < 1e-12);
        let iris = last(HeldBy::Iris).set.aperture;
        assert!((iris.number() - libm::sqrt(8.0)).abs() < 1e-12);
        assert!((last(HeldBy::Turn).turn.stops() + 1.0).abs() < 1e-12);
    }

    #[test]
    fn every_moment_is_exposed_alike() {
        let (from, to) = (settings(2.8, 24.0, 180.0), settings(8.0, 60.0, 144.0));
        for by in [HeldBy::Iris, HeldBy::Turn] {
            let (steps, stuck) = ramp(from, to, by, 31);
            assert!(stuck.is_none() && steps.len() == 31);
            for step in steps {
                let gained = change_but_iris(from, step.set).unwrap()
                    - from.aperture.stops_to(step.set.aperture);
                assert!((gained - step.turn).stops().abs() < 1e-12);
            }
        }
    }

    #[test]
    fn a_pull_of_the_iris_is_held_by_turning() {
        let (from, to) = (settings(2.8, 24.0, 180.0), settings(11.0, 24.0, 180.0));
        let (steps, _) = ramp(from, to, HeldBy::Turn, 3);
        let taken: Vec<f64> = steps.iter().map(|step| step.turn.stops()).collect();
        assert!((taken[1] + 2.0).abs() < 1e-12 && (taken[2] + 4.0).abs() < 1e-12);
    }

    #[test]
    fn an_angle_that_runs_out_says_where() {
        let (from, to) = (settings(4.0, 24.0, 180.0), settings(4.0, 96.0, 180.0));
        let (steps, stuck) = ramp(from, to, HeldBy::Angle, 4);
        // 24 to 96 in thirds: 48 is the last that fits, at 360°.
        assert_eq!(steps.len(), 2);
        assert!((stuck.unwrap().at - 2.0 / 3.0).abs() < 1e-12);
    }
}
