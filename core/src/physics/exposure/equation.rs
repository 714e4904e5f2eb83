//! Light, stop, time and exposure index, tied by the exposure equations.

use crate::quantity::{
    Aperture, Density, EvAt100, ExposureIndex, Illuminance, IncidentConstant, Luminance,
    OutOfRange, ReflectedConstant, Seconds, Stops,
};
use crate::setup::Settings;

/// C for a flat receptor, lx·s; ISO 2720 allows 240 to 400.
pub const FLAT_RECEPTOR: IncidentConstant = IncidentConstant::constant(250.0);
/// C for a dome; ISO 2720 allows 320 to 540.
pub const DOME_RECEPTOR: IncidentConstant = IncidentConstant::constant(330.0);
/// K, cd·s/m²; ISO 2720 allows 10.6 to 13.4.
pub const REFLECTED: ReflectedConstant = ReflectedConstant::constant(12.5);
/// The stop for a front-lit subject in clear sun when t is 1/EI.
///
/// Common practice, no source.
pub const CLEAR_SUN_APERTURE: f64 = 16.0;

/// Stop, time and index: all of the camera that the equations know.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Exposure {
    /// The aperture number N, a T-number where known.
    pub aperture: Aperture,
    /// The time t.
    pub time: Seconds,
    /// The exposure index S.
    pub index: ExposureIndex,
}

impl Exposure {
    /// The scene's exposure value at EI 100 that these settings expose right.
    ///
    /// # Units
    ///
    /// EV = log2(N²/t) − log2(S/100), t in seconds.
    ///
    /// # Errors
    ///
    /// [`OutOfRange`] beyond ±40 EV.
    ///
    /// # Source
    ///
    /// The definition behind ISO 2720:1974.
    pub fn ev_at_100(self) -> Result<EvAt100, OutOfRange> {
        let of_settings = self.aperture.index() - libm::log2(self.time.seconds());
        EvAt100::new(of_settings - libm::log2(self.index.index() / 100.0))
    }
}

/// The aperture that a scene needs at this time and index.
///
/// # Errors
///
/// [`OutOfRange`] when no such aperture number is allowed.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::exposure::{aperture_for, clear_sun};
/// use glasscall_core::quantity::{ExposureIndex, Seconds};
///
/// let index = ExposureIndex::constant(800.0);
/// let aperture = aperture_for(clear_sun(), Seconds::constant(1.0 / 800.0), index)?;
/// assert!((aperture.number() - 16.0).abs() < 1e-9);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn aperture_for(
    scene: EvAt100,
    time: Seconds,
    index: ExposureIndex,
) -> Result<Aperture, OutOfRange> {
    Aperture::from_index(
        scene.ev() + libm::log2(index.index() / 100.0) + libm::log2(time.seconds()),
    )
}

/// The time that a scene needs at this stop and index.
///
/// # Errors
///
/// [`OutOfRange`] when no such time is allowed.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::exposure::{clear_sun, time_for};
/// use glasscall_core::quantity::{Aperture, ExposureIndex};
///
/// let time = time_for(clear_sun(), Aperture::from_marking(16.0)?, ExposureIndex::constant(100.0))?;
/// assert!((time.seconds() - 0.01).abs() < 1e-12);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn time_for(
    scene: EvAt100,
    aperture: Aperture,
    index: ExposureIndex,
) -> Result<Seconds, OutOfRange> {
    let stops = aperture.index() - scene.ev() - libm::log2(index.index() / 100.0);
    Seconds::new(libm::exp2(stops))
}

/// The exposure index that a scene needs at this stop and time.
///
/// # Errors
///
/// [`OutOfRange`] when no such index is allowed.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::exposure::{clear_sun, index_for};
/// use glasscall_core::quantity::{Aperture, Seconds};
///
/// let index = index_for(clear_sun(), Aperture::from_marking(16.0)?, Seconds::constant(0.01))?;
/// assert!((index.index() - 100.0).abs() < 1e-9);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn index_for(
    scene: EvAt100,
    aperture: Aperture,
    time: Seconds,
) -> Result<ExposureIndex, OutOfRange> {
    let stops = aperture.index() - libm::log2(time.seconds()) - scene.ev();
    ExposureIndex::new(100.0 * libm::exp2(stops))
}

