//! Lamps on the mains, frame rate and shutter.

use crate::quantity::{FrameRate, MainsFrequency, Seconds, ShutterAngle, Stops};
use alloc::vec::Vec;

/// The most safe angles listed at once; more only below a few frames a second.
pub const MAX_SAFE_ANGLES: usize = 60;

/// How many pulses of light fall into one frame.
///
/// # Units
///
/// A lamp on alternating current pulses twice a cycle: 2·mains/fps.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::flicker::pulses_a_frame;
/// use glasscall_core::quantity::{FrameRate, MainsFrequency};
///
/// assert_eq!(pulses_a_frame(FrameRate::constant(25.0), MainsFrequency::constant(50.0)), 4.0);
/// ```
#[must_use]
pub fn pulses_a_frame(rate: FrameRate, mains: MainsFrequency) -> f64 {
    2.0 * mains.hertz() / rate.per_second()
}

/// The shutter angles that hold whole pulses, so that every frame gets the same
/// light, narrowest first.
///
/// Good for lamps that follow the mains. Lamps on electronics of their own may
/// flicker at any rate and need a test.
///
/// # Units
///
/// 360°·n·fps/(2·mains) for n = 1, 2, … up to 360°.
///
/// # Domain
///
/// Empty when not even one pulse fits the frame.
///
/// # Source
///
/// Our derivation: the mean of a periodic light over whole periods does not
/// depend on where they begin.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::flicker::safe_angles;
/// use glasscall_core::quantity::{FrameRate, MainsFrequency, ShutterAngle};
///
/// let mains = MainsFrequency::constant(50.0);
/// let angles = safe_angles(FrameRate::constant(25.0), mains);
/// assert_eq!(angles, [90.0, 180.0, 270.0, 360.0].map(ShutterAngle::constant));
/// // Not one pulse in a frame.
/// assert!(safe_angles(FrameRate::constant(200.0), mains).is_empty());
/// ```
#[must_use]
pub fn safe_angles(rate: FrameRate, mains: MainsFrequency) -> Vec<ShutterAngle> {
    let pulses = pulses_a_frame(rate, mains);
    (1..=MAX_SAFE_ANGLES)
        .map_while(|count| safe_angle(count, pulses))
        .collect()
}

/// The safe angle next to this one; `None` when there is none at all.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::flicker::nearest_safe_angle;
/// use glasscall_core::quantity::{FrameRate, MainsFrequency, ShutterAngle};
///
/// let [rate, mains] = [FrameRate::constant(24.0).per_second(), 50.0];
/// let angle = nearest_safe_angle(
///     ShutterAngle::constant(180.0),
///     FrameRate::new(rate)?,
///     MainsFrequency::new(mains)?,
/// );
/// assert!((angle.map_or(0.0, ShutterAngle::degrees) - 172.8).abs() < 1e-9);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
#[must_use]
pub fn nearest_safe_angle(
    angle: ShutterAngle,
    rate: FrameRate,
    mains: MainsFrequency,
) -> Option<ShutterAngle> {
    let pulses = pulses_a_frame(rate, mains);
    let most = libm::floor(pulses + SLACK);
    let count = libm::round(angle.degrees() / 360.0 * pulses).clamp(1.0, most.max(1.0));
    angle_of(count, pulses)
}

/// What moving the shutter from one angle to another takes.
///
/// # Units
///
/// Stops, log2(from/to); negative when the wider angle lets in more.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::flicker::loss_of_change;
/// use glasscall_core::quantity::ShutterAngle;
///
/// let [half, quarter] = [180.0, 90.0].map(ShutterAngle::constant);
/// assert_eq!(loss_of_change(half, quarter).stops(), 1.0);
/// ```
#[must_use]
pub fn loss_of_change(from: ShutterAngle, to: ShutterAngle) -> Stops {
    Stops::computed(libm::log2(from.degrees() / to.degrees()))
}

/// How often the picture pulses when the angle is not safe.
///
/// # Units
///
/// Hertz: how far 2·mains is from a whole multiple of the frame rate. At 0 every
/// frame catches the pulses alike, whatever the angle.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::flicker::beat;
/// use glasscall_core::quantity::{FrameRate, MainsFrequency};
///
/// let mains = MainsFrequency::constant(50.0);
/// assert!((beat(FrameRate::constant(24.0), mains) - 4.0).abs() < 1e-9);
/// assert_eq!(beat(FrameRate::constant(25.0), mains), 0.0);
/// ```
#[must_use]
pub fn beat(rate: FrameRate, mains: MainsFrequency) -> f64 {
    let pulses = pulses_a_frame(rate, mains);
    (pulses - libm::round(pulses)).abs() * rate.per_second()
}

/// How many bands a sensor that reads line by line draws down the picture, each
/// a pulse of the lamp; at a [`beat`] of 0 they stand still.
///
/// # Units
///
/// 2·mains·t, t from the first line read to the last.
///
/// # Source
///
/// Our derivation: a line's exposure begins later by its share of the readout,
/// and the light repeats 2·mains times a second.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::flicker::bands;
/// use glasscall_core::quantity::{MainsFrequency, Seconds};
///
/// assert!((bands(Seconds::constant(0.016), MainsFrequency::constant(50.0)) - 1.6).abs() < 1e-12);
/// ```
#[must_use]
pub fn bands(readout: Seconds, mains: MainsFrequency) -> f64 {
    2.0 * mains.hertz() * readout.seconds()
}

/// How much frames differ at worst, for a lamp that goes dark between pulses.
///
/// # Units
///
/// Half the swing over the mean, 0 (even) to 1: |sin πx/πx|, x the pulses in the
/// exposure.
///
/// # Source
///
/// Our derivation: mean of 1 + cos over the exposure. Real lamps swing less.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::flicker::ripple;
/// use glasscall_core::quantity::{MainsFrequency, Seconds};
///
/// let mains = MainsFrequency::constant(50.0);
/// // A whole pulse, and half of one: 2/π.
/// assert!(ripple(Seconds::constant(0.01), mains) < 1e-12);
/// assert!((ripple(Seconds::constant(0.005), mains) - 0.6366).abs() < 1e-4);
/// ```
#[must_use]
pub fn ripple(time: Seconds, mains: MainsFrequency) -> f64 {
    let turns = core::f64::consts::PI * 2.0 * mains.hertz() * time.seconds();
    if turns < 1e-8 {
        1.0
    } else {
        (libm::sin(turns) / turns).abs()
    }
}

/// Rounding of a rate such as 23.976 must not cost the last safe angle.
const SLACK: f64 = 1e-9;

#[expect(clippy::cast_precision_loss, reason = "counts to 60")]
fn safe_angle(count: usize, pulses: f64) -> Option<ShutterAngle> {
    angle_of(count as f64, pulses)
}