/// Light falling on the subject.
///
/// # Units
///
/// E = C·N²/(t·S) in lux, which at EI 100 is C/100 · 2^EV.
///
/// # Errors
///
/// [`OutOfRange`] beyond the range of [`Illuminance`].
///
/// # Source
///
/// ISO 2720:1974, N²/t = E·S/C for incident light, as in Wikipedia, “Light meter”.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::exposure::{FLAT_RECEPTOR, illuminance};
/// use glasscall_core::quantity::EvAt100;
///
/// // E = C·2¹⁵/100.
/// assert!((illuminance(EvAt100::constant(15.0), FLAT_RECEPTOR)?.lux() - 81_920.0).abs() < 1e-6);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn illuminance(scene: EvAt100, constant: IncidentConstant) -> Result<Illuminance, OutOfRange> {
    Illuminance::new(constant.lux_seconds() / 100.0 * libm::exp2(scene.ev()))
}

/// Light leaving the subject: L = K·N²/(t·S), in cd/m².
///
/// # Errors
///
/// [`OutOfRange`] beyond the range of [`Luminance`].
///
/// # Source
///
/// ISO 2720:1974, N²/t = L·S/K for reflected light, as in Wikipedia, “Light meter”.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::exposure::{REFLECTED, luminance};
/// use glasscall_core::quantity::EvAt100;
///
/// // L = K·2¹⁵/100.
/// let light = luminance(EvAt100::constant(15.0), REFLECTED)?;
/// assert!((light.candela_per_square_metre() - 4096.0).abs() < 1e-9);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn luminance(scene: EvAt100, constant: ReflectedConstant) -> Result<Luminance, OutOfRange> {
    let at_zero = constant.candela_seconds_per_square_metre() / 100.0;
    Luminance::new(at_zero * libm::exp2(scene.ev()))
}

/// The inverse of [`illuminance`].
///
/// # Errors
///
/// [`OutOfRange`] beyond ±40 EV.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::exposure::{FLAT_RECEPTOR, ev_of_illuminance};
/// use glasscall_core::quantity::Illuminance;
///
/// let scene = ev_of_illuminance(Illuminance::constant(81_920.0), FLAT_RECEPTOR)?;
/// assert!((scene.ev() - 15.0).abs() < 1e-12);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn ev_of_illuminance(
    light: Illuminance,
    constant: IncidentConstant,
) -> Result<EvAt100, OutOfRange> {
    EvAt100::new(libm::log2(light.lux() / (constant.lux_seconds() / 100.0)))
}

/// The inverse of [`luminance`].
///
/// # Errors
///
/// [`OutOfRange`] beyond ±40 EV.
pub fn ev_of_luminance(
    light: Luminance,
    constant: ReflectedConstant,
) -> Result<EvAt100, OutOfRange> {
    let at_zero = constant.candela_seconds_per_square_metre() / 100.0;
    EvAt100::new(libm::log2(light.candela_per_square_metre() / at_zero))
}

/// How many stops more light the shot's settings gather than the reading's did,
/// the iris apart: frame rate, shutter and index.
///
/// # Units
///
/// log2(t1/t0) + log2(EI1/EI0), which with angles is log2(fps0/fps1) +
/// log2(angle1/angle0) + log2(EI1/EI0). Positive: the iris must close by it.
///
/// # Errors
///
/// [`OutOfRange`] as for [`Settings::time`].
///
/// # Source
///
/// From the exposure equation, ISO 2720:1974.
pub fn change_but_iris(reading: Settings, shot: Settings) -> Result<Stops, OutOfRange> {
    let time = shot.time()?.seconds() / reading.time()?.seconds();
    let index = shot.exposure_index.index() / reading.exposure_index.index();
    Ok(Stops::computed(libm::log2(time) + libm::log2(index)))
}

/// The time that gathers through a glass what the bare one did without.
///
/// # Units
///
/// t1 = t0·10^D, in seconds.
///
/// # Errors
///
/// [`OutOfRange`] beyond the range of [`Seconds`].
///
/// # Source
///
/// From the exposure equation, as above, and the definition of density, D = −log10 T.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::exposure::time_through;
/// use glasscall_core::quantity::{Density, Seconds};
///
/// // A marked 3.0 lets a thousandth through.
/// let time = time_through(Seconds::constant(0.02), Density::constant(3.0))?;
/// assert!((time.seconds() - 20.0).abs() < 1e-9);
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn time_through(bare: Seconds, glass: Density) -> Result<Seconds, OutOfRange> {
    Seconds::new(bare.seconds() * glass.factor())
}

/// The glass that asks for the longer of two times: the inverse of
/// [`time_through`].
///
/// # Errors
///
/// [`OutOfRange`] where the second time is the shorter one.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::exposure::glass_between;
/// use glasscall_core::quantity::Seconds;
///
/// let glass = glass_between(Seconds::constant(0.01), Seconds::constant(0.08))?;
/// assert!((glass.stops().stops() - 3.0).abs() < 1e-12);
/// // Glass gives no light.
/// assert!(glass_between(Seconds::constant(0.08), Seconds::constant(0.01)).is_err());
/// # Ok::<(), glasscall_core::quantity::OutOfRange>(())
/// ```
pub fn glass_between(bare: Seconds, through: Seconds) -> Result<Density, OutOfRange> {
    Density::from_factor(through.seconds() / bare.seconds())
}