fn angle_of(count: f64, pulses: f64) -> Option<ShutterAngle> {
    if count > pulses + SLACK {
        return None;
    }
    ShutterAngle::new((360.0 * count / pulses).min(360.0)).ok()
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::setup::Shutter;

    fn rate(rate: f64) -> FrameRate {
        FrameRate::new(rate).unwrap()
    }

    fn mains(hertz: f64) -> MainsFrequency {
        MainsFrequency::new(hertz).unwrap()
    }

    fn degrees(fps: f64, hertz: f64) -> Vec<f64> {
        let angles = safe_angles(rate(fps), mains(hertz));
        angles.into_iter().map(ShutterAngle::degrees).collect()
    }

    #[test]
    fn twenty_four_frames_under_fifty_hertz_want_a_hundred_and_seventy_two_point_eight() {
        // Common practice, no source: 172.8° at 50 Hz, 144° at 60 Hz.
        let fifty = [86.4, 172.8, 259.2, 345.6];
        let found = degrees(24.0, 50.0);
        assert_eq!(found.len(), fifty.len());
        assert!(found.iter().zip(fifty).all(|(a, b)| (a - b).abs() < 1e-12));
        let sixty = degrees(24.0, 60.0);
        assert!((sixty[1] - 144.0).abs() < 1e-12 && sixty.len() == 5);
    }

    #[test]
    fn a_safe_angle_lasts_whole_pulses() {
        for (fps, hertz) in [(23.976, 60.0), (25.0, 50.0), (29.97, 50.0), (48.0, 60.0)] {
            for angle in safe_angles(rate(fps), mains(hertz)) {
                let time = Shutter::Angle(angle).time_at(rate(fps)).unwrap();
                let pulses = 2.0 * hertz * time.seconds();
                assert!((pulses - libm::round(pulses)).abs() < 1e-9);
                assert!(ripple(time, mains(hertz)) < 1e-9);
            }
        }
    }

    #[test]
    fn the_nearest_is_on_the_list_and_none_is_nearer() {
        let (fps, hertz) = (rate(24.0), mains(50.0));
        for step in 1..72 {
            let angle = ShutterAngle::new(5.0 * f64::from(step)).unwrap();
            let found = nearest_safe_angle(angle, fps, hertz).unwrap().degrees();
            let off = |safe: f64| (safe - angle.degrees()).abs();
            assert!(
                degrees(24.0, 50.0)
                    .iter()
                    .all(|&safe| off(found) <= off(safe) + 1e-9)
            );
        }
    }

    #[test]
    fn half_the_angle_costs_a_stop() {
        let angle = |degrees| ShutterAngle::new(degrees).unwrap();
        assert_eq!(loss_of_change(angle(180.0), angle(90.0)).stops(), 1.0);
        assert_eq!(loss_of_change(angle(90.0), angle(180.0)).stops(), -1.0);
    }

    #[test]
    fn faster_than_the_pulses_nothing_is_safe() {
        assert!(degrees(120.0, 50.0).is_empty());
        let angle = ShutterAngle::new(180.0).unwrap();
        assert_eq!(nearest_safe_angle(angle, rate(120.0), mains(50.0)), None);
        // Exactly one pulse a frame leaves the whole frame.
        assert_eq!(degrees(100.0, 50.0), [360.0]);
    }

    #[test]
    fn twenty_four_under_fifty_hertz_pulses_four_times_a_second() {
        assert!((beat(rate(24.0), mains(50.0)) - 4.0).abs() < 1e-12);
        assert!(beat(rate(25.0), mains(50.0)) < 1e-12);
        assert!((beat(rate(23.976), mains(60.0)) - 0.12).abs() < 1e-9);
    }

    #[test]
    fn a_sum_over_the_exposure_gives_the_same_ripple() {
        // Independent route: the brightest and darkest mean by brute force.
        let (seconds, hertz) = (0.013, 50.0);
        let mean = |start: f64| {
            let slices = 2000;
            let light = |slice: i32| {
                let at = start + seconds * (f64::from(slice) + 0.5) / f64::from(slices);
                1.0 + libm::cos(4.0 * core::f64::consts::PI * hertz * at)
            };
            (0..slices).map(light).sum::<f64>() / f64::from(slices)
        };
        let means = (0..500).map(|step| mean(f64::from(step) * 2e-5));
        let (low, high) = means.fold((2.0f64, 0.0f64), |(l, h), m| (l.min(m), h.max(m)));
        let found = ripple(Seconds::new(seconds).unwrap(), mains(hertz));
        assert!(((high - low) / 2.0 - found).abs() < 1e-4);
    }

    #[test]
    fn the_open_shutter_is_safe_where_a_frame_holds_whole_pulses() {
        // 120 pulses a second in 24 frames: five whole ones.
        let open = ShutterAngle::new(360.0).unwrap();
        let found = nearest_safe_angle(open, rate(24.0), mains(60.0));
        assert_eq!(found.unwrap().degrees(), 360.0);
    }
}