/// What clear sun is taken to be before anyone has read it.
///
/// It is the same scene at every index: EV = log2(N²·100), t = 1/S.
///
/// # Source
///
/// Common practice, no source: number 16 at t = 1/EI, front-lit, clear sun.
///
/// # Examples
///
/// ```
/// use glasscall_core::physics::exposure::clear_sun;
///
/// assert!((clear_sun().ev() - 14.644).abs() < 0.001);
/// ```
#[must_use]
pub fn clear_sun() -> EvAt100 {
    EvAt100::computed(libm::log2(CLEAR_SUN_APERTURE * CLEAR_SUN_APERTURE * 100.0))
}

#[cfg(test)]
#[expect(clippy::unwrap_used, reason = "a test may stop on a bad value")]
mod tests {
    use super::*;
    use crate::quantity::{FrameRate, ShutterAngle};
    use crate::setup::Shutter;

    fn settings(aperture: f64, index: f64, rate: f64, angle: f64) -> Settings {
        Settings {
            aperture: Aperture::from_marking(aperture).unwrap(),
            exposure_index: ExposureIndex::new(index).unwrap(),
            frame_rate: FrameRate::new(rate).unwrap(),
            shutter: Shutter::Angle(ShutterAngle::new(angle).unwrap()),
        }
    }

    #[test]
    fn clear_sun_is_the_same_scene_at_every_index() {
        // 8 + log2 100, by hand.
        assert!((clear_sun().ev() - 14.643_856).abs() < 1e-6);
        for index in [50.0, 100.0, 800.0, 3200.0] {
            let sixteen = Exposure {
                aperture: Aperture::from_marking(CLEAR_SUN_APERTURE).unwrap(),
                time: Seconds::new(1.0 / index).unwrap(),
                index: ExposureIndex::new(index).unwrap(),
            };
            assert!((sixteen.ev_at_100().unwrap().ev() - clear_sun().ev()).abs() < 1e-12);
        }
    }

    #[test]
    fn each_setting_solves_back_to_itself() {
        let there = Exposure {
            aperture: Aperture::from_marking(5.6).unwrap(),
            time: Seconds::new(1.0 / 48.0).unwrap(),
            index: ExposureIndex::new(640.0).unwrap(),
        };
        let scene = there.ev_at_100().unwrap();
        let aperture = aperture_for(scene, there.time, there.index).unwrap();
        let time = time_for(scene, there.aperture, there.index).unwrap();
        let index = index_for(scene, there.aperture, there.time).unwrap();
        assert!((aperture.number() / there.aperture.number() - 1.0).abs() < 1e-14);
        assert!((time.seconds() / there.time.seconds() - 1.0).abs() < 1e-14);
        assert!((index.index() / there.index.index() - 1.0).abs() < 1e-14);
    }

    #[test]
    fn a_glass_lengthens_the_time_by_its_factor() {
        let bare = Seconds::new(1.0 / 48.0).unwrap();
        let glass = Density::from_factor(64.0).unwrap();
        let through = time_through(bare, glass).unwrap();
        // 64/48 of a second, by hand.
        assert!((through.seconds() - 4.0 / 3.0).abs() < 1e-12);
        let back = glass_between(bare, through).unwrap();
        assert!((back.density() - glass.density()).abs() < 1e-12);
        assert!(glass_between(through, bare).is_err());
    }

    #[test]
    fn twice_the_frames_cost_a_stop_and_half_the_angle_another() {
        let base = settings(4.0, 800.0, 24.0, 180.0);
        let change = |shot| change_but_iris(base, shot).unwrap().stops();
        assert_eq!(change(settings(4.0, 800.0, 48.0, 180.0)), -1.0);
        assert_eq!(change(settings(4.0, 800.0, 24.0, 90.0)), -1.0);
        assert_eq!(change(settings(4.0, 1600.0, 24.0, 180.0)), 1.0);
    }

    #[test]
    fn light_and_exposure_value_lead_back_to_each_other() {
        let scene = EvAt100::new(12.3).unwrap();
        let (flat, spot) = (FLAT_RECEPTOR, REFLECTED);
        let lux = illuminance(scene, flat).unwrap();
        let nits = luminance(scene, spot).unwrap();
        assert!((ev_of_illuminance(lux, flat).unwrap().ev() - 12.3).abs() < 1e-12);
        assert!((ev_of_luminance(nits, spot).unwrap().ev() - 12.3).abs() < 1e-12);
    }
}
